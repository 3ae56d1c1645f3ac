//! How far the work has come, for somebody who waits at a terminal.

use gearleg::diagnostic::Diagnostics;
use gearleg::input::project::{Draft, load_draft};
use gearleg::material::Library;
use std::cell::Cell;
use std::io::{IsTerminal, Write};
use std::path::Path;
use std::time::{Duration, Instant};

/// Work shorter than this is not reported on.
const PATIENCE: Duration = Duration::from_secs(1);

/// One line on standard error, written over and over; nothing when nobody watches or the work is short.
#[derive(Debug)]
pub(super) struct Progress {
    began: Instant,
    watched: bool,
    shown: Cell<bool>,
}

impl Progress {
    /// Begins to count the time.
    pub(super) fn begin() -> Self {
        Self { began: Instant::now(), watched: std::io::stderr().is_terminal(), shown: Cell::new(false) }
    }

    /// Says how many of all parts are done.
    pub(super) fn tell(&self, done: usize, all: usize) {
        if self.watched && self.began.elapsed() >= PATIENCE {
            // Whoever closed standard error does not want to know.
            let _ = write!(std::io::stderr(), "\r{done}/{all} ");
            self.shown.set(true);
        }
    }
}

/// Loads a file as far as its keys, with what takes long in its reading done ahead.
pub(super) fn draft(path: &Path, library: &Library) -> Result<Draft, Diagnostics> {
    let draft = load_draft(path)?;
    let progress = Progress::begin();
    draft.prepare(library, &|done, all| progress.tell(done, all));
    Ok(draft)
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.shown.get() {
            let _ = write!(std::io::stderr(), "\r                \r");
        }
    }
}
