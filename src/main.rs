//! The command-line program: reads arguments, runs a command, turns its outcome into an exit code.
#![forbid(unsafe_code)]

mod cli;

use std::process::ExitCode;

fn main() -> ExitCode {
    cli::run()
}
