//! The numbers in which units differ: their distributions, the batches that share them, and how a
//! unit's scenario is made from them.

use super::dialled::Dialled;
use super::{InputShape, VaryError, VaryWarning};
use crate::quantity::Dimension;
use crate::scenario::{Batch, Place, Scenario, Shape, Tolerance, impossible};
use crate::statistics::marginal::Marginal;
use crate::statistics::normal;
use crate::statistics::shared_factors::{SharedFactors, batch_of, batch_score};

/// Standard uncertainties beyond which a normal spread is cut where it meets the impossible: warned
/// of when nearer.
const WARNED_SIGMAS: f64 = 3.0;
/// A number that must stay above zero keeps at least this part of its middle.
const LEAST_PART: f64 = 0.05;

/// One number that differs from unit to unit.
#[derive(Debug, Clone)]
pub struct Input {
    /// Path in the file, or what it is.
    pub path: String,
    /// Where it stands; `None`: how well the unit was set.
    pub place: Option<Place>,
    /// Middle, SI.
    pub nominal: f64,
    /// Standard deviation before anything is cut, SI.
    pub deviation: f64,
    /// Shape of the distribution.
    pub shape: InputShape,
    /// Batch that shares it and the share of the variance between batches.
    pub shared: Option<(usize, f64)>,
    marginal: Marginal,
    factors: SharedFactors,
}

impl Input {
    /// What it measures; how well a unit was set is a part of the time.
    pub fn dimension(&self) -> Dimension {
        self.place.map_or(Dimension::Fraction, |p| p.dimension())
    }

    /// How its values are spread.
    pub fn marginal(&self) -> &Marginal {
        &self.marginal
    }

    /// Its value at a standard normal score.
    pub fn at(&self, score: f64) -> f64 {
        self.marginal.from_score(score).unwrap_or(self.nominal)
    }
}

/// All numbers that differ.
#[derive(Debug, Clone)]
pub struct Inputs {
    /// In the order of the file, the setting last.
    pub list: Vec<Input>,
    /// Batches by number.
    pub batches: Vec<Batch>,
    /// What had to be cut, and tolerances that are not varied.
    pub warnings: Vec<VaryWarning>,
    push_at_end: bool,
    one_loss: bool,
    dialled: Option<Dialled>,
}

/// Name of the setting among the inputs.
pub const SETTING: &str = "factory setting";

impl Inputs {
    /// Inputs of a scenario: its tolerances, and what its population says.
    ///
    /// # Errors
    /// Nothing varies, or a tolerance makes impossible parts.
    pub fn of(scenario: &Scenario) -> Result<Inputs, VaryError> {
        let inputs = Inputs::if_any(scenario)?;
        if inputs.is_empty() {
            let idle = scenario.tolerances.to_vec();
            return Err(VaryError::NothingVaries { idle });
        }
        Ok(inputs)
    }

    /// The same where a part without tolerances is one, too.
    ///
    /// # Errors
    /// A tolerance makes impossible parts.
    pub fn if_any(scenario: &Scenario) -> Result<Inputs, VaryError> {
        let population = &scenario.population;
        let mut numbers = scenario.clone();
        let mut list = Vec::new();
        let mut warnings = Vec::new();
        let mut known = Vec::new();
        for place in Place::all(scenario) {
            let path = place.path();
            let spread = population.spread(place);
            let Some(nominal) = place.of(&mut numbers).map(|v| *v) else {
                continue;
            };
            let written = scenario.tolerances.iter().find(|t| t.path == path);
            let deviation = match (written, spread.and_then(|s| s.relative)) {
                (Some(t), _) => t.standard_uncertainty,
                (None, Some(relative)) => relative * nominal.abs(),
                (None, None) => continue,
            };
            known.push(path.clone());
            if !(deviation > 0.0) {
                continue;
            }
            let shape = spread.map_or(Shape::Normal, |s| s.shape);
            let cut_at = spread.map_or(f64::INFINITY, |s| s.cut_at);
            if let Some(why) = impossible(place, shape, nominal, deviation) {
                return Err(VaryError::Impossible { path, why });
            }
            let marginal = marginal(place, shape, nominal, deviation, cut_at, &mut warnings)?;
            let shared = spread.and_then(|s| s.shared);
            list.push(Input {
                path,
                place: Some(place),
                nominal,
                deviation,
                shape: drawn_shape(shape, cut_at),
                shared,
                marginal,
                factors: factors(shared)?,
            });
        }
        let is_known = |t: &&Tolerance| known.contains(&t.path);
        let idle = scenario.tolerances.iter().filter(|t| !is_known(t));
        let paths: Vec<String> = idle.map(|t| t.path.clone()).collect();
        if !paths.is_empty() {
            warnings.push(VaryWarning::NotVaried { paths });
        }
        if let Some(setting) = population.setting
            && setting.time_error > 0.0
        {
            let low = (1.0 - 4.0 * setting.time_error).max(0.2);
            list.push(Input {
                path: SETTING.to_owned(),
                place: None,
                nominal: 1.0,
                deviation: setting.time_error,
                shape: InputShape::Normal,
                shared: None,
                marginal: Marginal::truncated(
                    1.0,
                    setting.time_error,
                    low,
                    1.0 + 4.0 * setting.time_error,
                )?,
                factors: factors(None)?,
            });
        }
        let dialled = Dialled::of(scenario, &list)?;
        let own_loss = known.iter().any(|path| path.ends_with(".contact_loss"));
        Ok(Inputs {
            list,
            batches: population.batches.clone(),
            warnings,
            push_at_end: scenario.strip.push_point_m >= scenario.strip.length_m,
            one_loss: !own_loss && scenario.release.preload_loss == scenario.release.contact_loss,
            dialled,
        })
    }

