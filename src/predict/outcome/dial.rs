//! What a dial does to a part: every mark has its travel, and both ends are held to the limits.

use super::LimitCheck;
use crate::answer::{Held, TripTime, Wait};
use serde::{Deserialize, Serialize};

/// A dial from its lowest to its highest mark; the part as new, in its reference air.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Dial {
    /// Mark to which it is turned, A.
    pub set_a: f64,
    /// Trip point in parts of the mark.
    pub trips_at: f64,
    /// Multiple of the mark at which every mark is timed from the cold.
    pub timed_at: f64,
    /// Highest temperature that the insulation of the winding stands, degC.
    pub winding_limit_c: Option<f64>,
    /// Marks, the lowest first.
    pub marks: Vec<DialMark>,
}

/// One mark.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct DialMark {
    /// A.
    pub mark_a: f64,
    /// Clearance that the cam leaves there, mm.
    pub travel_mm: f64,
    /// Trip point found with that clearance.
    pub trip_point: Held,
    /// Time to trip from the cold at the multiple of the mark at which all are timed.
    pub trip_time: TripTime,
    /// Until it can be reset after that trip.
    pub relatch_wait: Wait,
    /// Hottest point of the strip, held at the trip point or after that trip, degC.
    pub strip_c: f64,
    /// The same of the winding, degC.
    pub winding_c: Option<f64>,
    /// Against published limits; at both ends alone.
    pub limits: Vec<LimitCheck>,
}

impl Dial {
    /// The lowest and the highest mark.
    pub fn ends(&self) -> impl Iterator<Item = &DialMark> {
        let last = self.marks.iter().skip(1).next_back();
        self.marks.first().into_iter().chain(last)
    }
}
