//! What stays the same through all predictions of one scenario.

use super::ambient::ambient_piece;
use super::session::Session;
use super::trip_point::closed_steady;
use super::{Halt, PredictError};
use crate::device::{Drive, Model, Plant};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::{Before, MachineCase};
use crate::solve::Event;

/// A disc may be so much colder than its flat temperature, K.
const COLDER_THAN_MADE_K: f64 = 1.0;

/// A disc flatter than made stays round; one that is more domed may not. The start is the coldest
/// of what is asked.
fn as_made_or_flatter(model: &Model, y: &[f64]) -> Result<(), PredictError> {
    let flat_k = model.device.laws.flat_temperature_k;
    let (coldest_k, _) = model.strip_range_k(y);
    if model.device.disc().is_some() && coldest_k < flat_k - COLDER_THAN_MADE_K {
        return Err(PredictError::MoreDomed {
            coldest_c: coldest_k - ZERO_CELSIUS_K,
            flat_c: flat_k - ZERO_CELSIUS_K,
        });
    }
    Ok(())
}

/// Surroundings, start and accuracy of a scenario; the device may vary.
#[derive(Debug, Clone)]
pub struct Case {
    /// Ambient against time, (s, K).
    pub ambient: Vec<(f64, f64)>,
    /// State before the load.
    pub before: Before,
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Relative accuracy asked for.
    pub accuracy: f64,
    /// Longest load time, s.
    pub longest_s: f64,
    /// When to give up.
    pub halt: Halt,
}

impl Case {
    /// The same case at another, constant ambient.
    pub fn at_ambient(&self, ambient_k: f64) -> Case {
        Case {
            ambient: vec![(0.0, ambient_k)],
            ..self.clone()
        }
    }

    /// The same case from another start.
    pub fn from(&self, before: Before) -> Case {
        Case {
            before,
            ..self.clone()
        }
    }

    /// Ambient at time zero, K.
    pub fn ambient_k(&self) -> f64 {
        ambient_piece(&self.ambient, 0.0).0.at(0.0)
    }

    /// Coldest and hottest ambient, K, where it changes.
    pub fn ambient_range_k(&self) -> Option<[f64; 2]> {
        let all = || self.ambient.iter().map(|(_, k)| *k);
        let low = all().fold(f64::INFINITY, f64::min);
        let high = all().fold(f64::NEG_INFINITY, f64::max);
        (high > low).then_some([low, high])
    }

    /// Session at time zero.
    pub fn start<'m>(
        &'m self,
        model: &'m Model,
        tolerance: f64,
    ) -> Result<Session<'m>, PredictError> {
        let ambient_k = self.ambient_k();
        let cold = model.uniform(ambient_k);
        let y = match self.before {
            // The case of a machine warms the disc on it before any current does.
            Before::Cold if matches!(model.device.machine_case, Some(MachineCase::Given(_))) => {
                let steady = model.steady(0.0, ambient_k, || {
                    closed_steady(model, 0.0, ambient_k, &cold)
                })?;
                steady.unwrap_or(cold)
            }
            Before::Cold => cold,
            Before::Hot { fraction_of_rated } => {
                let current_a = fraction_of_rated * self.rated_current_a;
                let error = || PredictError::HotBeyondRelease {
                    current_a,
                    trip_point_a: None,
                };
                let y = model
                    .steady(current_a, ambient_k, || {
                        closed_steady(model, current_a, ambient_k, &cold)
                    })?
                    .ok_or_else(error)?;
                let plant = Plant {
                    model,
                    drive: Drive::constant(current_a, ambient_k),
                };
                if plant.release().value(0.0, &y) >= 0.0 {
                    return Err(error());
                }
                y
            }
        };
        as_made_or_flatter(model, &y)?;
        let mut session = Session::new(model, &self.ambient, tolerance, y);
        session.halt = self.halt.clone();
        session.accuracy = self.accuracy;
        Ok(session)
    }
}
