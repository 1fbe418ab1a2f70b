//! What can be measured, what it costs, and what it would show.

use super::record::Verdict;
use crate::evidence::Missing;
use serde::{Deserialize, Serialize};

/// A trip of the protector counts as so many minutes of effort: testing uses up life (common
/// practice, no source).
const MINUTES_PER_TRIP: f64 = 15.0;

/// A measurement that would tell more.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "measure", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Measurement {
    /// The machine's own plate; shows its rated current, A.
    ReadThePlate,
    /// The protector's marking beside the drawing; shows 1 when it does not agree, else 0.
    ReadTheMarking,
    /// Both joints, dead: discoloured, brittle, loose, a smell; shows 1 when there is a sign, else
    /// 0.
    LookAtTheJoints,
    /// Running current with a true-RMS meter; shows A.
    RunningCurrent,
    /// Currents of all three phases; shows the least over the greatest.
    PhaseCurrents,
    /// True-RMS current right up to a trip; shows A.
    CurrentUpToTheTrip,
    /// Air at the protector when it trips; shows degC.
    AirAtThePart,
    /// Drop across the closed protector over that of a sister part; shows their ratio.
    DropBesideASister,
    /// Temperatures of both terminals; shows their difference, K.
    TerminalTemperatures,
    /// Timed trip from cold on a bench; shows s, at most [`Measurement::LONGEST_TRIP_S`].
    TimedTrip {
        /// Current, A.
        current_a: f64,
    },
    /// Hold test at the rated current on a bench; shows s, at most [`Measurement::LONGEST_HOLD_S`].
    HoldTest {
        /// Current, A.
        current_a: f64,
    },
    /// Capture of a start; shows how long it lasts, s.
    CaptureOfAStart,
    /// Swap with an identical, sound protector; shows 1 when the twin trips too, else 0.
    SwapWithATwin,
}

impl Measurement {
    /// When a timed trip is given up, s.
    pub const LONGEST_TRIP_S: f64 = 300.0;
    /// How long a hold test lasts, s.
    pub const LONGEST_HOLD_S: f64 = 2.0 * 3600.0;

    /// Effort with rests, minutes, and trips of the protector that it uses up (common practice, no
    /// source).
    pub fn effort(self) -> (f64, f64) {
        match self {
            Measurement::ReadThePlate | Measurement::ReadTheMarking => (3.0, 0.0),
            Measurement::LookAtTheJoints => (10.0, 0.0),
            Measurement::RunningCurrent | Measurement::PhaseCurrents => (5.0, 0.0),
            Measurement::CurrentUpToTheTrip => (30.0, 1.0),
            Measurement::AirAtThePart | Measurement::DropBesideASister => (15.0, 0.0),
            Measurement::TerminalTemperatures => (35.0, 0.0),
            Measurement::TimedTrip { .. } => (20.0, 1.0),
            Measurement::HoldTest { .. } => (130.0, 0.3),
            Measurement::CaptureOfAStart => (10.0, 0.2),
            Measurement::SwapWithATwin => (25.0, 0.5),
        }
    }

    /// Effort with the wear of the protector, minutes: a trip counts as a quarter of an hour.
    pub fn cost(self) -> f64 {
        let (minutes, trips) = self.effort();
        minutes + MINUTES_PER_TRIP * trips
    }

    /// Nothing is switched on that may be unprotected: a look, or a test on a bench.
    pub fn is_dead(self) -> bool {
        use Measurement::*;
        matches!(
            self,
            ReadThePlate | ReadTheMarking | LookAtTheJoints | TimedTrip { .. } | HoldTest { .. }
        )
    }

    /// What it needs.
    fn needs(self) -> &'static [Missing] {
        match self {
            Measurement::ReadThePlate => &[Missing::Plate],
            Measurement::ReadTheMarking => &[Missing::Drawing],
            Measurement::LookAtTheJoints => &[Missing::Joints],
            // Any clamp tells one that is missing from the others.
            Measurement::PhaseCurrents => &[],
            Measurement::RunningCurrent => &[Missing::TrueRms],
            Measurement::CurrentUpToTheTrip => &[Missing::TrueRms, Missing::UpToTheTrip],
            Measurement::AirAtThePart => &[Missing::Air],
            Measurement::DropBesideASister => &[Missing::Millivolts],
            Measurement::TerminalTemperatures => &[Missing::Terminals],
            Measurement::TimedTrip { .. } => &[Missing::Bench],
            Measurement::HoldTest { .. } => &[Missing::Bench, Missing::HoldTest],
            Measurement::CaptureOfAStart => &[Missing::Start],
            Measurement::SwapWithATwin => &[Missing::Swap],
        }
    }

    /// Nothing that it needs is missing.
    pub fn is_at_hand(self, missing: &[Missing]) -> bool {
        self.needs().iter().all(|needed| !missing.contains(needed))
    }

    /// Made on a live circuit.
    pub fn is_live(self) -> bool {
        !self.is_dead() && self != Measurement::SwapWithATwin
    }
}

/// A measurement that is worth making.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct NextMeasurement {
    /// What to measure.
    #[serde(flatten)]
    pub measurement: Measurement,
    /// Expected information about what to do, bits.
    pub information_bits: f64,
    /// Effort with rests, minutes.
    pub minutes: f64,
    /// Trips of the protector that it uses up.
    pub trips_used: f64,
    /// What its results would mean.
    pub results: Vec<Meaning>,
}

/// What a result of a measurement would mean.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Meaning {
    /// The result.
    #[serde(flatten)]
    pub shows: Shows,
    /// How probable it is now, 0..1.
    pub probability: f64,
    /// What is most probably to be mended then: one thing, or two.
    pub mend: Vec<Verdict>,
    /// How probably that is right, 0..1.
    pub right: f64,
}

/// On which side of a threshold a result lies, in the unit of the measurement.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "shows", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Shows {
    /// Up to a value.
    UpTo {
        /// The threshold.
        value: f64,
    },
    /// Above it.
    Above {
        /// The threshold.
        value: f64,
    },
}
