//! Parts of the outcome made from the main run.

use super::PredictError;
use super::ambient::ambient_piece;
use super::case::Case;
use super::fidelity::Converged;
use super::outcome::{AlongStrip, Moment, Proof, Release, Reset, Shape, Trip};
use super::record::{Recorder, Snapshot, shape_of};
use super::run::RunAnswer;
use super::session::Carried;
use super::trip_point::{MELTED_K, TripPointAnswer, closed_steady};
use super::waits::{ReadyAnswer, again, ready_wait, wait_of};
use crate::answer::{Estimate, Held, NoProof, TripTime, Wait, WhyNotAsked};
use crate::device::{Device, Model};
use crate::load::Programme;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::Scenario;

pub(super) fn trip_record(
    scenario: &Scenario,
    case: &Case,
    model: &Model,
    main: &RunAnswer,
    squared: f64,
) -> Result<Trip, PredictError> {
    let closest_approach_mm = 1e3 * main.closest_m;
    let load = &scenario.load;
    Ok(match main.carried {
        Carried::Released => {
            let release = release_of(scenario, model, main, squared);
            if release.time_s > 0.0 {
                Trip::After(release)
            } else {
                Trip::AtOnce(release)
            }
        }
        Carried::HeldForEver if load.period_s().is_some() => Trip::HoldsForEver {
            proof: Proof::Cycle,
            closest_approach_mm,
        },
        Carried::HeldForEver => Trip::HoldsForEver {
            proof: Proof::SteadyState,
            closest_approach_mm: 1e3 * closest_for_ever_m(load, case, model, main)?,
        },
        Carried::StillHolding => Trip::NotWithin {
            horizon_s: main.end_s,
            why: no_proof(load, case, main.end_s),
            closest_approach_mm,
        },
    })
}

fn release_of(scenario: &Scenario, model: &Model, main: &RunAnswer, squared: f64) -> Release {
    let (device, y) = (&model.device, &main.state);
    let current_a = squared.sqrt() / device.current_share;
    let c = |k: f64| k - ZERO_CELSIUS_K;
    Release {
        time_s: main.end_s,
        clearing_time_s: main.end_s + device.release.opening_time_s,
        current_a,
        multiple_of_rated: current_a / scenario.protector.rated_current_a,
        tip_deflection_mm: 1e3 * model.mechanism().seen_m(model, y, squared, true),
        strip_peak_c: c(model.peak_k(y)),
        strip_mean_c: c(model.mean_k(y)),
        winding_c: model.layout.winding.map(|i| c(y[i])),
        nodes: AlongStrip {
            x_mm: model.grid.x_m.iter().map(|x| 1e3 * x).collect(),
            temperature_c: y[..model.layout.strip].iter().map(|k| c(*k)).collect(),
        },
        fixed_contact_c: c(y[model.layout.fixed]),
        housing_c: model.layout.housing.map(|i| c(y[i])),
    }
}

/// Smallest deflection left, m, of a run that was proved to hold before it had come to rest: what
/// it still comes nearer on its way to the steady state counts.
fn closest_for_ever_m(
    load: &Programme,
    case: &Case,
    model: &Model,
    main: &RunAnswer,
) -> Result<f64, PredictError> {
    let current_a = load.piece_after(main.end_s).final_current_a();
    let ambient_k = ambient_piece(&case.ambient, main.end_s).0.at(main.end_s);
    let Some(steady) = closed_steady(model, current_a, ambient_k, &main.state)? else {
        return Ok(main.closest_m);
    };
    let peak_k = model.peak_k(&steady);
    if peak_k > MELTED_K {
        return Err(PredictError::Melts {
            peak_c: peak_k - ZERO_CELSIUS_K,
        });
    }
    let squared = (model.device.current_share * current_a).powi(2);
    Ok((-model.release_excess_m(&steady, squared)).min(main.closest_m))
}

