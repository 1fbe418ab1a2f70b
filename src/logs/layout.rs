//! How a log is laid out: what the probe of its first lines found.

use super::assumption::Assumption;
use super::calendar::DateOrder;
use super::encoding::Encoding;
use super::options::CurrentKind;
use super::span::StampAt;
use super::split::Delimiter;
use super::unit::ColumnUnit;
use super::words::Statistic;

/// One column that is read.
#[derive(Debug, Clone, PartialEq)]
pub struct Column {
    /// Place in the row, from 0.
    pub index: usize,
    /// Name in the header; empty without one.
    pub name: String,
    /// Unit in the header.
    pub unit: Option<ColumnUnit>,
    /// Decimal mark, a point or a comma.
    pub(super) mark: u8,
    /// Factor and zero of the way to SI.
    pub(super) scale: f64,
    pub(super) zero: f64,
}

/// How the time of a row is written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TimeForm {
    /// A number; the factor turns it into seconds.
    Number {
        /// Seconds for one unit.
        scale_s: f64,
        /// They count from the start of 1970.
        since_1970: bool,
    },
    /// `hh:mm:ss`, elapsed or of the day, with or without days before it.
    Clock {
        /// Two parts are minutes and seconds, not hours and minutes.
        minutes_first: bool,
    },
    /// A date with a time of day, in one column or in two.
    Calendar {
        /// Which number is the day.
        order: DateOrder,
    },
    /// There is no time: rows are evenly spaced.
    Even {
        /// Interval between rows, s.
        interval_s: f64,
    },
}

/// How a log is laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct Layout {
    /// Characters.
    pub encoding: Encoding,
    /// Between fields.
    pub delimiter: Delimiter,
    /// Line of the header, from 1; `None` without one.
    pub header_line: Option<u64>,
    /// First line that may be a row, from 1.
    pub first_line: u64,
    /// Fields in a row.
    pub width: usize,
    /// How times are written.
    pub time_form: TimeForm,
    /// Column of the time, or of the date when the time of day stands in another column.
    pub time: Option<Column>,
    /// Column of the time of day beside a column of dates.
    pub time_of_day: Option<Column>,
    /// Column of the current.
    pub current: Column,
    /// Column of the least current of the interval.
    pub minimum: Option<Column>,
    /// Column of the largest current of the interval.
    pub maximum: Option<Column>,
    /// Column of the air temperature.
    pub ambient: Option<Column>,
    /// Column with the unit of the current in each row.
    pub unit_column: Option<usize>,
    /// What the current column holds.
    pub kind: CurrentKind,
    /// Statistic the header says of it.
    pub statistic: Statistic,
    /// Which end of its interval the time of a row names. Only the header can tell; the start
    /// otherwise.
    pub stamp_at: StampAt,
    /// Usual interval between rows, s, as far as the first rows tell.
    pub interval_s: f64,
    /// Rows that share one stamp (1 unless the stamps are coarser than the rows).
    pub rows_per_stamp: u32,
    /// Seconds ahead of UTC, as the first time with a zone has it.
    pub zone_s: Option<i32>,
    /// What had to be assumed. Show it before any result.
    pub assumptions: Vec<Assumption>,
}

impl Column {
    pub(super) fn largest_index(columns: &[Option<&Column>]) -> usize {
        columns.iter().flatten().map(|c| c.index).max().unwrap_or(0)
    }
}
