//! The main question: when does it release under a load, and how long until it relatches.

use super::PredictError;
use super::case::Case;
use super::fidelity::{Converged, Ladder, converge};
use super::session::{Carried, Cooled, Session, Unwatched, Watch};
use super::trip_point::{BOILED_K, MELTED_K};
use crate::device::{Device, Model};
use crate::load::Programme;
use crate::physics::constants::ZERO_CELSIUS_K;

/// Longest wait for a relatch, s.
pub(super) const LONGEST_COOLING_S: f64 = 30.0 * 86_400.0;

/// How a run ended.
#[derive(Debug, Clone)]
pub struct RunAnswer {
    /// How carrying ended.
    pub carried: Carried,
    /// Time of release, s.
    pub trip_time_s: Option<f64>,
    /// Smallest deflection left, m (0 at a release).
    pub closest_m: f64,
    /// State at release, or at the end.
    pub state: Vec<f64>,
    /// Time at which carrying ended, s.
    pub end_s: f64,
    /// How cooling ended, when it released and cooling was asked for.
    pub cooled: Option<Cooled>,
    /// Wait from open contacts to relatch, s.
    pub relatch_wait_s: Option<f64>,
    /// State at open contacts.
    pub open_state: Option<Vec<f64>>,
}

/// Carry a load on one model, and cool after a release when asked.
pub fn run_on(
    model: &Model,
    tolerance: f64,
    case: &Case,
    load: &Programme,
    cool: bool,
    watch: &mut dyn Watch,
) -> Result<RunAnswer, PredictError> {
    run_from(case.start(model, tolerance)?, case, load, cool, watch)
}

/// The same from a state at time zero.
pub(super) fn run_from(
    mut session: Session<'_>,
    case: &Case,
    load: &Programme,
    cool: bool,
    watch: &mut dyn Watch,
) -> Result<RunAnswer, PredictError> {
    let carried = session.carry(load, 0.0, case.longest_s, 0.0, watch)?;
    let peak_k = session.model.peak_k(&session.y);
    if carried == Carried::StillHolding && peak_k > MELTED_K {
        return Err(PredictError::Melts {
            peak_c: peak_k.min(BOILED_K) - ZERO_CELSIUS_K,
        });
    }
    let mut answer = RunAnswer {
        carried,
        trip_time_s: None,
        closest_m: -session.closest_m,
        state: session.y.clone(),
        end_s: session.t,
        cooled: None,
        relatch_wait_s: None,
        open_state: None,
    };
    if carried == Carried::Released {
        answer.trip_time_s = Some(session.t);
        answer.closest_m = 0.0;
        if cool {
            let opening_s = session.model.device.release.opening_time_s;
            session.open(load, 0.0, opening_s, watch)?;
            answer.open_state = Some(session.y.clone());
            let opened = session.t;
            let cooled = session.wait_for_relatch(opened + LONGEST_COOLING_S, watch)?;
            answer.cooled = Some(cooled);
            answer.relatch_wait_s = (cooled == Cooled::Relatched).then_some(session.t - opened);
        }
    }
    Ok(answer)
}

/// The same to the accuracy of the case.
pub fn run(
    device: &Device,
    case: &Case,
    load: &Programme,
    cool: bool,
) -> Result<Converged<RunAnswer>, PredictError> {
    let (ladder, first) = first_look(device, case, load, cool)?;
    converge(
        device,
        ladder,
        case.accuracy,
        first,
        |model, tolerance| run_on(model, tolerance, case, load, cool, &mut Unwatched),
        |a| vec![a.trip_time_s, a.relatch_wait_s],
    )
}

/// A look on a coarse grid tells when the event comes, and with it which grid the question needs.
/// Where that is the same grid, the look is the first answer.
fn first_look(
    device: &Device,
    case: &Case,
    load: &Programme,
    cool: bool,
) -> Result<(Ladder, Option<RunAnswer>), PredictError> {
    let slow = Ladder::new(device, f64::INFINITY, case.accuracy);
    let look = slow.rung(0);
    let model = device.on(look.fineness);
    let answer = run_on(&model, look.tolerance, case, load, cool, &mut Unwatched)?;
    let ladder = Ladder::new(device, answer.end_s, case.accuracy);
    let first = (ladder.rung(0) == look).then_some(answer);
    Ok((ladder, first))
}
