//! Stress through the thickness, and why a blade snaps.

use super::Moment;
use serde::{Deserialize, Serialize};

/// What loads the strip just before release.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum LoadedBy {
    /// The push against the latch.
    LatchPush,
    /// Thrust and bow of a blade.
    ThrustAndBow,
}

/// A temperature at which a blade is looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum SnapMoment {
    /// At the ambient.
    Cold,
    /// Where it snaps back.
    SnapsBack,
    /// Half-way between the two snaps.
    HalfWay,
    /// Where it snaps through.
    SnapsThrough,
}

/// Stress along the strip through its thickness, at the station where it comes nearest to yielding
/// (without yield strengths: where it is largest).
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct StressAcross {
    /// Release, or the end of the run.
    pub moment: Moment,
    /// Distance from the clamp, mm.
    pub position_mm: f64,
    /// Temperature there, degC.
    pub temperature_c: f64,
    /// What loads the strip in the loaded case.
    pub loaded_by: LoadedBy,
    /// Layers, low-expansion side first.
    pub layers: Vec<StressLayer>,
}

/// Stress in one layer, MPa, tension positive; linear between its faces.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct StressLayer {
    /// Alloy.
    pub alloy: String,
    /// Height of its first face above the first face of the strip, mm.
    pub from_mm: f64,
    /// Height of its last face, mm.
    pub to_mm: f64,
    /// Free strip, first and last face.
    pub free_mpa: [f64; 2],
    /// Loaded strip, first and last face.
    pub loaded_mpa: [f64; 2],
    /// Yield strength at that temperature, where it is known.
    pub yield_mpa: Option<f64>,
}

/// A blade or a disc at one temperature throughout, without current: why it snaps and why it comes
/// back later.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct SnapPicture {
    /// Energy against rise at a few temperatures.
    pub energy: Vec<EnergyCurve>,
    /// Where it can stand, against temperature.
    pub branches: Vec<BranchPoint>,
    /// Temperature at which it snaps through, degC.
    pub trip_temperature_c: f64,
    /// Temperature at which it snaps back, degC.
    pub reset_temperature_c: Option<f64>,
}

/// Energy against rise: of a blade, elastic, against the amplitude of its first sine mode, the others
/// in equilibrium; of a disc, elastic and of the contact force, against the height of its centre, with
/// the shape that an even moment at its rim holds there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct EnergyCurve {
    /// What this temperature is.
    pub moment: SnapMoment,
    /// degC.
    pub temperature_c: f64,
    /// Rise, mm.
    pub rise_mm: Vec<f64>,
    /// Above the energy of the flat shape, mJ.
    pub energy_mj: Vec<f64>,
    /// Rises at which it stands by itself, mm.
    pub stands_at_mm: Vec<f64>,
}

/// Equilibria at one temperature; `None` where there is none.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct BranchPoint {
    /// degC.
    pub temperature_c: f64,
    /// Contacts closed, bowed as made, mm.
    pub closed_mm: Option<f64>,
    /// Equilibrium that any touch upsets, mm.
    pub unstable_mm: Option<f64>,
    /// Snapped through, mm.
    pub snapped_mm: Option<f64>,
}
