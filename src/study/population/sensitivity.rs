//! Which tolerance matters: Sobol indices by rows of paired units, and one input at a time.

use super::Plan;
use super::tally::Tally;
use super::unit::answer;
use crate::statistics::StatisticsError;
use crate::statistics::normal;

/// One input at the ends of its range, all others in their middle.
#[derive(Debug, Clone, PartialEq)]
pub struct OneAtATime {
    /// Number of the input.
    pub input: usize,
    /// Its values at the two ends.
    pub ends: [f64; 2],
    /// Trip point at the two ends, A.
    pub trip_points_a: [f64; 2],
    /// Trip time under the load at the two ends, s.
    pub times_s: [f64; 2],
}

/// Probability below the lower end of a range drawn.
pub const LOWER_END: f64 = 0.05;

/// One row: the units A, B, and A with each input in turn from B. In a unit by itself what is
/// shared in a batch and what is its own are one number, and inputs do not share batches with each
/// other: they are independent.
///
/// # Errors
/// A value that no sum takes.
pub fn row(plan: &Plan, number: u64, tally: &mut Tally) -> Result<(), StatisticsError> {
    let (Some(points), Some(rows)) = (&plan.rows, &mut tally.rows) else {
        return Ok(());
    };
    let d = plan.inputs.len();
    let at = |dimension: usize| {
        let input = &plan.inputs.list[dimension % d];
        input.at(normal::quantile(points.coordinate(number, dimension)))
    };
    let a: Vec<f64> = (0..d).map(at).collect();
    let b: Vec<f64> = (d..2 * d).map(at).collect();
    let mut values = a.clone();
    values.extend_from_slice(&b);
    for input in 0..d {
        values.extend_from_slice(&a);
        values[(2 + input) * d + input] = b[input];
    }
    let answers = answer(plan, &values);
    let mut outputs = [const { Vec::new() }; 3];
    for answered in &answers {
        match &answered.finding {
            Ok(f) => {
                outputs[0].push(plan.trip_point_a(f));
                outputs[1].push(f.times_s[0]);
                outputs[2].push(f.waits_s[0]);
            }
            Err(_) => outputs.iter_mut().for_each(|o| o.push(f64::NAN)),
        }
    }
    for (rows, outputs) in rows.iter_mut().zip(&outputs) {
        if outputs.len() == d + 2 && outputs.iter().all(|v| v.is_finite()) {
            rows.sums.add(outputs[0], outputs[1], &outputs[2..])?;
        } else {
            rows.left_out += 1;
        }
    }
    Ok(())
}

/// Every input by itself from its 5 % to its 95 % point, and the trip point with all in their
/// middle, A.
pub fn one_at_a_time(plan: &Plan) -> (f64, Vec<OneAtATime>) {
    let d = plan.inputs.len();
    let z = -normal::quantile(LOWER_END);
    let middle: Vec<f64> = plan.inputs.list.iter().map(|i| i.at(0.0)).collect();
    let mut values = middle.clone();
    for (k, input) in plan.inputs.list.iter().enumerate() {
        for score in [-z, z] {
            let first = values.len();
            values.extend_from_slice(&middle);
            values[first + k] = input.at(score);
        }
    }
    let answers = answer(plan, &values);
    let number = |k: usize, of: &dyn Fn(&crate::predict::Finding) -> f64| {
        answers
            .get(k)
            .and_then(|a| a.finding.as_ref().ok())
            .map_or(f64::NAN, of)
    };
    let all = (0..d)
        .map(|input| {
            let low = 2 * input + 1;
            let both = |of: &dyn Fn(&crate::predict::Finding) -> f64| {
                [number(low, of), number(low + 1, of)]
            };
            OneAtATime {
                input,
                ends: [values[low * d + input], values[(low + 1) * d + input]],
                trip_points_a: both(&|f| plan.trip_point_a(f)),
                times_s: both(&|f| f.times_s[0]),
            }
        })
        .collect();
    (number(0, &|f| plan.trip_point_a(f)), all)
}
