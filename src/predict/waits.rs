//! When the equipment can be started again after a trip, and what a premature reset brings.

use super::PredictError;
use super::case::Case;
use super::fidelity::{Fidelity, Ladder, converge};
use super::outcome::Governs;
use super::records::{no_proof, relatch_wait};
use super::run::{LONGEST_COOLING_S, RunAnswer};
use super::session::{Carried, Cooled, Session, Unwatched};
use crate::answer::{TripTime, Wait, WhyNever};
use crate::device::{Device, Model, Phase};
use crate::load::Programme;
use crate::scenario::StartUp;

/// Ready wait and what governs it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ReadyAnswer {
    /// The wait.
    pub wait: Wait,
    /// What it comes from, where there is one.
    pub governs: Option<Governs>,
}

impl ReadyAnswer {
    /// A wait that nothing governs.
    pub(super) fn of(wait: Wait) -> ReadyAnswer {
        ReadyAnswer {
            wait,
            governs: None,
        }
    }

    fn after(wait_s: f64, governs: Governs) -> ReadyAnswer {
        ReadyAnswer {
            wait: Wait::of(wait_s.into()),
            governs: Some(governs),
        }
    }
}

/// Opened protector cooling down, from which a start can be tried after any wait.
struct Cooling<'m> {
    opened: Session<'m>,
    opened_at_s: f64,
}

impl<'m> Cooling<'m> {
    fn after(&self, wait_s: f64) -> Result<Session<'m>, PredictError> {
        let mut session = self.opened.clone();
        session.wait(self.opened_at_s + wait_s, &mut Unwatched)?;
        Ok(session)
    }

    /// Whether a start after this wait keeps its margin over the horizon.
    fn starts(&self, wait_s: f64, start: &StartUp) -> Result<bool, PredictError> {
        let mut session = self.after(wait_s)?;
        session.phase = Phase::Closed;
        let begin = session.t;
        let carried = session.carry(
            &start.profile,
            begin,
            begin + start.horizon_s,
            start.margin_m,
            &mut Unwatched,
        )?;
        Ok(carried != Carried::Released)
    }
}

/// The protector at open contacts after the run.
fn opened<'m>(
    model: &'m Model,
    tolerance: f64,
    case: &'m Case,
    load: &Programme,
) -> Result<Option<Cooling<'m>>, PredictError> {
    let mut session = case.start(model, tolerance)?;
    if session.carry(load, 0.0, case.longest_s, 0.0, &mut Unwatched)? != Carried::Released {
        return Ok(None);
    }
    session.open(
        load,
        0.0,
        model.device.release.opening_time_s,
        &mut Unwatched,
    )?;
    let opened_at_s = session.t;
    Ok(Some(Cooling {
        opened: session,
        opened_at_s,
    }))
}

/// The smallest wait, at or after relatch, after which the start-up keeps its margin, and all
/// longer waits do too.
pub fn ready_wait(
    device: &Device,
    case: &Case,
    load: &Programme,
    start: &StartUp,
    run: &RunAnswer,
    fidelity: Fidelity,
) -> Result<ReadyAnswer, PredictError> {
    let Some(relatch) = run.relatch_wait_s else {
        return Ok(ReadyAnswer::of(relatch_wait(run)));
    };
    let model = device.on(fidelity.fineness);
    let Some(cooling) = opened(&model, fidelity.tolerance, case, load)? else {
        return Ok(ReadyAnswer::of(relatch_wait(run)));
    };
    // Long after the trip everything is at the ambient: a start that fails then fails always.
    let longest = cold_after_s(device, relatch);
    if !cooling.starts(longest, start)? {
        return Ok(ReadyAnswer::of(Wait::Never {
            why: WhyNever::StartTrips {
                margin_mm: 1e3 * start.margin_m,
                cooled_s: longest,
            },
        }));
    }
    // From long waits to short: the last failure seen bounds the answer from below.
    let mut good = longest;
    let mut bad = None;
    let ratio = 1.3f64;
    let mut wait = longest / ratio;
    while wait > relatch {
        if cooling.starts(wait, start)? {
            good = wait;
        } else {
            bad = Some(wait);
            break;
        }
        wait /= ratio;
    }
    let mut bad = match bad {
        Some(b) => b,
        None if cooling.starts(relatch, start)? => {
            return Ok(ReadyAnswer::after(relatch, Governs::Relatch));
        }
        None => relatch,
    };
    while good - bad > (case.accuracy * good).max(1e-6) {
        let middle = 0.5 * (good + bad);
        if cooling.starts(middle, start)? {
            good = middle
        } else {
            bad = middle
        }
    }
    Ok(ReadyAnswer::after(good, Governs::StartUp))
}

