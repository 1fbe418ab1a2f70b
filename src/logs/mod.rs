//! Recorded logs of current meters and loggers, read as a stream in constant memory.
//!
//! [`LogReader`] finds out how a file is laid out (delimiter, decimal mark, header, units, times)
//! from its first lines, says what it had to assume, and then hands out one [`Row`] after the
//! other. What is odd is counted in an [`Account`], never fatal unless not one row can be used.
//! Where the file allows two readings it is not guessed: the error is a question, to be answered in
//! the [`Options`].

mod account;
mod assumption;
mod calendar;
mod clock;
mod columns;
mod condense;
mod cursor;
mod dates;
mod detect;
mod draft;
mod encoding;
mod error;
mod fields;
mod file;
mod finder;
mod header;
mod layout;
mod levels;
mod lines;
mod moment;
mod number;
mod onset;
mod options;
mod plan;
mod plan_time;
mod problems;
mod reader;
mod rhythm;
mod row;
mod samples;
mod span;
mod split;
mod timeline;
mod times;
mod totals;
mod unit;
mod words;

/// Parts of the reader, for their tests.
#[doc(hidden)]
pub mod parts {
    pub use super::calendar::{civil, days_from_civil, stamp};
    pub use super::clock::{Clock, Stamp, stamp as time_stamp};
    pub use super::header::{Heading, heading};
    pub use super::number::{Cell, cell};
    pub use super::split::split;
    pub use super::words::Subject;
}

pub use account::{
    Account, BadRow, ClockJump, Duplicate, Gap, IntervalChange, JumpCause, KEPT, Kept, OddValue,
    Oddity, RepeatedHeader, RowFault,
};
pub use assumption::{Assumption, DatesShow, TimesAre};
pub use calendar::{DateOrder, stamp as calendar_stamp};
pub use condense::{Condensed, Condenser, Condensing, GapFill};
pub use encoding::Encoding;
pub use error::LogError;
pub use file::open;
pub use finder::{Finder, Finding, Segment, SegmentKind};
pub use layout::{Column, Layout, TimeForm};
pub use levels::{Levels, Thresholds};
pub use options::{CurrentKind, HourJumps, Options, Pick};
pub(crate) use problems::span as spoken_span;
pub use reader::{LogReader, PROBE};
pub use row::{Current, Row};
pub use span::{Span, Spans, StampAt, each_span};
pub use split::Delimiter;
pub use totals::Totals;
pub use unit::ColumnUnit;
pub use words::Statistic;
