//! A log as a chain of intervals with a current each.

use super::error::LogError;
use super::reader::LogReader;
use super::row::{Current, Row};
use std::io::BufRead;

/// What moment of its interval the time of a row names.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StampAt {
    /// Its start: the current holds from the row's time to the next.
    Start,
    /// Its end: the current holds from the time of the row before to the row's.
    End,
}

/// An interval with one current, or with an unknown one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Span {
    /// Start, s.
    pub from_s: f64,
    /// End, s (not before the start).
    pub to_s: f64,
    /// Current; `None` where the log has a gap. What is missing is unknown, not zero.
    pub current: Option<Current>,
    /// Number of the row.
    pub row: u64,
}

impl Span {
    /// Length, s.
    pub fn length_s(&self) -> f64 {
        self.to_s - self.from_s
    }
}

/// Turns rows into spans without holes. A row beside a gap holds for one usual interval.
///
/// ```
/// use relatch::internals::logs::{LogReader, Options, Spans, StampAt};
/// let text = "time (s),current (A)\n0,0.2\n2,13.8\n4,13.7\n";
/// let mut log = LogReader::new("spotlight", text.as_bytes(), Options::default())?;
/// let mut spans = Spans::new(StampAt::Start);
/// let mut heat = 0.0;
/// let mut add = |s: &relatch::internals::logs::Span| {
///     heat += s.current.map_or(0.0, |c| c.value * c.value) * s.length_s();
/// };
/// while let Some(row) = log.next_row()? {
///     spans.push(&row, &mut add);
/// }
/// spans.finish(&mut add);
/// assert!((heat - 2.0 * (0.2_f64.powi(2) + 13.8_f64.powi(2) + 13.7_f64.powi(2))).abs() < 1e-9);
/// # Ok::<(), relatch::internals::logs::LogError>(())
/// ```
#[derive(Debug, Clone)]
pub struct Spans {
    at: StampAt,
    last: Option<Row>,
}

impl Spans {
    /// Starts a chain.
    pub fn new(at: StampAt) -> Spans {
        Spans { at, last: None }
    }

    /// Takes the next row and hands on the spans that are now known (at most two).
    pub fn push(&mut self, row: &Row, out: &mut impl FnMut(&Span)) {
        match self.at {
            StampAt::Start => self.push_start(row, out),
            StampAt::End => self.push_end(row, out),
        }
        self.last = Some(*row);
    }

    /// The log has ended: the last row holds for one usual interval.
    pub fn finish(&mut self, out: &mut impl FnMut(&Span)) {
        if let (Some(row), StampAt::Start) = (self.last.take(), self.at) {
            out(&span(row.time_s, row.time_s + row.interval_s, &row));
        }
    }

    fn push_start(&self, row: &Row, out: &mut impl FnMut(&Span)) {
        let Some(last) = &self.last else { return };
        let end = last.time_s + last.interval_s;
        if row.gap_before && end < row.time_s {
            out(&span(last.time_s, end, last));
            out(&gap(end, row));
        } else {
            out(&span(last.time_s, row.time_s, last));
        }
    }

    fn push_end(&self, row: &Row, out: &mut impl FnMut(&Span)) {
        let start = row.time_s - row.interval_s;
        match &self.last {
            None => out(&span(start, row.time_s, row)),
            Some(last) if row.gap_before && start > last.time_s => {
                out(&Span {
                    to_s: start,
                    ..gap(last.time_s, row)
                });
                out(&span(start, row.time_s, row));
            }
            Some(last) => out(&span(last.time_s, row.time_s, row)),
        }
    }
}

fn span(from_s: f64, to_s: f64, row: &Row) -> Span {
    Span {
        from_s,
        to_s,
        current: Some(row.current_a),
        row: row.number,
    }
}

fn gap(from_s: f64, row: &Row) -> Span {
    Span {
        from_s,
        to_s: row.time_s,
        current: None,
        row: row.number,
    }
}

/// Hands every span of a log on.
///
/// # Errors
/// Those of [`LogReader::next_row`].
pub fn each_span<R: BufRead>(
    log: &mut LogReader<R>,
    at: StampAt,
    mut out: impl FnMut(&Span),
) -> Result<(), LogError> {
    let mut spans = Spans::new(at);
    while let Some(row) = log.next_row()? {
        spans.push(&row, &mut out);
    }
    spans.finish(&mut out);
    Ok(())
}