/// A wait after which everything is cold: many time constants of the slowest part.
fn cold_after_s(device: &Device, relatch_s: f64) -> f64 {
    let slow = |c: f64, g: f64| if g > 0.0 { c / g } else { 0.0 };
    let strip = device.laws.line(300.0).capacity * device.length_m;
    let mut longest = slow(
        device.clamped.heat_capacity_j_per_k + strip,
        device.clamped.conductance_w_per_k,
    )
    .max(slow(
        device.fixed.heat_capacity_j_per_k,
        device.fixed.conductance_w_per_k,
    ));
    if let Some(h) = device.housing {
        longest = longest.max(slow(h.heat_capacity_j_per_k + strip, h.conductance_w_per_k));
    }
    if let Some(w) = device.winding {
        longest = longest.max(slow(
            w.heat_capacity_j_per_k,
            w.conductance_to_air_w_per_k + w.conductance_to_strip_w_per_k,
        ));
    }
    (12.0 * longest).max(20.0 * relatch_s).max(60.0)
}

/// The load again after each wait.
pub fn premature(
    device: &Device,
    case: &Case,
    load: &Programme,
    waits_s: &[f64],
    run: &RunAnswer,
) -> Result<Vec<TripTime>, PredictError> {
    let ladder = Ladder::new(
        device,
        0.3 * run.trip_time_s.unwrap_or(1.0),
        case.accuracy.max(1e-4),
    );
    let answer = converge(
        device,
        ladder,
        case.accuracy.max(1e-4),
        None,
        |model, tolerance| {
            let Some(cooling) = opened(model, tolerance, case, load)? else {
                return Ok(Vec::new());
            };
            waits_s
                .iter()
                .map(|wait| {
                    let mut session = cooling.after(*wait)?;
                    session.phase = Phase::Closed;
                    let begin = session.t;
                    let until = begin + case.longest_s;
                    let carried = session.carry(load, begin, until, 0.0, &mut Unwatched)?;
                    Ok(again(carried, session.t - begin, load, case))
                })
                .collect()
        },
        |answers| answers.iter().map(TripTime::time_s).collect(),
    )?;
    Ok(answer.value)
}

/// How carrying a load once more ended after a time.
pub(super) fn again(carried: Carried, after_s: f64, load: &Programme, case: &Case) -> TripTime {
    match carried {
        Carried::Released if after_s > 0.0 => TripTime::After(after_s.into()),
        Carried::Released => TripTime::AtOnce,
        Carried::HeldForEver => TripTime::HoldsForEver,
        Carried::StillHolding => TripTime::NotWithin {
            horizon_s: after_s,
            why: no_proof(load, case, after_s),
        },
    }
}

/// How cooling ended after a time.
pub(super) fn wait_of(cooled: Cooled, after_s: f64) -> Wait {
    match cooled {
        Cooled::Relatched => Wait::of(after_s.into()),
        Cooled::Never => Wait::Never {
            why: WhyNever::StaysWarm,
        },
        Cooled::StillOpen => Wait::NotWithin {
            horizon_s: LONGEST_COOLING_S,
        },
    }
}
