//! The running account of what is odd in a log. Its memory is bounded: the first of each kind, and
//! counts.

use std::fmt;

/// How many of each kind are kept.
pub const KEPT: usize = 20;

/// The first [`KEPT`] of a kind, and how many there were.
#[derive(Debug, Clone, PartialEq)]
pub struct Kept<T> {
    /// The first ones.
    pub first: Vec<T>,
    /// All of them.
    pub count: u64,
}

impl<T> Default for Kept<T> {
    fn default() -> Self {
        Kept {
            first: Vec::new(),
            count: 0,
        }
    }
}

impl<T> Kept<T> {
    pub(super) fn add(&mut self, item: T) {
        self.count += 1;
        if self.first.len() < KEPT {
            self.first.push(item);
        }
    }
}

/// Why a row was not used.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum RowFault {
    /// Another number of fields than the header has.
    Fields {
        /// In this row.
        found: usize,
        /// In the header, or in most rows.
        expected: usize,
    },
    /// The time cannot be read; the field as it stands.
    Time(String),
    /// There is no such day in the order of day and month that the log has elsewhere.
    NoSuchDay(String),
    /// The time does not fit between the rows before and after it.
    StrayTime(String),
    /// There is no current.
    NoCurrent,
    /// The instrument says that its range was exceeded.
    OverRange,
    /// The current cannot be read; the field as it stands.
    Current(String),
    /// `1,204` may be 1.204 or 1204.
    TwoWays(String),
    /// The current is larger than is believed.
    TooLarge(String),
    /// A quoted field does not end on its line.
    OpenQuote,
    /// The file ends in the middle of this row.
    CutOff,
    /// The line holds zero bytes, as after a power cut.
    ZeroBytes,
    /// The line is longer than any row.
    LongLine,
}

impl fmt::Display for RowFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            RowFault::Fields { found: 1, expected } => write!(f, "1 field instead of {expected}"),
            RowFault::Fields { found, expected } => {
                write!(f, "{found} fields instead of {expected}")
            }
            RowFault::Time(t) => write!(f, "`{t}` is no time"),
            RowFault::NoSuchDay(t) => write!(f, "there is no day `{t}`"),
            RowFault::StrayTime(t) => {
                write!(f, "the time `{t}` does not fit between its neighbours")
            }
            RowFault::NoCurrent => write!(f, "no current"),
            RowFault::OverRange => write!(f, "the instrument was over its range"),
            RowFault::Current(t) => write!(f, "`{t}` is no current"),
            RowFault::TwoWays(t) => write!(f, "`{t}` can be read in two ways"),
            RowFault::TooLarge(t) => write!(f, "`{t}` is more current than is believed"),
            RowFault::OpenQuote => write!(f, "a quote is not closed"),
            RowFault::CutOff => write!(f, "the file ends within the row"),
            RowFault::ZeroBytes => write!(f, "zero bytes"),
            RowFault::LongLine => write!(f, "the line is longer than 64 KiB"),
        }
    }
}

impl RowFault {
    /// The row has its time, but its current is not known.
    pub(super) fn lacks_current(&self) -> bool {
        use RowFault::{Current, NoCurrent, OverRange, TooLarge, TwoWays};
        matches!(
            self,
            NoCurrent | OverRange | Current(_) | TwoWays(_) | TooLarge(_)
        )
    }

    /// What can be done about it.
    pub(super) fn help(&self) -> &'static str {
        match self {
            RowFault::Fields { .. } => {
                "a number with a thousands comma must stand in quotes, `\"1,204.5\"`; or export \
                 with semicolons"
            }
            RowFault::Time(_) => {
                "write times as `2024-03-05 14:00:00`, `00:12:03.2` or as a number of seconds"
            }
            RowFault::NoSuchDay(_) => {
                "say which number is the day, or export dates as `2024-03-05`"
            }
            RowFault::StrayTime(_) => "look at the time in that line; the row was left out",
            RowFault::NoCurrent => {
                "the current there is unknown, not zero: the row is taken as a gap"
            }
            RowFault::OverRange => {
                "the current there was above the range of the meter, and is taken as a gap; use a \
                 larger range"
            }
            RowFault::Current(_) => {
                "a current is a number, with or without a unit: `9.4`, `9,4`, `9.4 A`, `940 mA`"
            }
            RowFault::TwoWays(_) => "export without thousands marks",
            RowFault::TooLarge(_) => {
                "check the unit of the column; the largest current that is believed can be set"
            }
            RowFault::OpenQuote => "a field in quotes must end on its line",
            RowFault::CutOff => "it was copied while the logger wrote, or the copy is not whole",
            RowFault::ZeroBytes => {
                "the logger lost power while it wrote; the rest of the file is used"
            }
            RowFault::LongLine => "a line that long holds no row",
        }
    }
}