/// Why a run that has not tripped proves nothing.
pub(super) fn no_proof(load: &Programme, case: &Case, end_s: f64) -> NoProof {
    let piece = load.piece_after(end_s);
    let settles = piece.is_constant()
        && piece.end_s.is_infinite()
        && ambient_piece(&case.ambient, end_s).1.is_infinite();
    if settles {
        NoProof::NotSettled
    } else {
        NoProof::StillChanges
    }
}

/// When a run trips, for a row of a table.
pub(super) fn trip_time(answer: &Converged<RunAnswer>, load: &Programme, case: &Case) -> TripTime {
    match again(answer.value.carried, answer.value.end_s, load, case) {
        TripTime::After(time) => {
            TripTime::After(Estimate::with_error(time.value, answer.error_relative))
        }
        other => other,
    }
}

/// The wait for relatch after a run that was followed into its cooling.
pub(super) fn relatch_wait(answer: &RunAnswer) -> Wait {
    let why = match (answer.carried, answer.cooled) {
        (_, Some(cooled)) => return wait_of(cooled, answer.relatch_wait_s.unwrap_or(0.0)),
        (Carried::StillHolding, None) => WhyNotAsked::NotTripped,
        (_, None) => WhyNotAsked::DoesNotTrip,
    };
    Wait::NotAsked { why }
}

/// A trip point as a row of a table states it.
pub(crate) fn held(answer: &TripPointAnswer, error_relative: Option<f64>) -> Held {
    match answer {
        TripPointAnswer::At { current_a, .. } => {
            Held::UpTo(Estimate::with_error(*current_a, error_relative))
        }
        TripPointAnswer::StaysOpen => Held::StaysOpen,
        TripPointAnswer::NeverReleases => Held::NeverReleases,
    }
}

pub(super) fn reset_record(
    scenario: &Scenario,
    device: &Device,
    case: &Case,
    main: &Converged<RunAnswer>,
) -> Result<Reset, PredictError> {
    let relatch_wait = relatch_wait(&main.value);
    let ready = match &scenario.start_up {
        None => ReadyAnswer::of(Wait::NotAsked {
            why: WhyNotAsked::NoStartUp,
        }),
        Some(_) if relatch_wait.time_s().is_none() => ReadyAnswer::of(relatch_wait),
        Some(start) => ready_wait(
            device,
            case,
            &scenario.load,
            start,
            &main.value,
            main.fidelity,
        )?,
    };
    Ok(Reset {
        relatch_wait,
        ready_wait: ready.wait,
        governs: ready.governs,
    })
}

/// Five moments worth drawing.
pub(super) fn snapshot_times(main: &RunAnswer, opening_s: f64) -> Vec<(f64, Moment)> {
    let end = main.end_s;
    match (main.trip_time_s, main.relatch_wait_s) {
        (Some(t), Some(wait)) => vec![
            (0.0, Moment::Start),
            (0.5 * t, Moment::HalfWay),
            (t, Moment::Release),
            (t + opening_s + 0.35 * wait, Moment::Cooling),
            (t + opening_s + wait, Moment::Relatch),
        ],
        (Some(t), None) => {
            vec![
                (0.0, Moment::Start),
                (0.25 * t, Moment::QuarterWay),
                (0.5 * t, Moment::HalfWay),
                (0.75 * t, Moment::ThreeQuarters),
                (t, Moment::Release),
            ]
        }
        _ => vec![
            (0.0, Moment::Start),
            (0.05 * end, Moment::Early),
            (0.15 * end, Moment::Later),
            (0.4 * end, Moment::Late),
            (end, Moment::End),
        ],
    }
}

pub(super) fn shapes_of(model: &Model, snapshots: &[Snapshot], end_s: f64) -> Vec<Shape> {
    snapshots
        .iter()
        .filter(|s| s.time_s <= end_s && s.moment != Moment::Frame)
        .map(|s| shape_of(model, s))
        .collect()
}

pub(super) fn energy_defect(model: &Model, recorder: &Recorder) -> f64 {
    let Some((first, last)) = recorder.ends.as_ref() else {
        return 0.0;
    };
    let reference = 293.15;
    let stored = model.stored_j(last, reference) - model.stored_j(first, reference);
    (recorder.energy.in_j - recorder.energy.out_j - stored).abs()
}
