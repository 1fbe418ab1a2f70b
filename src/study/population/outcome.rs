//! What a population shows: one record for every output.

use super::Plan;
use super::VaryError;
use super::rates::{CONFIDENCE, Quantile, Rate, quantile, rate};
use super::sensitivity::one_at_a_time;
use super::tally::{FailedUnit, Measure, Rows, Tally, drawn_input};
use crate::answer::Caution;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::quantity::{Dimension, format_si};
use serde::Serialize;

/// Layout of this record.
///
/// | format 1 | format 2 |
/// | --- | --- |
/// | `cautions`: list of text | list of `{"code", "text"}` |
pub const FORMAT: u32 = 2;

/// The record of a population.
#[derive(Debug, Clone, Serialize)]
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
    /// "sobol", "latin" or "random".
    pub design: String,
    /// Confidence of every interval.
    pub confidence: f64,
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Air at which the trip point and the bands are stated, degC.
    pub ambient_c: f64,
    /// Factory setting in words; `None`: clearances are as they come.
    pub setting: Option<String>,
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
    /// Which input matters, by variance.
    pub sensitivity: Vec<SensitivityRecord>,
    /// Which input matters, one at a time.
    pub tornado: Vec<TornadoRecord>,
    /// Trip point with all inputs in their middle (for a lognormal one its median, not the number written), A.
    pub tornado_middle_a: Option<f64>,
    /// Independent units that say as much as these, whose batches make them alike.
    pub effective_units: u64,
    /// The input drawn against the trip point.
    pub scatter_of: String,
    /// Unit number, value of that input in `scatter_unit`, trip point in A.
    pub scatter: Vec<(u64, f64, f64)>,
    /// Unit of the drawn input.
    pub scatter_unit: String,
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
    /// Relative accuracy of units side by side, and by how much they were trimmed to the nominal unit alone.
    pub accuracy: AccuracyRecord,
    /// Warnings.
    pub warnings: Vec<String>,
    /// Cautions.
    pub cautions: Vec<Caution>,
}

/// One input.
#[derive(Debug, Clone, Serialize)]
#[non_exhaustive]
pub struct InputRecord {
    /// Path in the file.
    pub path: String,
    /// Middle, as a person writes it.
    pub nominal: String,
    /// Relative standard deviation; `None` where the middle is zero or a temperature.
    pub relative: Option<f64>,
    /// Standard deviation, as a person writes it.
    pub deviation: String,
    /// Shape of the distribution.
    pub shape: String,
    /// Batch that shares it.
    pub batch: Option<String>,
    /// Share of the variance between batches.
    pub shared: Option<f64>,
}

/// The load and its demand.
#[derive(Debug, Clone, Serialize)]
#[non_exhaustive]
pub struct LoadRecord {
    /// Current, A (root mean square of a programme).
    pub current_a: f64,
    /// Multiple of the rating.
    pub multiple: f64,
    /// Later than this, or never, fails to protect, s.
    pub trips_within_s: Option<f64>,
    /// Sooner than this is a nuisance, s; `None` also where any trip is.
    pub holds_for_s: Option<f64>,
    /// The demand in words.
    pub demand: String,
    /// Units that fail to protect; `None`: there is nothing to protect from.
    pub fails_to_protect: Option<Rate>,
    /// Units that trip without need; `None`: nothing was said that it must hold.
    pub nuisance: Option<Rate>,
    /// Units that hold this load for ever.
    pub never_trips: Option<Rate>,
}

/// How a quantity is spread.
#[derive(Debug, Clone, Serialize)]
#[non_exhaustive]
pub struct SpreadRecord {
    /// Nominal unit.
    pub nominal: Option<f64>,
    /// Units with a finite value.
    pub finite: u64,
    /// Mean of the finite values.
    pub mean: Option<f64>,
    /// Standard deviation of the finite values.
    pub deviation: Option<f64>,
    /// Least finite value.
    pub least: Option<f64>,
    /// Greatest finite value.
    pub greatest: Option<f64>,
    /// 5, 50 and 95 %, infinite values included.
    pub quantiles: Vec<Quantile>,
}

