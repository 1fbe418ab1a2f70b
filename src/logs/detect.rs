//! Finds the delimiter, the header and the first row of data.

use super::clock;
use super::header::{bare_unit, heading};
use super::number::{Cell, cell};
use super::split::{Delimiter, split};
use std::ops::Range;

/// The first lines of a log as text.
pub(super) struct Probe {
    pub text: String,
    pub lines: Vec<Range<usize>>,
}

/// What the shape of the first lines says.
#[derive(Debug)]
pub(super) struct Shape {
    pub delimiter: Delimiter,
    /// Place in the probe of the header, of a line of units below it, and of the first row.
    pub header: Option<usize>,
    pub units: Option<usize>,
    pub first: usize,
    pub width: usize,
    /// The line above the first row, whatever it is.
    pub above: Option<usize>,
}

/// Lines looked at for the shape.
const LOOKED_AT: usize = 400;

impl Probe {
    pub fn new(text: String, line_end: char, whole: bool) -> Probe {
        let mut lines = Vec::new();
        let mut start = 0;
        for (at, _) in text.match_indices(line_end) {
            lines.push(start..at);
            start = at + 1;
        }
        // The last piece may be the start of a line only.
        if start < text.len() && (whole || lines.is_empty()) {
            lines.push(start..text.len());
        }
        Probe { text, lines }
    }

    pub fn line(&self, at: usize) -> &str {
        self.text[self.lines[at].clone()].trim_end_matches('\r')
    }

    pub fn fields(&self, at: usize, delimiter: Delimiter) -> Vec<Range<usize>> {
        let mut fields = Vec::new();
        split(self.line(at).as_bytes(), delimiter, &mut fields);
        fields
    }

    /// Text of a field, and its place in the probe.
    pub fn field(&self, at: usize, field: &Range<usize>) -> (&str, Range<usize>) {
        let start = self.lines[at].start;
        let span = start + field.start..start + field.end;
        (self.text.get(span.clone()).unwrap_or_default(), span)
    }
}

/// A field that could stand in a row of data.
fn is_readable(field: &str) -> bool {
    let bytes = field.as_bytes();
    let number = |mark| match cell(bytes, mark) {
        Cell::Value(_, rest) => {
            rest.is_empty() || bare_unit(&super::encoding::text(rest)).is_some()
        }
        Cell::TwoWays | Cell::OverRange => true,
        Cell::Nothing => !bytes.is_empty(),
        Cell::Unreadable => false,
    };
    number(b'.') || number(b',') || clock::stamp(bytes).is_some()
}

/// Number of fields, how many of them hold something, and how many of them could be data.
fn counts(probe: &Probe, at: usize, delimiter: Delimiter) -> (usize, usize, usize) {
    let fields = probe.fields(at, delimiter);
    let held = fields.iter().filter(|f| !f.is_empty());
    let readable = held.clone().filter(|f| is_readable(probe.field(at, f).0));
    (fields.len(), held.count(), readable.count())
}

pub(super) fn is_comment(line: &str) -> bool {
    line.starts_with('#') || line.starts_with("//")
}

