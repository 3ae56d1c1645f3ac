//! `gearleg new`.

use super::args::New;
use super::failure::{Failure, HOLDS, say};
use super::output::Sink;
use gearleg::input::STARTER;
use std::path::Path;

/// Writes the starter file.
pub(super) fn run(new: &New) -> Result<u8, Failure> {
    let sink = Sink::file(&new.file, false)?;
    let into_a_file = !matches!(sink, Sink::Standard);
    sink.write(STARTER)?;
    if into_a_file {
        let name = typed(&new.file);
        say(&format!("wrote {name}; edit it, then run: gearleg check {name}"));
    }
    Ok(HOLDS)
}

/// A path as it can be typed into a shell: quoted where it must be, without characters that move the cursor.
fn typed(path: &Path) -> String {
    let shown: String =
        path.to_string_lossy().chars().map(|c| if c.is_control() { '?' } else { c }).collect();
    // A name that begins with a dash would be read as an option.
    let shown = if shown.starts_with('-') { format!("./{shown}") } else { shown };
    let plain = |c: char| c.is_alphanumeric() || "._-/\\:+,@=".contains(c);
    if shown.chars().all(plain) { shown } else { format!("'{}'", shown.replace('\'', "'\\''")) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_is_shown_as_it_is_typed() {
        for (path, shown) in [
            ("gear.toml", "gear.toml"),
            ("my gear.toml", "'my gear.toml'"),
            ("it's.toml", "'it'\\''s.toml'"),
            ("-x.toml", "./-x.toml"),
            ("飛.toml", "飛.toml"),
            ("a\u{1b}[31m.toml", "'a?[31m.toml'"),
        ] {
            assert_eq!(typed(Path::new(path)), shown);
        }
    }
}
