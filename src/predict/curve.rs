//! The time-current characteristic, cold and hot, and published limits.

use super::case::Case;
use super::fidelity::Converged;
use super::outcome::{Characteristic, CurvePoint, LimitCheck};
use super::poles::unequal_time;
use super::records::{held, trip_time};
use super::run::{RunAnswer, run};
use super::session::{Carried, Session, Unwatched};
use super::trip_point::{closed_steady, trip_point};
use super::warnings::check_ranges;
use super::{PredictError, Progress, parallel};
use crate::answer::{Held, TripTime};
use crate::device::Device;
use crate::load::Programme;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::Before;
use crate::standards::{Limit, PublishedLimits};

/// Currents of a characteristic, from just above the trip point to a multiple of the rating: spaced
/// evenly in the logarithm of the excess over the trip point, so that the bend near it is drawn as
/// well as the straight part.
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

/// Multiples of the rating at which sheets and standards state trip times; a characteristic has
/// these among its currents. Common practice, no source.
pub const TYPICAL_MULTIPLES: [f64; 9] = [1.05, 1.13, 1.35, 1.45, 2.0, 3.0, 4.0, 6.0, 10.0];

/// The currents of a characteristic that nobody chose.
fn usual_currents(trip_point_a: f64, rated_a: f64, largest_multiple: f64) -> Vec<f64> {
    let mut list = currents(trip_point_a, rated_a, largest_multiple, 25);
    list.extend(TYPICAL_MULTIPLES.map(|m| m * rated_a));
    list.sort_by(f64::total_cmp);
    list
}

/// A few points of the curve, for a drawing that follows a hand.
#[derive(Debug, Clone, Copy)]
pub struct Sketch {
    /// Number of points (at least 2).
    pub points: usize,
    /// Relative accuracy of each.
    pub accuracy: f64,
    /// Largest current, as a multiple of the rating.
    pub largest_multiple: f64,
    /// With the hot curve after this fraction of the rating and the published limits, which take
    /// longer.
    pub hot_fraction: Option<f64>,
}

/// The curve in a few points, beginning close above the trip point.
pub fn sketch(
    device: &Device,
    case: &Case,
    trip_point: Held,
    asked: &Sketch,
    limits: Option<&PublishedLimits>,
    allow_extrapolation: bool,
) -> Result<Characteristic, PredictError> {
    let case = Case {
        accuracy: asked.accuracy,
        ..case.at_ambient(case.ambient_k()).from(Before::Cold)
    };
    let list = trip_point.current_a().map_or_else(Vec::new, |a| {
        currents(
            a,
            case.rated_current_a,
            asked.largest_multiple,
            asked.points.max(2),
        )
    });
    let cold = points(device, &case, &list, allow_extrapolation, &mut |_| {})?;
    let (mut hot, mut checks) = (Vec::new(), Vec::new());
    if let Some(fraction_of_rated) = asked.hot_fraction {
        let case = case.from(Before::Hot { fraction_of_rated });
        hot = points(device, &case, &list, allow_extrapolation, &mut |_| {})?;
        checks = check_all(device, &case, limits)?;
    }
    Ok(Characteristic {
        ambient_c: case.ambient_k() - ZERO_CELSIUS_K,
        hot_fraction: asked.hot_fraction.unwrap_or(0.0),
        cold,
        hot,
        trip_point,
        limits: checks,
    })
}

/// The points of one curve.
pub(super) fn points(
    device: &Device,
    case: &Case,
    list: &[f64],
    allow_extrapolation: bool,
    done: &mut (dyn FnMut(usize) + Send),
) -> Result<Vec<CurvePoint>, PredictError> {
    let one = |i: &f64| point(device, case, *i, allow_extrapolation);
    parallel::map(list, one, done).into_iter().collect()
}

/// An answer, where the metals' data reach over all it went through, or may be extrapolated.
pub(super) fn within_data(
    device: &Device,
    case: &Case,
    load: &Programme,
    answer: Converged<RunAnswer>,
    allow_extrapolation: bool,
) -> Result<Converged<RunAnswer>, PredictError> {
    let range_k = range_to_open_contacts(device, case, load, &answer)?;
    check_ranges(device, allow_extrapolation, range_k, &mut Vec::new())?;
    Ok(answer)
}

/// One point: what a run under this current would say.
pub(super) fn point(
    device: &Device,
    case: &Case,
    current_a: f64,
    allow_extrapolation: bool,
) -> Result<CurvePoint, PredictError> {
    let load = Programme::constant(current_a);
    let answer = run(device, case, &load, false)
        .and_then(|answer| within_data(device, case, &load, answer, allow_extrapolation));
    let time = match answer {
        Ok(answer) => trip_time(&answer, &load, case),
        Err(PredictError::HotBeyondRelease { .. }) => TripTime::AlreadyOpen,
        Err(error) => TripTime::Failed {
            why: error.in_a_row()?,
        },
    };
    Ok(CurvePoint {
        current_a,
        multiple: current_a / case.rated_current_a,
        time,
    })
}