/// One current of the bands.
#[derive(Debug, Clone, Serialize)]
#[non_exhaustive]
pub struct BandRecord {
    /// A.
    pub current_a: f64,
    /// Multiple of the rating.
    pub multiple: f64,
    /// Trip time at 5, 50 and 95 %, s.
    pub quantiles: Vec<Quantile>,
    /// Nominal unit, s.
    pub nominal_s: Option<f64>,
    /// Units that hold it for ever.
    pub never: u64,
}

/// Rates on both sides, never added up.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
#[non_exhaustive]
pub struct SidesRecord {
    /// Too late, or never.
    pub late: Rate,
    /// Too early.
    pub early: Rate,
}

/// One row of published limits.
#[derive(Debug, Clone, Serialize)]
#[non_exhaustive]
pub struct LimitRecord {
    /// Multiple of the rating.
    pub multiple: f64,
    /// Multiple of the rating from which it starts warm; zero: cold.
    pub after_multiple: f64,
    /// In words.
    pub text: String,
    /// Air of the test, degC.
    pub ambient_c: f64,
    /// Not before, s.
    pub at_least_s: Option<f64>,
    /// Not after, s.
    pub at_most_s: Option<f64>,
    /// Rates.
    pub sides: SidesRecord,
}

/// Indices of one input.
#[derive(Debug, Clone, Serialize)]
#[non_exhaustive]
pub struct IndexRecord {
    /// Path.
    pub path: String,
    /// Share of the variance that goes if this input were known.
    pub first: f64,
    /// Its interval.
    pub first_interval: (f64, f64),
    /// Share that stays if all others were known.
    pub total: f64,
    /// Its interval.
    pub total_interval: (f64, f64),
}

/// Which input matters for one quantity, the largest total first.
#[derive(Debug, Clone, Serialize)]
#[non_exhaustive]
pub struct SensitivityRecord {
    /// "trip point", "trip time", "wait to relatch".
    pub of: String,
    /// Rows that counted.
    pub rows: u64,
    /// Rows without a finite value.
    pub left_out: u64,
    /// Indices.
    pub indices: Vec<IndexRecord>,
}

/// One input at the ends of its range, the widest first.
#[derive(Debug, Clone, Serialize)]
#[non_exhaustive]
pub struct TornadoRecord {
    /// Path.
    pub path: String,
    /// Its ends, as a person writes them.
    pub ends: [String; 2],
    /// Trip point at both ends, A.
    pub trip_points_a: [Option<f64>; 2],
    /// Trip time at both ends, s.
    pub times_s: [Option<f64>; 2],
}

/// How exact the units are.
#[derive(Debug, Clone, Serialize)]
#[non_exhaustive]
pub struct AccuracyRecord {
    /// Whether units were computed side by side.
    pub side_by_side: bool,
    /// Relative accuracy of their march.
    pub relative: f64,
    /// Largest relative correction by which they were trimmed to the nominal unit alone.
    pub largest_trim: f64,
}

const PROBABILITIES: [f64; 3] = [0.05, 0.5, 0.95];

