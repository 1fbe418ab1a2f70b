//! What a recorded log has shown.

use super::{Course, Noted, TOO_SLOW_S};
use crate::logs::{Account, CurrentKind, Layout};

/// One stretch of load in a log.
#[derive(Debug, Clone, PartialEq)]
pub struct RunFound {
    /// Start, s on the log's clock.
    pub from_s: f64,
    /// Length, its start included, s.
    pub length_s: f64,
    /// Largest current, A.
    pub peak_a: f64,
    /// RMS current, A: a lower bound where the log holds averages.
    pub rms_a: f64,
    /// Upper bound of the RMS current from the least and largest values, A (equal to `rms_a`
    /// without them).
    pub rms_high_a: f64,
    /// Arithmetic mean, A. It hides heat where the current varies.
    pub mean_a: f64,
    /// Whether the load ended with a sudden fall to zero: a trip, or a hand at the switch.
    pub fell: bool,
    /// Whether a gap of the log lies at its end.
    pub gap_after: bool,
}

/// One trip in a log.
#[derive(Debug, Clone, PartialEq)]
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
    /// RMS current since `from_s` when nothing flowed in the gaps, and when the largest current
    /// did, A.
    pub rms_with_gaps_a: (f64, f64),
    /// Mean air temperature over the window, K, where the log has it.
    pub air_k: Option<f64>,
}

/// What one log has shown.
#[derive(Debug, Clone, PartialEq)]
pub struct LogFindings {
    /// Name of the file, as the case has it.
    pub file: String,
    /// How it is laid out, and what had to be assumed of that.
    pub layout: Layout,
    /// Its rows, times, gaps and what is odd about it.
    pub account: Account,
    /// Runs in their order, the first [`LogFindings::MOST_RUNS`] of them.
    pub runs: Vec<RunFound>,
    /// All runs.
    pub runs_in_all: u64,
    /// Trips in their order.
    pub trips: Vec<TripFound>,
    /// What else belongs to it.
    pub notes: Vec<LogNote>,
    /// The whole of it, in little.
    pub course: Course,
}

impl LogFindings {
    /// Most runs kept.
    pub const MOST_RUNS: usize = 50;

    /// Whether it holds averages of its intervals, which hide heat where the current varies.
    pub fn averages(&self) -> bool {
        self.layout.kind == CurrentKind::Average
    }

    /// Whether the interval is too long to see starts and pauses: the log gives bounds only.
    pub fn too_slow(&self) -> bool {
        self.account.interval_s >= TOO_SLOW_S
    }
}

/// What belongs to what a log has shown.
#[derive(Debug, Clone, PartialEq)]
pub enum LogNote {
    /// A noted trip is a fall that lies apart from the note.
    FarNote {
        /// When it was noted.
        noted: Noted,
        /// How long the fall lies after the note, s; negative before.
        late_s: f64,
        /// The fall, s after the first row.
        at_s: f64,
    },
    /// Gaps lie before an event, which is computed with the largest current in them.
    Gaps {
        /// The event.
        label: String,
        /// Time in gaps, s.
        gaps_s: f64,
        /// RMS current with nothing in the gaps, and with the largest current there, A.
        rms_a: (f64, f64),
        /// Pieces of its programme.
        pieces: usize,
    },
    /// A load came, tripped the part and went within two rows at most, which show neither how strong
    /// nor how long it was.
    TooShort {
        /// The event.
        label: String,
    },
    /// Of its trips the most unlike are weighed one by one.
    Alike {
        /// All of them.
        trips: usize,
        /// Those that are weighed.
        weighed: usize,
    },
    /// Too slow to show starts and pauses: no trip is computed from it.
    TooSlow {
        /// From row to row, s.
        interval_s: f64,
    },
    /// Averages hide heat where the current varies.
    HiddenHeat {
        /// Whether least and largest values bound it.
        bounded: bool,
    },
}