/// Finds the shape; `None` when no line looks like a row.
pub(super) fn shape(probe: &Probe) -> Option<Shape> {
    let mut best: Option<(f64, Delimiter, usize)> = None;
    let looked: Vec<usize> = (0..probe.lines.len())
        .filter(|at| !probe.line(*at).trim().is_empty())
        .take(LOOKED_AT)
        .collect();
    for delimiter in Delimiter::ALL {
        // Score of each width: readable fields in rows that are mostly readable.
        let mut scores: Vec<(usize, f64)> = Vec::new();
        for at in &looked {
            let (fields, held, readable) = counts(probe, *at, delimiter);
            if fields < 2 || readable * 2 < held || readable < 1 {
                continue;
            }
            let share = readable as f64 / held as f64;
            match scores.iter_mut().find(|(w, _)| *w == fields) {
                Some((_, s)) => *s += share,
                None => scores.push((fields, share)),
            }
        }
        let top = scores.iter().copied().max_by(|a, b| a.1.total_cmp(&b.1));
        if let Some((width, score)) = top {
            // A later delimiter must be clearly better: it is the likelier one inside a field.
            if best.is_none_or(|(s, ..)| score > s * 1.01) {
                best = Some((score, delimiter, width));
            }
        }
    }
    let (delimiter, width) = match best {
        Some((_, d, w)) => (d, w),
        None => {
            let rows = looked
                .iter()
                .filter(|at| is_readable(probe.line(**at).trim()));
            if rows.count() * 2 < looked.len() {
                return None;
            }
            (Delimiter::Semicolon, 1)
        }
    };
    let is_row = |at: usize, least: usize| {
        let (fields, held, readable) = counts(probe, at, delimiter);
        let fits = (least..=width).contains(&fields);
        fits && readable > 0 && readable * 2 >= held && !is_comment(probe.line(at))
    };
    let find = |least: usize| looked.iter().copied().find(|at| is_row(*at, least));
    let first = find(width).or_else(|| find(width.saturating_sub(1).max(1)))?;
    let mut above = looked.iter().copied().rev().skip_while(|at| *at >= first);
    let line_above = above.clone().next();
    // The nearest line above whose words are known; failing that, the nearest that fits. A damaged
    // row may stand between it and the first whole one.
    let known = |at: &usize| {
        let fields = probe.fields(*at, delimiter);
        let is = |f: &&Range<usize>| heading(probe.field(*at, f).0).subject.is_some();
        fits(probe, *at, delimiter, width) && fields.iter().filter(is).count() >= 2.min(width)
    };
    let unit_line = |at: &usize| is_unit_line(probe, *at, delimiter);
    let nearest = || line_above.filter(|at| fits(probe, *at, delimiter, width));
    let header = above
        .find(|at| known(at) && !unit_line(at))
        .or_else(nearest);
    let units = header.and_then(|h| looked.iter().copied().find(|at| *at > h && *at < first));
    let units = units.filter(unit_line);
    let width = header.map_or(width, |at| width.max(probe.fields(at, delimiter).len()));
    Some(Shape {
        delimiter,
        header,
        units,
        first,
        width,
        above: line_above,
    })
}

/// A line that could be the header of rows of this width.
fn fits(probe: &Probe, at: usize, delimiter: Delimiter, width: usize) -> bool {
    let count = probe.fields(at, delimiter).len();
    // Headers of files cut by blanks have blanks in their names; then the count does not help.
    let near = count.abs_diff(width) <= 1 || (count > width && delimiter != Delimiter::Blanks);
    near && count > 0
}

fn is_unit_line(probe: &Probe, at: usize, delimiter: Delimiter) -> bool {
    let fields = probe.fields(at, delimiter);
    let mut units = 0;
    for field in &fields {
        let text = probe.field(at, field).0;
        let known = bare_unit(text).is_some();
        // `Time;A;B` is a header, not a line of units: a word for a subject says so.
        if !known && !text.trim_matches(['-', '[', ']', '(', ')']).is_empty() && !is_pattern(text) {
            return false;
        }
        units += usize::from(known);
    }
    let named = |f: &Range<usize>| {
        let h = heading(probe.field(at, f).0);
        h.subject.is_some() && h.unit.is_none()
    };
    units > 0 && !fields.iter().any(named)
}

/// `hh:mm:ss` or `yyyy-mm-dd` in a line of units.
fn is_pattern(text: &str) -> bool {
    text.contains([':', '-', '.', '/'])
        && text.to_lowercase().chars().all(|c| {
            matches!(
                c,
                'h' | 'm' | 's' | 'd' | 'y' | 'j' | 't' | 'a' | 'f' | ':' | '-' | '.' | '/' | ' '
            )
        })
}
