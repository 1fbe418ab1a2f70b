//! A part that closes by itself, left alone on its load: it goes on and off until each round is
//! like the last.

use super::PredictError;
use super::case::Case;
use super::outcome::Cycling;
use super::run::LONGEST_COOLING_S;
use super::session::{Carried, Cooled, Unwatched};
use crate::device::{Model, Phase};
use crate::load::Programme;
use crate::scenario::Reset;

/// Rounds that are followed at most.
const MOST_ROUNDS: usize = 400;
/// Two rounds are alike when their times differ by less than this part.
const ALIKE: f64 = 2e-4;
/// Local tolerance.
const TOLERANCE: f64 = 1e-6;

/// On and off of a part under its load; `None`: it is reset by hand, or does not trip, or does not
/// come back.
pub(super) fn cycling(
    model: &Model,
    case: &Case,
    load: &Programme,
) -> Result<Option<Cycling>, PredictError> {
    let release = &model.device.release;
    if release.reset != Reset::Automatic || load.only_a().is_none() {
        return Ok(None);
    }
    let mut session = case.start(model, TOLERANCE)?;
    let mut last: Option<Cycling> = None;
    for cycles in 1..=MOST_ROUNDS {
        let closed_s = session.t;
        let until_s = closed_s + case.longest_s;
        if session.carry(load, 0.0, until_s, 0.0, &mut Unwatched)? != Carried::Released {
            return Ok(None);
        }
        session.open(load, 0.0, release.opening_time_s, &mut Unwatched)?;
        let opened_s = session.t;
        let cooled = session.wait_for_relatch(opened_s + LONGEST_COOLING_S, &mut Unwatched)?;
        if cooled != Cooled::Relatched {
            return Ok(None);
        }
        session.phase = Phase::Closed;
        let mut round = Cycling {
            on_s: opened_s - closed_s,
            off_s: session.t - opened_s,
            cycles,
            is_settled: false,
            rated_closings: release.mechanism.disc().and_then(|d| d.rated_closings),
        };
        if !(round.on_s > 0.0 && round.off_s > 0.0) {
            return Ok(None);
        }
        if let Some(before) = &last {
            let alike = |a: f64, b: f64| (a - b).abs() <= ALIKE * b;
            round.is_settled = alike(before.on_s, round.on_s) && alike(before.off_s, round.off_s);
            if round.is_settled {
                return Ok(Some(round));
            }
        }
        last = Some(round);
    }
    Ok(last)
}
