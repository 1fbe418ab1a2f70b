//! What a population shows: one record for every output.

mod matters;
mod records;
mod remark;
mod scatter;

pub use records::*;
pub use remark::*;

use super::instantaneous::{InstantaneousRecord, instantaneous};
use super::settings::Design;
use super::tally::{FailedUnit, Tally, drawn_input};
use super::{Plan, SurrogateRecord, VaryError};
use crate::answer::Caution;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::quantity::Dimension;
use crate::statistics::rates::{CONFIDENCE, effective};
use matters::{design_effect, sensitivity, tornado};
use scatter::{bands, inputs, limits, load, sides, spread};
use serde::{Deserialize, Serialize};

/// Layout of this record.
///
/// | format 1 | format 2 |
/// | --- | --- |
/// | `cautions`: list of text | list of `{"code", "text"}` |
///
/// | format 2 | format 3 |
/// | --- | --- |
/// | `warnings`: list of text | list of `{"code", "text"}` with their numbers |
/// | `setting` in words | `current_a`, `time_s`, `ambient_c`, `time_error`, `text` |
/// | `inputs[].nominal`, `.deviation` in words | numbers in SI, `dimension`, `text` |
/// | `inputs[].shape`: "normal, tails sorted out" | `sorted` |
/// | `load.demand` in words | `{"from", "text"}`, and `load.must_trip`, `load.must_hold` |
/// | `limits[].text` | the same, and `must_hold` |
/// | `sensitivity[].of`: "trip point", "trip time", "wait to relatch" | `trip_point`, `trip_time`, `relatch_wait` |
/// | `tornado[].ends` in words | numbers in SI, `dimension`, `texts` |
/// | `scatter`: in `scatter_unit` | in SI, with `scatter_dimension` |
pub const FORMAT: u32 = 3;

/// The record of a population.
#[derive(Debug, Clone, Serialize, Deserialize)]
#[non_exhaustive]
pub struct VaryOutcome {
    /// Layout of this record.
    pub format: u32,
    /// Version of the program.
    pub version: String,
    /// Title of the scenario.
    pub scenario: String,
    /// What was set in the scenario since it was written, as `path = value`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub changed: Vec<String>,
    /// Units.
    pub units: u64,
    /// Start of every random number.
    pub seed: u64,
    /// How inputs were chosen.
    pub design: Design,
    /// Confidence of every interval.
    pub confidence: f64,
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Air at which the trip point and the bands are stated, degC.
    pub ambient_c: f64,
    /// Factory setting; `None`: clearances are as they come.
    pub setting: Option<SetAt>,
    /// What differs.
    pub inputs: Vec<InputRecord>,
    /// What the load is, and what it demands.
    pub load: LoadRecord,
    /// Trip point, A.
    pub trip_point_a: SpreadRecord,
    /// Trip time under the load, s.
    pub trip_time_s: SpreadRecord,
    /// Wait to relatch after it, s.
    pub relatch_wait_s: SpreadRecord,
    /// Clearance, mm.
    pub clearance_mm: SpreadRecord,
    /// Bands of the characteristic from cold.
    pub bands: Vec<BandRecord>,
    /// Published limits: name and source.
    pub limits_source: Option<String>,
    /// Rates outside each published limit.
    pub limits: Vec<LimitRecord>,
    /// Rates outside any.
    pub any_limit: Option<SidesRecord>,
    /// The instantaneous elements, where units differ in them.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub instantaneous: Option<InstantaneousRecord>,
    /// Which input matters, by variance.
    pub sensitivity: Vec<SensitivityRecord>,
    /// Which input matters, one at a time.
    pub tornado: Vec<TornadoRecord>,
    /// Trip point with all inputs in their middle (for a lognormal one its median, not the number
    /// written), A.
    pub tornado_middle_a: Option<f64>,
    /// Independent units that say as much as these, whose batches make them alike.
    pub effective_units: u64,
    /// The input drawn against the trip point.
    pub scatter_of: String,
    /// Unit number, value of that input in SI, trip point in A.
    pub scatter: Vec<(u64, f64, f64)>,
    /// What the drawn input measures.
    pub scatter_dimension: Dimension,
    /// Histogram of the trip point: lower and upper end in A, units.
    pub trip_point_bins: Vec<(f64, f64, u64)>,
    /// Units that had to be asked alone.
    pub asked_alone: u64,
    /// Units without answers, and why.
    pub failed: u64,
    /// Why, with how many.
    pub reasons: Vec<(String, u64)>,
    /// The first of them.
    pub failures: Vec<FailedUnit>,
    /// Relative accuracy of units side by side, and by how much they were trimmed to the nominal
    /// unit alone.
    pub accuracy: AccuracyRecord,
    /// Warnings.
    pub warnings: Vec<VaryWarning>,
    /// Cautions.
    pub cautions: Vec<Caution>,
}

