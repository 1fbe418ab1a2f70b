//! The trip time again by explicit steps, which share only the right-hand side with the engine.

use super::PredictError;
use super::ambient::ambient_piece;
use super::case::Case;
use super::fidelity::Fidelity;
use crate::device::{Device, Drive, Phase, Plant};
use crate::load::Programme;
use crate::solve::explicit_event_time;

/// Relative tolerance of the explicit run.
const EXPLICIT_TOLERANCE: f64 = 1e-9;

/// Relative difference between the engine's trip time and that of explicit steps on the same grid.
/// `None` when the trip does not fall in the first smooth piece of load and ambient, or when the
/// explicit stepper finds the problem too stiff.
pub fn cross_check(
    device: &Device,
    case: &Case,
    load: &Programme,
    fidelity: Fidelity,
    trip_time_s: f64,
) -> Result<Option<f64>, PredictError> {
    let current = load.piece_after(0.0);
    let (ambient, ambient_end_s) = ambient_piece(&case.ambient, 0.0);
    if trip_time_s >= current.end_s.min(ambient_end_s) {
        return Ok(None);
    }
    let model = device.on(fidelity.fineness);
    let session = case.start(&model, fidelity.tolerance)?;
    let plant = Plant {
        model: &model,
        drive: Drive {
            phase: Phase::Closed,
            current,
            programme_start_s: 0.0,
            ambient,
        },
    };
    let event = plant.release();
    let explicit = explicit_event_time(
        &plant,
        &event,
        0.0,
        &session.y,
        2.0 * trip_time_s,
        EXPLICIT_TOLERANCE,
    );
    Ok(explicit.ok().map(|t| (t / trip_time_s - 1.0).abs()))
}