impl VaryOutcome {
    /// The record of a whole run.
    ///
    /// # Errors
    /// A statistic that cannot be given.
    pub fn new(plan: &Plan, tally: &Tally) -> Result<VaryOutcome, VaryError> {
        let s = &plan.scenario;
        let sensitivity = sensitivity(plan, tally)?;
        let effect = |quantity: usize| design_effect(plan, sensitivity.get(quantity));
        let (point, time, wait) = (effect(0), effect(1), effect(2));
        let nominal = &plan.nominal;
        let spread =
            |m: &Measure, nominal: f64, scale: f64, effect: f64| spread(m, nominal, scale, effect);
        let mut bands = Vec::new();
        for ((carry, current_a), histogram) in plan.bands.iter().zip(&tally.bands_s) {
            let quantiles = if histogram.count() == 0 {
                Vec::new()
            } else {
                let all = PROBABILITIES.iter();
                all.map(|p| quantile(histogram, *p, time))
                    .collect::<Result<Vec<_>, _>>()?
            };
            let never = histogram
                .bins()
                .filter(|(e, _)| e.high.is_infinite())
                .map(|(_, n)| n)
                .sum();
            bands.push(BandRecord {
                current_a: *current_a,
                multiple: current_a / s.protector.rated_current_a,
                quantiles,
                nominal_s: finite(nominal.times_s[*carry]),
                never,
            });
        }
        let sides = |late: u64, early: u64, units: u64, effect: f64| {
            Ok::<_, VaryError>(SidesRecord {
                late: rate(late, units, effect)?,
                early: rate(early, units, effect)?,
            })
        };
        let mut limits = Vec::new();
        if let Some(table) = plan.table {
            for (row, counts) in plan.limits.iter().zip(&tally.limits) {
                if counts.units == 0 {
                    continue;
                }
                let limit = &row.limit;
                limits.push(LimitRecord {
                    multiple: limit.multiple,
                    after_multiple: limit.after_multiple,
                    text: crate::predict::limit_words(limit),
                    ambient_c: table.ambient_c,
                    at_least_s: finite(limit.at_least_s).filter(|t| *t > 0.0),
                    at_most_s: finite(limit.at_most_s),
                    sides: sides(counts.late, counts.early, counts.units, time)?,
                });
            }
        }
        let any = tally.any_limit;
        let any_limit = if any.units > 0 {
            Some(sides(any.late, any.early, any.units, time)?)
        } else {
            None
        };
        let (middle_a, tornado) = tornado(plan);
        let drawn = drawn_input(plan);
        let (drawn_scale, drawn_offset, drawn_unit) = handy(&plan.inputs.list[drawn]);
        let scatter = tally
            .scatter
            .iter()
            .map(|(unit, x, y)| {
                let x = f64::from_bits(*x) * drawn_scale - drawn_offset;
                (*unit, x, f64::from_bits(*y))
            })
            .collect();
        let mut warnings = plan.inputs.warnings.clone();
        if plan.examiner.is_none() {
            warnings.push(
                "this part, or its load, cannot be computed side by side with others: every unit was asked alone".into(),
            );
        }
        if tally.failed > 0 {
            warnings.push(format!(
                "{} of {} units have no answers; rates and bands are those of the others",
                tally.failed, tally.units
            ));
        }
        for quantity in &sensitivity {
            if quantity.left_out > 0 {
                warnings.push(format!(
                    "sensitivity of the {}: {} of {} rows hold a unit without a finite value and are left out",
                    quantity.of,
                    quantity.left_out,
                    quantity.left_out + quantity.rows
                ));
            }
        }
        let mut outcome = VaryOutcome {
            format: FORMAT,
            version: plan.settings.version.clone(),
            scenario: s.title.clone(),
            changed: s.changed.clone(),
            units: tally.units,
            seed: plan.settings.seed,
            design: plan.settings.design.to_string(),
            confidence: CONFIDENCE,
            rated_current_a: s.protector.rated_current_a,
            ambient_c: plan.stated_air_k - ZERO_CELSIUS_K,
            setting: s.population.setting.map(|set| {
                format!(
                    "clearance set so that it trips at {} A after {} s, at {:.0} °C, to {} % of the time",
                    set.current_a,
                    set.time_s,
                    set.ambient_k - ZERO_CELSIUS_K,
                    crate::quantity::format_number(100.0 * set.time_error)
                )
            }),
            inputs: inputs(plan),
            load: load(plan, tally, time)?,
            trip_point_a: spread(&tally.trip_point_a, plan.trip_point_a(nominal), 1.0, point)?,
            trip_time_s: spread(&tally.trip_time_s, nominal.times_s[0], 1.0, time)?,
            relatch_wait_s: spread(&tally.relatch_wait_s, nominal.waits_s[0], 1.0, wait)?,
            clearance_mm: spread(&tally.clearance_m, nominal.clearance_m, 1e3, point)?,
            bands,
            limits_source: plan.table.map(|t| t.source.to_owned()),
            limits,
            any_limit,
            tornado,
            tornado_middle_a: finite(middle_a),
            effective_units: super::rates::effective(tally.units, point.max(time)),
            sensitivity,
            scatter_of: plan.inputs.list[drawn].path.clone(),
            scatter,
            scatter_unit: drawn_unit.to_owned(),
            trip_point_bins: tally
                .trip_point_a
                .all
                .bins()
                .filter(|(e, _)| e.high.is_finite())
                .map(|(e, n)| (e.low, e.high, n))
                .collect(),
            asked_alone: tally.alone,
            failed: tally.failed,
            reasons: tally.reasons.clone().into_iter().collect(),
            failures: tally.failures.clone(),
            accuracy: AccuracyRecord {
                side_by_side: plan.examiner.is_some(),
                relative: if plan.examiner.is_some() {
                    crate::predict::BESIDE_ACCURACY
                } else {
                    crate::predict::ACCURACY
                },
                largest_trim: plan.examiner.as_ref().map_or(0.0, |e| e.largest_trim()),
            },
            warnings,
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

fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}

fn spread(m: &Measure, nominal: f64, scale: f64, effect: f64) -> Result<SpreadRecord, VaryError> {
    let scaled = |v: Option<f64>| v.map(|v| v * scale);
    let mut quantiles = Vec::new();
    if m.all.count() > 0 {
        for p in PROBABILITIES {
            let q = quantile(&m.all, p, effect)?;
            quantiles.push(Quantile {
                value: scaled(q.value),
                low: scaled(q.low),
                high: scaled(q.high),
                ..q
            });
        }
    }
    Ok(SpreadRecord {
        nominal: scaled(finite(nominal)),
        finite: m.finite.count(),
        mean: scaled(m.finite.mean()),
        deviation: scaled(m.finite.deviation()),
        least: scaled(m.finite.least()),
        greatest: scaled(m.finite.greatest()),
        quantiles,
    })
}

/// Effect of batches on the confidence of a quantity.
fn design_effect(plan: &Plan, sensitivity: Option<&SensitivityRecord>) -> f64 {
    let mut effect = 1.0;
    for (k, batch) in plan.inputs.batches.iter().enumerate() {
        let mut correlation = 0.0;
        for input in &plan.inputs.list {
            if let Some((at, share)) = input.shared
                && at == k
            {
                // Without indices the cautious answer is that all variance comes from this input.
                let index = sensitivity
                    .and_then(|s| s.indices.iter().find(|i| i.path == input.path))
                    .map_or(1.0, |i| i.first.clamp(0.0, 1.0));
                correlation += share * index;
            }
        }
        let size = batch.units.min(plan.settings.units) as f64;
        effect += (size - 1.0) * correlation.min(1.0);
    }
    effect
}

fn inputs(plan: &Plan) -> Vec<InputRecord> {
    let all = plan.inputs.list.iter();
    all.map(|i| {
        let dimension = i.place.map_or(Dimension::Fraction, |p| p.dimension());
        let is_temperature = dimension == Dimension::Temperature;
        let difference = if is_temperature {
            Dimension::TemperatureDifference
        } else {
            dimension
        };
        InputRecord {
            path: i.path.clone(),
            nominal: format_si(i.nominal, dimension),
            relative: (!is_temperature && i.nominal != 0.0).then(|| i.deviation / i.nominal.abs()),
            deviation: format_si(i.deviation, difference),
            shape: i.shape.to_owned(),
            batch: i
                .shared
                .and_then(|(k, _)| plan.inputs.batches.get(k))
                .map(|b| b.name.clone()),
            shared: i.shared.map(|(_, share)| share),
        }
    })
    .collect()
}

fn load(plan: &Plan, tally: &Tally, effect: f64) -> Result<LoadRecord, VaryError> {
    let demand = &plan.demand;
    let counts = tally.demand;
    let current_a = plan.scenario.load.rms_a();
    let judged = |hits: u64| {
        if counts.units == 0 {
            Ok(None)
        } else {
            rate(hits, counts.units, effect).map(Some)
        }
    };
    let seconds = crate::quantity::format_number;
    let mut words = Vec::new();
    match demand.trips_within_s {
        Some(t) if t.is_finite() => {
            words.push(format!("must have tripped within {} s", seconds(t)))
        }
        Some(_) => words.push("must trip".to_owned()),
        None => {}
    }
    match demand.holds_for_s {
        Some(t) if t.is_finite() => words.push(format!("must hold for {} s", seconds(t))),
        Some(_) => words.push("must be carried for ever".to_owned()),
        None => {}
    }
    let never: u64 = tally
        .trip_time_s
        .all
        .bins()
        .filter(|(e, _)| e.high.is_infinite())
        .map(|(_, n)| n)
        .sum();
    Ok(LoadRecord {
        current_a,
        multiple: current_a / plan.scenario.protector.rated_current_a,
        trips_within_s: demand.trips_within_s.and_then(finite),
        holds_for_s: demand.holds_for_s.and_then(finite),
        demand: format!("{} ({})", words.join(", "), demand.from),
        fails_to_protect: match demand.trips_within_s {
            Some(_) => judged(counts.late)?,
            None => None,
        },
        nuisance: match demand.holds_for_s {
            Some(_) => judged(counts.early)?,
            None => None,
        },
        never_trips: judged(never)?,
    })
}

fn sensitivity(plan: &Plan, tally: &Tally) -> Result<Vec<SensitivityRecord>, VaryError> {
    let Some(rows) = &tally.rows else {
        return Ok(Vec::new());
    };
    let names = ["trip point", "trip time", "wait to relatch"];
    let mut list = Vec::new();
    for (of, Rows { sums, left_out }) in names.iter().zip(rows) {
        let mut indices = Vec::new();
        // Without variance, or with too few rows, there is nothing to share out.
        if let Ok(all) = sums.indices(CONFIDENCE) {
            for (input, index) in plan.inputs.list.iter().zip(all) {
                let ends = |i: crate::statistics::Interval| (i.low, i.high);
                indices.push(IndexRecord {
                    path: input.path.clone(),
                    first: index.first,
                    first_interval: ends(index.first_interval),
                    total: index.total,
                    total_interval: ends(index.total_interval),
                });
            }
            indices.sort_by(|a, b| b.total.total_cmp(&a.total));
        }
        list.push(SensitivityRecord {
            of: (*of).to_owned(),
            rows: sums.rows(),
            left_out: *left_out,
            indices,
        });
    }
    Ok(list)
}

fn tornado(plan: &Plan) -> (f64, Vec<TornadoRecord>) {
    let (middle_a, mut all) = one_at_a_time(plan);
    let width = |ends: [f64; 2]| {
        let w = (ends[1] - ends[0]).abs();
        if w.is_nan() { 0.0 } else { w }
    };
    all.sort_by(|a, b| width(b.trip_points_a).total_cmp(&width(a.trip_points_a)));
    let bars = all
        .into_iter()
        .map(|one| {
            let input = &plan.inputs.list[one.input];
            let dimension = input.place.map_or(Dimension::Fraction, |p| p.dimension());
            TornadoRecord {
                path: input.path.clone(),
                ends: one.ends.map(|v| format_si(short(v), dimension)),
                trip_points_a: one.trip_points_a.map(finite),
                times_s: one.times_s.map(finite),
            }
        })
        .collect();
    (middle_a, bars)
}

/// Four digits, for words.
fn short(value: f64) -> f64 {
    format!("{value:.3e}").parse().unwrap_or(value)
}

/// Scale, offset and unit in which a person reads an input.
fn handy(input: &super::inputs::Input) -> (f64, f64, &'static str) {
    match input.place.map(|p| p.dimension()) {
        Some(Dimension::Length) => (1e3, 0.0, "mm"),
        Some(Dimension::Force) => (1.0, 0.0, "N"),
        Some(Dimension::Temperature) => (1.0, ZERO_CELSIUS_K, "°C"),
        Some(Dimension::Resistance) => (1e3, 0.0, "mohm"),
        Some(Dimension::Conductance) => (1e3, 0.0, "mW/K"),
        Some(Dimension::HeatCapacity) => (1.0, 0.0, "J/K"),
        Some(Dimension::Current) => (1.0, 0.0, "A"),
        _ => (1.0, 0.0, "SI"),
    }
}
