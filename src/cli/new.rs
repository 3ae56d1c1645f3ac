//! `gearleg new`.

use super::args::{Format, New};
use super::failure::{Failure, HOLDS, say};
use super::output::Sink;
use gearleg::diagnostic::Diagnostic;
use gearleg::input::STARTER;
use serde_json::json;
use std::path::Path;

/// Written where the command line names no file.
const USUAL_NAME: &str = "gear.toml";

/// Writes the starter file. With `--format json` the answer on standard output says which file that was.
pub(super) fn run(new: &New) -> Result<u8, Failure> {
    if new.file.is_some() && new.output.force {
        let refused = Diagnostic::error(
            "command-line",
            "--force goes with --out; a FILE that exists is never replaced",
        );
        return Err(Failure::input(refused.help("write: gearleg new --out PATH --force")));
    }
    let path = new.file.as_deref().or(new.output.out.as_deref()).unwrap_or(Path::new(USUAL_NAME));
    let sink = Sink::file(path, new.output.force)?;
    let into_a_file = !matches!(sink, Sink::Standard);
    sink.write(STARTER)?;
    if into_a_file {
        match new.output.format {
            Format::Text => {
                let name = typed(path);
                say(&format!("wrote {name}; edit it, then run: gearleg check {name}"));
            }
            Format::Json => {
                let answer = json!({ "gearleg": env!("CARGO_PKG_VERSION"), "wrote": path.to_string_lossy() });
                Sink::Standard.write(&format!("{answer:#}\n"))?;
            }
        }
    }
    Ok(HOLDS)
}

/// A path as it can be typed into a shell: quoted where it must be, without characters that move the cursor.
pub(super) fn typed(path: &Path) -> String {
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
