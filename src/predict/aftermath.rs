//! What follows the first trip: the cool-down as a course, and resets as early as they catch.

use super::PredictError;
use super::case::Case;
use super::fidelity::Converged;
use super::outcome::{RepeatedReset, Reset, State};
use super::record::Recorder;
use super::run::{LONGEST_COOLING_S, RunAnswer};
use super::session::{Carried, Cooled, Session, Unwatched};
use super::waits::{again, wait_of};
use crate::answer::{Wait, WhyNotAsked};
use crate::device::{Model, Phase};
use crate::load::Programme;
use crate::scenario::Reset as ResetKind;

/// Trips followed when it is reset each time it relatches.
const TRIPS: u32 = 6;
/// Most states of the cool-down.
const MOST_STATES: usize = 500;
/// How far beyond the last wait the cool-down is followed.
const BEYOND: f64 = 1.25;

/// The cool-down after the main run, to a little beyond the longer of its waits.
pub(super) fn cool_down(
    model: &Model,
    tolerance: f64,
    case: &Case,
    main: &RunAnswer,
    reset: &Reset,
) -> Result<Vec<State>, PredictError> {
    let (Some(trip_s), Some(open), Some(relatch_s)) =
        (main.trip_time_s, &main.open_state, main.relatch_wait_s)
    else {
        return Ok(Vec::new());
    };
    let opened_s = trip_s + model.device.release.opening_time_s;
    let longest_s = reset
        .ready_wait
        .time_s()
        .map_or(relatch_s, |w| w.max(relatch_s));
    let mut session = Session::new(model, &case.ambient, tolerance, open.clone());
    (session.t, session.phase) = (opened_s, Phase::Open);
    let mut recorder = Recorder::new(4, Vec::new());
    let until_s = match model.device.release.reset {
        // There it closes by itself and the load is back.
        ResetKind::Automatic => relatch_s,
        ResetKind::ByHand => BEYOND * longest_s,
    };
    session.wait(opened_s + until_s, &mut recorder)?;
    recorder.thin(MOST_STATES);
    Ok(recorder.series)
}

/// Resets and loads it again each time it relatches.
pub(super) fn repeated_resets(
    main: &Converged<RunAnswer>,
    model: &Model,
    case: &Case,
    load: &Programme,
) -> Result<Vec<RepeatedReset>, PredictError> {
    let mut rows = Vec::new();
    if main.value.relatch_wait_s.is_none() {
        return Ok(rows);
    }
    let mut session = case.start(model, main.fidelity.tolerance)?;
    let opening_s = model.device.release.opening_time_s;
    for number in 1..=TRIPS {
        let begin = session.t;
        let until = begin + case.longest_s;
        let carried = session.carry(load, begin, until, 0.0, &mut Unwatched)?;
        let mut row = RepeatedReset {
            number,
            trips_after: again(carried, session.t - begin, load, case),
            relatch_wait: Wait::NotAsked {
                why: WhyNotAsked::DoesNotTrip,
            },
        };
        if carried != Carried::Released {
            rows.push(row);
            break;
        }
        session.open(load, begin, opening_s, &mut Unwatched)?;
        let opened = session.t;
        let cooled = session.wait_for_relatch(opened + LONGEST_COOLING_S, &mut Unwatched)?;
        row.relatch_wait = wait_of(cooled, session.t - opened);
        rows.push(row);
        if cooled != Cooled::Relatched {
            break;
        }
        session.phase = Phase::Closed;
    }
    Ok(rows)
}
