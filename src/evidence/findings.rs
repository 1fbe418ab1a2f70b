//! What a recorded log has shown, for people.

use super::Course;
use serde::Serialize;

/// One stretch of load in a log.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RunFound {
    /// Start, s on the log's clock.
    pub from_s: f64,
    /// Length, its start included, s.
    pub length_s: f64,
    /// Largest current, A.
    pub peak_a: f64,
    /// RMS current, A: a lower bound where the log holds averages.
    pub rms_a: f64,
    /// Upper bound of the RMS current from the least and largest values, A (equal to `rms_a` without them).
    pub rms_high_a: f64,
    /// Arithmetic mean, A. It hides heat where the current varies.
    pub mean_a: f64,
    /// Whether the load ended with a sudden fall to zero: a trip, or a hand at the switch.
    pub fell: bool,
    /// Whether a gap of the log lies at its end.
    pub gap_after: bool,
}

/// One trip in a log.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TripFound {
    /// When it was closed, or the log began, s on the log's clock.
    pub from_s: f64,
    /// It tripped not before, s on the log's clock.
    pub not_before_s: f64,
    /// It had tripped by, s on the log's clock.
    pub not_after_s: f64,
    /// RMS current of the load since `from_s`, A: a lower bound where the log holds averages.
    pub rms_a: f64,
    /// Upper bound of it, A.
    pub rms_high_a: f64,
    /// RMS current of the last run alone, without pauses before it, A.
    pub last_run_rms_a: f64,
    /// Length of the window before the trip, s (10 min, or less where it began later).
    pub window_s: f64,
    /// RMS current over that window, pauses included, A.
    pub window_rms_a: f64,
    /// Upper bound of it, A.
    pub window_rms_high_a: f64,
    /// Arithmetic mean over that window, A.
    pub window_mean_a: f64,
    /// Largest current since `from_s`, A.
    pub peak_a: f64,
    /// Time of it that lies in gaps of the log, s.
    pub gap_s: f64,
    /// RMS current since `from_s` when nothing flowed in the gaps, and when the largest current did, A.
    pub rms_with_gaps_a: (f64, f64),
    /// Mean air temperature over the window, K, where the log has it.
    pub air_k: Option<f64>,
}

/// What one log has shown.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LogFindings {
    /// Name of the file, as the case has it.
    pub file: String,
    /// The import in full, for people: rows, layout, assumptions, irregularities with their lines. It belongs
    /// before any result that rests on the log.
    pub import: String,
    /// Rows met.
    pub rows_read: u64,
    /// Rows used.
    pub rows_used: u64,
    /// Rows not used, and why: reason and count, of the first rows kept.
    pub dropped: Vec<(String, u64)>,
    /// Usual interval between rows, s.
    pub interval_s: f64,
    /// From the first row to the last, s.
    pub lasting_s: f64,
    /// It holds averages of its intervals, which hide heat where the current varies.
    pub averages: bool,
    /// Gaps.
    pub gaps: u64,
    /// Time in gaps, s.
    pub gap_time_s: f64,
    /// Jumps of the clock.
    pub clock_jumps: u64,
    /// Rows met twice.
    pub duplicates: u64,
    /// What the reader of the log had to assume.
    pub assumed: Vec<String>,
    /// Runs in their order, the first [`LogFindings::MOST_RUNS`] of them.
    pub runs: Vec<RunFound>,
    /// All runs.
    pub runs_in_all: u64,
    /// Trips in their order.
    pub trips: Vec<TripFound>,
    /// The interval is too long to see starts and pauses: the log gives bounds only.
    pub too_slow: bool,
    /// What else belongs to it, in words.
    pub notes: Vec<String>,
    /// The whole of it, in little.
    #[serde(skip)]
    pub course: Course,
}

impl LogFindings {
    /// Most runs kept.
    pub const MOST_RUNS: usize = 50;
}
