//! Where the sliders stand. A slider that was not moved says nothing: the scenario's own value
//! holds.

use super::PageError;
use serde::{Deserialize, Serialize};

/// Values of the sliders that were moved.
#[derive(Debug, Clone, Copy, Default, PartialEq, Deserialize, Serialize)]
#[serde(deny_unknown_fields, default)]
pub struct Sliders {
    /// Constant current in place of the scenario's load, A.
    pub current_a: Option<f64>,
    /// Constant air temperature, degC.
    pub ambient_c: Option<f64>,
    /// Spring preload left, percent of new.
    pub preload_left_percent: Option<f64>,
    /// Thickness of every layer, percent of the scenario's.
    pub thickness_percent: Option<f64>,
    /// Where a dial stands, A.
    pub dial_a: Option<f64>,
    /// Pole whose phase is lost, from 1; 0: none.
    pub lost_phase: Option<f64>,
    /// How the strip lies in the air.
    pub posture: Option<Posture>,
}

/// How the strip lies in still air.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Posture {
    /// On edge, air flowing along the width.
    EdgeOn,
    /// Upright, air flowing along the length.
    Upright,
    /// Lying flat.
    Flat,
}

impl Posture {
    /// The word of a scenario file.
    pub fn word(self) -> &'static str {
        match self {
            Posture::EdgeOn => "edge-on",
            Posture::Upright => "upright",
            Posture::Flat => "flat",
        }
    }
}

/// Least and most air temperature, degC.
pub(super) const AMBIENT_C: (f64, f64) = (-20.0, 90.0);
/// Least and most preload left, percent: with less than a tenth the contact hardly closes.
pub(super) const PRELOAD_PERCENT: (f64, f64) = (10.0, 100.0);
/// Least and most thickness, percent of the scenario's.
pub(super) const THICKNESS_PERCENT: (f64, f64) = (70.0, 130.0);
/// Poles that a part may have.
const POLES: (f64, f64) = (0.0, 4.0);
/// Most current that is answered, A; the slider of a part ends at a multiple of its rating.
const MOST_CURRENT_A: f64 = 200_000.0;

impl Sliders {
    /// Whether nothing was moved.
    pub fn is_unmoved(&self) -> bool {
        *self == Sliders::default()
    }

    /// The same, if every value lies in its range.
    ///
    /// # Errors
    /// The first value that does not, with its range.
    pub fn checked(self) -> Result<Sliders, PageError> {
        within("current_a", self.current_a, (0.0, MOST_CURRENT_A), "A")?;
        within("dial_a", self.dial_a, (0.0, MOST_CURRENT_A), "A")?;
        within("lost_phase", self.lost_phase, POLES, "")?;
        within("ambient_c", self.ambient_c, AMBIENT_C, "degC")?;
        within(
            "preload_left_percent",
            self.preload_left_percent,
            PRELOAD_PERCENT,
            "%",
        )?;
        within(
            "thickness_percent",
            self.thickness_percent,
            THICKNESS_PERCENT,
            "%",
        )?;
        Ok(self)
    }
}

fn within(
    name: &str,
    value: Option<f64>,
    (least, most): (f64, f64),
    unit: &str,
) -> Result<(), PageError> {
    match value {
        Some(v) if !(v >= least && v <= most) => Err(PageError::Asked(format!(
            "{name} is {v}; it lies between {least} {unit} and {most} {unit}"
        ))),
        _ => Ok(()),
    }
}
