//! Tables against lost preload and against the ambient.

use super::case::Case;
use super::curve::within_data;
use super::outcome::{AmbientCorrection, HeldCurrent, PreloadShift, PrematureReset, TripPoint};
use super::records::{held, relatch_wait, trip_time};
use super::run::{RunAnswer, run};
use super::trip_point::{TripPointAnswer, trip_point, trip_temperature_k};
use super::waits::premature;
use super::warnings::check_ranges;
use super::{PredictError, Progress, parallel};
use crate::answer::{Estimate, Held, TripTime, Wait, WhyNever, WhyNotAsked};
use crate::device::{Device, Fineness, Model};
use crate::load::Programme;
use crate::physics::constants::ZERO_CELSIUS_K;
use std::sync::Arc;

/// A trip point, its numerical error, and the steady state there.
pub struct PointReport {
    /// The record.
    pub record: TripPoint,
    /// Relative error of the current.
    pub error_relative: Option<f64>,
    /// Model and state at the trip point.
    pub at: Option<(Arc<Model>, Vec<f64>)>,
}

impl PointReport {
    /// The trip point as a row of a table states it.
    pub fn held(&self) -> Held {
        match &self.record {
            TripPoint::UpTo(held) => {
                Held::UpTo(Estimate::with_error(held.current_a, self.error_relative))
            }
            TripPoint::StaysOpen => Held::StaysOpen,
            TripPoint::NeverReleases => Held::NeverReleases,
        }
    }
}

/// Trip point with its sensitivities.
pub fn trip_point_record(device: &Device, case: &Case) -> Result<PointReport, PredictError> {
    let ambient_k = case.ambient_k();
    let rated = case.rated_current_a;
    let nominal = trip_point(device, ambient_k, rated, case.accuracy)?;
    let unheld = |record| PointReport {
        record,
        error_relative: None,
        at: None,
    };
    let (current_a, state) = match nominal.value {
        TripPointAnswer::At { current_a, state } => (current_a, state),
        TripPointAnswer::StaysOpen => return Ok(unheld(TripPoint::StaysOpen)),
        TripPointAnswer::NeverReleases => return Ok(unheld(TripPoint::NeverReleases)),
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
    Ok(PointReport {
        record: TripPoint::UpTo(HeldCurrent {
            current_a,
            multiple_of_rated: current_a / rated,
            per_percent_preload_a,
            per_kelvin_ambient_a,
            per_percent_travel_a,
            strip_peak_c: Some(model.peak_k(&state) - ZERO_CELSIUS_K),
        }),
        error_relative: nominal.error_relative.filter(|e| e.is_finite()),
        at: Some((model, state)),
    })
}

/// Trip point, trip time, waits and trip temperature against lost preload.
pub fn preload_shift(
    device: &Device,
    case: &Case,
    (load, allow_extrapolation): (&Programme, bool),
    losses: &[f64],
    progress: &mut Progress<'_>,
) -> Result<Vec<PreloadShift>, PredictError> {
    let rows = parallel::map(
        losses,
        |loss| preload_row(device, case, (load, allow_extrapolation), *loss),
        &mut |n| {
            progress("preload shift", n as f64 / losses.len() as f64);
        },
    );
    rows.into_iter().collect()
}

/// Trip and wait under a load, for a row of a table; as a run with the same air says them.
pub(crate) fn trip_and_wait(
    device: &Device,
    case: &Case,
    load: &Programme,
    allow_extrapolation: bool,
) -> Result<(TripTime, Wait), PredictError> {
    let answer = run(device, case, load, true)
        .and_then(|answer| within_data(device, case, load, answer, allow_extrapolation));
    Ok(match answer {
        Ok(answer) => (trip_time(&answer, load, case), relatch_wait(&answer.value)),
        Err(PredictError::HotBeyondRelease { .. }) => (
            TripTime::AlreadyOpen,
            Wait::NotAsked {
                why: WhyNotAsked::AlreadyOpen,
            },
        ),
        Err(error) => (
            TripTime::Failed {
                why: error.in_a_row()?,
            },
            Wait::NotAsked {
                why: WhyNotAsked::Failed,
            },
        ),
    })
}

fn preload_row(
    device: &Device,
    case: &Case,
    (load, allow_extrapolation): (&Programme, bool),
    loss: f64,
) -> Result<PreloadShift, PredictError> {
    let worn = device.with_loss(loss)?;
    let point = trip_point(&worn, case.ambient_k(), case.rated_current_a, case.accuracy)?;
    let model = Model::new(
        &worn,
        Fineness {
            order: 8,
            end_element_m: worn.length_m,
        },
    );
    let (trip_time, relatch_wait) = trip_and_wait(&worn, case, load, allow_extrapolation)?;
    Ok(PreloadShift {
        loss,
        trip_point: held(&point.value, point.error_relative),
        trip_time,
        relatch_wait,
        trip_temperature_c: trip_temperature_k(&model).map(|t| t - ZERO_CELSIUS_K),
    })
}

/// Trip point and relatch wait against the ambient.
pub fn ambient_correction(
    device: &Device,
    case: &Case,
    (load, allow_extrapolation): (&Programme, bool),
    ambients_k: &[f64],
    reference_k: f64,
    progress: &mut Progress<'_>,
) -> Result<Vec<AmbientCorrection>, PredictError> {
    let reference = trip_point(device, reference_k, case.rated_current_a, case.accuracy)?
        .value
        .current_a();
    let rows = parallel::map(
        ambients_k,
        |k| ambient_row(device, case, (load, allow_extrapolation), *k, reference),
        &mut |n| {
            progress("ambient correction", n as f64 / ambients_k.len() as f64);
        },
    );
    rows.into_iter().collect()
}

fn ambient_row(
    device: &Device,
    case: &Case,
    (load, allow_extrapolation): (&Programme, bool),
    ambient_k: f64,
    reference_a: Option<f64>,
) -> Result<AmbientCorrection, PredictError> {
    let air_k = (ambient_k, ambient_k);
    if let Err(error) = check_ranges(device, allow_extrapolation, air_k, &mut Vec::new()) {
        return Ok(AmbientCorrection {
            ambient_c: ambient_k - ZERO_CELSIUS_K,
            factor: None,
            trip_point: Held::OutOfRange,
            trip_time: TripTime::Failed {
                why: error.in_a_row()?,
            },
            relatch_wait: Wait::NotAsked {
                why: WhyNotAsked::Failed,
            },
        });
    }
    let point = trip_point(device, ambient_k, case.rated_current_a, case.accuracy)?;
    let trip_point = held(&point.value, point.error_relative);
    let (trip_time, relatch_wait) = match trip_point {
        Held::StaysOpen => (
            TripTime::AtOnce,
            Wait::Never {
                why: WhyNever::StaysWarm,
            },
        ),
        _ => trip_and_wait(
            device,
            &case.at_ambient(ambient_k),
            load,
            allow_extrapolation,
        )?,
    };
    Ok(AmbientCorrection {
        ambient_c: ambient_k - ZERO_CELSIUS_K,
        factor: trip_point.current_a().zip(reference_a).map(|(a, b)| a / b),
        trip_point,
        trip_time,
        relatch_wait,
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
        .map(|wait_s| PrematureReset {
            wait_s,
            trips_again_after: if wait_s >= relatch {
                answers.next().unwrap_or(TripTime::NotReset)
            } else {
                TripTime::NotReset
            },
        })
        .collect())
}
