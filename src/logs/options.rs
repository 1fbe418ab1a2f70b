//! What a person can say about a log where the log itself does not.

use super::calendar::DateOrder;

/// A column, as a person names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Pick {
    /// By its number, from 1.
    Number(usize),
    /// By its name in the header (small and capital letters do not differ).
    Name(String),
}

/// What the numbers of the current column are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum CurrentKind {
    /// Instantaneous samples, many in a period of the mains. The reader turns them into true RMS
    /// values over [`Options::rms_window_s`].
    Samples,
    /// RMS values by the meter.
    MeterRms,
    /// Arithmetic averages over the logging interval: they hide heat whenever the current varies
    /// within it.
    Average,
}

/// What is done where a clock without a zone jumps by about an hour.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HourJumps {
    /// Daylight saving was switched: the time goes on as if it had not been.
    Mend,
    /// The hour is taken as it stands: a gap, or a clock that was set back.
    Keep,
}

/// Settings of a [`LogReader`](super::LogReader). The defaults leave everything to the log.
#[derive(Debug, Clone, PartialEq)]
pub struct Options {
    /// Column of the current.
    pub current_column: Option<Pick>,
    /// Column of the time.
    pub time_column: Option<Pick>,
    /// Column of the air temperature.
    pub ambient_column: Option<Pick>,
    /// Which number of `03/04/2024` is the day.
    pub date_order: Option<DateOrder>,
    /// Amperes for one unit of the current column (10 for a shunt of 100 mV/A logged in volts).
    pub amperes_per_unit: Option<f64>,
    /// Current that the log shows when none flows, A; it is taken off every value.
    pub offset_a: f64,
    /// Interval between rows of a log without times, s.
    pub interval_s: Option<f64>,
    /// What the current column holds.
    pub kind: Option<CurrentKind>,
    /// Window of the true RMS of samples, s. The default of 0.1 s is a whole number of periods of
    /// both 50 Hz and 60 Hz.
    pub rms_window_s: f64,
    /// A gap is an interval longer than this many usual ones.
    pub gap_factor: f64,
    /// Larger currents are not believed, A.
    pub largest_current_a: f64,
    /// What is done with jumps of an hour.
    pub hour_jumps: HourJumps,
    /// The file is still being written: a last line without its end is kept back, and reading can
    /// go on after the end of the file was met.
    pub growing: bool,
}

impl Default for Options {
    fn default() -> Self {
        Options {
            current_column: None,
            time_column: None,
            ambient_column: None,
            date_order: None,
            amperes_per_unit: None,
            offset_a: 0.0,
            interval_s: None,
            kind: None,
            rms_window_s: 0.1,
            gap_factor: 3.0,
            largest_current_a: 1e5,
            hour_jumps: HourJumps::Mend,
            growing: false,
        }
    }
}
