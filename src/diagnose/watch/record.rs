//! What is told while a log is followed.

use crate::family::Spread;
use serde::Serialize;

/// How the load goes on from here.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Forecast {
    /// Current it is made for, A.
    pub current_a: f64,
    /// The current comes and goes: it is the RMS over the last minutes, not the one that flows now.
    pub comes_and_goes: bool,
    /// Share of the sound parts that have held so far and trip within the time looked at, 0..1.
    pub trips: f64,
    /// From now, s, of those that trip.
    pub in_s: Option<Spread>,
    /// Every sound part would have opened by now, and is well past its release.
    pub overdue: bool,
}

/// Waits after a fall to zero, if it was a trip; s from now, zero when over.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Countdown {
    /// Until it can be reset.
    pub reset_s: Spread,
    /// Until the last load can be started again and holds.
    pub start_s: Option<Spread>,
    /// Share of the parts that this load trips again however long one waits, 0..1.
    pub never_starts: f64,
}

/// A load that fell to zero.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Fallen {
    /// Current before, A.
    pub from_a: f64,
    /// How long the load had lasted, s.
    pub lasted_s: f64,
    /// Share of the way to release used at that moment.
    pub used: Spread,
    /// Waits, if it was a trip; `None` when no sound part trips under that load.
    pub waits: Option<Countdown>,
}

/// What has changed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(rename_all = "snake_case", tag = "what")]
pub enum What {
    /// Current flows, A.
    LoadBegan {
        /// Current, A.
        current_a: f64,
        /// Its beginning was seen: the log did not begin with it.
        seen: bool,
    },
    /// The forecast is new or another one.
    Forecast(Forecast),
    /// This share of the sound parts would have opened by now.
    WouldHaveTripped {
        /// Share, 0..1.
        share: f64,
    },
    /// Every sound part is well past its release: the one at hand may be late.
    Overdue,
    /// The current fell suddenly: a trip, or a hand at the switch.
    Fell(Fallen),
    /// The current went away slowly, as no trip does.
    LoadEnded {
        /// How long it had lasted, s.
        lasted_s: f64,
    },
    /// The log has a gap: what flowed then is not known.
    Gap {
        /// Length, s.
        length_s: f64,
        /// Most that may have flowed, as far as the log tells, A.
        at_most_a: f64,
    },
    /// Nineteen parts in twenty can be reset now, if it was a trip.
    CanBeReset,
    /// Nineteen parts in twenty can be started now.
    CanBeStarted,
}

/// Something that has changed, and when.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Line {
    /// Since the first row, s.
    pub time_s: f64,
    /// What.
    #[serde(flatten)]
    pub what: What,
}

/// Where things stand.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Status {
    /// Since the first row, s.
    pub time_s: f64,
    /// Since the last row came, s.
    pub silent_s: f64,
    /// Current now, A; `None` in a gap.
    pub current_a: Option<f64>,
    /// RMS current over the last minutes, A, and over how long, s.
    pub rms_a: (f64, f64),
    /// Share of the way to release that the strip has gone: median and 90 % range over the parts.
    pub used: Option<Spread>,
    /// Under load.
    pub forecast: Option<Forecast>,
    /// After a sudden fall.
    pub countdown: Option<Countdown>,
}
