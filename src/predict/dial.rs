//! A dial: the travel that belongs to a mark, and what the part does along the scale.
//!
//! The distance from release is the travel taken from something that does not depend on it, so a
//! travel needs one steady state and no search: at the current that is to be the trip point, what
//! is missing of the release is what the cam has to take away.

use super::curve::check_all;
use super::fidelity::Ladder;
use super::main_run::case_of;
use super::outcome::{Dial, DialMark};
use super::records::{held, relatch_wait, trip_time};
use super::run::run;
use super::trip_point::{closed_steady, trip_point};
use super::warnings::check_ranges;
use super::{PredictError, parallel};
use crate::answer::TripTime;
use crate::device::Device;
use crate::load::Programme;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::{Before, Scenario};
use std::borrow::Cow;

/// Marks that are computed.
const MARKS: usize = 5;
/// Multiple of the mark at which each is timed: that of the motor classes (IEC 60947-4-1).
const TIMED_AT: f64 = 7.2;

/// The scenario with its dial turned to the rated current; itself where it has none.
///
/// # Errors
/// No travel belongs to that mark.
pub fn turned(scenario: &Scenario) -> Result<Cow<'_, Scenario>, PredictError> {
    let Some(dial) = &scenario.dial else {
        return Ok(Cow::Borrowed(scenario));
    };
    let as_new = Scenario {
        release: scenario.release.as_new(),
        ..scenario.clone()
    };
    let mut device = Device::new(&as_new)?;
    if let Some(poles) = &device.poles {
        device = device.with_pole_currents(&vec![1.0; poles.each.len()]);
    }
    let mark_a = scenario.protector.rated_current_a;
    let current_a = dial.trips_at * mark_a;
    let air_k = scenario.protector.reference_ambient_k;
    let ladder = Ladder::new(&device, f64::INFINITY, scenario.ask.accuracy);
    let model = device.on(ladder.rung(1).fineness);
    let steady = closed_steady(&model, current_a, air_k, &model.uniform(air_k))?;
    let beyond_m = steady.as_ref().map(|y| {
        let squared = (device.current_share * current_a).powi(2);
        model.release_excess_m(y, squared)
    });
    let mut turned = scenario.clone();
    let travel_m = turned.release.mechanism.latch_mut().zip(beyond_m);
    let travel_m = travel_m.map(|(latch, beyond_m)| {
        latch.widen(beyond_m);
        latch.release_travel_m
    });
    let allowed = scenario.strip.allow_extrapolation;
    let too_hot = |k: &f64| check_ranges(&device, allowed, (air_k, *k), &mut Vec::new()).is_err();
    let too_hot_k = steady.map(|y| model.peak_k(&y)).filter(too_hot);
    match travel_m {
        Some(travel_m) if travel_m > 0.0 && too_hot_k.is_none() => Ok(Cow::Owned(turned)),
        _ => Err(PredictError::NoTravel {
            mark_a,
            travel_m,
            too_hot_c: too_hot_k.map(|k| k - ZERO_CELSIUS_K),
        }),
    }
}

/// What the part does along its scale; `None`: it has no dial.
pub(super) fn dial_record(scenario: &Scenario) -> Result<Option<Dial>, PredictError> {
    let Some(dial) = &scenario.dial else {
        return Ok(None);
    };
    let marks = (0..MARKS).map(|k| {
        let part = k as f64 / (MARKS - 1) as f64;
        dial.lowest_a + part * (dial.highest_a - dial.lowest_a)
    });
    let marks: Vec<(f64, bool)> = marks
        .enumerate()
        .map(|(k, mark_a)| (mark_a, k == 0 || k == MARKS - 1))
        .collect();
    let marks = parallel::map(&marks, |at| mark(scenario, *at), &mut |_| {});
    let winding_k = scenario.winding.and_then(|w| w.limit_k);
    Ok(Some(Dial {
        set_a: scenario.protector.rated_current_a,
        trips_at: dial.trips_at,
        timed_at: TIMED_AT,
        winding_limit_c: winding_k.map(|k| k - ZERO_CELSIUS_K),
        marks: marks.into_iter().collect::<Result<_, _>>()?,
    }))
}

fn mark(scenario: &Scenario, (mark_a, is_end): (f64, bool)) -> Result<DialMark, PredictError> {
    let mut set = scenario.clone();
    set.protector.rated_current_a = mark_a;
    set.release = set.release.as_new();
    let set = turned(&set)?;
    let device = Device::new(&set)?;
    let air_k = set.protector.reference_ambient_k;
    let case = case_of(&set).at_ambient(air_k).from(Before::Cold);
    let point = trip_point(&device, air_k, mark_a, case.accuracy)?;
    let load = Programme::constant(TIMED_AT * mark_a);
    let main = run(&device, &case, &load, true)?;
    let model = device.on(main.fidelity.fineness);
    let held_a = point.value.current_a().unwrap_or(mark_a);
    let steady = closed_steady(&model, held_a, air_k, &model.uniform(air_k))?;
    let opened = main.value.open_state.as_ref().unwrap_or(&main.value.state);
    let hottest = |of: &dyn Fn(&[f64]) -> f64| {
        let held_k = steady.as_deref().map_or(f64::NEG_INFINITY, of);
        of(opened).max(held_k) - ZERO_CELSIUS_K
    };
    let allowed = set.strip.allow_extrapolation;
    let strip_c = hottest(&|y| model.peak_k(y));
    let range_k = (air_k, strip_c + ZERO_CELSIUS_K);
    let in_range = check_ranges(&device, allowed, range_k, &mut Vec::new());
    Ok(DialMark {
        mark_a,
        travel_mm: set
            .release
            .mechanism
            .latch()
            .map_or(f64::NAN, |l| 1e3 * l.release_travel_m),
        trip_point: held(&point.value, point.error_relative),
        trip_time: match in_range {
            Ok(()) => trip_time(&main, &load, &case),
            Err(error) => TripTime::Failed {
                why: error.in_a_row()?,
            },
        },
        relatch_wait: relatch_wait(&main.value),
        strip_c,
        winding_c: (model.layout.winding).map(|i| hottest(&|y| y[i])),
        limits: match is_end {
            true => check_all(&device, &case, set.limits())?,
            false => Vec::new(),
        },
    })
}
