//! The full model's answers that stand beside the hand's.

use super::ByHandError;
use crate::device::{Device, Model};
use crate::load::Programme;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::predict::{
    Case, Halt, Options, Outcome, Progress, RunAnswer, TripPointAnswer, main_run, predict,
    trip_point,
};
use crate::scenario::Scenario;
use std::sync::Arc;

/// A state of the strip on its grid.
pub(in crate::study) struct At {
    pub(in crate::study) model: Arc<Model>,
    pub(in crate::study) state: Vec<f64>,
    pub(in crate::study) current_a: f64,
}

/// Everything the full model says.
pub(in crate::study) struct Full<'s> {
    pub(in crate::study) scenario: &'s Scenario,
    pub(in crate::study) outcome: Outcome,
    pub(in crate::study) device: Device,
    /// Air at time zero, K.
    pub(in crate::study) air_k: f64,
    /// The one current that the hand computes with, A.
    pub(in crate::study) current_a: f64,
    /// Whether that current is the whole load.
    pub(in crate::study) is_whole_load: bool,
    /// Run under that current alone.
    pub(in crate::study) run: RunAnswer,
    /// At its release, where it releases.
    pub(in crate::study) release: Option<At>,
    /// At the trip point, where there is one.
    pub(in crate::study) point: Option<At>,
}

impl<'s> Full<'s> {
    pub(in crate::study) fn compute(
        scenario: &'s Scenario,
        progress: &mut Progress<'_>,
    ) -> Result<Self, ByHandError> {
        let options = Options {
            without_tables: true,
            ..Options::default()
        };
        let outcome = predict(scenario, &options, progress)?;
        let case = Case {
            ambient: vec![(0.0, outcome.part.ambient_c + ZERO_CELSIUS_K)],
            before: scenario.before,
            rated_current_a: scenario.protector.rated_current_a,
            accuracy: scenario.ask.accuracy,
            longest_s: scenario.ask.longest_s,
            halt: Halt::default(),
        };
        let air_k = case.ambient_k();
        let (current_a, is_whole_load) = one_current(&scenario.load, &outcome);
        let alone = Scenario {
            load: Programme::constant(current_a),
            ..scenario.clone()
        };
        progress("the same load for the hand", 0.7);
        let (device, main) = main_run(&alone, &case)?;
        let release = main.value.trip_time_s.map(|_| At {
            model: device.on(main.fidelity.fineness),
            state: main.value.state.clone(),
            current_a,
        });
        progress("trip point", 0.9);
        let found = trip_point(&device, air_k, case.rated_current_a, case.accuracy)?;
        let model = device.on(found.fidelity.fineness);
        let point = match found.value {
            TripPointAnswer::At { current_a, state } => Some(At {
                model,
                state,
                current_a,
            }),
            TripPointAnswer::StaysOpen | TripPointAnswer::NeverReleases => None,
        };
        Ok(Full {
            scenario,
            outcome,
            device,
            air_k,
            current_a,
            is_whole_load,
            run: main.value,
            release,
            point,
        })
    }

    /// Strip at release under the load, or at the trip point.
    pub(in crate::study) fn warm(&self) -> Option<&At> {
        self.release.as_ref().or(self.point.as_ref())
    }
}

/// The one current that stands for a load: its constant, what flows at the release, or the largest.
fn one_current(load: &Programme, outcome: &Outcome) -> (f64, bool) {
    if let Some(current_a) = load.only_a() {
        return (current_a, true);
    }
    let current_a = outcome
        .trip
        .release()
        .map(|r| r.current_a)
        .filter(|i| *i > 0.0);
    (current_a.unwrap_or_else(|| load.largest_a()), false)
}

impl At {
    fn sum(&self, value: impl Fn(usize) -> f64) -> f64 {
        let weights = self.model.grid.weight_m.iter().enumerate();
        weights.map(|(j, w)| w * value(j)).sum()
    }

    /// Air at the strip, K.
    pub(in crate::study) fn air_k(&self, ambient_k: f64) -> f64 {
        self.model
            .layout
            .housing
            .map_or(ambient_k, |h| self.state[h])
    }

    /// Resistance of the strip, ohm.
    pub(in crate::study) fn resistance_ohm(&self) -> f64 {
        self.sum(|j| self.model.resistance_per_m(&self.state, j))
    }

    /// Heat made in the strip by its share of the current, W.
    pub(in crate::study) fn heat_w(&self) -> f64 {
        (self.model.device.current_share * self.current_a).powi(2) * self.resistance_ohm()
    }

    /// Heat that the strip is given: made in it and from a winding, W.
    pub(in crate::study) fn heat_to_strip_w(&self) -> f64 {
        let from_winding = match (self.model.layout.winding, &self.model.device.winding) {
            (Some(i), Some(w)) => {
                w.conductance_to_strip_w_per_k * (self.state[i] - self.model.mean_k(&self.state))
            }
            _ => 0.0,
        };
        self.heat_w() + from_winding
    }

    /// Heat that leaves the faces, W.
    pub(in crate::study) fn lost_by_faces_w(&self, ambient_k: f64) -> f64 {
        let (cooling, air) = (&self.model.device.cooling, self.air_k(ambient_k));
        self.sum(|j| cooling.perimeter_m * cooling.flux(self.state[j], air))
    }

    /// Heat from the faces over the mean rise above the air at the strip, W/K.
    pub(in crate::study) fn face_conductance_w_per_k(&self, ambient_k: f64) -> f64 {
        let rise = self.model.mean_k(&self.state) - self.air_k(ambient_k);
        self.lost_by_faces_w(ambient_k) / rise
    }

    /// Heat stored in the strip above a temperature over its mean rise above it, J/K.
    pub(in crate::study) fn capacity_j_per_k(&self, from_k: f64) -> f64 {
        let laws = &self.model.device.laws;
        let stored = self.sum(|j| laws.heat_j_per_m(from_k, self.state[j]));
        stored / (self.model.mean_k(&self.state) - from_k)
    }
}
