//! The main run: the load carried on the grid that it asks for.

use super::ambient::with_corners;
use super::case::Case;
use super::dial::turned;
use super::fidelity::Converged;
use super::records::{relatch_wait, trip_time};
use super::run::{RunAnswer, run};
use super::trip_point::trip_point;
use super::warnings::{THROUGH_MATTERS, through_part};
use super::{Halt, PredictError};
use crate::answer::{TripTime, Wait};
use crate::device::Device;
use crate::load::Programme;
use crate::scenario::{MachineCase, Scenario, ThroughThickness};

/// Share of the curvature that heat across the layers makes at release, from which on it is
/// followed where it matters in the main run: a half of what matters there.
const ACROSS_COUNTS: f64 = 0.5 * THROUGH_MATTERS;

/// What stays the same through all predictions of a scenario.
pub(crate) fn case_of(scenario: &Scenario) -> Case {
    let corners = match &scenario.machine_case {
        Some(MachineCase::Given(points)) => points.as_slice(),
        _ => &[],
    };
    Case {
        ambient: with_corners(scenario.surroundings.ambient.clone(), corners),
        before: scenario.before,
        rated_current_a: scenario.protector.rated_current_a,
        accuracy: scenario.ask.accuracy,
        longest_s: scenario.ask.longest_s,
        halt: Halt::default(),
    }
}

/// The main run, on the device with heat across the layers resolved where that matters.
///
/// # Errors
/// As [`predict`](super::predict).
pub fn main_run(
    scenario: &Scenario,
    case: &Case,
) -> Result<(Device, Converged<RunAnswer>), PredictError> {
    let set = turned(scenario)?;
    let device = Device::new(&set)?;
    let main =
        run(&device, case, &scenario.load, true).map_err(|e| with_trip_point(e, &device, case))?;
    if scenario.strip.through_thickness != ThroughThickness::Auto {
        return Ok((device, main));
    }
    let model = device.on(main.fidelity.fineness);
    let squared = strip_current_squared(&device, scenario, &main.value);
    let (part, _) = through_part(&model, &main.value.state, squared);
    if part.abs() < THROUGH_MATTERS || device.poles.is_some() || device.disc().is_some() {
        return Ok((device, main));
    }
    let resolved = device.resolved(squared * ACROSS_COUNTS / part.abs());
    let main = run(&resolved, case, &scenario.load, true)?;
    Ok((resolved, main))
}

/// When a constant current in place of the load trips it, and how long it must cool then.
///
/// # Errors
/// As [`predict`](super::predict).
pub(crate) fn under(scenario: &Scenario, current_a: f64) -> Result<(TripTime, Wait), PredictError> {
    let scenario = Scenario {
        load: Programme::constant(current_a),
        ..scenario.clone()
    };
    let case = case_of(&scenario);
    let (_, main) = main_run(&scenario, &case)?;
    let time = trip_time(&main, &scenario.load, &case);
    Ok((time, relatch_wait(&main.value)))
}

/// A start beyond release is explained better with the trip point beside it.
fn with_trip_point(error: PredictError, device: &Device, case: &Case) -> PredictError {
    match error {
        PredictError::HotBeyondRelease { current_a, .. } => {
            let point = trip_point(device, case.ambient_k(), case.rated_current_a, 1e-4);
            let trip_point_a = point.ok().and_then(|p| p.value.current_a());
            PredictError::HotBeyondRelease {
                current_a,
                trip_point_a,
            }
        }
        other => other,
    }
}

/// Square of the current in the strip at the end of carrying, A^2.
pub(super) fn strip_current_squared(device: &Device, scenario: &Scenario, main: &RunAnswer) -> f64 {
    // Just before the end: at a corner of the programme the earlier piece is the one that released.
    let t = main.end_s * (1.0 - 1e-12);
    (device.current_share * scenario.load.piece_after(t).at(t).0).powi(2)
}
