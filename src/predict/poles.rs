//! One, two and all poles loaded; a phase lost from a steady run.

use super::case::Case;
use super::curve::points;
use super::fidelity::{Ladder, converge};
use super::outcome::{LostPhase, PoleSet, Poles};
use super::records::{held, relatch_wait, trip_time};
use super::run::run_from;
use super::session::{Session, Unwatched};
use super::tables::trip_and_wait;
use super::trip_point::{closed_steady, trip_point};
use super::{PredictError, parallel};
use crate::answer::{Held, TripTime, Wait, WhyNotAsked};
use crate::device::Device;
use crate::load::Programme;
use crate::scenario::{Before, Scenario};
use crate::standards::{Limit, Unequal};

/// Answers of a part with several poles; `None`: it has one strip. `curve`: currents at which every
/// set is timed from the cold.
pub fn poles_record(
    scenario: &Scenario,
    device: &Device,
    case: &Case,
    point: Held,
    curve: &[f64],
) -> Result<Option<Poles>, PredictError> {
    let Some(poles) = &device.poles else {
        return Ok(None);
    };
    let factors: Vec<f64> = poles.each.iter().map(|p| p.current_factor).collect();
    let load = &scenario.load;
    let one = |loaded: &Vec<usize>| -> Result<PoleSet, PredictError> {
        let own: Vec<f64> = (factors.iter().enumerate())
            .map(|(k, f)| if loaded.contains(&(k + 1)) { *f } else { 0.0 })
            .collect();
        let device = device.with_pole_currents(&own);
        let point = trip_point(
            &device,
            case.ambient_k(),
            case.rated_current_a,
            case.accuracy,
        )?;
        let allowed = scenario.strip.allow_extrapolation;
        let (trip_time, relatch_wait) = trip_and_wait(&device, case, load, allowed)?;
        let cold = case.at_ambient(case.ambient_k()).from(Before::Cold);
        Ok(PoleSet {
            loaded: loaded.clone(),
            trip_point: held(&point.value, point.error_relative),
            trip_time,
            relatch_wait,
            cold: points(&device, &cold, curve, allowed, &mut |_| {})?,
        })
    };
    let sets = sets(device, &factors);
    let sets = parallel::map(&sets, one, &mut |_| {});
    // What runs is what the part holds: the load where it does, else the rating.
    let holds = |a: f64| point.current_a().is_some_and(|most| a < most);
    let running_a = Some(load.last_a()).filter(|a| holds(*a));
    let running_a = running_a.unwrap_or(case.rated_current_a);
    // Of fewer than three that carry current the loss of one stops the machine.
    let mut lost: Vec<usize> = (0..factors.len()).filter(|k| factors[*k] > 0.0).collect();
    if lost.len() < 3 {
        lost.clear();
    }
    let lost = parallel::map(
        &lost,
        |k| {
            lost_phase(
                device,
                case,
                running_a,
                &factors,
                *k,
                poles.lost_phase_factor,
            )
        },
        &mut |_| {},
    );
    Ok(Some(Poles {
        count: factors.len(),
        bar: poles.bar,
        sets: sets.into_iter().collect::<Result<_, _>>()?,
        lost_phase: lost.into_iter().collect::<Result<_, _>>()?,
        current_factors: factors,
    }))
}

/// All poles that carry current, pairs of them, single ones; where the part is its own mirror
/// image, a set and its image are one.
fn sets(device: &Device, factors: &[f64]) -> Vec<Vec<usize>> {
    let count = factors.len();
    let live: Vec<usize> = (1..=count).filter(|k| factors[k - 1] > 0.0).collect();
    let is_mirrored = device
        .poles
        .as_ref()
        .is_some_and(|p| p.each.iter().eq(p.each.iter().rev()));
    let mut sets = vec![live.clone()];
    for (i, a) in live.iter().enumerate() {
        sets.extend(live[i + 1..].iter().map(|b| vec![*a, *b]));
    }
    sets.extend(live.iter().map(|a| vec![*a]));
    let mut told: Vec<Vec<usize>> = Vec::new();
    for set in sets {
        let image: Vec<usize> = set.iter().rev().map(|k| count + 1 - k).collect();
        let is_told = told.contains(&set) || is_mirrored && told.contains(&image);
        if !is_told {
            told.push(set);
        }
    }
    told
}

/// When a part trips and how long it must cool that is steady under one current in its poles, and
/// then carries another in them.
fn switched(
    case: &Case,
    (before, running_a): (&Device, f64),
    (after, current_a): (&Device, f64),
) -> Result<(TripTime, Wait), PredictError> {
    let load = Programme::constant(current_a);
    let answer = converge(
        after,
        Ladder::new(after, 10.0, case.accuracy),
        case.accuracy,
        None,
        |model, tolerance| {
            let before = before.on(model.fineness);
            let ambient_k = case.ambient_k();
            let cold = before.uniform(ambient_k);
            let steady = closed_steady(&before, running_a, ambient_k, &cold)?;
            let y = steady
                .filter(|y| before.release_excess_m(y, 0.0) < 0.0)
                .ok_or(PredictError::HotBeyondRelease {
                    current_a: running_a,
                    trip_point_a: None,
                })?;
            let mut session = Session::new(model, &case.ambient, tolerance, y);
            session.halt = case.halt.clone();
            run_from(session, case, &load, true, &mut Unwatched)
        },
        |a| vec![a.trip_time_s, a.relatch_wait_s],
    );
    Ok(match answer {
        Ok(answer) => (trip_time(&answer, &load, case), relatch_wait(&answer.value)),
        Err(PredictError::HotBeyondRelease { .. }) => (
            TripTime::AlreadyOpen,
            Wait::NotAsked {
                why: WhyNotAsked::AlreadyOpen,
            },
        ),
        Err(error) => return Err(error),
    })
}

/// Time to trip of a part whose three poles carry different currents: the odd one goes through each
/// pole in turn, and the least favourable of them stands.
pub(super) fn unequal_time(
    device: &Device,
    case: &Case,
    row: &Limit,
    unequal: &Unequal,
) -> Result<TripTime, PredictError> {
    let rated_a = case.rated_current_a;
    let mut found: Option<TripTime> = None;
    for turn in 0..3 {
        let carries = |mut poles: [f64; 3]| {
            poles.rotate_right(turn);
            device.with_pole_currents(&poles)
        };
        let before = (carries(unequal.before), row.after_multiple * rated_a);
        let after = (carries(unequal.poles), row.multiple * rated_a);
        let (time, _) = switched(case, (&before.0, before.1), (&after.0, after.1))?;
        if found
            .as_ref()
            .is_none_or(|was| row.is_met(was) && !row.is_met(&time))
        {
            found = Some(time);
        }
    }
    Ok(found.unwrap_or(TripTime::AlreadyOpen))
}

/// Steady at the running current, then one pole without and the others with more.
fn lost_phase(
    device: &Device,
    case: &Case,
    running_a: f64,
    factors: &[f64],
    lost: usize,
    factor: f64,
) -> Result<LostPhase, PredictError> {
    let mut own = factors.to_vec();
    own[lost] = 0.0;
    let after = device.with_pole_currents(&own);
    let current_a = factor * running_a;
    let case = case.at_ambient(case.ambient_k());
    let (trip_time, relatch_wait) = switched(&case, (device, running_a), (&after, current_a))?;
    Ok(LostPhase {
        lost: lost + 1,
        running_a,
        current_a,
        trip_time,
        relatch_wait,
    })
}
