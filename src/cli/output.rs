//! Delivering an answer: to standard output, or to a file written whole or not at all.

use super::args::Output;
use super::failure::Failure;
use super::new::typed;
use gearleg::diagnostic::Diagnostic;
use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::{Path, PathBuf};
use tempfile::NamedTempFile;

/// The path that means standard output.
const STANDARD: &str = "-";

/// Refuses to write an answer over the project file that it is about.
pub(super) fn not_into_itself(file: &Path, output: &Output) -> Result<(), Failure> {
    match &output.out {
        Some(out) if file.canonicalize().is_ok_and(|from| out.canonicalize().is_ok_and(|to| from == to)) => {
            let refused = Diagnostic::error("output", format!("{} is the project file itself", typed(out)));
            Err(Failure::input(refused.help("give --out another name")))
        }
        _ => Ok(()),
    }
}

/// A place for the answer, made sure of before the work starts.
#[derive(Debug)]
pub(super) enum Sink {
    /// Standard output.
    Standard,
    /// A file, written beside its place and renamed into it. Nothing is there before: who interrupts the work finds no trace of it.
    File { path: PathBuf, force: bool },
}

impl Sink {
    /// Opens the place asked for.
    pub(super) fn open(output: &Output) -> Result<Self, Failure> {
        match &output.out {
            None => Ok(Self::Standard),
            Some(path) => Self::file(path, output.force),
        }
    }

    /// Opens a file that must not exist yet, unless `force`; `-` is standard output.
    pub(super) fn file(path: &Path, force: bool) -> Result<Self, Failure> {
        if path == Path::new(STANDARD) {
            return Ok(Self::Standard);
        }
        // Renaming over a device, a pipe or a link would take it away for everybody else who uses it.
        match fs::metadata(path) {
            Ok(meta) if meta.is_dir() => {
                return Err(refused(path, "is a folder", "give the name of a file in it"));
            }
            Ok(meta) if !meta.is_file() => {
                return Err(refused(
                    path,
                    "is not an ordinary file",
                    "leave --out away to get the answer on standard output",
                ));
            }
            Ok(_) if !force => return Err(exists(path)),
            Err(_) if fs::symlink_metadata(path).is_ok() => {
                return Err(refused(
                    path,
                    "is a link to a file that can't be reached",
                    "choose another name, or remove the link",
                ));
            }
            Ok(_) | Err(_) => {}
        }
        // Behind a link, its file is replaced and the link stays.
        let path = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
        // A file made and taken away again shows that one can be made.
        drop(beside(&path)?);
        Ok(Self::File { path, force })
    }

    /// Writes the answer.
    pub(super) fn write(self, text: &str) -> Result<(), Failure> {
        match self {
            Self::Standard => {
                let mut out = io::stdout().lock();
                match out.write_all(text.as_bytes()).and_then(|()| out.flush()) {
                    Ok(()) => Ok(()),
                    Err(e) if e.kind() == ErrorKind::BrokenPipe => Err(Failure::PipeClosed),
                    Err(e) => {
                        Err(Failure::Machine(format!("standard output can't be written: {}", plain(&e))))
                    }
                }
            }
            Self::File { path, force } => {
                let mut beside = beside(&path)?;
                beside.write_all(text.as_bytes()).and_then(|()| beside.as_file().sync_all()).map_err(
                    |e| refused(&path, &format!("can't be written: {}", plain(&e)), "is the disk full?"),
                )?;
                if let Ok(replaced) = fs::metadata(&path) {
                    // A file that is replaced keeps who may read it. Where that can't be, a new file's will do.
                    let _ = beside.as_file().set_permissions(replaced.permissions());
                }
                let done = if force {
                    beside.persist(&path).map_err(|e| e.error)
                } else {
                    beside.persist_noclobber(&path).map_err(|e| e.error)
                };
                match done {
                    Ok(_) => Ok(()),
                    Err(e) if e.kind() == ErrorKind::AlreadyExists => Err(exists(&path)),
                    Err(e) => Err(refused(
                        &path,
                        &format!("can't be written: {}", plain(&e)),
                        "nothing was changed",
                    )),
                }
            }
        }
    }
}

/// A file to write in beside the one that is to be.
fn beside(path: &Path) -> Result<NamedTempFile, Failure> {
    let folder = match path.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent,
        _ => Path::new("."),
    };
    temporary(folder).map_err(|e| {
        refused(path, &format!("can't be written: {}", plain(&e)), "choose a folder that exists and is yours")
    })
}

/// A temporary file that others may read as they may any new file, not one private to its owner.
#[cfg(unix)]
fn temporary(folder: &Path) -> io::Result<NamedTempFile> {
    use std::os::unix::fs::PermissionsExt;
    tempfile::Builder::new().permissions(fs::Permissions::from_mode(0o666)).tempfile_in(folder)
}

#[cfg(not(unix))]
fn temporary(folder: &Path) -> io::Result<NamedTempFile> {
    NamedTempFile::new_in(folder)
}

fn exists(path: &Path) -> Failure {
    refused(path, "exists already", "choose another name, or add --force where the command takes it")
}

fn refused(path: &Path, what: &str, help: &str) -> Failure {
    Failure::input(Diagnostic::error("output", format!("{} {what}", path.display())).help(help))
}

/// An operating-system error without its number.
fn plain(error: &io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_lowercase()
}
