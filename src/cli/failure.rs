//! Why a command ended without an answer, whose fault it is, and the exit code that follows.

use gearleg::diagnostic::{Diagnostic, Diagnostics};
use gearleg::report::render;
use std::io::{IsTerminal, Write};

/// Exit code when all margins hold.
pub(super) const HOLDS: u8 = 0;
/// Exit code when a margin fails or can't be told.
pub(super) const FAILS: u8 = 1;
/// Exit code when the input or the command line is wrong.
pub(super) const WRONG_INPUT: u8 = 2;
/// Exit code of a fault of the program or the machine.
pub(super) const INTERNAL: u8 = 3;

/// A command without an answer.
#[derive(Debug)]
pub(super) enum Failure {
    /// The user's input.
    Input(Diagnostics),
    /// The program itself.
    Internal(String),
    /// The machine: the answer was there and could not be delivered.
    Machine(String),
    /// The reader of standard output went away; nothing to say.
    PipeClosed,
}

impl Failure {
    /// An input failure with one message.
    pub(super) fn input(diagnostic: Diagnostic) -> Self {
        Self::Input(Diagnostics(vec![diagnostic]))
    }

    /// The exit code.
    pub(super) fn exit_code(&self) -> u8 {
        match self {
            Self::Input(_) => WRONG_INPUT,
            Self::Internal(_) | Self::Machine(_) => INTERNAL,
            Self::PipeClosed => HOLDS,
        }
    }

    /// Tells the user, on standard error.
    pub(super) fn report(&self) {
        match self {
            Self::Input(diagnostics) => warn(&diagnostics.0),
            Self::Internal(what) => say(&format!(
                "internal failure: {what}\nThis is a fault of gearleg, not of your file. Please report it with the file."
            )),
            Self::Machine(what) => say(what),
            Self::PipeClosed => {}
        }
    }
}

/// Prints diagnostics on standard error; coloured only there and only when it is a terminal that wants it.
pub(super) fn warn(diagnostics: &[Diagnostic]) {
    if !diagnostics.is_empty() {
        say(render(diagnostics, std::io::stderr().is_terminal()).trim_end());
    }
}

/// Prints a text on standard error; when nobody listens there, the exit code must do.
pub(super) fn say(text: &str) {
    // anstream drops the colours again where NO_COLOR or a dumb terminal asks for it.
    let _ = writeln!(anstream::stderr(), "{text}");
}
