//! Parts of the outcome made from the main run.

use super::PredictError;
use super::case::Case;
use super::fidelity::Converged;
use super::film::FRAME;
use super::outcome::{Reset, Shape, Trip};
use super::record::{Recorder, Snapshot, shape_of};
use super::run::RunAnswer;
use super::session::Carried;
use super::tables::reason_of;
use super::waits::{ReadyAnswer, ready_wait};
use crate::device::{Device, Model};
use crate::scenario::{Mechanism, Scenario};

pub(super) fn trip_record(
    scenario: &Scenario,
    device: &Device,
    model: &Model,
    main: &RunAnswer,
    squared: f64,
) -> Trip {
    let trips = main.trip_time_s.is_some();
    let current = squared.sqrt() / device.current_share;
    let c = |k: f64| k - 273.15;
    let reason = match main.carried {
        Carried::Released => None,
        Carried::HeldForEver => Some(
            "it holds for ever: the steady state it tends to lies short of release, and the state has come so near to it that it cannot get there"
                .into(),
        ),
        Carried::StillHolding => reason_of(main),
    };
    Trip {
        trips,
        reason,
        time_s: main.trip_time_s,
        clearing_time_s: main.trip_time_s.map(|t| t + device.release.opening_time_s),
        current_a: trips.then_some(current),
        multiple_of_rated: trips.then(|| current / scenario.protector.rated_current_a),
        tip_deflection_mm: trips.then(|| 1e3 * deflection_m(model, &main.state, squared)),
        strip_peak_c: trips.then(|| c(model.peak_k(&main.state))),
        strip_mean_c: trips.then(|| c(model.mean_k(&main.state))),
        winding_c: model
            .layout
            .winding
            .filter(|_| trips)
            .map(|i| c(main.state[i])),
        closest_approach_mm: (!trips).then_some(1e3 * main.closest_m),
    }
}

pub(super) fn reset_record(
    scenario: &Scenario,
    device: &Device,
    case: &Case,
    main: &Converged<RunAnswer>,
) -> Result<Reset, PredictError> {
    let mut record = Reset {
        relatch_wait_s: main.value.relatch_wait_s,
        ready_wait_s: None,
        governs: None,
        reason: match main.value.carried {
            Carried::Released => reason_of(&main.value),
            _ => Some("it does not trip under this load".into()),
        },
        ready_reason: None,
    };
    match &scenario.start_up {
        None => record.ready_reason = Some("the scenario has no [start_up]".into()),
        Some(_) if record.relatch_wait_s.is_none() => record.ready_reason = record.reason.clone(),
        Some(start) => match ready_wait(
            device,
            case,
            &scenario.load,
            start,
            &main.value,
            main.fidelity,
        )? {
            ReadyAnswer::After { wait_s, governs } => {
                record.ready_wait_s = Some(wait_s);
                record.governs = Some(governs.into());
            }
            ReadyAnswer::Never(why) => record.ready_reason = Some(why),
        },
    }
    Ok(record)
}

/// Five moments worth drawing.
pub(super) fn snapshot_times(main: &RunAnswer, opening_s: f64) -> Vec<(f64, &'static str)> {
    let end = main.end_s;
    match (main.trip_time_s, main.relatch_wait_s) {
        (Some(t), Some(wait)) => vec![
            (0.0, "start"),
            (0.5 * t, "half-way to release"),
            (t, "release"),
            (t + opening_s + 0.35 * wait, "cooling"),
            (t + opening_s + wait, "relatch"),
        ],
        (Some(t), None) => {
            vec![
                (0.0, "start"),
                (0.25 * t, "a quarter of the time"),
                (0.5 * t, "half of the time"),
                (0.75 * t, "three quarters"),
                (t, "release"),
            ]
        }
        _ => vec![
            (0.0, "start"),
            (0.05 * end, "early"),
            (0.15 * end, "later"),
            (0.4 * end, "late"),
            (end, "end"),
        ],
    }
}

pub(super) fn shapes_of(model: &Model, snapshots: &[Snapshot], end_s: f64) -> Vec<Shape> {
    snapshots
        .iter()
        .filter(|s| s.time_s <= end_s && s.moment != FRAME)
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

/// Deflection of the push point, or the rise of a snap blade just before it snaps, m.
fn deflection_m(model: &Model, y: &[f64], squared: f64) -> f64 {
    match model.device.release.mechanism {
        Mechanism::Latch { .. } => model.free_deflection_m(y, squared),
        Mechanism::SnapBlade { .. } => {
            let rise = |closed| model.blade_rise_m(y, squared, closed);
            rise(true).or_else(|| rise(false)).unwrap_or(0.0)
        }
    }
}