/// Lowest and highest strip temperature of a run up to open contacts, K; of one that is proved to
/// hold, up to the steady state.
fn range_to_open_contacts(
    device: &Device,
    case: &Case,
    load: &Programme,
    answer: &Converged<RunAnswer>,
) -> Result<(f64, f64), PredictError> {
    let model = device.on(answer.fidelity.fineness);
    let start = case.start(&model, answer.fidelity.tolerance)?;
    let mut seen = vec![start.y, answer.value.state.clone()];
    match answer.value.carried {
        Carried::Released => {
            let state = answer.value.state.clone();
            let mut session = Session::new(&model, &case.ambient, answer.fidelity.tolerance, state);
            session.t = answer.value.end_s;
            let opening_s = device.release.opening_time_s;
            session.open(load, 0.0, opening_s, &mut Unwatched)?;
            seen.push(session.y);
        }
        Carried::HeldForEver => {
            let (ambient_k, current_a) = (case.ambient_k(), load.last_a());
            seen.extend(closed_steady(&model, current_a, ambient_k, &seen[1])?);
        }
        Carried::StillHolding => {}
    }
    let ranges = seen.iter().map(|y| model.strip_range_k(y));
    let whole = ranges.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)));
    Ok(whole.unwrap_or((f64::INFINITY, f64::NEG_INFINITY)))
}

/// The whole characteristic at the case's ambient at time zero.
pub fn characteristic(
    device: &Device,
    case: &Case,
    chosen: Option<&[f64]>,
    hot_fraction: f64,
    limits: Option<&PublishedLimits>,
    allow_extrapolation: bool,
    progress: &mut Progress<'_>,
) -> Result<Characteristic, PredictError> {
    let case = case.at_ambient(case.ambient_k());
    let trip = trip_point(
        device,
        case.ambient_k(),
        case.rated_current_a,
        case.accuracy,
    )?;
    let trip = held(&trip.value, trip.error_relative);
    let largest = if limits.is_some() { 12.0 } else { 10.0 };
    let list = match (chosen, trip.current_a()) {
        (Some(list), _) => list.to_vec(),
        (None, Some(a)) => usual_currents(a, case.rated_current_a, largest),
        (None, None) => Vec::new(),
    };
    let total = 2.0 * list.len() as f64;
    let cold_case = case.from(Before::Cold);
    let cold = points(device, &cold_case, &list, allow_extrapolation, &mut |n| {
        progress("characteristic, cold", n as f64 / total);
    })?;
    let hot_case = case.from(Before::Hot {
        fraction_of_rated: hot_fraction,
    });
    let hot = points(device, &hot_case, &list, allow_extrapolation, &mut |n| {
        progress("characteristic, hot", (list.len() + n) as f64 / total);
    })?;
    let checks = check_all(device, &case, limits)?;
    Ok(Characteristic {
        ambient_c: case.ambient_k() - ZERO_CELSIUS_K,
        hot_fraction,
        cold,
        hot,
        trip_point: trip,
        limits: checks,
    })
}

/// Every row of published limits that is for a part like it.
pub fn check_all(
    device: &Device,
    case: &Case,
    limits: Option<&PublishedLimits>,
) -> Result<Vec<LimitCheck>, PredictError> {
    let Some(table) = limits else {
        return Ok(Vec::new());
    };
    let (poles, notices) = device.bar();
    check_rows(device, case, table, &table.rows_for(poles, notices))
}

/// Hold a device against rows of published limits, each in its own air.
pub fn check_rows(
    device: &Device,
    case: &Case,
    table: &PublishedLimits,
    rows: &[Limit],
) -> Result<Vec<LimitCheck>, PredictError> {
    rows.iter()
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
        ..case
            .at_ambient(table.air_c(row) + ZERO_CELSIUS_K)
            .from(before)
    };
    let load = Programme::constant(row.multiple * case.rated_current_a);
    let time = match &row.unequal {
        Some(unequal) => unequal_time(device, &test, row, unequal)?,
        None => match run(device, &test, &load, false) {
            Ok(answer) => trip_time(&answer, &load, &test),
            Err(PredictError::HotBeyondRelease { .. }) => TripTime::AlreadyOpen,
            Err(e) => return Err(e),
        },
    };
    let met = row.is_met(&time);
    Ok(LimitCheck {
        source: table.source.into(),
        demand: row.demand(),
        ambient_c: table.air_c(row),
        time,
        met,
    })
}
