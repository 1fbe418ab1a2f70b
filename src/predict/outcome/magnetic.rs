//! What the instantaneous element does beside the strip.

use crate::answer::TripTime;
use crate::standards::Band;
use serde::{Deserialize, Serialize};

/// Everything asked of the instantaneous element. Times are clearing times: the opening time is in
/// them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct MagneticAnswer {
    /// Direct current that begins to move the armature, A.
    pub start_a: f64,
    /// Direct current that releases it when raised slowly, A; none where the iron saturates before.
    pub static_a: Option<f64>,
    /// Direct current that releases it when applied at once, A: its pick-up with direct current.
    pub step_a: Option<f64>,
    /// Smallest alternating current without offset that releases within 0.1 s, rms, A: found by
    /// integration.
    pub pick_up_rms_a: Option<f64>,
    /// Frequency of that, Hz.
    pub frequency_hz: f64,
    /// What the scenario's current does when it begins.
    pub closing: ClosingAnswer,
    /// Which of both elements acts.
    pub first: FirstToAct,
    /// Time to open against current; empty when not asked for.
    pub opening: Vec<OpeningTime>,
    /// Against its published band, where one is named.
    pub band: Option<BandCheck>,
    /// What a cable does, where one is given.
    pub cable: Option<CableAnswer>,
}

/// What one current does when it begins, over all closing angles.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct ClosingAnswer {
    /// Kind of the current.
    pub law: ClosingLaw,
    /// Its size, A: rms where it is alternating, else the peak or the final current.
    pub size_a: f64,
    /// Reactance over resistance, of an alternating current.
    pub x_over_r: Option<f64>,
    /// Poles that close together.
    pub poles: u32,
    /// Chance that it releases within 0.1 s, every closing angle being as likely.
    pub probability: f64,
    /// Closing angles that release.
    pub releasing: Vec<Interval>,
    /// Earliest time to clear, s.
    pub earliest_s: Option<f64>,
    /// Latest time to clear of the angles that release, s.
    pub latest_s: Option<f64>,
}

/// Closing angles between which it releases, degrees after voltage zero; the end may lie beyond
/// 360.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Interval {
    /// First, 0 to 360.
    pub from_deg: f64,
    /// Last.
    pub to_deg: f64,
}

/// Kinds of current after a circuit is closed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum ClosingLaw {
    /// Alternating, with its offset.
    Alternating,
    /// Direct.
    Direct,
    /// Half waves.
    HalfWave,
    /// Filament lamps.
    Lamp,
    /// Magnetizing inrush.
    Transformer,
    /// Charging a capacitance.
    Capacitor,
}

/// Which element acts under the load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum FirstToAct {
    /// The instantaneous element, at every closing angle.
    Magnetic,
    /// The instantaneous element at some closing angles, else the strip.
    MagneticOrStrip,
    /// The instantaneous element at some closing angles, else none.
    MagneticOrNone,
    /// The strip.
    Strip,
    /// None.
    None,
}

/// Time to clear at one current.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct OpeningTime {
    /// Current, A: rms, and the same as direct current.
    pub current_a: f64,
    /// The same over the rated current.
    pub multiple: f64,
    /// Direct current applied at once, s.
    pub direct_s: Option<f64>,
    /// Alternating, the closing angle that clears first, s.
    pub earliest_s: Option<f64>,
    /// Alternating, the one that clears last of those that release, s.
    pub latest_s: Option<f64>,
    /// Chance of a release within 0.1 s.
    pub probability: f64,
}

/// A published band, tested with an alternating current without offset at every closing angle.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct BandCheck {
    /// Band.
    pub band: Band,
    /// Document.
    pub source: String,
    /// Lower and upper multiple of the rated current, rms.
    pub multiples: [f64; 2],
    /// It does not release within 0.1 s at the lower one.
    pub holds_lower: bool,
    /// It releases within 0.1 s at the upper one.
    pub releases_upper: bool,
}

/// "Does a long cable trip it?" is two questions.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct CableAnswer {
    /// Length, m.
    pub length_m: f64,
    /// Does its charging current at closing release it?
    pub charging: ClosingAnswer,
    /// Does a fault at its far end still release it?
    pub far_fault: ClosingAnswer,
    /// When the strip alone clears that fault.
    pub far_fault_strip: TripTime,
    /// Longest such cable whose far fault releases it at every closing angle, m; none: not even the
    /// shortest.
    pub sure_up_to_m: Option<f64>,
}
