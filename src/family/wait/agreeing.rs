//! Parts of the family, and those of them that agree with what was timed.

use super::{Agreement, DESIGNS, WaitQuestion};
use crate::family::kinds::Element;
use crate::family::outside::{AT_LEAST, MAY_BE_LOW, too_late};
use crate::family::part::Drawn;
use crate::family::prior::{Family, FamilyError};
use crate::family::ready::Opened;
use crate::load::Programme;
use crate::predict::parallel;
use crate::statistics::stream::{Purpose, Stream};
use crate::statistics::weighted::{effective, systematic};

/// Draws: enough for the ends of a 90 % interval to settle, few enough for an answer at once.
const DRAWS: u64 = 120;
/// Draws where something was timed: most of them will not agree with it.
const DRAWS_TIMED: u64 = 360;
/// How far a trip time that was read off a characteristic may be from the timed one to be simulated
/// at all, relative.
const ROUGHLY: f64 = 0.4;
/// The least chance to be simulated.
const LEAST: f64 = 0.02;
/// Weight over the mean one below which a part is not followed further: all of them together are
/// less than this.
const LIGHT: f64 = 1e-3;
/// Part of the way to release that a worn part may have lost.
const MOST_LOST: f64 = 0.5;
/// Parts that must agree with what was timed before they speak for the others.
const ENOUGH: f64 = 5.0;

/// Parts that agree with what was timed, with their weights.
pub(super) fn agreeing(
    family: &Family,
    question: &WaitQuestion,
) -> (Vec<Drawn>, Vec<f64>, Agreement) {
    let timed = &question.timed;
    if timed.is_nothing() {
        let drawn = draws(family, DRAWS);
        let equal = vec![1.0; drawn.len()];
        return (drawn, equal, Agreement::Nothing);
    }
    let seen_a = timed.trip.map_or(question.load_a, |t| t.1);
    let multiple = seen_a / question.nameplate.rated_current_a;
    let roughly = |d: &Drawn| {
        let trip_s = family.cold_trip_s(*d, multiple);
        timed.agrees_with_trip(trip_s, ROUGHLY).max(LEAST)
    };
    let drawn = draws_weighed(family, DRAWS_TIMED, &roughly);
    let air = [(0.0, question.felt_k())];
    let seen = Programme::constant(seen_a);
    let agree = parallel::map(
        &drawn,
        |d| {
            let part = family.sound_part(d);
            let Some((trip_s, opened)) = Opened::from_cold(&part, &air, &seen) else {
                return 0.0;
            };
            let reset_s = opened.relatch_s().unwrap_or(f64::INFINITY);
            timed.agrees(trip_s, reset_s)
        },
        &mut |_| {},
    );
    let prior: Vec<f64> = drawn.iter().map(|d| 1.0 / roughly(d)).collect();
    let weights: Vec<f64> = prior.iter().zip(&agree).map(|(p, a)| p * a).collect();
    match Agreement::of(&agree, &weights) {
        Agreement::NoPartAgrees => {
            let all = draws(family, DRAWS_TIMED);
            let found = outside(family, &all, question).unwrap_or(Agreement::NoPartAgrees);
            (drawn, prior, found)
        }
        narrowed => {
            let least = LIGHT * weights.iter().sum::<f64>() / weights.len() as f64;
            let both = drawn.into_iter().zip(weights);
            let (drawn, weights) = both.filter(|(_, weight)| *weight > least).unzip();
            (drawn, weights, narrowed)
        }
    }
}

/// Whether the trip that was timed came sooner than any strip of such parts can release.
pub(super) fn too_soon(question: &WaitQuestion) -> Result<Option<Agreement>, FamilyError> {
    if question.timed.trip.is_none() {
        return Ok(None);
    }
    let family = Family::new(&question.nameplate, DESIGNS)?;
    let found = outside(&family, &draws(&family, DRAWS_TIMED), question);
    Ok(found.filter(|found| matches!(found, Agreement::TooSoon { .. })))
}

/// Whether the trip that was timed lies outside of what any part does, far enough that neither a
/// reading nor wear of a part that still protects explains it.
fn outside(family: &Family, all: &[Drawn], question: &WaitQuestion) -> Option<Agreement> {
    let (seen_s, seen_a) = question.timed.trip?;
    let element = Element::of(&question.nameplate);
    let may_open = element.is_some_and(|element| element.chance(seen_a) > 0.0);
    let multiple = seen_a / question.nameplate.rated_current_a;
    let times = all.iter().map(|d| family.cold_trip_s(*d, multiple));
    // Without loss of heat a time goes with the square of the current; a reading may be so low.
    let soonest_s = times.fold(f64::INFINITY, f64::min) / (MAY_BE_LOW * MAY_BE_LOW);
    if !may_open && seen_s < soonest_s * (1.0 - MOST_LOST) {
        return Some(Agreement::TooSoon { soonest_s });
    }
    let opened = |k: usize, time_s: f64, factor: f64| {
        family.cold_trip_s(all[k], AT_LEAST * factor * multiple) <= time_s
    };
    let latest_s = too_late(all.len(), seen_s, opened)?;
    Some(Agreement::TooLate { latest_s })
}

impl Agreement {
    /// Of how well each part agrees (0 to 1) and what it weighs then. Parts at the edge of what agrees
    /// are few although they share a small weight evenly: none agrees then.
    pub(in crate::family) fn of(agree: &[f64], weights: &[f64]) -> Agreement {
        let best = agree.iter().copied().fold(0.0, f64::max);
        let parts = effective(weights);
        match parts < ENOUGH || best < 0.1 {
            true => Agreement::NoPartAgrees,
            false => Agreement::Narrowed { parts },
        }
    }
}

/// Draws from the family; what soft knowledge makes improbable is drawn less often.
pub(crate) fn draws(family: &Family, count: u64) -> Vec<Drawn> {
    draws_weighed(family, count, &|_| 1.0)
}

/// Draws from the family, each as often as its soft knowledge and a weight ask for.
fn draws_weighed(family: &Family, count: u64, weight: &dyn Fn(&Drawn) -> f64) -> Vec<Drawn> {
    let all: Vec<(Drawn, f64)> = (0..4 * count)
        .filter_map(|k| {
            let drawn = family.draw(&Stream::new(1, Purpose::other(60), k))?;
            Some((drawn, family.weight(drawn) * weight(&drawn)))
        })
        .collect();
    let weights: Vec<f64> = all.iter().map(|a| a.1).collect();
    systematic(&weights, count as usize, 0.5)
        .into_iter()
        .map(|k| all[k].0)
        .collect()
}
