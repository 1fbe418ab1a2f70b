//! What meters show.

use super::stated::{Stated, mixed, one_of};
use super::{Entry, Scene, Wrong};
use crate::outside::dice::Dice;
use crate::outside::machine::{AVERAGE, Machine};

/// Part of the readings that are taken up to the trip where that can be, and of true-RMS meters.
const UP_TO: f64 = 0.45;
const TRUE_RMS: f64 = 0.5;
/// What a clamp meter is off, as a part; one that is misread.
const CLAMP: f64 = 0.01;
const MISREAD: [f64; 5] = [0.5, 0.7, 1.3, 1.5, 2.0];

/// A clamp meter.
pub fn reading(scene: &Scene<'_>, dice: &Dice) -> Entry {
    let m = scene.m;
    let up_to = can_be_up_to(scene) && dice.flip(UP_TO);
    let is_true = dice.flip(TRUE_RMS);
    let mut said_true = is_true;
    let mut shown = read_a(m, up_to) * (1.0 + CLAMP * dice.normal());
    if !is_true {
        shown *= m.average(dice);
    }
    if m.distorted && !is_true && scene.is(Wrong::DeclaredTrueRms) {
        said_true = true;
    } else if scene.is(Wrong::Reading) {
        shown *= dice.one(&MISREAD);
    }
    Entry::Reading {
        shown: Stated::coarser_from_ten(shown, 2),
        said_true,
        up_to,
    }
}

fn can_be_up_to(scene: &Scene<'_>) -> bool {
    scene.trip_s.is_some() && scene.m.stall.is_none()
}

fn read_a(m: &Machine, up_to: bool) -> f64 {
    if up_to { m.run_a } else { m.other_a }
}

/// Of a reading with what is said of its meter.
pub fn chance_of_reading(scene: &Scene<'_>, shown: &Stated, said_true: bool, up_to: bool) -> f64 {
    let m = scene.m;
    let truth_a = read_a(m, up_to);
    let taken = match (can_be_up_to(scene), up_to) {
        (true, true) => UP_TO,
        (true, false) => 1.0 - UP_TO,
        (false, true) => 0.0,
        (false, false) => 1.0,
    };
    let is_misread = scene.is(Wrong::Reading);
    let of = |is_true: bool| {
        let seen = |k: f64| {
            if is_true || !m.distorted {
                shown.chance_within(k * truth_a, CLAMP)
            } else {
                shown.chance_spread(AVERAGE.0 * k * truth_a, AVERAGE.1 * k * truth_a, CLAMP)
            }
        };
        if is_misread {
            one_of(&MISREAD, seen)
        } else {
            seen(1.0)
        }
    };
    let lies = m.distorted && scene.is(Wrong::DeclaredTrueRms);
    let meters = match said_true {
        true => [TRUE_RMS, if lies { 1.0 - TRUE_RMS } else { 0.0 }],
        false => [0.0, if lies { 0.0 } else { 1.0 - TRUE_RMS }],
    };
    let chance = |(is_true, weight): (bool, f64)| (weight > 0.0).then(|| (weight, of(is_true)));
    f64::ln(taken)
        + mixed(
            [(true, meters[0]), (false, meters[1])]
                .into_iter()
                .filter_map(chance),
        )
}

/// What a drop is off, of this part and of its sister, and how far the current beside it may seem
/// off, so that it can be moved: it is written as it is.
const DROP: f64 = 0.03;
const SISTER: f64 = 0.08;
const BESIDE: f64 = 0.003;

/// The drop across the part, often beside its sister.
pub fn drop(scene: &Scene<'_>, dice: &Dice) -> Entry {
    let m = scene.m;
    let mv = 1000.0 * m.part.drop_v(m.other_a) * (1.0 + DROP * dice.normal());
    let sister = dice
        .flip(0.6)
        .then(|| 1000.0 * m.part.as_new().drop_v(m.other_a) * (1.0 + SISTER * dice.normal()));
    Entry::Drop {
        shown_mv: Stated::rounded(mv, 0),
        current_a: Stated::rounded(m.other_a, 1),
        sister_mv: sister.map(|v| Stated::rounded(v, 0)),
    }
}

/// Of a drop.
pub fn chance_of_drop(
    scene: &Scene<'_>,
    shown_mv: &Stated,
    current_a: &Stated,
    sister_mv: Option<&Stated>,
) -> f64 {
    let m = scene.m;
    let here_mv = 1000.0 * m.part.drop_v(m.other_a);
    let new_mv = 1000.0 * m.part.as_new().drop_v(m.other_a);
    shown_mv.chance_within(here_mv, DROP)
        + current_a.chance_within(m.other_a, BESIDE)
        + sister_mv.map_or(0.0, |v| v.chance_within(new_mv, SISTER))
}

/// What a recorder is off in the current and in the time.
const PEAK: f64 = 0.03;
const LENGTH: f64 = 0.05;

/// A start on a recorder.
pub fn captured(scene: &Scene<'_>, dice: &Dice) -> Option<Entry> {
    let (a, s) = scene.m.start?;
    Some(Entry::Captured {
        peak_a: Stated::rounded(a * (1.0 + PEAK * dice.normal()), 1),
        duration_s: Stated::rounded(s * (1.0 + LENGTH * dice.normal()), 2),
    })
}

/// Of a captured start.
pub fn chance_of_captured(scene: &Scene<'_>, peak_a: &Stated, duration_s: &Stated) -> f64 {
    scene.m.start.map_or(f64::NEG_INFINITY, |(a, s)| {
        peak_a.chance_within(a, PEAK) + duration_s.chance_within(s, LENGTH)
    })
}
