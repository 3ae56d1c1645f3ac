//! The command line: declared by the binary, so invisible to users of the library.

mod args;
mod check;
mod compare;
mod drop;
mod failure;
mod grade;
mod list;
mod new;
mod output;
mod progress;
mod size;
mod tables;

use args::{Arguments, Command};
use clap::Parser;
use failure::Failure;
use std::process::ExitCode;

/// Runs the program and says how it ended.
pub(crate) fn run() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(refused) => {
            // Help and version are asked for; everything else is a wrong command line.
            let code = if refused.use_stderr() { failure::WRONG_INPUT } else { 0 };
            let _ = refused.print();
            return ExitCode::from(code);
        }
    };
    match dispatch(&arguments) {
        Ok(code) => ExitCode::from(code),
        Err(failure) => {
            failure.report();
            ExitCode::from(failure.exit_code())
        }
    }
}

fn dispatch(arguments: &Arguments) -> Result<u8, Failure> {
    match &arguments.command {
        Command::New(new) => new::run(new),
        Command::Check(check) => check::run(check, arguments.tables.as_deref()),
        Command::Size(size) => size::run(size, arguments.tables.as_deref()),
        Command::Compare(asked) => compare::run(asked, arguments.tables.as_deref()),
        Command::Drop(drop) => drop::run(drop, arguments.tables.as_deref()),
        Command::Grade(asked) => grade::run(asked, arguments.tables.as_deref()),
        Command::Tables(tables) => tables::run(tables, arguments.tables.as_deref()),
    }
}
