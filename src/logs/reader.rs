//! Reads a log row by row in constant memory.

use super::account::{Account, BadRow, RepeatedHeader, RowFault};
use super::detect::{Probe, is_comment};
use super::encoding::{self, Encoding, Input};
use super::error::LogError;
use super::fields::Fields;
use super::header::{Heading, bare_unit, heading, with_unit};
use super::layout::{Column, Layout};
use super::lines::{Found, Lines};
use super::options::{CurrentKind, Options};
use super::plan::plan;
use super::row::Row;
use super::samples::Windows;
use super::split::split;
use super::timeline::Timeline;
use super::words::{Statistic, Subject};
use crate::diagnostic::{Problem, Report};
use crate::quantity::Dimension;
use std::io::BufRead;

/// Bytes of the start of a log from which its layout is found.
pub const PROBE: usize = 256 * 1024;

/// Reads a log row by row. The memory it needs does not grow with the log.
///
/// ```
/// use relatch::internals::logs::{LogReader, Options};
/// let text = "Zeit;Strom (A)\n00:00:00;0,2\n00:00:01;13,8\n00:00:02;13,7\n";
/// let mut log = LogReader::new("fog machine", text.as_bytes(), Options::default())?;
/// let mut rows = Vec::new();
/// while let Some(row) = log.next_row()? {
///     rows.push((row.time_s, row.current_a.value));
/// }
/// assert_eq!(rows, [(0.0, 0.2), (1.0, 13.8), (2.0, 13.7)]);
/// assert_eq!(log.account().bad_rows.count, 0);
/// # Ok::<(), relatch::internals::logs::LogError>(())
/// ```
pub struct LogReader<R> {
    name: String,
    lines: Lines<R>,
    layout: Layout,
    headings: Vec<Heading>,
    options: Options,
    fields: Fields,
    timeline: Timeline,
    windows: Option<Windows>,
    account: Account,
    /// Line and cells of the header met last among the rows.
    header: (u64, Vec<String>),
    finished: bool,
}

impl<R: BufRead> LogReader<R> {
    /// Looks at the start of a log and finds its layout. `name` is for messages.
    ///
    /// # Errors
    /// When it cannot be read, is empty, or its layout is unclear; the last comes as a report with
    /// the question to answer in the [`Options`].
    pub fn new(name: &str, mut reader: R, options: Options) -> Result<Self, LogError> {
        let head = encoding::head(&mut reader, PROBE).map_err(|error| LogError::Io {
            name: name.into(),
            error,
        })?;
        let whole = head.len() < PROBE;
        let encoding = Encoding::detect(&head);
        let text = probe_text(&head, encoding);
        if text.trim().is_empty() {
            return Err(LogError::Empty { name: name.into() });
        }
        let line_end = if text.contains('\n') { '\n' } else { '\r' };
        let probe = Probe::new(text, line_end, whole);
        let planned = plan(&probe, encoding, &options);
        let (layout, headings) =
            planned.map_err(|problem| layout_error(name, &probe.text, *problem))?;
        let line_end = if line_end == '\n' { b'\n' } else { b'\r' };
        Ok(LogReader {
            name: name.to_owned(),
            lines: Lines::new(
                Input::new(head, reader, encoding),
                line_end,
                options.growing,
            ),
            fields: Fields::new(&layout),
            timeline: Timeline::new(&layout, &options),
            windows: (layout.kind == CurrentKind::Samples)
                .then(|| Windows::new(options.rms_window_s)),
            account: Account {
                interval_s: layout.interval_s,
                ..Account::default()
            },
            layout,
            headings,
            options,
            header: (0, Vec::new()),
            finished: false,
        })
    }

    /// How the log is laid out.
    pub fn layout(&self) -> &Layout {
        &self.layout
    }

    /// What was odd so far.
    pub fn account(&self) -> &Account {
        &self.account
    }

