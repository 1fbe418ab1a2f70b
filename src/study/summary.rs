//! What a scenario answers in a few numbers: for tables in which many scenarios stand one below the
//! other.

use crate::answer::{Caution, Estimate, Held, MetalData, TripTime, Wait};
use crate::predict::{
    AskMetals, Options, Outcome, PredictError, StressAcross, Trip, TripPoint, Warning, predict,
};
use crate::scenario::Scenario;
use serde::{Deserialize, Serialize};

/// The answers of a run and what is usually asked of a part beside them.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Summary {
    /// When it trips under the load.
    pub trip_time: TripTime,
    /// Largest current held for ever.
    pub trip_point: Held,
    /// From open contacts until it can be reset.
    pub relatch_wait: Wait,
    /// From open contacts until the equipment can be started.
    pub ready_wait: Wait,
    /// Change of the trip point per percent of preload lost, A.
    pub per_percent_preload_a: Option<f64>,
    /// Share of the release travel that the preload holds, 0..1.
    pub preload_share: Option<f64>,
    /// Hottest point of the strip at release, degC.
    pub strip_peak_c: Option<f64>,
    /// Largest stress of the loaded strip over the yield strength there.
    pub stress_over_yield: Option<f64>,
    /// Drop at rated current in the steady state, mV.
    pub drop_at_rated_mv: Option<f64>,
    /// Share of closings in which an instantaneous element opens it at once, 0..1; the numbers here
    /// are those of the strip beside it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub opens_at_once: Option<f64>,
    /// Where these numbers should not be trusted blindly.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub warnings: Vec<Warning>,
    /// Cautions of the prediction, most urgent first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub cautions: Vec<Caution>,
    /// What is known of the metals, where that was asked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub metal_data: Option<MetalData>,
}

impl Summary {
    /// Predicts a scenario; the numbers are those of its whole prediction.
    ///
    /// # Errors
    /// As [`predict`].
    pub fn predict(scenario: &Scenario) -> Result<Summary, PredictError> {
        Summary::asked(scenario, AskMetals::WithTables)
    }

    /// The same, with what is known of the metals for every part or for those with which it takes some
    /// hundredths of a second.
    ///
    /// # Errors
    /// As [`predict`].
    pub fn with_metals(scenario: &Scenario, always: bool) -> Result<Summary, PredictError> {
        let metals = match always {
            true => AskMetals::Always,
            false => AskMetals::WhereCheap,
        };
        Summary::asked(scenario, metals)
    }

    fn asked(scenario: &Scenario, metals: AskMetals) -> Result<Summary, PredictError> {
        let options = Options {
            without_tables: true,
            without_course: true,
            metals,
            ..Options::default()
        };
        Ok(Summary::of(&predict(scenario, &options, &mut |_, _| {})?))
    }

    /// The summary of an outcome.
    pub fn of(outcome: &Outcome) -> Summary {
        let errors = &outcome.error_estimate;
        let trip_time = match &outcome.trip {
            Trip::AtOnce(_) => TripTime::AtOnce,
            Trip::After(release) => TripTime::After(Estimate::with_error(
                release.time_s,
                errors.trip_time_relative,
            )),
            Trip::HoldsForEver { .. } => TripTime::HoldsForEver,
            Trip::NotWithin { horizon_s, why, .. } => TripTime::NotWithin {
                horizon_s: *horizon_s,
                why: *why,
            },
        };
        let trip_point = match &outcome.trip_point {
            TripPoint::UpTo(held) => Held::UpTo(Estimate::with_error(
                held.current_a,
                errors.trip_point_relative,
            )),
            TripPoint::StaysOpen => Held::StaysOpen,
            TripPoint::NeverReleases => Held::NeverReleases,
        };
        Summary {
            trip_time,
            trip_point,
            relatch_wait: outcome.reset.relatch_wait,
            ready_wait: outcome.reset.ready_wait,
            per_percent_preload_a: outcome
                .trip_point
                .held()
                .and_then(|held| held.per_percent_preload_a),
            preload_share: outcome.part.preload_share,
            strip_peak_c: outcome.trip.release().map(|release| release.strip_peak_c),
            stress_over_yield: outcome.stress.as_ref().and_then(over_yield),
            drop_at_rated_mv: outcome.part.drop_at_rated_mv,
            opens_at_once: outcome.magnetic.as_ref().map(|m| m.closing.probability),
            warnings: outcome.warnings.clone(),
            cautions: outcome.cautions.clone(),
            metal_data: outcome.metal_data.clone(),
        }
    }
}

/// The cautions of several predictions, each once, most urgent first.
pub(crate) fn cautions_of<'s>(all: impl Iterator<Item = &'s Summary>) -> Vec<Caution> {
    let mut list: Vec<Caution> = all.flat_map(|s| s.cautions.iter().copied()).collect();
    list.push(Caution::ModelEstimate);
    list.sort_by_key(|c| *c as u8);
    list.dedup();
    list
}

/// The largest stress over the yield strength of its layer; `None` where no strength is known.
fn over_yield(stress: &StressAcross) -> Option<f64> {
    let worst = |layer: &crate::predict::StressLayer| {
        let [a, b] = layer.loaded_mpa.map(f64::abs);
        layer.yield_mpa.map(|limit| a.max(b) / limit)
    };
    stress.layers.iter().filter_map(worst).reduce(f64::max)
}
