//! From a published characteristic to the parts that may stand behind it.
//!
//! The family of the nameplate is weighed by the published windows, points, air table and
//! resistance. What is left are many parts, not one: every number is a range over them, and the
//! best of them can be run as a scenario.

mod answer;
mod behaviour;
mod cloud;
mod curve;
mod scenario;
mod summary;

pub use answer::{
    AirFit, BandRow, BestPart, FitAnswer, FitCurve, FitRow, Kept, LeftOpen, Preload, Printed,
};

use super::{AirRow, Family, FamilyError, Nameplate};
use crate::predict::parallel;
use behaviour::behaviour;
use std::fmt;

/// How much is computed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub struct Effort {
    /// Designs.
    pub designs: usize,
    /// Trip points and paces tried of every design, along each side of a square.
    pub steps: usize,
    /// Parts simulated.
    pub parts: usize,
}

impl Default for Effort {
    fn default() -> Effort {
        Effort {
            designs: 400,
            steps: 24,
            parts: 200,
        }
    }
}

/// Why there is no fit.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum FitError {
    /// There is no family.
    Family(FamilyError),
    /// No draw has any weight.
    NothingFollows,
}

impl fmt::Display for FitError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FitError::Family(e) => e.fmt(f),
            FitError::NothingFollows => f.write_str(
                "no thermal protector of the family follows these published values; check \
                 multiples, times and units",
            ),
        }
    }
}

impl std::error::Error for FitError {}

impl From<FamilyError> for FitError {
    fn from(e: FamilyError) -> FitError {
        FitError::Family(e)
    }
}

/// Fit parts to a nameplate; `progress` is told what is done and how far (0 to 1).
///
/// # Errors
/// No design keeps the limits, or nothing follows what is published.
///
/// ```
/// use relatch::internals::family::{Effort, Nameplate, Point, fit_with};
/// let mut plate = Nameplate::of_rating(10.0);
/// plate.points = vec![Point::cold(2.0, 30.0, 0.2), Point::cold(4.0, 6.0, 0.2)];
/// let mut effort = Effort::default();
/// (effort.designs, effort.steps, effort.parts) = (16, 12, 12);
/// let answer = fit_with(&plate, 1, effort, &mut |_, _| {})?;
/// assert!(answer.trip_multiple.low > 1.0 && answer.trip_multiple.high < 1.45);
/// # Ok::<(), relatch::internals::family::FitError>(())
/// ```
pub fn fit_with(
    nameplate: &Nameplate,
    seed: u64,
    effort: Effort,
    progress: &mut (dyn FnMut(&str, f64) + Send),
) -> Result<FitAnswer, FitError> {
    progress("designs", 0.0);
    let family = Family::new(nameplate, effort.designs)?;
    fit_in(&family, seed, effort, progress)
}

/// Fit within a family that is there already.
///
/// # Errors
/// Nothing follows what is published.
pub fn fit_in(
    family: &Family,
    seed: u64,
    effort: Effort,
    progress: &mut (dyn FnMut(&str, f64) + Send),
) -> Result<FitAnswer, FitError> {
    progress("weighing", 0.4);
    let cloud = cloud::cloud(family, seed, effort.steps.max(2), effort.parts.max(2))
        .ok_or(FitError::NothingFollows)?;
    let air = air_rows(family.nameplate());
    let count = cloud.drawn.len().max(1) as f64;
    let behaviours = parallel::map(
        &cloud.drawn,
        |(drawn, _)| behaviour(family, *drawn, &air),
        &mut |done| progress("parts", 0.5 + 0.2 * done as f64 / count),
    );
    let asked = curve::Asked::of(family, &cloud.drawn);
    let courses = parallel::map(
        &cloud.drawn,
        |(drawn, _)| curve::course(family, *drawn, &asked),
        &mut |done| progress("curves", 0.7 + 0.3 * done as f64 / count),
    );
    let mut answer = summary::summary(family, seed, effort, &cloud, &behaviours, &air)?;
    let weights = summary::weights(&cloud, &behaviours);
    answer.curves = curve::curves(&asked, &courses, &weights);
    answer.air_curve = curve::air(&asked, &courses, &weights);
    Ok(answer)
}

/// Air temperatures that are asked for: those published, or 20 K and 40 K above the reference.
fn air_rows(plate: &Nameplate) -> Vec<AirRow> {
    if plate.compensated {
        return Vec::new();
    }
    if !plate.air_table.is_empty() {
        return plate.air_table.clone();
    }
    [20.0, 40.0]
        .iter()
        .map(|above_k| AirRow {
            ambient_k: plate.reference_ambient_k + above_k,
            factor: f64::NAN,
        })
        .collect()
}
