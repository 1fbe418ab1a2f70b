//! Tables against lost preload and against the ambient.

use super::case::Case;
use super::outcome::{AmbientCorrection, PreloadShift, PrematureReset, TripPoint};
use super::run::{RunAnswer, run};
use super::session::{Carried, Cooled};
use super::trip_point::{TripPointAnswer, trip_point, trip_temperature_k};
use super::waits::{AgainAnswer, premature};
use super::{PredictError, Progress, parallel};
use crate::device::{Device, Fineness, Model};
use crate::load::Programme;
use std::sync::Arc;

/// Why a run has no trip time, or no relatch wait.
pub fn reason_of(answer: &RunAnswer) -> Option<String> {
    match (answer.carried, answer.cooled) {
        (Carried::HeldForEver, _) => Some("holds for ever".into()),
        (Carried::StillHolding, _) => Some(format!(
            "not tripped within {:.0} s, and no proof that it never does",
            answer.end_s
        )),
        (Carried::Released, Some(Cooled::Never)) => Some("never relatches at this ambient".into()),
        (Carried::Released, Some(Cooled::StillOpen)) => Some("not relatched after a month".into()),
        _ => None,
    }
}

fn reason_of_point(answer: &TripPointAnswer) -> Option<String> {
    match answer {
        TripPointAnswer::At { .. } => None,
        TripPointAnswer::StaysOpen => {
            Some("the ambient alone holds it released: it stays open".into())
        }
        TripPointAnswer::NeverReleases => {
            Some("no current releases it before the strip melts".into())
        }
    }
}

/// A trip point, its numerical error, and the steady state there.
pub struct PointReport {
    /// The record.
    pub record: TripPoint,
    /// Relative error of the current.
    pub error_relative: Option<f64>,
    /// Model and state at the trip point.
    pub at: Option<(Arc<Model>, Vec<f64>)>,
}

/// Trip point with its sensitivities.
pub fn trip_point_record(device: &Device, case: &Case) -> Result<PointReport, PredictError> {
    let ambient_k = case.ambient_k();
    let rated = case.rated_current_a;
    let nominal = trip_point(device, ambient_k, rated, case.accuracy)?;
    let Some(current_a) = nominal.value.current_a() else {
        let record = TripPoint {
            current_a: None,
            reason: reason_of_point(&nominal.value),
            multiple_of_rated: None,
            per_percent_preload_a: None,
            per_kelvin_ambient_a: None,
            per_percent_travel_a: None,
            strip_peak_c: None,
        };
        return Ok(PointReport {
            record,
            error_relative: None,
            at: None,
        });
    };
    let at = |device: &Device, ambient_k: f64| -> Result<Option<f64>, PredictError> {
        let model = device.on(nominal.fidelity.fineness);
        Ok(super::trip_point::trip_point_on(&model, ambient_k, current_a)?.current_a())
    };
    let slope = |up: Option<f64>, down: Option<f64>, span: f64| Some((up? - down?) / span);
    let loss = device.release.preload_loss;
    let (low, high) = ((loss - 0.01).max(0.0), (loss + 0.01).min(0.94));
    let per_percent_preload_a = slope(
        at(&device.with_loss(high)?, ambient_k)?,
        at(&device.with_loss(low)?, ambient_k)?,
        100.0 * (high - low),
    );
    let per_kelvin_ambient_a = slope(
        at(device, ambient_k + 1.0)?,
        at(device, ambient_k - 1.0)?,
        2.0,
    );
    let per_percent_travel_a = slope(
        at(&device.with_travel_factor(1.01), ambient_k)?,
        at(&device.with_travel_factor(0.99), ambient_k)?,
        2.0,
    );
    let model = device.on(nominal.fidelity.fineness);
    let state = match nominal.value {
        TripPointAnswer::At { state, .. } => Some((model, state)),
        _ => None,
    };
    let record = TripPoint {
        current_a: Some(current_a),
        reason: None,
        multiple_of_rated: Some(current_a / rated),
        per_percent_preload_a,
        per_kelvin_ambient_a,
        per_percent_travel_a,
        strip_peak_c: state.as_ref().map(|(model, y)| model.peak_k(y) - 273.15),
    };
    Ok(PointReport {
        record,
        error_relative: nominal.error_relative,
        at: state,
    })
}

/// Trip point, trip time, waits and trip temperature against lost preload.
pub fn preload_shift(
    device: &Device,
    case: &Case,
    load: &Programme,
    losses: &[f64],
    progress: &mut Progress<'_>,
) -> Result<Vec<PreloadShift>, PredictError> {
    let rows = parallel::map(
        losses,
        |loss| preload_row(device, case, load, *loss),
        &mut |n| {
            progress("preload shift", n as f64 / losses.len() as f64);
        },
    );
    rows.into_iter().collect()
}

