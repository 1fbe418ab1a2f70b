//! From a unit's values to its answers: side by side where that is possible, alone where not.

use super::Plan;
use crate::device::Unit;
use crate::predict::{ACCURACY, Finding, Member, examine_alone};
use crate::scenario::Scenario;

/// Answers of one unit, or why there are none.
pub struct Answered {
    /// What was found.
    pub finding: Result<Finding, String>,
    /// Whether it had to be asked alone.
    pub alone: bool,
    /// Whether the polynomial answered, and not the engine.
    pub by_surrogate: bool,
}

impl Answered {
    /// Where an answer is missing the unit has failed, and says why.
    fn of(plan: &Plan, finding: Result<Finding, String>, alone: bool) -> Answered {
        let finding = finding.and_then(|f| {
            if !f.is_set() {
                return Err("the clearance would have to be negative to set it".to_owned());
            }
            if alone && !f.is_whole(&plan.questions) {
                return Err("no answer was found".to_owned());
            }
            Ok(f)
        });
        Answered {
            finding,
            alone,
            by_surrogate: false,
        }
    }
}

/// Answers of units whose values are given one after the other, `inputs` numbers a unit.
pub fn answer(plan: &Plan, values: &[f64]) -> Vec<Answered> {
    match &plan.surrogate {
        Some(surrogate) => surrogate.answer(plan, values),
        None => exactly(plan, values),
    }
}

/// The units as the engine is asked about them.
pub fn members(plan: &Plan, values: &[f64]) -> Vec<Member> {
    let mut work = plan.scenario.clone();
    let each = values.chunks_exact(plan.inputs.len());
    each.map_while(|own| {
        let set_factor = plan.inputs.apply(own, &mut work);
        Some(Member {
            unit: Unit::of_scenario(&work)?,
            current_a: work.load.last_a(),
            ambient_k: work.surroundings.ambient.first().map_or(293.15, |p| p.1),
            set_factor,
        })
    })
    .collect()
}

/// The same from the engine.
pub fn exactly(plan: &Plan, values: &[f64]) -> Vec<Answered> {
    let mut work = plan.scenario.clone();
    let count = values.len() / plan.inputs.len();
    let of = |k: usize| &values[k * plan.inputs.len()..(k + 1) * plan.inputs.len()];
    let Some(examiner) = &plan.examiner else {
        return (0..count).map(|k| alone(plan, of(k), &mut work)).collect();
    };
    let members = members(plan, values);
    let findings = examiner.examine(&members);
    findings
        .into_iter()
        .enumerate()
        .map(|(k, finding)| {
            if finding.is_whole(&plan.questions) {
                Answered::of(plan, Ok(finding), false)
            } else {
                alone(plan, of(k), &mut work)
            }
        })
        .collect()
}

fn alone(plan: &Plan, values: &[f64], work: &mut Scenario) -> Answered {
    let set_factor = plan.inputs.apply(values, work);
    let finding = match &plan.once {
        Some(once) => once.examine(work, set_factor),
        None => examine_alone(work, &plan.questions, set_factor, ACCURACY),
    };
    Answered::of(plan, finding.map_err(|e| e.to_string()), true)
}
