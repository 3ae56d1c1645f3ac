//! Delivering an answer: to standard output, or to a file written whole or not at all.

use super::args::Output;
use super::failure::Failure;
use gearleg::diagnostic::Diagnostic;
use std::fs;
use std::io::{self, ErrorKind, Write};
use std::path::Path;
use tempfile::NamedTempFile;

/// A place for the answer, made sure of before the work starts.
#[derive(Debug)]
pub(super) enum Sink<'a> {
    /// Standard output.
    Standard,
    /// A file, written beside its place and renamed into it.
    File { path: &'a Path, beside: NamedTempFile, force: bool },
}

impl<'a> Sink<'a> {
    /// Opens the place asked for.
    pub(super) fn open(output: &'a Output) -> Result<Self, Failure> {
        match &output.out {
            None => Ok(Self::Standard),
            Some(path) => Self::file(path, output.force),
        }
    }

    /// Opens a file that must not exist yet, unless `force`.
    pub(super) fn file(path: &'a Path, force: bool) -> Result<Self, Failure> {
        if path.is_dir() {
            return Err(refused(path, "is a folder", "give the name of a file in it"));
        }
        if !force && fs::symlink_metadata(path).is_ok() {
            return Err(exists(path));
        }
        let folder = match path.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent,
            _ => Path::new("."),
        };
        let beside = NamedTempFile::new_in(folder).map_err(|e| {
            refused(
                path,
                &format!("can't be written: {}", plain(&e)),
                "choose a folder that exists and is yours",
            )
        })?;
        Ok(Self::File { path, beside, force })
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
                        Err(Failure::Internal(format!("standard output can't be written: {}", plain(&e))))
                    }
                }
            }
            Self::File { path, mut beside, force } => {
                beside.write_all(text.as_bytes()).and_then(|()| beside.as_file().sync_all()).map_err(
                    |e| refused(path, &format!("can't be written: {}", plain(&e)), "is the disk full?"),
                )?;
                // A temporary file is private to its owner; the answer gets what any new file would get.
                let mode = default_permissions(path);
                if let Some(mode) = mode {
                    let _ = beside.as_file().set_permissions(mode);
                }
                let done = if force {
                    beside.persist(path).map_err(|e| e.error)
                } else {
                    beside.persist_noclobber(path).map_err(|e| e.error)
                };
                match done {
                    Ok(_) => Ok(()),
                    Err(e) if e.kind() == ErrorKind::AlreadyExists => Err(exists(path)),
                    Err(e) => {
                        Err(refused(path, &format!("can't be written: {}", plain(&e)), "nothing was changed"))
                    }
                }
            }
        }
    }
}

/// Permissions of the file that is replaced, or those of an ordinary new file.
#[cfg(unix)]
fn default_permissions(path: &Path) -> Option<fs::Permissions> {
    use std::os::unix::fs::PermissionsExt;
    Some(fs::metadata(path).map_or_else(|_| fs::Permissions::from_mode(0o644), |m| m.permissions()))
}

#[cfg(not(unix))]
fn default_permissions(_: &Path) -> Option<fs::Permissions> {
    None
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
