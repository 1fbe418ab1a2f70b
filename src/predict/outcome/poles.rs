//! What a part of several poles does when some of them carry current, and when a phase is lost.

use super::CurvePoint;
use crate::answer::{Held, TripTime, Wait};
use crate::scenario::BarKind;
use serde::{Deserialize, Serialize};

/// Answers of a part with several poles.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Poles {
    /// How many.
    pub count: usize,
    /// How their strips release the part.
    pub bar: BarKind,
    /// Current of each against the load's.
    pub current_factors: Vec<f64>,
    /// With all of them loaded, with pairs, and with single ones; a mirror image stands once.
    pub sets: Vec<PoleSet>,
    /// A phase lost from a steady run; empty for fewer than three poles.
    pub lost_phase: Vec<LostPhase>,
}

impl Poles {
    /// Whether a differential bar compares poles of which some carry no current: a lost phase, or a
    /// single-phase machine that is not looped through all of them.
    pub fn looks_single_phase(&self) -> bool {
        let idle = self.current_factors.contains(&0.0);
        self.bar == BarKind::Differential && idle
    }

    /// Whether some sets are not listed because their mirror images are.
    pub(crate) fn has_mirror_images(&self) -> bool {
        let single = |k: usize| self.sets.iter().any(|s| s.loaded == [k + 1]);
        let mut factors = self.current_factors.iter().enumerate();
        factors.any(|(k, factor)| *factor > 0.0 && !single(k))
    }
}

/// Some poles loaded, the others without current.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct PoleSet {
    /// Their numbers, from 1.
    pub loaded: Vec<usize>,
    /// Largest current that is held for ever.
    pub trip_point: Held,
    /// Under the scenario's load.
    pub trip_time: TripTime,
    /// Until it can be reset after that trip.
    pub relatch_wait: Wait,
    /// Cold curve; empty unless a characteristic was asked for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cold: Vec<CurvePoint>,
}

/// One phase lost while the machine runs, the poles at their steady temperatures.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct LostPhase {
    /// Pole without current from then on, from 1.
    pub lost: usize,
    /// Current before, A.
    pub running_a: f64,
    /// Current in the others from then on, A.
    pub current_a: f64,
    /// Time to trip, counted from the loss.
    pub trip_time: TripTime,
    /// Until it can be reset.
    pub relatch_wait: Wait,
}
