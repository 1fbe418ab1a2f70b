//! One chunk: its units, and its share of the rows of the sensitivity analysis.

use super::Plan;
use super::sensitivity::row;
use super::table;
use super::tally::Tally;
use super::unit::answer;
use crate::statistics::StatisticsError;

/// Units computed at a time.
const BLOCK: u64 = 256;

/// Compute a chunk: its tally, and its lines of the table of units where there is one.
///
/// # Errors
/// A value that no summary takes.
pub fn compute(plan: &Plan, chunk: u64) -> Result<(Tally, String), StatisticsError> {
    let mut tally = Tally::new(plan)?;
    let mut lines = String::new();
    let units = plan.settings.units_of(chunk);
    let (mut values, mut one) = (Vec::new(), Vec::new());
    let mut start = units.start;
    while start < units.end {
        let end = (start + BLOCK).min(units.end);
        values.clear();
        for unit in start..end {
            values_of(plan, unit, &mut one);
            values.extend_from_slice(&one);
        }
        for (k, answered) in answer(plan, &values).iter().enumerate() {
            let unit = start + k as u64;
            let own = &values[k * plan.inputs.len()..(k + 1) * plan.inputs.len()];
            tally.add(plan, unit, own, answered)?;
            if plan.settings.table {
                table::row(plan, unit, own, answered, &mut lines);
            }
        }
        start = end;
    }
    for number in plan.settings.rows_of(chunk) {
        row(plan, number, &mut tally)?;
    }
    Ok((tally, lines))
}

/// Values of a unit by its number.
pub fn values_of(plan: &Plan, unit: u64, out: &mut Vec<f64>) {
    plan.inputs.values(
        plan.settings.seed,
        unit,
        |dimension| plan.points.coordinate(unit, dimension),
        out,
    );
}
