//! The time-current characteristic, cold and hot, and published limits.

use super::case::Case;
use super::outcome::{Characteristic, CurvePoint, LimitCheck};
use super::run::run;
use super::session::Carried;
use super::trip_point::trip_point;
use super::{PredictError, Progress, parallel};
use crate::device::Device;
use crate::load::Programme;
use crate::scenario::Before;
use crate::standards::{Limit, PublishedLimits};

/// Currents of a characteristic, from just above the trip point to a multiple of the rating: spaced
/// evenly in the logarithm of the excess over the trip point, so that the bend near it is drawn as well
/// as the straight part.
pub fn currents(trip_point_a: f64, rated_a: f64, largest_multiple: f64, count: usize) -> Vec<f64> {
    let least = 0.005;
    let most = (largest_multiple * rated_a / trip_point_a - 1.0).max(0.5);
    (0..count)
        .map(|k| {
            let part = k as f64 / (count as f64 - 1.0);
            trip_point_a * (1.0 + least * (most / least).powf(part))
        })
        .collect()
}

/// One point.
pub fn point(device: &Device, case: &Case, current_a: f64) -> Result<CurvePoint, PredictError> {
    let answer = run(device, case, &Programme::constant(current_a), false)?;
    Ok(CurvePoint {
        current_a,
        multiple: current_a / case.rated_current_a,
        time_s: answer.value.trip_time_s,
        error_relative: answer.error_relative,
    })
}

/// The whole characteristic at the case's ambient at time zero.
pub fn characteristic(
    device: &Device,
    case: &Case,
    chosen: Option<&[f64]>,
    hot_fraction: f64,
    limits: Option<&PublishedLimits>,
    progress: &mut Progress<'_>,
) -> Result<Characteristic, PredictError> {
    let case = case.at_ambient(case.ambient_k());
    let trip = trip_point(
        device,
        case.ambient_k(),
        case.rated_current_a,
        case.accuracy,
    )?
    .value
    .current_a();
    let largest = if limits.is_some() { 12.0 } else { 10.0 };
    let list = match (chosen, trip) {
        (Some(list), _) => list.to_vec(),
        (None, Some(a)) => currents(a, case.rated_current_a, largest, 25),
        (None, None) => Vec::new(),
    };
    let total = 2.0 * list.len() as f64;
    let cold_case = case.from(Before::Cold);
    let cold = parallel::map(&list, |i| point(device, &cold_case, *i), &mut |n| {
        progress("characteristic, cold", n as f64 / total);
    });
    let cold = cold.into_iter().collect::<Result<Vec<_>, _>>()?;
    let hot_case = case.from(Before::Hot {
        fraction_of_rated: hot_fraction,
    });
    let hot = parallel::map(&list, |i| point(device, &hot_case, *i), &mut |n| {
        progress("characteristic, hot", (list.len() + n) as f64 / total);
    });
    // A hot state beyond release is beyond it at every current.
    let (hot, hot_reason) = match hot.into_iter().collect::<Result<Vec<_>, _>>() {
        Ok(hot) => (hot, None),
        Err(PredictError::HotBeyondRelease { .. }) => {
            let reason = format!(
                "at {:.0} % of rated it has already tripped",
                100.0 * hot_fraction
            );
            (Vec::new(), Some(reason))
        }
        Err(e) => return Err(e),
    };
    let checks = match limits {
        None => Vec::new(),
        Some(table) => check_limits(device, &case, table)?,
    };
    Ok(Characteristic {
        ambient_c: case.ambient_k() - 273.15,
        hot_fraction,
        cold,
        hot,
        hot_reason,
        trip_point_a: trip,
        limits: checks,
    })
}

/// Hold a device against published limits, at their own ambient.
pub fn check_limits(
    device: &Device,
    case: &Case,
    table: &PublishedLimits,
) -> Result<Vec<LimitCheck>, PredictError> {
    table
        .rows
        .iter()
        .map(|row| check_limit(device, case, table, row))
        .collect()
}

fn check_limit(
    device: &Device,
    case: &Case,
    table: &PublishedLimits,
    row: &Limit,
) -> Result<LimitCheck, PredictError> {
    let before = if row.after_multiple > 0.0 {
        Before::Hot {
            fraction_of_rated: row.after_multiple,
        }
    } else {
        Before::Cold
    };
    let test = Case {
        longest_s: 1e9,
        ..case.at_ambient(table.ambient_c + 273.15).from(before)
    };
    let answer = run(
        device,
        &test,
        &Programme::constant(row.multiple * case.rated_current_a),
        false,
    );
    let (time_s, holds, beyond) = match answer {
        Ok(a) => (
            a.value.trip_time_s,
            a.value.carried == Carried::HeldForEver,
            false,
        ),
        Err(PredictError::HotBeyondRelease { .. }) => (Some(0.0), false, true),
        Err(e) => return Err(e),
    };
    let late_enough = match time_s {
        Some(t) => t >= row.at_least_s && !beyond,
        None => holds,
    };
    let early_enough = match time_s {
        Some(t) => t <= row.at_most_s,
        None => row.at_most_s.is_infinite(),
    };
    Ok(LimitCheck {
        source: table.source.into(),
        multiple: row.multiple,
        ambient_c: table.ambient_c,
        at_least_s: (row.at_least_s.is_finite() && row.at_least_s > 0.0).then_some(row.at_least_s),
        at_most_s: row.at_most_s.is_finite().then_some(row.at_most_s),
        time_s,
        met: late_enough && early_enough,
        text: limit_words(row),
    })
}

/// A published limit in words.
pub fn limit_words(row: &Limit) -> String {
    let after = if row.after_multiple > 0.0 {
        format!(", warm from {} times rated", row.after_multiple)
    } else {
        String::new()
    };
    let m = row.multiple;
    match (row.at_least_s, row.at_most_s) {
        (l, _) if l.is_infinite() => format!("{m} times rated is carried{after}"),
        (l, u) if u.is_infinite() => {
            format!("{m} times rated does not trip within {l:.0} s{after}")
        }
        (0.0, u) => format!("{m} times rated trips within {u:.0} s{after}"),
        (l, u) => format!("{m} times rated trips in {l} s to {u} s{after}"),
    }
}
