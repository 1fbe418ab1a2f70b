//! A parsed file and what was found in it.

use super::{AskedKeys, TableReader};
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
    /// Where the number stands.
    pub span: std::ops::Range<usize>,
}

/// A file being read.
#[derive(Debug)]
pub struct Document<'t> {
    name: String,
    text: &'t str,
    root: Spanned<DeTable<'t>>,
    problems: RefCell<Vec<Problem>>,
    tolerances: RefCell<Vec<Noted>>,
    /// What readers ask for, where somebody wants to know.
    pub(super) asked: Option<RefCell<AskedKeys>>,
}

impl<'t> Document<'t> {
    /// Parse a file. Faults of grammar are problems like any other; what can be read is read on.
    pub fn parse(name: &str, text: &'t str) -> Document<'t> {
        let (root, errors) = DeTable::parse_recoverable(text);
        let problems = errors.iter().map(|e| syntax(e, text)).collect();
        Document {
            name: name.to_owned(),
            text,
            root,
            problems: RefCell::new(problems),
            tolerances: RefCell::new(Vec::new()),
            asked: None,
        }
    }

    /// What `read` asks of a file that holds this text.
    pub(crate) fn asked_by(text: &str, read: impl FnOnce(&TableReader<'_>)) -> AskedKeys {
        let mut document = Document::parse("", text);
        document.asked = Some(RefCell::default());
        read(&document.root());
        document.asked.map(RefCell::into_inner).unwrap_or_default()
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

/// A fault of grammar, with its usual cause where there is one.
fn syntax(error: &toml::de::Error, text: &str) -> Problem {
    let span = error.span().unwrap_or(text.len()..text.len());
    let said = error.message().lines().collect::<Vec<_>>().join("; ");
    let start = text
        .get(..span.start)
        .and_then(|t| t.rfind('\n'))
        .map_or(0, |n| n + 1);
    let line = text.get(start..).unwrap_or("").lines().next().unwrap_or("");
    let duplicate = said.contains("duplicate key");
    let problem = Problem::new(span, "this is not valid TOML").label(said);
    if duplicate {
        return problem.help("a key stands once in its table; remove one of the two");
    }
    match unquoted(line) {
        Some(value) => problem.help(format!(
            "a number with a unit is text and stands in quotes: `\"{value}\"`"
        )),
        None => problem,
    }
}

/// The value of a line such as `length = 22 mm`.
fn unquoted(line: &str) -> Option<&str> {
    let value = line.split_once('=')?.1.split('#').next()?.trim();
    let number = value.starts_with(|c: char| c.is_ascii_digit() || matches!(c, '-' | '+' | '.'));
    let unit = value.contains(|c: char| c.is_alphabetic() || c == '%');
    (number && unit && !value.contains(['"', '\'', '[', '{'])).then_some(value)
}
