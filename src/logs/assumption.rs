//! What the reader of a log had to assume of its layout. Show it before any result.

use super::calendar::DateOrder;
use super::encoding::shown;
use super::span::StampAt;

/// Longest text of a file that is handed on, characters.
const LONGEST: usize = 300;

/// An assumption about the layout of a log.
#[derive(Debug, Clone, PartialEq)]
pub enum Assumption {
    /// The order of day and month.
    Dates(DateOrder, DatesShow),
    /// What numbers without a unit in the column of times are.
    Times(TimesAre),
    /// Times of two parts: minutes and seconds, or hours and minutes.
    TwoParts {
        /// Minutes and seconds.
        minutes_first: bool,
    },
    /// Rows are evenly spaced, as a line above them says.
    Even {
        /// Number of the line, from 1.
        line: usize,
        /// The line.
        text: String,
    },
    /// The first rows do not tell the interval: 1 s.
    NoInterval,
    /// Rows that share a stamp are spread evenly over its time.
    SharedStamps {
        /// Rows to a stamp.
        rows: u32,
        /// From one stamp to the next, s.
        step_s: f64,
    },
    /// The current is an average, as the header says.
    Averages,
    /// The current is instantaneous samples.
    Samples {
        /// From row to row, s.
        interval_s: f64,
        /// Their RMS is taken over this, s.
        window_s: f64,
    },
    /// Many currents are negative in rows too slow for samples.
    ManyNegative,
    /// The meter forms the RMS; nothing says so.
    MeterRms,
    /// Which end of its interval the time of a row of averages is.
    Stamp(StampAt),
    /// Averages without the largest currents bound the heat from below only.
    HiddenHeat,
    /// Starts shorter than this, s, are not seen.
    SlowRows(f64),
    /// The mean of samples, A, that is not taken off.
    Offset(f64),
    /// The log holds the largest currents only.
    OnlyLargest,
    /// Which column is the current, and which others are not used.
    Current {
        /// Number and name.
        used: String,
        /// Numbers and names.
        left: String,
    },
    /// This column is the current, as the only one left.
    OnlyColumn(String),
    /// This one of several columns of temperature is the air at the protector.
    Air {
        /// How many there are.
        of: usize,
        /// Number and name.
        column: String,
    },
    /// A current without a unit is in amperes.
    Amperes {
        /// Which is much: it may be in milliamperes.
        large: bool,
    },
    /// A temperature without a unit is in kelvin.
    Kelvin,
    /// A temperature without a unit is in degrees Celsius.
    Celsius {
        /// Which is hot: it may be in degrees Fahrenheit.
        hot: bool,
    },
}

/// What tells day and month apart.
#[derive(Debug, Clone, PartialEq)]
pub enum DatesShow {
    /// This date has no other reading.
    OneReading(String),
    /// This date is followed by that.
    Midnight(String, String),
    /// They are written with points.
    Points,
}

/// What numbers in a column of times are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TimesAre {
    /// Milliseconds since 1970.
    UnixMilliseconds,
    /// Seconds since 1970.
    UnixSeconds,
    /// Days of a spreadsheet.
    SpreadsheetDays,
    /// Seconds.
    Seconds,
}

impl Assumption {
    /// The same with what it quotes of the file made fit to be shown.
    pub(super) fn fit_to_show(mut self) -> Assumption {
        use Assumption::{Air, Current, Dates, Even, OnlyColumn};
        let quoted: Vec<&mut String> = match &mut self {
            Dates(_, DatesShow::OneReading(text)) | Even { text, .. } | OnlyColumn(text) => {
                vec![text]
            }
            Dates(_, DatesShow::Midnight(from, to)) => vec![from, to],
            Current { used, left } => vec![used, left],
            Air { column, .. } => vec![column],
            _ => Vec::new(),
        };
        for text in quoted {
            *text = shown(text, LONGEST);
        }
        self
    }
}
