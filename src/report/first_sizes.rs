//! Bolts tried for a gear whose bolts are meant to give first, as text and as JSON.

use super::layout::{heading, paragraph, table};
use super::view::margin_figure;
use crate::model::{PartKind, Project};
use crate::results::{FirstSize, Margin};
use serde_json::{Value, json};

/// Writes which bolts would do.
#[must_use]
pub fn first_sizes_text(project: &Project, sizes: &[FirstSize]) -> String {
    let mut out = String::new();
    heading(&mut out, "BOLTS THAT GIVE FIRST");
    if sizes.is_empty() {
        let meant = project.gears.iter().filter_map(|g| g.give_first).find(|k| *k != PartKind::Bolts);
        out.push_str(&paragraph(&match meant {
            Some(kind) => {
                format!("Only bolts are tried in other sizes; here give_first is \"{}\".", kind.id())
            }
            None => "No gear of the file has a mount and give_first = \"bolts\".".to_owned(),
        }));
        return out;
    }
    let good = sizes.iter().filter(|s| s.fits).count();
    out.push_str(&paragraph(&match good {
        0 => format!(
            "None of the {} bolts that are sold in these sizes gives first in every landing and holds those it has to.",
            sizes.len()
        ),
        1 => format!("One of {} bolts gives first in every landing and holds those it has to.", sizes.len()),
        _ => format!("{good} of {} bolts give first in every landing and hold those they have to.", sizes.len()),
    }));
    let rows = sizes.iter().map(|s| {
        vec![
            s.gear.clone(),
            format!("{} {}", s.bolt, s.class),
            if s.fits { "would do" } else { "no" }.to_owned(),
            told(s.holds.as_ref()),
            told(s.first.as_ref()),
        ]
    });
    out.push_str(&table(
        &["gear", "bolt", "", "worst margin of the bolts", "worst margin of giving first"],
        5..5,
        rows,
    ));
    out
}

fn told(margin: Option<&Margin>) -> String {
    margin.map_or_else(
        || "-".to_owned(),
        |m| {
            let case = m.case.as_ref().map_or("", |c| c.id());
            format!("{} {case}", margin_figure(m))
        },
    )
}

/// The same for programs.
#[must_use]
pub fn first_sizes_json(sizes: &[FirstSize]) -> Value {
    let margin = |m: &Option<Margin>| {
        m.as_ref().map(
            |m| json!({ "check": m.check, "case": m.case.as_ref().map(|c| c.id()), "margin": m.value() }),
        )
    };
    sizes
        .iter()
        .map(|s| {
            json!({
                "gear": s.gear, "bolt": s.bolt, "bolt_class": s.class, "fits": s.fits,
                "holds": margin(&s.holds), "gives_first": margin(&s.first),
            })
        })
        .collect()
}
