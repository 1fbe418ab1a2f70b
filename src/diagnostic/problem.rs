//! One problem.

use std::ops::Range;

/// One thing that is wrong with a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// Where, in bytes of the file.
    pub span: Range<usize>,
    /// What is wrong, one sentence without a full stop.
    pub message: String,
    /// What was found, written beside the place.
    pub label: String,
    /// Another place that belongs to it, with what is there.
    pub also: Option<(Range<usize>, String)>,
    /// Why it is so.
    pub notes: Vec<String>,
    /// What to write instead.
    pub help: Vec<String>,
}

impl Problem {
    /// A problem at a place.
    pub fn new(span: Range<usize>, message: impl Into<String>) -> Self {
        Problem {
            span,
            message: message.into(),
            label: String::new(),
            also: None,
            notes: Vec::new(),
            help: Vec::new(),
        }
    }

    /// Adds what was found.
    #[must_use]
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = label.into();
        self
    }

    /// Adds another place that belongs to it.
    #[must_use]
    pub fn also(mut self, span: Range<usize>, label: impl Into<String>) -> Self {
        self.also = Some((span, label.into()));
        self
    }

    /// Adds a reason.
    #[must_use]
    pub fn note(mut self, note: impl Into<String>) -> Self {
        self.notes.push(note.into());
        self
    }

    /// Adds what to write instead.
    #[must_use]
    pub fn help(mut self, help: impl Into<String>) -> Self {
        self.help.push(help.into());
        self
    }
}
