//! Which input matters, and how far batches make units alike.

use super::finite;
use super::records::{IndexRecord, SensitivityRecord, TornadoRecord};
use super::remark::Quantity;
use crate::statistics::rates::CONFIDENCE;
use crate::study::population::Plan;
use crate::study::population::sensitivity::one_at_a_time;
use crate::study::population::tally::{Rows, Tally};

/// Effect of batches on the confidence of a quantity.
pub(super) fn design_effect(plan: &Plan, sensitivity: Option<&SensitivityRecord>) -> f64 {
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

/// Sobol indices of each quantity.
pub(super) fn sensitivity(plan: &Plan, tally: &Tally) -> Vec<SensitivityRecord> {
    let Some(rows) = &tally.rows else {
        return Vec::new();
    };
    let mut list = Vec::new();
    for (of, Rows { sums, left_out }) in Quantity::ALL.into_iter().zip(rows) {
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
            of,
            rows: sums.rows(),
            left_out: *left_out,
            indices,
        });
    }
    list
}

/// One input at a time, and the trip point with all in their middle, A.
pub(super) fn tornado(plan: &Plan) -> (f64, Vec<TornadoRecord>) {
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
            TornadoRecord {
                path: input.path.clone(),
                ends: one.ends,
                dimension: input.dimension(),
                trip_points_a: one.trip_points_a.map(finite),
                times_s: one.times_s.map(finite),
            }
        })
        .collect();
    (middle_a, bars)
}
