//! What sound parts would have done through a recorded log.

use crate::family::Spread;
use serde::Serialize;

/// One moment of the picture.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct PicturePoint {
    /// Time on the log's clock, s.
    pub time_s: f64,
    /// Current up to that moment, A.
    pub current_a: f64,
    /// Share of the way to release that the strip has gone: 0 cold, 1 release; median and 90 %
    /// range over the parts.
    pub used: Spread,
}

/// Why sound parts would have tripped.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[serde(tag = "reason", rename_all = "snake_case")]
pub enum WhyTripped {
    /// The running current is above what they hold for ever.
    RunningCurrent {
        /// A.
        running_a: f64,
        /// 90 % range of what they hold, A.
        holds_a: [f64; 2],
    },
    /// The first seconds, far above the running current, bring the heat.
    Start {
        /// Largest current, A.
        largest_a: f64,
    },
    /// From cold they would have carried this load: the heat of an earlier one did it.
    HeatLeft,
    /// Neither the start alone nor the running current alone: a current that comes and goes.
    Together {
        /// A.
        running_a: f64,
        /// What all but the weakest twentieth of the parts hold, A.
        holds_a: f64,
        /// Largest current, A.
        largest_a: f64,
    },
}

/// A load of the log in which sound parts would have tripped.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SoundTrip {
    /// When the load began and ended, s on the log's clock.
    pub load_s: (f64, f64),
    /// Share of the sound parts that would have tripped in it, 0..1.
    pub share: f64,
    /// When, s on the log's clock, of those that would.
    pub time_s: Spread,
    /// Main reason.
    pub why: WhyTripped,
}

/// The strip through a log.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LogPicture {
    /// Version of this record's layout.
    pub format: u32,
    /// Sound parts simulated.
    pub parts: usize,
    /// Air at the parts, degC.
    pub ambient_c: f64,
    /// The strip against time.
    pub points: Vec<PicturePoint>,
    /// Loads in which at least one sound part in twenty would have tripped.
    pub trips: Vec<SoundTrip>,
    /// The moment that came closest to a release, by the median part.
    pub closest: Option<PicturePoint>,
    /// When the log begins, s on its clock.
    pub starts_at_s: f64,
}

impl LogPicture {
    /// The load in which most sound parts would have tripped.
    pub fn worst(&self) -> Option<&SoundTrip> {
        self.trips.iter().max_by(|a, b| a.share.total_cmp(&b.share))
    }
}
