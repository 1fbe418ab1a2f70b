//! Temperatures about the part.

use super::stated::{Stated, mixed};
use super::{Entry, Scene, Wrong};
use crate::outside::dice::Dice;

/// What thermometers are off, K: in air, and two on terminals.
const AIR_OFF_K: f64 = 1.0;
const TERMINALS_OFF_K: f64 = 1.5;

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
    let other_c = m.air_c + 0.25 * m.part.threshold_k();
    Entry::Terminals {
        hotter_c: Stated::rounded(other_c + apart_k.abs(), 0),
        other_c: Stated::rounded(other_c, 0),
    }
}

/// Of how far they are apart, by which sign is not known; both are rounded. How warm the cooler one is is not asked.
pub fn chance_of_terminals(scene: &Scene<'_>, hotter_c: &Stated, other_c: &Stated) -> f64 {
    let apart_k = Stated::rounded(hotter_c.middle() - other_c.middle(), 0);
    let truth_k = scene.m.part.terminals_k(scene.m.other_a);
    let deviation_k = f64::sqrt(TERMINALS_OFF_K * TERMINALS_OFF_K + 1.0 / 12.0);
    let [one, other] = [1.0, -1.0].map(|sign| apart_k.chance(sign * truth_k, deviation_k));
    let twice = f64::from(u8::from(apart_k.middle() > 0.0));
    mixed([(1.0, one), (twice, other)])
}
