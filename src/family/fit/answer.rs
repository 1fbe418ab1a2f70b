//! What a fit says. `format` 2: `assumed` and `open` are codes with their numbers, `cautions` are
//! codes; in `format` 1 they were sentences.

use crate::answer::Caution;
use crate::family::{Assumed, Spread};
use serde::{Deserialize, Serialize};

/// What is printed at one current.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Printed {
    /// A typical trip time.
    Point {
        /// s.
        time_s: f64,
        /// Relative standard uncertainty it was weighed with, at least 0.05.
        relative: f64,
    },
    /// Carried for ever.
    Carried,
    /// Between two times.
    Window {
        /// Does not trip before, s (0: no such limit).
        at_least_s: f64,
        /// Has tripped by, s; `None`: no such limit.
        at_most_s: Option<f64>,
    },
}

/// How the best part stands to what is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Kept {
    /// Within the window, or within two standard uncertainties of the point.
    Yes,
    /// Sooner.
    TooSoon,
    /// Later, or not at all.
    TooLate,
}

/// One published current beside what the fitted parts do there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FitRow {
    /// Multiple of the rated current.
    pub multiple: f64,
    /// Steady load before it over the rated current (0: cold).
    pub after_multiple: f64,
    /// What is printed.
    pub printed: Printed,
    /// Not printed but assumed, because the sheet gives no window.
    pub assumed: bool,
    /// Trip times of the fitted parts that trip, s.
    pub trip_s: Option<Spread>,
    /// Share of the fitted parts that hold this current for ever, 0..1.
    pub holds: f64,
    /// Trip time of the best part, s; `None`: it holds.
    pub best_s: Option<f64>,
    /// Whether the best part follows.
    pub kept: Kept,
    /// Logarithm of the best part's time over the printed one, in standard uncertainties; points
    /// only.
    pub residual: Option<f64>,
}

/// Usable current at an air temperature.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct AirFit {
    /// Air, degC.
    pub ambient_c: f64,
    /// Printed usable current over that at the reference air; `None`: not printed.
    pub printed: Option<f64>,
    /// Usable current of the fitted parts over theirs at the reference air.
    pub usable: Option<Spread>,
}

/// Trip times of the fitted parts at one current.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BandRow {
    /// Multiple of the rated current.
    pub multiple: f64,
    /// Time by which 5 %, 50 % and 95 % of the parts have tripped, s; `None`: so many never do.
    pub trip_s: [Option<f64>; 3],
}

/// The characteristic of the fitted parts at the reference air.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct FitCurve {
    /// Steady load before it over the rated current (0: cold). Parts that trip under that load are
    /// left out.
    pub after_multiple: f64,
    /// By rising current.
    pub rows: Vec<BandRow>,
}

/// Share of the release travel that the preload holds.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Preload {
    /// Over the fitted parts.
    pub share: Spread,
    /// Over the parts before anything published was weighed.
    pub before: Spread,
    /// Width of the first over that of the second.
    pub narrowed_to: f64,
}

/// What the published values do not settle.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum LeftOpen {
    /// The share of the preload, and so what a tired spring does.
    PreloadShare,
    /// Layers, length and thickness.
    Dimensions,
    /// The resistance: none is printed.
    Resistance,
    /// The second strip that cancels the air is not modelled.
    CompensatingStrip,
    /// The effect of the air: there is no air table.
    EffectOfTheAir,
    /// The hot curve: nothing from hot is printed.
    HotCurve,
}

/// The part that follows the published values best.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct BestPart {
    /// Trip point over the rating.
    pub trip_multiple: f64,
    /// Resistance when closed, at the reference air, ohm.
    pub resistance_ohm: f64,
    /// From open contacts to relatch after a cold trip at twice the rating, reference air, s;
    /// `None`: never.
    pub reset_s: Option<f64>,
    /// Free length, m.
    pub length_m: f64,
    /// Width, m.
    pub width_m: f64,
    /// Thickness, m.
    pub thickness_m: f64,
    /// Mean rise of the strip at the trip point, K.
    pub rise_k: f64,
    /// Share of the release travel that the preload holds.
    pub preload_share: f64,
    /// Heater winding in series with the strip, at 20 degC, ohm; `None`: the strip is heated
    /// directly.
    pub winding_ohm: Option<f64>,
    /// Factor on the resistivity of the pattern's alloys.
    pub resistivity_factor: f64,
    /// Factor on the heat capacities of the design.
    pub capacity_factor: f64,
}

/// The answer. Every range is the median and the 90 % interval over the fitted parts.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct FitAnswer {
    /// Version of this record's layout.
    pub format: u32,
    /// Title of the datasheet.
    pub title: String,
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Reference air, degC.
    pub reference_ambient_c: f64,
    /// Whether the part resets itself.
    pub resets_itself: bool,
    /// Whether the sheet says that the air is compensated.
    pub compensated: bool,
    /// Seed.
    pub seed: u64,
    /// Designs tried.
    pub designs: usize,
    /// Ways of placing them that keep the cold limits.
    pub considered: usize,
    /// Number of equally weighed draws that the weighed ones are worth.
    pub effective_number: f64,
    /// The same for the designs.
    pub effective_designs: f64,
    /// Parts simulated for the ranges.
    pub parts: usize,
    /// Trip point at the reference air over the rated current.
    pub trip_multiple: Spread,
    /// Trip point at the reference air, A.
    pub trip_point_a: Spread,
    /// Trip time at twice the trip point as the time constant of a single body, s.
    pub time_constant_s: Spread,
    /// Longest time constant (terminal or housing), s.
    pub slowest_s: Spread,
    /// Resistance when closed, at the reference air, ohm.
    pub resistance_ohm: Spread,
    /// Published resistance, ohm.
    pub printed_resistance_ohm: Option<f64>,
    /// From open contacts to relatch after a cold trip at twice the rating, reference air, s.
    pub reset_s: Option<Spread>,
    /// Share of the parts that never relatch there, or do not trip, 0..1.
    pub never_resets: f64,
    /// Preload.
    pub preload: Preload,
    /// Published currents.
    pub rows: Vec<FitRow>,
    /// Published air table, or two temperatures above the reference; empty for a compensated part.
    pub air: Vec<AirFit>,
    /// Characteristic of the fitted parts: cold, and from every hot start that is published.
    pub curves: Vec<FitCurve>,
    /// Usable current of the fitted parts over the range of the published air table; empty without
    /// one.
    pub air_curve: Vec<AirFit>,
    /// The best part.
    pub best: BestPart,
    /// The best part as a scenario; `None`: it cannot be written as one.
    #[serde(skip)]
    pub scenario: Option<String>,
    /// What was assumed.
    pub assumed: Vec<Assumed>,
    /// What the published values leave open.
    pub open: Vec<LeftOpen>,
    /// Cautions, most urgent first.
    pub cautions: Vec<Caution>,
}
