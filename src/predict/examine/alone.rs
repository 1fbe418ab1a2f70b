//! One unit alone: slower, and the reference that the answers side by side are held against.

use super::once::Once;
use super::{
    ACCURACY, Air, Amperes, Finding, LEAST_CLEARANCE_M, Questions, Setting, case_of, own_case,
};
use crate::answer::TripTime;
use crate::device::Device;
use crate::load::Programme;
use crate::predict::PredictError;
use crate::predict::fidelity::Ladder;
use crate::predict::poles::unequal_time;
use crate::predict::run::run;
use crate::predict::session::{Carried, Cooled, Session, Unwatched};
use crate::predict::trip_point::{TripPointAnswer, trip_point};
use crate::scenario::Scenario;

/// How far a load is from the trip point, relative, from which one grid answers for it.
const CLEAR: f64 = 0.05;

/// The same questions of one unit, given as its scenario, to the accuracy of units side by side.
///
/// # Errors
/// Why this unit cannot be computed.
pub fn examine_alone(
    scenario: &Scenario,
    questions: &Questions,
    set_factor: f64,
    accuracy: f64,
) -> Result<Finding, PredictError> {
    let finely = Finely::Until(accuracy);
    examine(scenario, questions, set_factor, finely)
}

/// How finely a unit is asked.
#[derive(Clone, Copy)]
pub(super) enum Finely<'a> {
    /// Until two grids agree to this accuracy.
    Until(f64),
    /// Each question on one grid.
    Once(&'a Once),
}

impl Finely<'_> {
    fn accuracy(self) -> f64 {
        match self {
            Finely::Until(accuracy) => accuracy,
            Finely::Once(_) => ACCURACY,
        }
    }
}

pub(super) fn examine(
    scenario: &Scenario,
    questions: &Questions,
    set_factor: f64,
    finely: Finely<'_>,
) -> Result<Finding, PredictError> {
    let mut device = Device::new(scenario)?;
    let Some(latch) = scenario.release.mechanism.latch() else {
        return answers(scenario, &device, questions, f64::INFINITY, finely);
    };
    let mut clearance_m = latch.release_travel_m;
    if let Some(setting) = questions.setting {
        let over_m = set_alone(scenario, &device, &setting, set_factor, finely.accuracy())?;
        clearance_m += over_m;
        if !(clearance_m > LEAST_CLEARANCE_M) {
            return Ok(Finding::unknown(questions, clearance_m));
        }
        let mut set = scenario.clone();
        if let Some(latch) = set.release.mechanism.latch_mut() {
            latch.widen(over_m);
        }
        device = Device::new(&set)?;
    }
    answers(scenario, &device, questions, clearance_m, finely)
}

/// How far the clearance has to be widened, m.
fn set_alone(
    scenario: &Scenario,
    device: &Device,
    setting: &Setting,
    set_factor: f64,
    accuracy: f64,
) -> Result<f64, PredictError> {
    let time_s = setting.time_s * set_factor;
    let rung = Ladder::new(device, time_s, accuracy).rung(1);
    let model = device.on(rung.fineness);
    let case = case_of(scenario, setting.ambient_k, 0.0);
    let mut session: Session<'_> = case.start(&model, rung.tolerance)?;
    let load = Programme::constant(setting.current_a);
    session.stay_closed(&load, 0.0, time_s, &mut Unwatched)?;
    let plant = session.plant(load.piece_after(time_s), 0.0);
    Ok(model.release_excess_m(&session.y, plant.strip_current_squared(time_s)))
}

fn answers(
    scenario: &Scenario,
    device: &Device,
    questions: &Questions,
    clearance_m: f64,
    finely: Finely<'_>,
) -> Result<Finding, PredictError> {
    let mut finding = Finding::unknown(questions, clearance_m);
    let own = own_case(scenario);
    let air_k = |air: usize| match questions.airs[air] {
        Air::Own => own.ambient_k(),
        Air::At(k) => k,
    };
    for (k, point) in finding.trip_points_a.iter_mut().enumerate() {
        let guess_a = scenario.protector.rated_current_a;
        let answer = match finely {
            Finely::Until(accuracy) => trip_point(device, air_k(k), guess_a, accuracy)?.value,
            Finely::Once(once) => once.trip_point(device, k, air_k(k), guess_a)?,
        };
        *point = match answer {
            TripPointAnswer::At { current_a, .. } => current_a,
            TripPointAnswer::StaysOpen => 0.0,
            TripPointAnswer::NeverReleases => f64::INFINITY,
        };
    }
    for (k, carry) in questions.carries.iter().enumerate() {
        let is_own = questions.airs[carry.air] == Air::Own;
        let mut case = match (carry.current, is_own) {
            (Amperes::Own, true) => own.clone(),
            _ => case_of(scenario, air_k(carry.air), carry.before_a),
        };
        case.accuracy = finely.accuracy();
        let load = match carry.current {
            Amperes::Own => scenario.load.clone(),
            Amperes::Of(a) => Programme::constant(a),
        };
        if let Some((row, unequal)) = carry.unequal.and_then(|row| Some((row, row.unequal?))) {
            let time = unequal_time(device, &case, &row, &unequal)?;
            let is_open = matches!(time, TripTime::AlreadyOpen | TripTime::AtOnce);
            let never_s = if is_open { 0.0 } else { f64::INFINITY };
            finding.times_s[k] = time.time_s().unwrap_or(never_s);
            continue;
        }
        let trip_point_a = finding.trip_points_a[carry.air];
        let answer = match finely {
            Finely::Once(once) if is_clear_of(&load, trip_point_a) => {
                once.run(device, k, &case, &load, carry.cool)
            }
            _ => run(device, &case, &load, carry.cool).map(|answer| answer.value),
        };
        match answer {
            Ok(answer) => {
                finding.times_s[k] = answer.trip_time_s.unwrap_or(f64::INFINITY);
                if let (Carried::Released, Some(cooled)) = (answer.carried, answer.cooled) {
                    finding.waits_s[k] = match cooled {
                        Cooled::Relatched => answer.relatch_wait_s.unwrap_or(f64::NAN),
                        Cooled::Never | Cooled::StillOpen => f64::INFINITY,
                    };
                }
            }
            Err(PredictError::HotBeyondRelease { .. }) => finding.times_s[k] = 0.0,
            Err(e) => return Err(e),
        }
    }
    Ok(finding)
}

/// Whether a load is so far from the trip point that what one grid leaves there is not stretched in
/// its trip time.
fn is_clear_of(load: &Programme, trip_point_a: f64) -> bool {
    let over = load.last_a() / trip_point_a;
    !(1.0 - CLEAR..1.0 + CLEAR).contains(&over)
}