/// A row that was not used.
#[derive(Debug, Clone, PartialEq)]
pub struct BadRow {
    /// Line in the file, from 1.
    pub line: u64,
    /// Number of the row, from 1.
    pub number: u64,
    /// Why.
    pub fault: RowFault,
}

/// An interval without rows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gap {
    /// Line of the first row after it.
    pub line: u64,
    /// Time of the last row before it, s.
    pub from_s: f64,
    /// Time of the first row after it, s.
    pub to_s: f64,
}

/// A row that repeats an earlier time.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Duplicate {
    /// Line in the file, from 1.
    pub line: u64,
    /// The current is the same as well.
    pub same_current: bool,
}

/// Why the clock of a log jumped.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum JumpCause {
    /// An hour, at an hour at which daylight saving is switched.
    DaylightSaving,
    /// Back to about zero: the logger started again.
    Restart,
    /// Set by hand, or drifted and corrected.
    Set,
}

/// A jump of the clock.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClockJump {
    /// Line of the first row after it.
    pub line: u64,
    /// How far the clock jumped from the row before, s; negative is back.
    pub by_s: f64,
    /// Probable cause.
    pub cause: JumpCause,
}

/// What is odd about a value that was read.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Oddity {
    /// The current is negative; its size was taken.
    Negative,
    /// The raw number is the end of a counter's range: the current was at least that.
    Clipped,
    /// The air temperature lies outside -60 to 150 degC and was left out.
    Ambient,
    /// The current is a thousand times, or a thousandth of, the one before: another range of the
    /// meter?
    Thousandfold,
    /// Another decimal mark than in the rest of its column.
    DecimalMark,
}

/// A value that was used and is odd, or was left out of a row that was used.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OddValue {
    /// Line in the file, from 1.
    pub line: u64,
    /// As read, SI.
    pub value: f64,
}

/// A header in the middle of the file.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct RepeatedHeader {
    /// Line in the file, from 1.
    pub line: u64,
    /// Its columns or units differ from those before; they hold from here on.
    pub changed: bool,
}

/// Another usual interval.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IntervalChange {
    /// Line from which on it holds.
    pub line: u64,
    /// Before, s.
    pub from_s: f64,
    /// From there on, s.
    pub to_s: f64,
}

/// Everything that is odd about a log, as far as it has been read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Account {
    /// Rows of data met.
    pub rows_read: u64,
    /// Rows whose current was used.
    pub rows_used: u64,
    /// Rows not used.
    pub bad_rows: Kept<BadRow>,
    /// Intervals without rows.
    pub gaps: Kept<Gap>,
    /// Time in gaps, s.
    pub gap_time_s: f64,
    /// Rows that repeat an earlier one; not used.
    pub duplicates: Kept<Duplicate>,
    /// Jumps of the clock.
    pub clock_jumps: Kept<ClockJump>,
    /// Headers in the middle.
    pub repeated_headers: Kept<RepeatedHeader>,
    /// Odd values, by kind.
    pub odd_values: Vec<(Oddity, Kept<OddValue>)>,
    /// Changes of the usual interval.
    pub interval_changes: Kept<IntervalChange>,
    /// Midnights passed by a clock without a date.
    pub midnights: u64,
    /// Lines that begin with `#` or `//` among the data; passed over.
    pub comments: u64,
    /// Time of the first row used, s since 1970 as the log's clock has it, where it has dates.
    pub starts_at_unix_s: Option<f64>,
    /// Time of the first row used, s.
    pub first_time_s: f64,
    /// Time of the last row used, s.
    pub last_time_s: f64,
    /// Usual interval, s.
    pub interval_s: f64,
    /// Least and largest current used, A.
    pub current_range_a: Option<(f64, f64)>,
}

impl Account {
    pub(super) fn odd(&mut self, oddity: Oddity, line: u64, value: f64) {
        let item = OddValue { line, value };
        match self.odd_values.iter_mut().find(|(o, _)| *o == oddity) {
            Some((_, kept)) => kept.add(item),
            None => {
                let mut kept = Kept::default();
                kept.add(item);
                self.odd_values.push((oddity, kept));
            }
        }
    }
}
