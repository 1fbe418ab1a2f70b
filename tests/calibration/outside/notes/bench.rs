//! Timed trips on a bench, of this part and as new; a twin in its place.

use super::stated::{Stated, TOLD, mixed, one_of, told};
use super::{Entry, Scene, Wrong};
use crate::outside::dice::Dice;
use crate::outside::machine::{Fault, Machine};
use crate::outside::part::Part;

/// Part of the current that the bench is off, and of the time.
const CURRENT_OFF: f64 = 0.015;
const TIME_OFF: f64 = 0.05;
/// What a time that belongs to another part is off.
const ANOTHER: [f64; 4] = [0.25, 0.4, 2.5, 4.0];

/// At twice the rating.
pub fn bench(scene: &Scene<'_>, dice: &Dice, as_new: bool) -> Option<Entry> {
    let current_a = 2.0 * scene.m.part.rated_a;
    let real_a = current_a * (1.0 + CURRENT_OFF * dice.normal());
    let air_c = 23.0 + 2.0 * dice.normal();
    let mut t = scene.m.bench(&tested(scene.m, as_new), real_a, air_c)?;
    if as_new && scene.is(Wrong::AsNewOfAnother) {
        t *= dice.one(&ANOTHER);
    }
    t *= 1.0 + TIME_OFF * dice.normal();
    Some(Entry::Bench {
        as_new,
        current_a,
        air_c: Stated::rounded(air_c, 0),
        after: Stated::coarser_from_ten(t, 1),
    })
}

fn tested(m: &Machine, as_new: bool) -> Part {
    if as_new {
        m.part.as_new()
    } else {
        m.part.clone()
    }
}

/// Of a time; over the scatter of the current by Gauss and Hermite's rule of three points.
pub fn chance_of_bench(scene: &Scene<'_>, as_new: bool, air_c: &Stated, after: &Stated) -> f64 {
    let current_a = 2.0 * scene.m.part.rated_a;
    let part = tested(scene.m, as_new);
    let three = 3f64.sqrt();
    mixed(
        [(-three, 1.0 / 6.0), (0.0, 2.0 / 3.0), (three, 1.0 / 6.0)].map(|(off, weight)| {
            let real_a = current_a * (1.0 + CURRENT_OFF * off);
            let timed = scene.m.bench(&part, real_a, air_c.middle());
            let chance = timed.map_or(f64::NEG_INFINITY, |t| {
                if as_new && scene.is(Wrong::AsNewOfAnother) {
                    one_of(&ANOTHER, |k| after.chance_within(k * t, TIME_OFF))
                } else {
                    after.chance_within(t, TIME_OFF)
                }
            });
            (weight, chance)
        }),
    )
}

/// A twin in its place.
pub fn swap(scene: &Scene<'_>, dice: &Dice) -> Option<Entry> {
    let watched_s = watched_s(scene)?;
    let trips = twin_s(scene, dice).filter(|t| *t < watched_s);
    Some(Entry::Swap {
        watched_s,
        after: trips.map(|t| told(dice, t)),
    })
}

fn watched_s(scene: &Scene<'_>) -> Option<f64> {
    scene.trip_s.map(|t| (4.0 * t).clamp(600.0, 7200.0))
}

fn twin_s(scene: &Scene<'_>, dice: &Dice) -> Option<f64> {
    let re_made = scene.m.has(Fault::Joint) && scene.is(Wrong::SwapReMade);
    scene.m.with_sister(dice, re_made).trips()
}

/// Of what a twin did; the dice make the twin. How long it was watched is not asked.
pub fn chance_of_swap(scene: &Scene<'_>, twin: &Dice, after: Option<&Stated>) -> f64 {
    let Some(watched_s) = watched_s(scene) else {
        return f64::NEG_INFINITY;
    };
    let trips = twin_s(scene, twin).filter(|t| *t < watched_s);
    match (trips, after) {
        (Some(t), Some(after)) => after.chance_within(t, TOLD),
        (None, None) => 0.0,
        _ => f64::NEG_INFINITY,
    }
}