    /// Number of inputs.
    pub fn len(&self) -> usize {
        self.list.len()
    }

    /// Whether nothing varies.
    pub fn is_empty(&self) -> bool {
        self.list.is_empty()
    }

    /// Whether units that differ in these inputs can be computed side by side.
    pub fn are_served_beside(&self) -> bool {
        self.list
            .iter()
            .all(|i| i.place.is_none_or(Place::is_served_beside))
    }

    /// Values of a unit whose own uniform numbers are given; batches are drawn by the seed.
    pub fn values(&self, seed: u64, unit: u64, own: impl Fn(usize) -> f64, out: &mut Vec<f64>) {
        out.clear();
        for (k, input) in self.list.iter().enumerate() {
            let score = normal::quantile(own(k));
            let score = match input.shared {
                Some((batch, _)) => {
                    let number = batch_of(unit, self.batches.get(batch).map_or(1, |b| b.units));
                    let coil = batch_score(seed, number, k as u32);
                    input.factors.score(&[coil], score).unwrap_or(score)
                }
                None => score,
            };
            out.push(input.at(score));
        }
    }

    /// Put values into a scenario; the factor on the time of the factory setting comes back.
    pub fn apply(&self, values: &[f64], scenario: &mut Scenario) -> f64 {
        let mut set_factor = 1.0;
        for (input, value) in self.list.iter().zip(values) {
            match input.place {
                Some(place) => {
                    if let Some(number) = place.of(scenario) {
                        *number = *value;
                    }
                }
                None => set_factor = *value,
            }
        }
        if let Some(dialled) = &self.dialled {
            dialled.turn(scenario);
        }
        let strip = &mut scenario.strip;
        if self.push_at_end || strip.push_point_m > strip.length_m {
            strip.push_point_m = strip.length_m;
        }
        if self.one_loss {
            scenario.release.contact_loss = scenario.release.preload_loss;
        }
        set_factor
    }
}

fn drawn_shape(shape: Shape, cut_at: f64) -> InputShape {
    match shape {
        Shape::Normal if cut_at.is_finite() => InputShape::Sorted,
        Shape::Normal => InputShape::Normal,
        Shape::Uniform => InputShape::Uniform,
        Shape::Lognormal => InputShape::Lognormal,
    }
}

fn factors(shared: Option<(usize, f64)>) -> Result<SharedFactors, VaryError> {
    Ok(match shared {
        Some((_, share)) => SharedFactors::of_shares(&[share])?,
        None => SharedFactors::of_shares(&[])?,
    })
}

fn marginal(
    place: Place,
    shape: Shape,
    nominal: f64,
    deviation: f64,
    cut_at: f64,
    warnings: &mut Vec<VaryWarning>,
) -> Result<Marginal, VaryError> {
    let half = 3f64.sqrt() * deviation;
    match shape {
        Shape::Uniform => return Ok(Marginal::uniform(nominal - half, nominal + half)?),
        Shape::Lognormal => return Ok(Marginal::lognormal_of_mean(nominal, deviation)?),
        Shape::Normal => {}
    }
    let (least, most) = place.bounds().ends();
    let above_zero = least > 0.0 || least == 0.0 && !place.bounds().zero_allowed();
    let least = if above_zero {
        least.max(LEAST_PART * nominal)
    } else {
        least
    };
    let (low, high) = (
        least.max(nominal - cut_at * deviation),
        most.min(nominal + cut_at * deviation),
    );
    let sigmas = ((nominal - least) / deviation).min((most - nominal) / deviation);
    if sigmas < WARNED_SIGMAS && sigmas < cut_at {
        let path = place.path();
        warnings.push(VaryWarning::Cut { path, sigmas });
    }
    if (nominal - low).min(high - nominal) > 8.0 * deviation {
        return Ok(Marginal::normal(nominal, deviation)?);
    }
    Ok(Marginal::truncated(nominal, deviation, low, high)?)
}
