//! Lists on the command line: `0.25,0.5,1` and `50 mm,100 mm`.

use super::failure::Failure;
use gearleg::diagnostic::{Diagnostic, Diagnostics, SourceText};
use gearleg::input::quantity::{FromText, QuantityError, Written};
use std::cmp::Ordering;
use std::ops::Range;
use std::sync::Arc;

/// Most items of a list. chosen: more is a slip of a script.
const MOST_ITEMS: usize = 200;

/// Largest multiple. chosen: far beyond what any gear holds.
const LARGEST: f64 = 1000.0;

/// What is wrong with an item: code, message, where in the item, label, help.
type Fault = QuantityError;

fn fault(code: &'static str, message: String, item: &str, help: &str) -> Fault {
    Fault { code, message, label: None, help: vec![help.to_owned()], span: 0..item.len() }
}

/// Reads plain numbers that are not negative, ascending, each once.
pub(super) fn multiples(option: &str, text: &str) -> Result<Vec<f64>, Failure> {
    let help = "write plain numbers, such as 0.25,0.5,1,1.5";
    read(option, text, help, |item| match item.parse::<f64>() {
        Ok(number) if !number.is_finite() => {
            Err(fault("number", format!("`{item}` is not a finite number"), item, help))
        }
        Ok(number) if number < 0.0 => {
            Err(fault("number", format!("`{item}` is negative; loads are raised from 0"), item, help))
        }
        Ok(number) if number > LARGEST => {
            let most = format!("the largest multiple is {LARGEST}");
            Err(fault("number", format!("`{item}` is more than any gear holds"), item, &most))
        }
        // Takes the sign off a zero.
        Ok(number) => Ok(number + 0.0),
        Err(_) => Err(fault("number", format!("`{item}` is no plain number"), item, help)),
    })
}

/// Reads quantities greater than nothing and not above `most`, ascending, each once.
pub(super) fn quantities<Q: FromText + Copy + Default + PartialOrd>(
    option: &str,
    text: &str,
    (most, most_in_words): (Q, &str),
    example: &str,
) -> Result<Vec<Q>, Failure> {
    let help = format!("write {} with its unit for each, such as {example}", Q::WHAT);
    read(option, text, &help, |item| {
        let Written { value, .. } = Q::from_text(item)?;
        if value <= Q::default() {
            return Err(fault("range", format!("`{item}` is not greater than nothing"), item, &help));
        }
        if value > most {
            let limit = format!("the most is {most_in_words}");
            return Err(fault("range", format!("`{item}` is beyond any landing"), item, &limit));
        }
        Ok(value)
    })
}

/// Reads a list; all its faults are reported together.
fn read<T: PartialOrd>(
    option: &str,
    text: &str,
    help: &str,
    one: impl Fn(&str) -> Result<T, Fault>,
) -> Result<Vec<T>, Failure> {
    let source = Arc::new(SourceText { name: option.to_owned(), text: text.to_owned() });
    let items = items(text);
    if items.len() > MOST_ITEMS {
        let many = Diagnostic::error("list", format!("{option} has {} items", items.len()));
        return Err(Failure::input(many.help(format!("give {MOST_ITEMS} at most"))));
    }
    let all = items.len();
    let mut values = Vec::new();
    let mut faults = Vec::new();
    for (number, (span, item)) in items.into_iter().enumerate() {
        let read = if item.is_empty() {
            Err(fault("list", "nothing stands there".to_owned(), item, help))
        } else {
            one(item)
        };
        match read {
            Ok(value) => values.push(value),
            Err(f) => {
                let place = (span.start + f.span.start)..(span.start + f.span.end);
                let which = if all > 1 { format!(", item {} of {all}", number + 1) } else { String::new() };
                let mut said = Diagnostic::error(f.code, format!("{option}{which}: {}", f.message));
                said.label = f.label;
                said.help = f.help;
                faults.push(said.at(&source, place));
            }
        }
    }
    if !faults.is_empty() {
        return Err(Failure::Input(Diagnostics(faults)));
    }
    values.sort_by(|a, b| a.partial_cmp(b).unwrap_or(Ordering::Equal));
    values.dedup();
    Ok(values)
}

/// The items between commas, without the space around them, and where they stand.
fn items(text: &str) -> Vec<(Range<usize>, &str)> {
    let mut found = Vec::new();
    let mut start = 0;
    for piece in text.split(',') {
        let item = piece.trim();
        let from = start + (piece.len() - piece.trim_start().len()).min(piece.len());
        found.push((from..from + item.len(), item));
        start += piece.len() + 1;
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn items_keep_their_places() {
        assert_eq!(items(" 1 mm,2,, 3"), [(1..5, "1 mm"), (6..7, "2"), (8..8, ""), (10..11, "3")]);
        assert_eq!(items(""), [(0..0, "")]);
    }

    #[test]
    fn numbers_come_ascending_and_once() {
        assert_eq!(multiples("--multiples", "1, 0.5,1.0,-0").expect("a list"), [0.0, 0.5, 1.0]);
        for bad in ["", "1,", "x", "1 mm", "-1", "nan", "inf", "1e999", "1001"] {
            assert!(multiples("--multiples", bad).is_err(), "{bad}");
        }
    }
}
