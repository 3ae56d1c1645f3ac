//! `gearleg new`.

use super::args::New;
use super::failure::{Failure, HOLDS};
use super::output::Sink;
use anstream::eprintln;
use gearleg::input::STARTER;

/// Writes the starter file.
pub(super) fn run(new: &New) -> Result<u8, Failure> {
    Sink::file(&new.file, false)?.write(STARTER)?;
    let path = new.file.display();
    eprintln!("wrote {path}; edit it, then run: gearleg check {path}");
    Ok(HOLDS)
}
