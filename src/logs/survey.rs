//! A whole log at once: thresholds from a first reading, segments from a second.

use super::error::LogError;
use super::finder::{Finder, Finding, Segment};
use super::levels::Levels;
use super::reader::LogReader;
use super::span::{Span, Spans, StampAt};
use std::io::BufRead;

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

/// Reads a log twice, with thresholds found from the data, and hands every segment on. `open` opens the log
/// anew; the settings used are returned, or `None` when no current ever flowed.
///
/// ```
/// use relatch::internals::logs::{LogReader, Options, SegmentKind, StampAt, find_segments};
/// let text = "time (s),current (A)\n0,0.1\n1,0.1\n2,13.8\n3,13.7\n4,13.8\n5,0.1\n6,0.1\n";
/// let open = || LogReader::new("fog machine", text.as_bytes(), Options::default());
/// let mut kinds = Vec::new();
/// find_segments(open, StampAt::Start, |s| kinds.push((s.kind, s.from_s)))?;
/// use SegmentKind::{Idle, Run, Trip};
/// assert_eq!(kinds, [(Idle, 0.0), (Run, 2.0), (Trip, 4.0), (Idle, 5.0)]);
/// # Ok::<(), relatch::internals::logs::LogError>(())
/// ```
///
/// # Errors
/// Those of opening and of reading.
pub fn find_segments<R: BufRead>(
    mut open: impl FnMut() -> Result<LogReader<R>, LogError>,
    at: StampAt,
    mut out: impl FnMut(&Segment),
) -> Result<Option<Finding>, LogError> {
    let mut levels = Levels::default();
    each_span(&mut open()?, at, |span| levels.add(span))?;
    let Some(thresholds) = levels.thresholds() else {
        return Ok(None);
    };
    let settings = Finding::new(thresholds);
    let mut finder = Finder::new(settings);
    each_span(&mut open()?, at, |span| finder.push(span, &mut out))?;
    finder.finish(&mut out);
    Ok(Some(settings))
}
