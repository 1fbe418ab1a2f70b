//! One row of a log.

/// Current of a row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Current {
    /// RMS, average or true RMS over a window, as [`Layout::kind`](super::Layout::kind) says; A,
    /// never negative.
    pub value: f64,
    /// Least value within the interval, A, where the log has it.
    pub min: Option<f64>,
    /// Largest value within the interval, A, where the log has it.
    pub max: Option<f64>,
}

impl Current {
    /// Largest mean square that an average allows with its least and largest value, A^2; see
    /// [`Totals`](super::Totals). Without them the square of the value.
    pub fn most_square_a2(&self) -> f64 {
        match (self.min, self.max) {
            (Some(low), Some(high)) if low <= self.value && self.value <= high => {
                self.value * (high + low) - high * low
            }
            _ => self.value * self.value,
        }
    }
}

/// One row of a log, in SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Row {
    /// Number of the row among the rows of data, from 1, bad ones counted. For samples that were
    /// joined to an RMS value, the first of them.
    pub number: u64,
    /// Line in the file, from 1.
    pub line: u64,
    /// Seconds on the log's own clock (elapsed times), or since the first row (dates, times of
    /// day); never falling.
    pub time_s: f64,
    /// Current.
    pub current_a: Current,
    /// Air temperature, K, where the log has it.
    pub ambient_k: Option<f64>,
    /// Something is missing between the row before and this one.
    pub gap_before: bool,
    /// Usual interval between rows at this place, s.
    pub interval_s: f64,
}
