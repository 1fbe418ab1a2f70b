//! The largest current held for ever, and uniform temperatures of release and relatch.

use super::PredictError;
use super::bordered;
use super::error::Steady;
use super::fidelity::{Converged, Ladder, converge};
use super::proof::{HOTTEST_K, slope_along};
use super::together::trip_point_near;
use crate::device::{Device, Drive, Gauge, Model, Plant};
use crate::solve::{Event, ProfileMatrix, SteadyFailure, System, root, steady_state};

/// A strip this hot has melted; a current that leaves it latched there never releases it, K.
pub(super) const MELTED_K: f64 = 1800.0;
/// No metal of a strip is there any more, K (iron boils at 3134 K, from memory).
pub(super) const BOILED_K: f64 = 10_000.0;

/// Trip point of a model.
#[derive(Debug, Clone)]
pub enum TripPointAnswer {
    /// Largest current held for ever.
    At {
        /// A.
        current_a: f64,
        /// Steady state there.
        state: Vec<f64>,
    },
    /// Released at this ambient without any current.
    StaysOpen,
    /// No current releases it before the strip melts.
    NeverReleases,
}

impl TripPointAnswer {
    /// The current, if there is one.
    pub fn current_a(&self) -> Option<f64> {
        match self {
            TripPointAnswer::At { current_a, .. } => Some(*current_a),
            _ => None,
        }
    }
}

/// Steady closed state at a constant current; `None` when there is none (runaway).
pub fn closed_steady(
    model: &Model,
    current_a: f64,
    ambient_k: f64,
    from: &[f64],
) -> Result<Option<Vec<f64>>, PredictError> {
    let plant = Plant {
        model,
        drive: Drive::constant(current_a, ambient_k),
    };
    if let Some(uniform) = model.one_temperature(&plant.drive) {
        let near = &from[..uniform.layout.len];
        let y = closed_steady(uniform, current_a, ambient_k, near)?;
        return Ok(y.map(|y| model.widened(y)));
    }
    if let Some(y) = bordered::closed_steady(model, current_a, ambient_k, from) {
        return Ok(Some(y));
    }
    let mut y = from.to_vec();
    match steady_state(&plant, 0.0, &mut y, 1.0, HOTTEST_K) {
        Ok(_) => Ok(Some(y)),
        Err(SteadyFailure::Runaway) => Ok(None),
        Err(SteadyFailure::NotSettled) => Err(PredictError::NoSteadyState {
            needed: Steady::Current { current_a },
        }),
    }
}

/// Trip point on one model, by Newton's method on the current within a bracket; each trial is a
/// steady state, never a run in time.
pub fn trip_point_on(
    model: &Model,
    ambient_k: f64,
    guess_a: f64,
) -> Result<TripPointAnswer, PredictError> {
    if let Some(uniform) = model.one_temperature(&Drive::constant(0.0, ambient_k)) {
        let answer = trip_point_on(uniform, ambient_k, guess_a)?;
        let TripPointAnswer::At { current_a, state } = answer else {
            return Ok(answer);
        };
        let drive = Drive::constant(current_a, ambient_k);
        if model.one_temperature(&drive).is_some() {
            let state = model.widened(state);
            return Ok(TripPointAnswer::At { current_a, state });
        }
    }
    let cold = model.uniform(ambient_k);
    let margin = |y: &[f64], current: f64| {
        let plant = Plant {
            model,
            drive: Drive::constant(current, ambient_k),
        };
        plant.release().value(0.0, y)
    };
    if margin(&cold, 0.0) >= 0.0 {
        return Ok(TripPointAnswer::StaysOpen);
    }
    if let Some((current_a, state)) = bordered::trip_point(model, ambient_k, guess_a) {
        return Ok(TripPointAnswer::At { current_a, state });
    }
    let steady = closed_steady(model, guess_a, ambient_k, &cold)?;
    if let Some((current_a, state)) =
        steady.and_then(|near| trip_point_near(model, ambient_k, guess_a, &near))
        && model.peak_k(&state) < MELTED_K
    {
        return Ok(TripPointAnswer::At { current_a, state });
    }
    let (mut low, mut high) = (0.0, f64::INFINITY);
    let mut below = cold.clone();
    let mut current = guess_a;
    for _ in 0..200 {
        let steady = closed_steady(model, current, ambient_k, &below)?;
        let mut newton = None;
        match steady {
            Some(y) if model.peak_k(&y) > MELTED_K && margin(&y, current) < 0.0 => {
                return Ok(TripPointAnswer::NeverReleases);
            }
            Some(y) => {
                let value = margin(&y, current);
                let slope = margin_per_ampere(model, ambient_k, current, &y);
                newton = Some(current - value / slope);
                if value >= 0.0 {
                    high = high.min(current);
                } else {
                    low = current;
                    below.clone_from(&y);
                }
                if let Some(next) = newton
                    && (next - current).abs() <= 1e-11 * current
                {
                    return Ok(TripPointAnswer::At {
                        current_a: current,
                        state: y,
                    });
                }
            }
            None => high = high.min(current),
        }
        if high - low <= 1e-12 * low {
            let state = below;
            return Ok(TripPointAnswer::At {
                current_a: low,
                state,
            });
        }
        if low > 1e6 * guess_a {
            return Ok(TripPointAnswer::NeverReleases);
        }
        current = match newton {
            Some(next) if next > low && next < high && next.is_finite() && next < 4.0 * current => {
                next
            }
            _ if high.is_finite() => 0.5 * (low + high),
            _ => 2.0 * low.max(1e-3 * guess_a),
        };
    }
    Err(PredictError::NoSteadyState {
        needed: Steady::TripPoint,
    })
}