    /// The next row, `None` at the end. A log that grows can be asked again later.
    ///
    /// # Errors
    /// When the file cannot be read on, or at its end when not one row could be used.
    pub fn next_row(&mut self) -> Result<Option<Row>, LogError> {
        loop {
            while let Some(row) = self.timeline.out.pop_front() {
                match &mut self.windows {
                    None => return Ok(Some(row)),
                    Some(windows) => {
                        if let Some(joined) = windows.push(&row) {
                            return Ok(Some(joined));
                        }
                    }
                }
            }
            let found = self.lines.next().map_err(|error| LogError::Io {
                name: self.name.clone(),
                error,
            })?;
            match found {
                Found::Line => self.line(),
                Found::TooLong => self.bad(RowFault::LongLine),
                Found::End if self.options.growing => return Ok(None),
                Found::End if !self.finished => {
                    self.finished = true;
                    self.timeline.finish(&mut self.account);
                }
                Found::End => return self.end(),
            }
        }
    }

    fn end(&mut self) -> Result<Option<Row>, LogError> {
        if let Some(last) = self.windows.as_mut().and_then(Windows::finish) {
            return Ok(Some(last));
        }
        if self.account.rows_used == 0 {
            return Err(LogError::NoRow {
                name: self.name.clone(),
                account: Box::new(self.account.clone()),
            });
        }
        Ok(None)
    }

    fn bad(&mut self, fault: RowFault) {
        if self.lines.number < self.layout.first_line {
            return;
        }
        self.account.rows_read += 1;
        let (line, number) = (self.lines.number, self.account.rows_read);
        self.account.bad_rows.add(BadRow {
            line,
            number,
            fault,
        });
    }

    fn line(&mut self) {
        let (line, number) = (self.lines.number, self.account.rows_read + 1);
        if line < self.layout.first_line || self.lines.line.trim_ascii().is_empty() {
            return;
        }
        let bytes = &self.lines.line;
        let read = self.fields.read(
            bytes,
            (line, number),
            &self.layout,
            &self.options,
            &mut self.account,
        );
        match read {
            Ok(row) => {
                self.account.rows_read += 1;
                self.timeline.zoned |= self.fields.moments.zoned;
                self.timeline.push(row, &mut self.account);
            }
            Err(fault) => {
                self.timeline.missing |= fault.lacks_current();
                self.not_a_row(fault);
            }
        }
    }

    /// A comment, a header met again, or a bad row.
    #[cold]
    fn not_a_row(&mut self, fault: RowFault) {
        let bytes = &self.lines.line;
        if bytes.contains(&0) {
            return self.bad(RowFault::ZeroBytes);
        }
        let text = encoding::text(bytes);
        if is_comment(text.trim_start()) {
            self.account.comments += 1;
            return;
        }
        let mut ranges = Vec::new();
        split(bytes, self.layout.delimiter, &mut ranges);
        let cells: Vec<String> = ranges
            .iter()
            .map(|r| encoding::text(&bytes[r.clone()]))
            .collect();
        let line = self.lines.number;
        // The units below a header met again.
        let is_unit = |c: &String| c.is_empty() || bare_unit(c).is_some();
        if self.header.0 + 1 == line && cells.iter().all(is_unit) {
            let names = self.header.1.iter().zip(&cells);
            let joined: Vec<String> = names.map(|(name, unit)| with_unit(name, unit)).collect();
            let changed = self.header_again(&joined) == Some(true);
            if let Some(last) = self
                .account
                .repeated_headers
                .first
                .last_mut()
                .filter(|h| h.line + 1 == line)
            {
                last.changed |= changed;
            }
            return;
        }
        if let Some(changed) = self.header_again(&cells) {
            self.account
                .repeated_headers
                .add(RepeatedHeader { line, changed });
            self.header = (line, cells);
            return;
        }
        let within = self.lines.unended && matches!(fault, RowFault::Fields { .. });
        let fault = if within { RowFault::CutOff } else { fault };
        self.bad(fault);
    }

