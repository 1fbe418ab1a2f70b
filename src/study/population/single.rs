//! One unit of a population in full, by its number.

use super::chunk::values_of;
use super::unit::answer;
use super::{Plan, VaryError};
use crate::quantity::format_si;
use crate::scenario::Scenario;
use serde::Serialize;

/// One unit.
#[derive(Debug, Clone, Serialize)]
pub struct SingleUnit {
    /// Its number, from 0.
    pub unit: u64,
    /// Title of the scenario.
    pub scenario: String,
    /// Path, value in SI, and as a person writes it.
    pub inputs: Vec<(String, f64, String)>,
    /// Clearance, mm; `None`: it cannot be set.
    pub clearance_mm: Option<f64>,
    /// Trip point at the stated air, A.
    pub trip_point_a: Option<f64>,
    /// Trip time under the load, s; `None`: holds for ever, or failed.
    pub trip_time_s: Option<f64>,
    /// Wait to relatch, s.
    pub relatch_wait_s: Option<f64>,
    /// Current of each band, A, and trip time, s.
    pub bands: Vec<(f64, Option<f64>)>,
    /// Whether it had to be asked alone.
    pub asked_alone: bool,
    /// Why there are no answers.
    pub failed: Option<String>,
}

/// A unit of a plan, and the scenario that it is, for everything else that can be asked of a
/// scenario.
///
/// # Errors
/// No such unit.
pub fn single(plan: &Plan, unit: u64) -> Result<(SingleUnit, Scenario), VaryError> {
    if unit >= plan.settings.units {
        let (all, last) = (plan.settings.units, plan.settings.units - 1);
        let what = format!("there is no unit {unit}: {all} units are numbered from 0 to {last}");
        let option = "unit";
        return Err(VaryError::Option { option, what });
    }
    let mut values = Vec::new();
    values_of(plan, unit, &mut values);
    let mut scenario = plan.scenario.clone();
    let set_factor = plan.inputs.apply(&values, &mut scenario);
    let answers = answer(plan, &values);
    let finite = |v: f64| v.is_finite().then_some(v);
    let finding = answers.first().map(|a| &a.finding);
    let found = finding.and_then(|f| f.as_ref().ok());
    if let (Some(f), true) = (found, plan.questions.setting.is_some())
        && let Some(latch) = scenario.release.mechanism.latch_mut()
    {
        latch.widen(f.clearance_m - latch.release_travel_m);
    }
    scenario.title = format!("{}, unit {unit}", plan.scenario.title);
    let inputs = plan.inputs.list.iter().zip(&values);
    let record = SingleUnit {
        unit,
        scenario: plan.scenario.name(),
        inputs: inputs
            .map(|(input, value)| {
                let value = if input.place.is_some() {
                    *value
                } else {
                    set_factor
                };
                (
                    input.path.clone(),
                    value,
                    format_si(value, input.dimension()),
                )
            })
            .collect(),
        clearance_mm: found.and_then(|f| finite(1e3 * f.clearance_m)),
        trip_point_a: found.and_then(|f| finite(plan.trip_point_a(f))),
        trip_time_s: found.and_then(|f| finite(f.times_s[0])),
        relatch_wait_s: found.and_then(|f| finite(f.waits_s[0])),
        bands: plan
            .bands
            .iter()
            .map(|(carry, a)| (*a, found.and_then(|f| finite(f.times_s[*carry]))))
            .collect(),
        asked_alone: answers.first().is_some_and(|a| a.alone),
        failed: finding.and_then(|f| f.as_ref().err().cloned()),
    };
    Ok((record, scenario))
}
