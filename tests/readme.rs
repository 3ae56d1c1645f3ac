//! What the pages show is what the program prints: every transcript in them is run again and compared.
//!
//! A transcript is a fenced block below a comment that names the command and, if it is not shown whole, the words
//! its first line begins with and those of the line before which it ends:
//!
//! `<!-- transcript: check docs/examples/survey-plane.toml, from VERDICT to THE LANDING -->`
//!
//! A fenced block below `<!-- project -->` is a project file; it must be one that `check` accepts. After a change that
//! is meant to alter the output, run `UPDATE_DOCS=1 cargo test --test readme` and read the difference.

#![allow(
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a test that can't read the pages or run the program should stop"
)]

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// Pages with transcripts, and how many each has at least: a page whose marks got lost must not pass.
const PAGES: [(&str, usize); 2] = [("README.md", 6), ("docs/examples/README.md", 2)];

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn gearleg(arguments: &[&str], input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_gearleg"))
        .args(arguments)
        .current_dir(root())
        .env("NO_COLOR", "1")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program starts");
    let mut stdin = child.stdin.take().expect("its input is open");
    // A program that does not read its input may have closed it already.
    let _ = stdin.write_all(input.as_bytes());
    drop(stdin);
    child.wait_with_output().expect("the program ends")
}

/// What a command prints: the answer, or else its messages.
fn printed(arguments: &[&str]) -> String {
    let output = gearleg(arguments, "");
    let bytes = if output.stdout.is_empty() { output.stderr } else { output.stdout };
    String::from_utf8(bytes).expect("it prints text")
}

/// The lines from one that begins with `from` up to the next that begins with `to`, which is left out.
fn cut<'t>(text: &'t str, from: Option<&str>, to: Option<&str>) -> Vec<&'t str> {
    let lines: Vec<&str> = text.lines().collect();
    let find = |start: usize, words: &str| {
        let at = lines[start..].iter().position(|l| l.starts_with(words));
        at.map(|i| start + i).unwrap_or_else(|| panic!("no line begins with `{words}`:\n{text}"))
    };
    let first = from.map_or(0, |words| find(0, words));
    let end = to.map_or(lines.len(), |words| find(first + 1, words));
    let mut shown: Vec<&str> = lines[first..end].iter().map(|l| l.trim_end()).collect();
    while shown.last().is_some_and(|l| l.is_empty()) {
        shown.pop();
    }
    shown
}

/// The transcript that a mark asks for.
fn transcript(mark: &str) -> String {
    let (command, range) = mark.split_once(", from ").map_or((mark, None), |(c, r)| (c, Some(r)));
    let (from, to) = match range.map(|r| r.split_once(" to ").map_or((r, None), |(f, t)| (f, Some(t)))) {
        Some((from, to)) => (Some(from), to),
        None => (None, None),
    };
    let arguments: Vec<&str> = command.split_whitespace().collect();
    cut(&printed(&arguments), from, to).join("\n")
}

/// A page with its transcripts made anew, and how many there are.
fn renewed(page: &str) -> (String, usize) {
    let mut out = Vec::new();
    let mut count = 0;
    let mut lines = page.lines();
    while let Some(line) = lines.next() {
        out.push(line.to_owned());
        let Some(mark) = line.strip_prefix("<!-- transcript: ").and_then(|l| l.strip_suffix(" -->")) else {
            continue;
        };
        count += 1;
        let fence = lines.next().expect("a mark is followed by a block");
        assert!(fence.starts_with("```"), "a block follows the mark `{mark}`");
        out.push(fence.to_owned());
        out.push(transcript(mark));
        let closing = lines.find(|l| *l == "```").expect("the block is closed");
        out.push(closing.to_owned());
    }
    (out.join("\n") + "\n", count)
}

#[test]
fn pages_show_what_the_program_prints() {
    for (name, least) in PAGES {
        let path = root().join(name);
        let page = fs::read_to_string(&path).expect("the page can be read");
        let (expected, count) = renewed(&page);
        assert!(count >= least, "{name} has {count} transcripts");
        if std::env::var_os("UPDATE_DOCS").is_some_and(|v| v == "1") {
            fs::write(&path, &expected).expect("the page can be written");
            continue;
        }
        for (number, (is, should)) in page.lines().zip(expected.lines()).enumerate() {
            assert_eq!(is, should, "{name}:{}; UPDATE_DOCS=1 writes it anew", number + 1);
        }
        assert_eq!(page.len(), expected.len(), "{name} is as long as it should be");
    }
}

#[test]
fn project_files_in_the_pages_are_accepted() {
    let page = fs::read_to_string(root().join("README.md")).expect("the page can be read");
    let blocks: Vec<&str> = page
        .split("<!-- project -->\n```toml\n")
        .skip(1)
        .map(|rest| rest.split("```").next().unwrap_or_default())
        .collect();
    assert!(!blocks.is_empty(), "README.md shows a project file");
    for block in blocks {
        let output = gearleg(&["check", "-"], block);
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(matches!(output.status.code(), Some(0 | 1)), "not accepted: {said}\n{block}");
    }
}

#[test]
fn every_example_is_listed_and_ends_as_its_list_says() {
    let list = fs::read_to_string(root().join("docs/examples/README.md")).expect("the list can be read");
    let mut examples: Vec<PathBuf> = fs::read_dir(root().join("docs/examples"))
        .expect("the examples can be read")
        .map(|e| e.expect("the entry can be read").path())
        .filter(|p| p.extension().is_some_and(|e| e == "toml"))
        .collect();
    examples.sort();
    assert!(examples.len() >= 5, "the examples are there");
    for example in examples {
        let name = example.file_name().expect("it has a name").to_string_lossy().into_owned();
        let row = list
            .lines()
            .find(|l| l.starts_with(&format!("| [{name}]")))
            .unwrap_or_else(|| panic!("docs/examples/README.md does not list {name}"));
        let said = row.trim_end_matches(" |").rsplit(' ').next().unwrap_or_default();
        let file = format!("docs/examples/{name}");
        // What leaves something open is for another command.
        let open = row.contains("for `gearleg size`");
        let bench = row.contains("for `gearleg grade`");
        let command: &[&str] = match (open, bench) {
            (true, _) => &["size", &file, "--no-card"],
            (_, true) => &["grade", &file],
            _ => &["check", &file],
        };
        let code = gearleg(command, "").status.code();
        assert_eq!(code.map(|c| c.to_string()).as_deref(), Some(said), "exit code of {name}");
    }
}
