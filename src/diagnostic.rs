//! What is wrong with an input, where, and what would be accepted.
//!
//! Readers collect every [`Diagnostic`] they can before they give up, so that one run reports all the
//! mistakes of a file together. Rendering belongs to [`crate::report`].

use std::fmt;
use std::ops::Range;
use std::sync::Arc;

/// A text that was read, with the name it is reported under.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SourceText {
    /// The path as the user gave it, or a built-in table's name.
    pub name: String,
    /// The whole text.
    pub text: String,
}

impl SourceText {
    /// Line and column (both from 1, the column counted in characters) of a byte offset.
    #[must_use]
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        let end = self.text.floor_char_boundary(offset.min(self.text.len()));
        let before = self.text.get(..end).unwrap_or_default();
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
        (line, column)
    }
}

/// A place in a source text.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Location {
    /// The text the place is in.
    pub source: Arc<SourceText>,
    /// Byte range in the text.
    pub span: Range<usize>,
}

impl Location {
    /// Line and column (both from 1) where the place begins.
    #[must_use]
    pub fn line_column(&self) -> (usize, usize) {
        self.source.line_column(self.span.start)
    }
}

/// Whether a diagnostic stops the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Severity {
    /// The input can't be used as it is.
    Error,
    /// The input is used, but a reader should know this.
    Warning,
}

/// One thing wrong with an input.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Diagnostic {
    /// Short fixed name of the kind of mistake, such as `unknown-key`.
    pub code: &'static str,
    /// Whether the work can go on.
    pub severity: Severity,
    /// What is wrong, in one sentence.
    pub message: String,
    /// Words for the marked place itself, when they add to the message.
    pub label: Option<String>,
    /// Where it was made, if it has a place.
    pub location: Option<Location>,
    /// What would be accepted, or what to do next.
    pub help: Vec<String>,
}

impl Diagnostic {
    /// An error without a place.
    #[must_use]
    pub fn error(code: &'static str, message: impl Into<String>) -> Self {
        Self {
            code,
            severity: Severity::Error,
            message: message.into(),
            label: None,
            location: None,
            help: Vec::new(),
        }
    }

    /// A warning without a place.
    #[must_use]
    pub fn warning(code: &'static str, message: impl Into<String>) -> Self {
        Self { severity: Severity::Warning, ..Self::error(code, message) }
    }

    /// Puts the diagnostic at a place.
    #[must_use]
    pub fn at(mut self, source: &Arc<SourceText>, span: Range<usize>) -> Self {
        self.location = Some(Location { source: Arc::clone(source), span });
        self
    }

    /// Says something about the marked place.
    #[must_use]
    pub fn label(mut self, words: impl Into<String>) -> Self {
        self.label = Some(words.into());
        self
    }

    /// Adds a line of help.
    #[must_use]
    pub fn help(mut self, words: impl Into<String>) -> Self {
        self.help.push(words.into());
        self
    }
}

impl fmt::Display for Diagnostic {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(place) = &self.location {
            let (line, column) = place.line_column();
            write!(f, "{}:{line}:{column}: ", place.source.name)?;
        }
        f.write_str(&self.message)
    }
}

/// Everything found wrong with an input, in the order of the text. Never empty when returned as an error.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Diagnostics(pub Vec<Diagnostic>);

impl Diagnostics {
    /// Adds one.
    pub fn push(&mut self, diagnostic: Diagnostic) {
        self.0.push(diagnostic);
    }

    /// Whether any of them stops the work.
    #[must_use]
    pub fn has_errors(&self) -> bool {
        self.0.iter().any(|d| d.severity == Severity::Error)
    }
}

impl fmt::Display for Diagnostics {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (i, d) in self.0.iter().enumerate() {
            if i > 0 {
                f.write_str("\n")?;
            }
            d.fmt(f)?;
        }
        Ok(())
    }
}

impl std::error::Error for Diagnostics {}