/// How a steady state moves when its right-hand side is pulled: by what makes up for the pull.
pub(super) fn steady_moves(plant: &Plant<'_>, y: &[f64], pull: &[f64]) -> Option<Vec<f64>> {
    let mut jacobian = ProfileMatrix::zeros(plant.shape());
    plant.jacobian(0.0, y, &mut jacobian);
    let mut factors = ProfileMatrix::zeros(plant.shape());
    factors.set_shifted_negative(&jacobian, 0.0);
    let mut moves = pull.to_vec();
    factors.factorise().then(|| factors.solve(&mut moves))?;
    Some(moves)
}

/// Slope of the release margin at the steady state against the current.
pub(super) fn margin_per_ampere(model: &Model, ambient_k: f64, current: f64, y: &[f64]) -> f64 {
    let n = y.len();
    let rhs_at = |i: f64| {
        let plant = Plant {
            model,
            drive: Drive::constant(i, ambient_k),
        };
        let mut f = vec![0.0; n];
        plant.rhs(0.0, y, &mut f);
        let value = plant.release().value(0.0, y);
        (f, value)
    };
    let step = 1e-4 * current;
    let (up, up_value) = rhs_at(current + step);
    let (down, down_value) = rhs_at(current - step);
    let plant = Plant {
        model,
        drive: Drive::constant(current, ambient_k),
    };
    let pull: Vec<f64> = up
        .iter()
        .zip(&down)
        .map(|(a, b)| (a - b) / (2.0 * step))
        .collect();
    let Some(z) = steady_moves(&plant, y, &pull) else {
        return f64::NAN;
    };
    let event = plant.release();
    let through = slope_along(&event, 0.0, y, &z);
    through + (up_value - down_value) / (2.0 * step)
}

/// Trip point of a device with its error.
pub fn trip_point(
    device: &Device,
    ambient_k: f64,
    guess_a: f64,
    accuracy: f64,
) -> Result<Converged<TripPointAnswer>, PredictError> {
    converge(
        device,
        Ladder::new(device, f64::INFINITY, accuracy),
        accuracy,
        None,
        |model, _| trip_point_on(model, ambient_k, guess_a),
        |answer| vec![answer.current_a()],
    )
}

/// How narrowly a temperature is found, K.
const FOUND_K: f64 = 1e-9;

/// First uniform temperature, going up, at which a function of it changes sign, K. The metals' laws
/// are continued outside their range, where a second change would mean nothing.
fn first_zero_going_up(value: impl Fn(f64) -> f64) -> Option<f64> {
    let (coldest, hottest, stride) = (200.0, 1273.15, 5.0);
    let (mut low, mut at_low) = (coldest, value(coldest));
    while low < hottest {
        let high = low + stride;
        let at_high = value(high);
        if (at_low < 0.0) != (at_high < 0.0) {
            let going_up = |t: f64| if at_low < 0.0 { value(t) } else { -value(t) };
            return Some(root(&mut { going_up }, (low, high), FOUND_K));
        }
        (low, at_low) = (high, at_high);
    }
    None
}

/// Uniform temperature that releases the protector without current, K; `None` beyond 1000 degC.
pub fn trip_temperature_k(model: &Model) -> Option<f64> {
    first_zero_going_up(|t| model.release_excess_m(&model.uniform(t), 0.0))
}

/// Uniform temperature at or below which it relatches, K; `None` below -70 degC.
pub fn relatch_temperature_k(model: &Model) -> Option<f64> {
    let plant = Plant {
        model,
        drive: Drive::open(293.15),
    };
    let event = plant.event(Gauge::Relatch);
    first_zero_going_up(|t| event.value(0.0, &model.uniform(t)))
}
