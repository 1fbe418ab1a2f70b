//! How widely units scatter, and how many keep to what is asked of them.

use super::finite;
use super::records::{BandRecord, InputRecord, LimitRecord, LoadRecord, SidesRecord, SpreadRecord};
use crate::quantity::Dimension;
use crate::statistics::histogram::Histogram;
use crate::statistics::rates::{Quantile, quantile, rate};
use crate::study::population::tally::{Measure, Sides, Tally};
use crate::study::population::{Plan, VaryError};

const PROBABILITIES: [f64; 3] = [0.05, 0.5, 0.95];

/// The 5, 50 and 95 % points; none of no values.
fn quantiles(of: &Histogram, effect: f64) -> Result<Vec<Quantile>, VaryError> {
    let all = PROBABILITIES.iter().filter(|_| of.count() > 0);
    all.map(|p| Ok(quantile(of, *p, effect)?)).collect()
}

/// Units that never come to it.
fn endless(of: &Histogram) -> u64 {
    let bins = of.bins().filter(|(e, _)| e.high.is_infinite());
    bins.map(|(_, units)| units).sum()
}

/// How a quantity is spread; its numbers times `scale`.
pub(super) fn spread(
    m: &Measure,
    nominal: f64,
    scale: f64,
    effect: f64,
) -> Result<SpreadRecord, VaryError> {
    let scaled = |v: Option<f64>| v.map(|v| v * scale);
    let quantiles = quantiles(&m.all, effect)?.into_iter().map(|q| Quantile {
        value: scaled(q.value),
        low: scaled(q.low),
        high: scaled(q.high),
        ..q
    });
    Ok(SpreadRecord {
        nominal: scaled(finite(nominal)),
        nominal_never: nominal == f64::INFINITY,
        finite: m.finite.count(),
        never: endless(&m.all),
        mean: scaled(m.finite.mean()),
        deviation: scaled(m.finite.deviation()),
        least: scaled(m.finite.least()),
        greatest: scaled(m.finite.greatest()),
        quantiles: quantiles.collect(),
    })
}

/// The characteristic from cold, current by current.
pub(super) fn bands(plan: &Plan, tally: &Tally, effect: f64) -> Result<Vec<BandRecord>, VaryError> {
    let all = plan.bands.iter().zip(&tally.bands_s);
    all.map(|((carry, current_a), times_s)| {
        Ok(BandRecord {
            current_a: *current_a,
            multiple: current_a / plan.scenario.protector.rated_current_a,
            quantiles: quantiles(times_s, effect)?,
            nominal_s: finite(plan.nominal.times_s[*carry]),
            never: endless(times_s),
        })
    })
    .collect()
}

/// Rates on both sides of a demand; `None` where no unit was judged.
pub(super) fn sides(counts: &Sides, effect: f64) -> Result<Option<SidesRecord>, VaryError> {
    let of = |hits: u64| rate(hits, counts.units, effect);
    Ok(match counts.units {
        0 => None,
        _ => Some(SidesRecord {
            late: of(counts.late)?,
            early: of(counts.early)?,
        }),
    })
}

/// Rates outside each published limit.
pub(super) fn limits(
    plan: &Plan,
    tally: &Tally,
    effect: f64,
) -> Result<Vec<LimitRecord>, VaryError> {
    let mut limits = Vec::new();
    let Some(table) = plan.table else {
        return Ok(limits);
    };
    for (row, counts) in plan.limits.iter().zip(&tally.limits) {
        limits.extend(sides(counts, effect)?.map(|sides| LimitRecord {
            demand: row.limit.demand(),
            ambient_c: table.air_c(&row.limit),
            missed_by_nominal: row.missed,
            sides,
        }));
    }
    Ok(limits)
}

/// What differs from unit to unit.
pub(super) fn inputs(plan: &Plan) -> Vec<InputRecord> {
    let all = plan.inputs.list.iter();
    all.map(|i| {
        let dimension = i.dimension();
        let has_relative = dimension != Dimension::Temperature && i.nominal != 0.0;
        let batch = |k: usize| plan.inputs.batches.get(k).map(|b| b.name.clone());
        InputRecord {
            path: i.path.clone(),
            nominal: i.nominal,
            relative: has_relative.then(|| i.deviation / i.nominal.abs()),
            deviation: i.deviation,
            dimension,
            shape: i.shape,
            batch: i.shared.and_then(|(k, _)| batch(k)),
            shared: i.shared.map(|(_, share)| share),
        }
    })
    .collect()
}

/// What the load demands, and how many units keep to it.
pub(super) fn load(plan: &Plan, tally: &Tally, effect: f64) -> Result<LoadRecord, VaryError> {
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
    let is_endless = |t: Option<f64>| t == Some(f64::INFINITY);
    Ok(LoadRecord {
        current_a,
        multiple: current_a / plan.scenario.protector.rated_current_a,
        must_trip: is_endless(demand.trips_within_s),
        must_hold: is_endless(demand.holds_for_s),
        trips_within_s: demand.trips_within_s.and_then(finite),
        holds_for_s: demand.holds_for_s.and_then(finite),
        demand: demand.from,
        fails_to_protect: match demand.trips_within_s {
            Some(_) => judged(counts.late)?,
            None => None,
        },
        nuisance: match demand.holds_for_s {
            Some(_) => judged(counts.early)?,
            None => None,
        },
        never_trips: judged(endless(&tally.trip_time_s.all))?,
    })
}