    /// Whether the cells are the header again, and if so whether its columns have changed.
    fn header_again(&mut self, cells: &[String]) -> Option<bool> {
        if self.headings.is_empty() || cells.len() < 2 {
            return None;
        }
        let new: Vec<Heading> = cells.iter().map(|c| heading(c)).collect();
        // Units from a line below the header are part of the names kept.
        let same = |(new, old): (&Heading, &Heading)| {
            let below = |u: &super::unit::ColumnUnit| with_unit(&new.name, &u.text) == old.name;
            new.name == old.name || (new.unit.is_none() && old.unit.as_ref().is_some_and(below))
        };
        if new.len() == self.headings.len() && new.iter().zip(&self.headings).all(same) {
            return Some(false);
        }
        let is = |h: &&Heading| {
            matches!(
                h.subject,
                Some(Subject::Current | Subject::Time | Subject::Date)
            )
        };
        if new.iter().filter(is).count() < 2 {
            return None;
        }
        let old = &self.headings;
        let mut layout = self.layout.clone();
        layout.current = moved(&layout.current, old, &new, Dimension::Current)?;
        let optional = |column: &mut Option<Column>, dimension: Dimension| {
            *column = column.take().and_then(|c| moved(&c, old, &new, dimension));
        };
        optional(&mut layout.minimum, Dimension::Current);
        optional(&mut layout.maximum, Dimension::Current);
        optional(&mut layout.ambient, Dimension::Temperature);
        for time in [&mut layout.time, &mut layout.time_of_day]
            .into_iter()
            .flatten()
        {
            *time = moved(time, old, &new, Dimension::Time)?;
        }
        layout.width = cells.len();
        self.layout = layout;
        self.headings = new;
        self.fields.needs(&self.layout);
        Some(true)
    }
}

/// A column under a new header: by its name, or as the one that says the same.
fn moved(
    column: &Column,
    old: &[Heading],
    new: &[Heading],
    dimension: Dimension,
) -> Option<Column> {
    let heading = old.get(column.index)?;
    let same = |h: &Heading| h.subject == heading.subject && h.statistic == heading.statistic;
    let alike = |h: &Heading| {
        let temperature = |s| matches!(s, Some(Subject::Ambient | Subject::Temperature));
        temperature(h.subject)
            && temperature(heading.subject)
            && heading.statistic == Statistic::Unsaid
    };
    let index = new
        .iter()
        .position(|h| h.name == heading.name)
        .or_else(|| new.iter().position(same))
        .or_else(|| new.iter().position(alike))?;
    let unit = new[index].unit.clone().filter(|u| u.dimension == dimension);
    let (scale, zero) = match &unit {
        Some(unit) => (unit.scale, unit.zero),
        None => (column.scale, column.zero),
    };
    let name = new[index].name.clone();
    Some(Column {
        index,
        name,
        unit,
        scale,
        zero,
        mark: column.mark,
    })
}

/// A report on the lines up to the problem: the rest of the log does not belong in it.
fn layout_error(name: &str, text: &str, problem: Problem) -> LogError {
    let also = problem.also.as_ref().map_or(0, |(s, _)| s.end);
    let end = problem.span.end.max(also).min(text.len());
    let line_end = text.get(end..).and_then(|rest| rest.find(['\n', '\r']));
    let text = text
        .get(..line_end.map_or(text.len(), |n| end + n))
        .unwrap_or(text);
    // Control characters beyond ASCII, as Latin-1 files have them, give way to another of two
    // bytes: places stay where they are.
    let clean = |c: char| {
        if c.is_control() && c.len_utf8() == 2 {
            '\u{b7}'
        } else {
            c
        }
    };
    let text: String = text.chars().map(clean).collect();
    LogError::Layout(Box::new(Report::new(name, &text, vec![problem])))
}

/// The start of a log as text.
fn probe_text(head: &[u8], encoding: Encoding) -> String {
    let text = match encoding {
        Encoding::Utf8 => String::from_utf8_lossy(head).into_owned(),
        Encoding::Latin1 => encoding::text(head),
        wide => {
            let mut input = Input::new(head.to_vec(), std::io::empty(), wide);
            let mut bytes = Vec::new();
            while let Ok(block) = input.fill() {
                if block.is_empty() {
                    break;
                }
                bytes.extend_from_slice(block);
                let n = block.len();
                input.consume(n);
            }
            String::from_utf8_lossy(&bytes).into_owned()
        }
    };
    text.strip_prefix('\u{feff}')
        .map(str::to_owned)
        .unwrap_or(text)
}
