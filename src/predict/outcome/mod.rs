//! The one record that every output renders. Units are in the names; where there is no number its
//! answer says why.

mod course;
mod cycling;
mod dial;
mod magnetic;
mod part;
mod poles;
mod rows;
mod strength;
mod strike;
mod trip;
mod warning;

pub use crate::scenario::MechanismKind;
pub use course::{Event, EventRecord, Film, Frame, HeatFlow, Moment, Shape, State};
pub use cycling::Cycling;
pub use dial::{Dial, DialMark};
pub use magnetic::{
    BandCheck, CableAnswer, ClosingAnswer, ClosingLaw, FirstToAct, Interval, MagneticAnswer,
    OpeningTime,
};
pub use part::{Across, DiscPart, Part};
pub use poles::{LostPhase, PoleSet, Poles};
pub use rows::{
    AmbientCorrection, Characteristic, Curve, CurvePoint, LimitCheck, PreloadShift, PrematureReset,
    RepeatedReset,
};
pub use strength::{
    BranchPoint, EnergyCurve, LoadedBy, SnapMoment, SnapPicture, StressAcross, StressLayer,
};
pub use strike::{Strike, StrikeFrame};
pub use trip::{AlongStrip, Governs, HeldCurrent, Proof, Release, Reset, Trip, TripPoint};
pub use warning::{NotModelled, Warning};

use crate::answer::{Caution, MetalData};
use crate::scenario::UsedFor;
use serde::{Deserialize, Serialize};

/// Layout of the record; what differs from one to the next stands with the JSON writer.
pub const FORMAT: u32 = 2;

/// Everything one scenario predicts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Outcome {
    /// Version of this record's layout.
    pub format: u32,
    /// Version of the program.
    pub version: String,
    /// Title of the scenario.
    pub scenario: String,
    /// What the scenario shows.
    pub shows: String,
    /// Whether equipment depends on the part.
    #[serde(default, skip_serializing_if = "UsedFor::is_equipment")]
    pub used_for: UsedFor,
    /// What was set in it since it was written, as `path = value`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub changed: Vec<String>,
    /// The part in a few numbers.
    pub part: Part,
    /// How wrong the numbers may be.
    pub error_estimate: ErrorEstimate,
    /// What is known of the metals (absent where it was not asked).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub metal_data: Option<MetalData>,
    /// First release under the load.
    pub trip: Trip,
    /// What the instantaneous element does, where there is one; everything else is of the strip
    /// alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub magnetic: Option<MagneticAnswer>,
    /// Largest current held for ever.
    pub trip_point: TripPoint,
    /// Waits after the trip.
    pub reset: Reset,
    /// Some poles loaded and a phase lost (absent for one strip).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub poles: Option<Poles>,
    /// What the dial by which its rated current is set does (absent without one).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub dial: Option<Dial>,
    /// What a part that closes by itself does while one current stays on (absent for others).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cycling: Option<Cycling>,
    /// Time to trip again against the wait before the reset.
    pub premature_reset: Vec<PrematureReset>,
    /// How lost preload moves everything.
    pub preload_shift: Vec<PreloadShift>,
    /// Trip point against the ambient.
    pub ambient_correction: Vec<AmbientCorrection>,
    /// State at the times asked for.
    pub states: Vec<State>,
    /// What happened, in order.
    pub events: Vec<EventRecord>,
    /// Drawn shapes of the strip.
    pub shapes: Vec<Shape>,
    /// Time series of the run and the cool-down after it.
    pub series: Vec<State>,
    /// Where the heat goes: one entry at some of the times of `series`.
    pub heat: Vec<HeatFlow>,
    /// The cool-down after the first trip, until it can be reset and started and a little longer;
    /// empty without one.
    pub cool_down: Vec<State>,
    /// The first trips when it is reset and loaded again each time it relatches; empty where it
    /// does not relatch.
    pub repeated_resets: Vec<RepeatedReset>,
    /// Stress through the thickness where it comes nearest to yielding (absent for a failed run).
    pub stress: Option<StressAcross>,
    /// Energy and hysteresis of a snap blade (absent for a latch).
    pub snap: Option<SnapPicture>,
    /// Frames of a moving picture (absent when not asked for; never in the JSON of an outcome).
    #[serde(skip)]
    pub film: Option<Film>,
    /// The strike of an armature, for a moving picture (absent when not asked for; never in the
    /// JSON of an outcome).
    #[serde(skip)]
    pub strike: Option<Strike>,
    /// Time-current characteristic (absent when not asked for).
    pub characteristic: Option<Characteristic>,
    /// Where the answer should not be trusted blindly.
    pub warnings: Vec<Warning>,
    /// What the model leaves out.
    pub not_modelled: Vec<NotModelled>,
    /// Cautions for the person at the machine.
    pub cautions: Vec<Caution>,
    /// Sources actually used.
    pub citations: Vec<String>,
}

/// How wrong the numbers may be: numerical error only, not the part's tolerances.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct ErrorEstimate {
    /// Relative error of the trip time.
    pub trip_time_relative: Option<f64>,
    /// Relative error of the trip point.
    pub trip_point_relative: Option<f64>,
    /// Relative error of the relatch wait.
    pub relatch_wait_relative: Option<f64>,
    /// Relative difference of the trip time by explicit steps on the same grid, when asked for.
    pub cross_check_relative: Option<f64>,
    /// Energy in minus energy out minus energy stored, over energy in.
    pub energy_balance_relative: Option<f64>,
    /// What the numbers were computed with.
    pub computed_with: ComputedWith,
}

/// Grid and tolerance of the numbers.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct ComputedWith {
    /// Spectral elements along the strip.
    pub elements: usize,
    /// Their order.
    pub order: usize,
    /// Local tolerance of a time step.
    pub tolerance: f64,
}
