//! Rows of the tables, and the characteristic.

use super::Warning;
use crate::answer::{Caution, Held, LimitDemand, TripTime, Wait};
use serde::{Deserialize, Serialize};

/// Reset after `wait_s`: when the load then trips it again.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct PrematureReset {
    /// Wait after the contacts opened, s.
    pub wait_s: f64,
    /// When it trips again.
    pub trips_again_after: TripTime,
}

/// One row of the preload-shift table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct PreloadShift {
    /// Preload lost, 0..1.
    pub loss: f64,
    /// Trip point.
    pub trip_point: Held,
    /// Under the scenario's load from its start.
    pub trip_time: TripTime,
    /// Until it can be reset after that trip.
    pub relatch_wait: Wait,
    /// Uniform temperature that releases it, degC.
    pub trip_temperature_c: Option<f64>,
}

/// One row of the ambient correction.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct AmbientCorrection {
    /// degC.
    pub ambient_c: f64,
    /// Trip point.
    pub trip_point: Held,
    /// Trip point over the trip point at the reference air.
    pub factor: Option<f64>,
    /// Under the scenario's load at that ambient.
    pub trip_time: TripTime,
    /// Until it can be reset after that trip.
    pub relatch_wait: Wait,
}

/// One trip of a part that is reset and loaded again as soon as it relatches.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct RepeatedReset {
    /// 1 for the first trip.
    pub number: u32,
    /// How long the load was carried.
    pub trips_after: TripTime,
    /// From open contacts to relatch.
    pub relatch_wait: Wait,
}

/// Trip time against current.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Characteristic {
    /// Ambient, degC.
    pub ambient_c: f64,
    /// Fraction of rated current of the hot curve; zero without one.
    pub hot_fraction: f64,
    /// Cold curve.
    pub cold: Vec<CurvePoint>,
    /// Hot curve.
    pub hot: Vec<CurvePoint>,
    /// Trip point at that ambient.
    pub trip_point: Held,
    /// Published limits and whether the part meets each.
    pub limits: Vec<LimitCheck>,
}

/// A characteristic with what concerns whoever acts by it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Curve {
    /// The curve, with published limits.
    pub characteristic: Characteristic,
    /// Where it should not be trusted blindly.
    pub warnings: Vec<Warning>,
    /// Cautions for the person at the machine.
    pub cautions: Vec<Caution>,
}

/// One point of a characteristic.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct CurvePoint {
    /// A.
    pub current_a: f64,
    /// Multiple of the rating.
    pub multiple: f64,
    /// When it trips.
    pub time: TripTime,
}

/// One published limit and what the part does there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct LimitCheck {
    /// Source and clause.
    pub source: String,
    /// What it asks.
    #[serde(flatten)]
    pub demand: LimitDemand,
    /// Ambient of the test, degC.
    pub ambient_c: f64,
    /// What the part does.
    pub time: TripTime,
    /// Whether it is met.
    pub met: bool,
}