impl VaryOutcome {
    /// The record of a whole run.
    ///
    /// # Errors
    /// A statistic that cannot be given.
    pub fn new(plan: &Plan, tally: &Tally) -> Result<VaryOutcome, VaryError> {
        let s = &plan.scenario;
        let sensitivity = sensitivity(plan, tally);
        let effect = |quantity: usize| design_effect(plan, sensitivity.get(quantity));
        let (point, time, wait) = (effect(0), effect(1), effect(2));
        let nominal = &plan.nominal;
        let (middle_a, tornado) = tornado(plan);
        let drawn = drawn_input(plan);
        let input = &plan.inputs.list[drawn];
        let dot = |(unit, x, y): &(u64, u64, u64)| (*unit, f64::from_bits(*x), f64::from_bits(*y));
        let whole = tally.trip_point_a.all.bins();
        let whole = whole.filter(|(e, _)| e.high.is_finite());
        let is_beside = plan.examiner.is_some();
        let instantaneous = instantaneous(plan)?;
        let mut outcome = VaryOutcome {
            format: FORMAT,
            version: plan.settings.version.clone(),
            scenario: s.name(),
            changed: s.changed.clone(),
            units: tally.units,
            seed: plan.settings.seed,
            design: plan.settings.design,
            confidence: CONFIDENCE,
            rated_current_a: s.protector.rated_current_a,
            ambient_c: plan.stated_air_k - ZERO_CELSIUS_K,
            setting: s.population.setting.map(|set| SetAt {
                current_a: set.current_a,
                time_s: set.time_s,
                ambient_c: set.ambient_k - ZERO_CELSIUS_K,
                time_error: set.time_error,
            }),
            inputs: inputs(plan),
            load: load(plan, tally, time)?,
            trip_point_a: spread(&tally.trip_point_a, plan.trip_point_a(nominal), 1.0, point)?,
            trip_time_s: spread(&tally.trip_time_s, nominal.times_s[0], 1.0, time)?,
            relatch_wait_s: spread(&tally.relatch_wait_s, nominal.waits_s[0], 1.0, wait)?,
            clearance_mm: spread(&tally.clearance_m, nominal.clearance_m, 1e3, point)?,
            bands: bands(plan, tally, time)?,
            limits_source: plan.table.map(|t| t.source.to_owned()),
            limits: limits(plan, tally, time)?,
            any_limit: sides(&tally.any_limit, time)?,
            tornado,
            tornado_middle_a: finite(middle_a),
            effective_units: effective(tally.units, point.max(time)),
            scatter_of: input.path.clone(),
            scatter: tally.scatter.iter().map(dot).collect(),
            scatter_dimension: input.dimension(),
            trip_point_bins: whole.map(|(e, units)| (e.low, e.high, units)).collect(),
            asked_alone: tally.alone,
            failed: tally.failed,
            reasons: tally.reasons.clone().into_iter().collect(),
            failures: tally.failures.clone(),
            accuracy: AccuracyRecord {
                side_by_side: is_beside,
                relative: match is_beside {
                    true => crate::predict::BESIDE_ACCURACY,
                    false => crate::predict::ACCURACY,
                },
                largest_trim: match (&plan.examiner, &plan.once) {
                    (Some(examiner), _) => examiner.largest_trim(),
                    (None, Some(once)) => once.largest_trim(),
                    (None, None) => 0.0,
                },
                surrogate: plan.surrogate_record.map(|record| SurrogateRecord {
                    engine: tally.engine,
                    ..record
                }),
            },
            warnings: warnings(plan, tally, &sensitivity, instantaneous.is_none()),
            instantaneous,
            sensitivity,
            cautions: Vec::new(),
        };
        outcome.cautions = outcome.cautions_called_for();
        Ok(outcome)
    }
}

impl VaryOutcome {
    /// The cautions that concern this outcome, most urgent first. They cannot be switched off.
    fn cautions_called_for(&self) -> Vec<Caution> {
        let any = self.any_limit.iter().map(|s| &s.late);
        let late = self.load.fails_to_protect.iter().chain(any);
        let mut list = Vec::new();
        if late.into_iter().any(|rate| rate.units > 0) {
            list.push(Caution::LateUnits);
        }
        list.extend([
            Caution::ModelledScatter,
            Caution::NeverRaise,
            Caution::ModelEstimate,
        ]);
        list
    }
}

/// What has to be said beside the numbers.
fn warnings(
    plan: &Plan,
    tally: &Tally,
    all: &[SensitivityRecord],
    strips_alone: bool,
) -> Vec<VaryWarning> {
    let mut warnings = plan.inputs.warnings.clone();
    if plan.examiner.is_none() {
        warnings.push(VaryWarning::AskedAlone);
    }
    if plan.scenario.magnetic.is_some() && strips_alone {
        warnings.push(VaryWarning::StripsAlone);
    }
    if tally.failed > 0 {
        warnings.push(VaryWarning::Failed {
            failed: tally.failed,
            units: tally.units,
        });
    }
    let left_out = all.iter().filter(|quantity| quantity.left_out > 0);
    warnings.extend(left_out.map(|quantity| VaryWarning::RowsLeftOut {
        of: quantity.of,
        left_out: quantity.left_out,
        rows: quantity.left_out + quantity.rows,
    }));
    warnings
}

fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}
