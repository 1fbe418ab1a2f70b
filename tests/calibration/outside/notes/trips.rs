//! What is told of trips and of runs without one.

use super::stated::{Stated, TOLD, mixed, told};
use super::{Entry, Scene, Wrong};
use crate::outside::dice::Dice;
use crate::outside::machine::WATCHED_S;
use crate::outside::part::Warm;

/// Part of the trips that are told as having come twice, and of those that came once whose time is
/// known.
const TWICE: f64 = 0.25;

/// As the operator tells it.
pub fn trip(scene: &Scene<'_>, dice: &Dice) -> Option<Entry> {
    if scene.trip_s.is_none() {
        let once = scene.m.faults.is_empty();
        return once.then(|| Entry::Once {
            after: if dice.flip(0.5) {
                None
            } else {
                once_s(scene).map(|t| told(dice, t))
            },
        });
    }
    let time_s = trip_s(scene)?;
    Some(Entry::Trip {
        after: told(dice, time_s),
        twice: dice.flip(TWICE),
    })
}

/// By something that passed.
fn once_s(scene: &Scene<'_>) -> Option<f64> {
    let load = [(WATCHED_S, scene.m.once_a)];
    scene.m.part.carry(Warm::COLD, &load, scene.m.air_c).0
}

/// As it runs; what is called cold may have been warm.
fn trip_s(scene: &Scene<'_>) -> Option<f64> {
    let (m, first_s) = (scene.m, scene.trip_s?);
    if m.stall.is_some() || !scene.is(Wrong::WarmCalledCold) {
        return Some(first_s);
    }
    let load = [(1800.0, 0.75 * m.other_a)];
    let (_, warm) = m.part.carry(Warm::COLD, &load, m.air_c);
    let trips = m.part.carry(warm, &m.load(m.run_a), m.air_c).0;
    Some(trips.unwrap_or(first_s))
}

/// Of a time told; whether the trip came once or as it runs is not asked, only whether it came
/// twice.
pub fn chance_of_trip(scene: &Scene<'_>, after: &Stated, twice: bool) -> f64 {
    let (time_s, times) = if scene.m.faults.is_empty() {
        (once_s(scene), if twice { 0.0 } else { 1.0 })
    } else {
        (trip_s(scene), if twice { TWICE } else { 1.0 - TWICE })
    };
    time_s.map_or(f64::NEG_INFINITY, |t| {
        f64::ln(times) + after.chance_within(t, TOLD)
    })
}

/// How much longer than needed people rest before they reset.
const RESTED: (f64, f64) = (1.2, 4.0);

/// Again, soon after the reset.
pub fn again(scene: &Scene<'_>, dice: &Dice) -> Option<Entry> {
    scene.trip_s?;
    let m = scene.m;
    let (_, warm) = m.part.carry(Warm::COLD, &m.load(m.run_a), m.air_c);
    let wait_s = m.part.relatches(warm, m.air_c)?;
    let rest_s = (wait_s * dice.between(RESTED.0, RESTED.1)).max(5.0).round();
    let time_s = again_s(scene, warm, rest_s)?;
    Some(Entry::Again {
        rest_s,
        after: told(dice, time_s),
    })
}

fn again_s(scene: &Scene<'_>, warm: Warm, rest_s: f64) -> Option<f64> {
    let m = scene.m;
    let (_, cooled) = m.part.carry(warm, &[(rest_s, 0.0)], m.air_c);
    m.part.carry(cooled, &m.load(m.run_a), m.air_c).0
}

/// Of a rest and of the time after it.
pub fn chance_of_again(scene: &Scene<'_>, rest_s: f64, after: &Stated) -> f64 {
    let m = scene.m;
    let (tripped, warm) = m.part.carry(Warm::COLD, &m.load(m.run_a), m.air_c);
    let times = tripped.and_then(|_| {
        let wait_s = m.part.relatches(warm, m.air_c)?;
        Some((wait_s, again_s(scene, warm, rest_s)?))
    });
    let Some((wait_s, time_s)) = times else {
        return f64::NEG_INFINITY;
    };
    let (least_s, most_s) = (RESTED.0 * wait_s, RESTED.1 * wait_s);
    let low_s = if rest_s <= 5.0 { 0.0 } else { rest_s - 0.5 };
    let rested_s = (rest_s + 0.5).min(most_s) - low_s.max(least_s);
    let rested = rested_s.max(0.0) / (most_s - least_s).max(1e-9);
    rested.min(1.0).ln() + after.chance_within(time_s, TOLD)
}

/// It worked as usual for hours; or it had less to do.
pub fn held(scene: &Scene<'_>, dice: &Dice) -> Option<Entry> {
    if !may_hold(scene) {
        return None;
    }
    let hours = dice.one(&[1.0, 2.0, 3.0]);
    (scene.trip_s.is_some() || holds(scene)).then_some(Entry::Held { hours })
}

fn may_hold(scene: &Scene<'_>) -> bool {
    scene.trip_s.is_none() || scene.is(Wrong::HeldIdle)
}

fn holds(scene: &Scene<'_>) -> bool {
    let m = scene.m;
    let load = m.load(m.other_a);
    m.part.carry(Warm::COLD, &load, m.air_c).0.is_none()
}

/// Of hours held, whichever.
pub fn chance_of_held(scene: &Scene<'_>) -> f64 {
    let can = may_hold(scene) && (scene.trip_s.is_some() || holds(scene));
    mixed([(f64::from(u8::from(can)), 0.0)])
}
