//! A parsed file and what was found in it.

use super::TableReader;
use crate::diagnostic::{Problem, Report};
use std::cell::RefCell;
use toml::Spanned;
use toml::de::DeTable;

/// A tolerance met while reading.
#[derive(Debug, Clone, PartialEq)]
pub struct Noted {
    /// Dotted path of the number, e.g. `strip.layer[1].thickness`.
    pub path: String,
    /// Value, SI.
    pub value_si: f64,
    /// Standard uncertainty, SI.
    pub standard_uncertainty_si: f64,
}

/// A file being read.
#[derive(Debug)]
pub struct Document<'t> {
    name: String,
    text: &'t str,
    root: Spanned<DeTable<'t>>,
    problems: RefCell<Vec<Problem>>,
    tolerances: RefCell<Vec<Noted>>,
}

impl<'t> Document<'t> {
    /// Parse a file. Faults of grammar are problems like any other; what can be read is read on.
    pub fn parse(name: &str, text: &'t str) -> Document<'t> {
        let (root, errors) = DeTable::parse_recoverable(text);
        let problems = errors
            .iter()
            .map(|e| {
                let span = e.span().unwrap_or(text.len()..text.len());
                let first_line = e.message().lines().collect::<Vec<_>>().join("; ");
                Problem::new(span, "this is not valid TOML").label(first_line)
            })
            .collect();
        Document {
            name: name.to_owned(),
            text,
            root,
            problems: RefCell::new(problems),
            tolerances: RefCell::new(Vec::new()),
        }
    }

    /// The whole file as a table.
    pub fn root(&self) -> TableReader<'_> {
        TableReader::new(self, self.root.get_ref(), 0..0, String::new())
    }

    /// Add a problem.
    pub fn report(&self, problem: Problem) {
        self.problems.borrow_mut().push(problem);
    }

    /// Whether a problem was found so far.
    pub fn has_problems(&self) -> bool {
        !self.problems.borrow().is_empty()
    }

    /// The text of a span.
    pub fn excerpt(&self, span: std::ops::Range<usize>) -> &'t str {
        self.text.get(span).unwrap_or("")
    }

    pub(super) fn note_tolerance(&self, noted: Noted) {
        self.tolerances.borrow_mut().push(noted);
    }

    /// The tolerance read so far beside the number of this path.
    pub fn tolerance(&self, path: &str) -> Option<Noted> {
        self.tolerances
            .borrow()
            .iter()
            .find(|t| t.path == path)
            .cloned()
    }

    /// The tolerances met, or the report of every problem.
    ///
    /// # Errors
    /// The report, when there is at least one problem.
    pub fn finish(self) -> Result<Vec<Noted>, Report> {
        let problems = self.problems.into_inner();
        if problems.is_empty() {
            Ok(self.tolerances.into_inner())
        } else {
            Err(Report::new(&self.name, self.text, problems))
        }
    }
}
