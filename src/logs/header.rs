//! What the columns of a log are, from its header.

use super::encoding::shown;
use super::unit::{self, ColumnUnit};
use super::words::{Statistic, Subject, statistic_of, subject_of, words};
use crate::quantity::Dimension;

/// One column as its header describes it.
#[derive(Debug, Clone, PartialEq)]
pub struct Heading {
    /// As written.
    pub name: String,
    /// What it is about.
    pub subject: Option<Subject>,
    /// Which statistic it holds.
    pub statistic: Statistic,
    /// Its unit.
    pub unit: Option<ColumnUnit>,
}

/// Names are cut to this many letters.
const LONGEST_NAME: usize = 80;

/// Reads one cell of a header.
pub fn heading(cell: &str) -> Heading {
    let name = shown(cell.trim().trim_matches('"'), LONGEST_NAME);
    let (before, unit, behind) = cut_unit(&name);
    let mut words = words(before);
    words.extend(super::words::words(behind));
    let mut unit = unit;
    // `min` alone is the least value; behind a word for time it is a minute.
    let about_time = words.iter().any(|w| subject_of(w) == Some(Subject::Time));
    if unit.as_ref().is_some_and(|u| u.text == "min") && !about_time {
        unit = None;
        words.push("min".into());
    }
    let statistic = words
        .iter()
        .find_map(|w| statistic_of(w))
        .unwrap_or(Statistic::Unsaid);
    let subject = subject(&words, &name, unit.as_ref());
    Heading {
        name,
        subject,
        statistic,
        unit,
    }
}

/// A unit decides what a column is; its words say the rest.
fn subject(words: &[String], name: &str, unit: Option<&ColumnUnit>) -> Option<Subject> {
    let all: Vec<Subject> = words.iter().filter_map(|w| subject_of(w)).collect();
    let said = |s: Subject| all.contains(&s);
    match unit.map(|u| u.dimension) {
        Some(Dimension::Current) if said(Subject::Other) => return Some(Subject::Other),
        Some(Dimension::Current) => return Some(Subject::Current),
        Some(Dimension::Temperature) if said(Subject::Ambient) => return Some(Subject::Ambient),
        Some(Dimension::Temperature) => return Some(Subject::Temperature),
        Some(Dimension::Time) => return Some(Subject::Time),
        Some(_) => return Some(Subject::Other),
        None => {}
    }
    if name.trim() == "#" {
        return Some(Subject::Counter);
    }
    // `T` is a temperature, `t` a time.
    if name.trim() == "T" {
        return Some(Subject::Temperature);
    }
    let order = [
        Subject::Other,
        Subject::Unit,
        Subject::Ambient,
        Subject::Temperature,
        Subject::Current,
        Subject::Time,
        Subject::Date,
        Subject::Counter,
    ];
    order.into_iter().find(|s| said(*s))
}

/// Cuts the unit off a header: `Strom (A)`, `I [mA]`, `t / s`, `Strom in A`, `current_A`, `Amps`.
fn cut_unit(name: &str) -> (&str, Option<ColumnUnit>, &str) {
    for (open, close) in [('[', ']'), ('(', ')')] {
        if let Some(start) = name.rfind(open) {
            let inner = &name[start + 1..];
            let (inner, behind) = inner.split_once(close).unwrap_or((inner, ""));
            if let Some(unit) = unit::read(inner) {
                return (&name[..start], Some(unit), behind);
            }
        }
    }
    for mark in [" in ", "/", " ", "_", ",", "."] {
        if let Some(at) = name.rfind(mark) {
            let unit = unit::read(&name[at + mark.len()..]);
            if let Some(unit) = unit.filter(|u| !is_word(u)) {
                return (&name[..at], Some(unit), "");
            }
        }
    }
    (name, unit::read(name), "")
}

/// `elapsed seconds` has a unit in words; `Max c` has none: one small letter behind a blank says
/// too little.
fn is_word(unit: &ColumnUnit) -> bool {
    matches!(unit.text.as_str(), "a" | "c" | "f" | "d")
}

/// The unit of a cell that holds nothing but a unit, as in a second line of a header.
pub(super) fn bare_unit(cell: &str) -> Option<ColumnUnit> {
    let cell = cell.trim().trim_matches('"').trim();
    let inner = cell.trim_matches(|c| matches!(c, '[' | ']' | '(' | ')'));
    unit::read(inner)
}

/// A name with the unit of the line below it.
pub(super) fn with_unit(name: &str, unit: &str) -> String {
    let unit = unit.trim_matches(['[', ']', '(', ')', ' ']);
    if unit.is_empty() {
        name.to_owned()
    } else {
        format!("{name} ({unit})")
    }
}
