//! The whole process, as a builder waits for it: start, read, check every landing, print, exit. Target: under 30 ms.
#![allow(
    missing_docs,
    clippy::expect_used,
    reason = "the macros write an undocumented main; a bench that can't run says so"
)]

use criterion::{Criterion, criterion_group, criterion_main};
use std::hint::black_box;
use std::process::{Command, Output};

const BRACED: &str = "docs/examples/survey-plane-braced.toml";

fn check(arguments: &[&str]) -> Output {
    let run = Command::new(env!("CARGO_BIN_EXE_gearleg")).args(["check", BRACED]).args(arguments).output();
    let output = run.expect("the program starts");
    assert!(output.status.success(), "{BRACED} holds");
    output
}

fn process(c: &mut Criterion) {
    c.bench_function("process: check a braced gear", |b| b.iter(|| black_box(check(&[]))));
    c.bench_function("process: check a braced gear, every sum", |b| {
        b.iter(|| black_box(check(&["--every-case", "--explain"])));
    });
    c.bench_function("process: check a braced gear, json", |b| {
        b.iter(|| black_box(check(&["--format", "json"])));
    });
}

criterion_group!(benches, process);
criterion_main!(benches);