fn preload_row(
    device: &Device,
    case: &Case,
    load: &Programme,
    loss: f64,
) -> Result<PreloadShift, PredictError> {
    let worn = device.with_loss(loss)?;
    let point = trip_point(&worn, case.ambient_k(), case.rated_current_a, case.accuracy)?.value;
    let model = Model::new(
        &worn,
        Fineness {
            order: 8,
            end_element_m: worn.length_m,
        },
    );
    let (trip_time_s, relatch_wait_s, reason) = match run(&worn, case, load, true) {
        Ok(a) => (
            a.value.trip_time_s,
            a.value.relatch_wait_s,
            reason_of(&a.value),
        ),
        Err(e @ PredictError::HotBeyondRelease { .. }) => (None, None, Some(e.to_string())),
        Err(e) => return Err(e),
    };
    Ok(PreloadShift {
        loss,
        trip_point_a: point.current_a(),
        trip_time_s,
        relatch_wait_s,
        trip_temperature_c: trip_temperature_k(&model).map(|t| t - 273.15),
        reason: reason_of_point(&point).or(reason),
    })
}

/// Trip point and relatch wait against the ambient.
pub fn ambient_correction(
    device: &Device,
    case: &Case,
    load: &Programme,
    ambients_k: &[f64],
    reference_k: f64,
    progress: &mut Progress<'_>,
) -> Result<Vec<AmbientCorrection>, PredictError> {
    let reference = trip_point(device, reference_k, case.rated_current_a, case.accuracy)?
        .value
        .current_a();
    let rows = parallel::map(
        ambients_k,
        |k| ambient_row(device, case, load, *k, reference),
        &mut |n| {
            progress("ambient correction", n as f64 / ambients_k.len() as f64);
        },
    );
    rows.into_iter().collect()
}

fn ambient_row(
    device: &Device,
    case: &Case,
    load: &Programme,
    ambient_k: f64,
    reference_a: Option<f64>,
) -> Result<AmbientCorrection, PredictError> {
    let point = trip_point(device, ambient_k, case.rated_current_a, case.accuracy)?.value;
    let mut reason = reason_of_point(&point);
    let relatch_wait_s = match (&point, run(device, &case.at_ambient(ambient_k), load, true)) {
        (TripPointAnswer::StaysOpen, _) => None,
        (_, Ok(a)) => {
            reason = reason.or_else(|| reason_of(&a.value));
            a.value.relatch_wait_s
        }
        (_, Err(e @ PredictError::HotBeyondRelease { .. })) => {
            reason = Some(e.to_string());
            None
        }
        (_, Err(e)) => return Err(e),
    };
    Ok(AmbientCorrection {
        ambient_c: ambient_k - 273.15,
        trip_point_a: point.current_a(),
        factor: point.current_a().zip(reference_a).map(|(a, b)| a / b),
        relatch_wait_s,
        reason,
    })
}

/// How soon it trips again when the load comes back after each wait.
pub fn premature_reset(
    device: &Device,
    case: &Case,
    load: &Programme,
    chosen_s: &[f64],
    main: &RunAnswer,
) -> Result<Vec<PrematureReset>, PredictError> {
    let Some(relatch) = main.relatch_wait_s else {
        return Ok(Vec::new());
    };
    let waits: Vec<f64> = if chosen_s.is_empty() {
        [1.0, 1.5, 2.0, 3.0, 5.0, 10.0]
            .iter()
            .map(|f| f * relatch)
            .collect()
    } else {
        chosen_s.to_vec()
    };
    let caught: Vec<f64> = waits.iter().copied().filter(|w| *w >= relatch).collect();
    let mut answers = premature(device, case, load, &caught, main)?.into_iter();
    Ok(waits
        .into_iter()
        .map(|wait_s| {
            let answer = if wait_s >= relatch {
                answers.next()
            } else {
                None
            };
            let (trips_again_after_s, reason) = match answer {
                Some(AgainAnswer::After(t)) => (Some(t), None),
                Some(AgainAnswer::Holds) => (None, Some("does not trip again".into())),
                Some(AgainAnswer::NotWithin(t)) => {
                    (None, Some(format!("not again within {t:.0} s")))
                }
                None => (None, Some("too early: the reset does not catch".into())),
            };
            PrematureReset {
                wait_s,
                trips_again_after_s,
                reason,
            }
        })
        .collect())
}
