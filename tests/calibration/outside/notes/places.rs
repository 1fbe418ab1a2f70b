//! Temperatures about the part.

use super::stated::{Stated, between, mixed};
use super::{Entry, Scene, Wrong};
use crate::outside::dice::Dice;

/// What thermometers are off, K: in air, and two on terminals.
const AIR_OFF_K: f64 = 1.0;
const TERMINALS_OFF_K: f64 = 1.5;
/// How far the cooler terminal is on the way from the air to release.
const COOLER: f64 = 0.25;

/// The air at the part or of the room.
pub fn air(scene: &Scene<'_>, dice: &Dice, at_part: bool) -> Entry {
    Entry::Air {
        at_part,
        shown_c: Stated::rounded(air_c(scene, at_part) + AIR_OFF_K * dice.normal(), 0),
    }
}

fn air_c(scene: &Scene<'_>, at_part: bool) -> f64 {
    if at_part && !scene.is(Wrong::RoomForPart) {
        scene.m.air_c
    } else {
        scene.m.room_c
    }
}

/// Of the air shown.
pub fn chance_of_air(scene: &Scene<'_>, at_part: bool, shown_c: &Stated) -> f64 {
    shown_c.chance(air_c(scene, at_part), AIR_OFF_K)
}

/// Both terminals.
pub fn terminals(scene: &Scene<'_>, dice: &Dice) -> Entry {
    let m = scene.m;
    let apart_k = m.part.terminals_k(m.other_a) + TERMINALS_OFF_K * dice.normal();
    let other_c = m.air_c + COOLER * m.part.threshold_k();
    Entry::Terminals {
        hotter_c: Stated::rounded(other_c + apart_k.abs(), 0),
        other_c: Stated::rounded(other_c, 0),
    }
}

/// Of how far they are apart as written, by which sign is not known. How warm the cooler one is is
/// not asked.
pub fn chance_of_terminals(scene: &Scene<'_>, hotter_c: &Stated, other_c: &Stated) -> f64 {
    let m = scene.m;
    // The one that does not scatter is rounded too.
    let truth_c = m.air_c + COOLER * m.part.threshold_k();
    let rounded_k = truth_c.round() - truth_c;
    let written_k = hotter_c.middle() - other_c.middle();
    let (low_k, high_k) = (written_k + rounded_k - 0.5, written_k + rounded_k + 0.5);
    let apart_k = m.part.terminals_k(m.other_a);
    let of = |from_k: f64, to_k: f64| {
        between(
            (from_k - apart_k) / TERMINALS_OFF_K,
            (to_k - apart_k) / TERMINALS_OFF_K,
        )
    };
    let low_k = low_k.max(0.0);
    mixed([(1.0, of(low_k, high_k)), (1.0, of(-high_k, -low_k))])
}
