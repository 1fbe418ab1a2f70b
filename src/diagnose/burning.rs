//! Joints that burn, and joints that do not, by what was measured at them alone.

use super::latent::SOUND_JOINT;
use super::scatter::TERMINALS_K;
use crate::evidence::{Case, Drop, Joints, Mend, Terminals};
use crate::family::{Family, draws};
use serde::{Deserialize, Serialize};

/// From so much more heat than in a sound part on, W, and so large a part of that part's own, a joint
/// is re-made. A bad one drops tenths of a volt to several volts, and is the worse the more it drops
/// (a trade page on voltage-drop testing, launchmyhvac.com); a quarter of a volt at 12 A is 3 W.
const MORE_W: f64 = 3.0;
const MORE_OF_SOUND: f64 = 0.5;
/// So many times the drop of a sister under the same load is a bad joint, where that makes any heat
/// at all, W (poles that differ by half of the lowest are looked into: ANSI/NETA, from memory).
const OF_SISTER: f64 = 2.0;
const ANY_W: f64 = 0.5;
/// One terminal so much hotter than the other is a bad joint, K: between like parts under a like load
/// 15 K are mended at once (ANSI/NETA, thermography, from memory), and two of one part are less alike.
const APART_K: f64 = 25.0;
/// Most that a terminal may be hotter than the air, K: tinned copper (IEC 60947-1, from memory).
const RISE_K: f64 = 65.0;
/// Hotter than what insulation of wires bears, K: PVC of the usual classes 70 to 105 degC (from
/// memory).
const INSULATION_K: f64 = 378.15;
/// Parts drawn.
const PARTS: u64 = 200;

/// Mends after which a joint is another one.
const RE_MADE: [Mend; 2] = [Mend::Joints, Mend::Protector];

/// Drops across the joints as they are now.
fn drops_now(case: &Case) -> impl Iterator<Item = &Drop> {
    let drops = case.drops.iter();
    drops.filter(|drop| !case.is_undone(drop.mended, &RE_MADE))
}

/// Whether a joint shows marks of heat that was not re-made since.
pub fn shows_marks(case: &Case) -> bool {
    case.joints == Some(Joints::MarksOfHeat) && !case.is_undone(0, &RE_MADE)
}

/// The terminals as they are now.
fn terminals_now(case: &Case) -> Option<&Terminals> {
    let read = case.terminals.as_ref();
    read.filter(|t| !case.is_undone(t.mended, &RE_MADE))
}

/// What was measured of a joint that says by itself, however improbable the rest makes it, that it is
/// bad and can burn, whether or not anything trips.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(untagged)]
#[non_exhaustive]
pub enum BadJoint {
    /// Its drop.
    Heat {
        /// Heat above that of a sound part, W.
        heat_w: f64,
    },
    /// One terminal against the other.
    Apart {
        /// By so much hotter, K.
        apart_k: f64,
    },
    /// A terminal against the air that was measured.
    Rise {
        /// By so much hotter, K.
        rise_k: f64,
    },
}

/// The entry that shows a bad joint, and what it shows.
pub fn bad_joint(case: &Case, family: &Family) -> Option<(String, BadJoint)> {
    let hot = hot_joint(case, family);
    let hot = hot.map(|(entry, heat_w)| (entry, BadJoint::Heat { heat_w }));
    hot.or_else(|| bad_terminals(case))
}

/// Terminals that lie too far apart, or too far above the air.
fn bad_terminals(case: &Case) -> Option<(String, BadJoint)> {
    let terminals = terminals_now(case)?;
    let hotter_k = terminals.hotter_k.value;
    let apart_k = hotter_k - terminals.other_k.value;
    if apart_k > APART_K {
        return Some((terminals.label.clone(), BadJoint::Apart { apart_k }));
    }
    let of_events = case.events.iter().filter_map(|e| e.air_k);
    let air = of_events.chain(case.air.iter().map(|a| a.temperature_k));
    let warmest_k = air.map(|k| k.value).reduce(f64::max)?;
    let rise_k = hotter_k - warmest_k;
    (rise_k > RISE_K).then(|| (terminals.label.clone(), BadJoint::Rise { rise_k }))
}

/// The entry of the hottest joint by its drop, and its heat above that of a sister part, W, or above
/// that of any sound part where no sister was measured or hers is no sound one's; `None` where none is
/// hot.
fn hot_joint(case: &Case, family: &Family) -> Option<(String, f64)> {
    let hot = drops_now(case).filter_map(|drop| {
        let current_a = drop.current_a.value;
        let shown_w =
            (drop.voltage_v.value - 2.0 * drop.voltage_v.standard_uncertainty) * current_a;
        let sister_w = (drop.sister_v)
            .map(|sister| (sister.value + 2.0 * sister.standard_uncertainty) * current_a);
        let any_sound_w = largest_ohm(family) * current_a * current_a;
        let more_w = shown_w - sister_w.map_or(any_sound_w, |w| w.min(any_sound_w));
        let is_hot = more_w > MORE_W && more_w > MORE_OF_SOUND * (shown_w - more_w);
        // A sister may be as bad.
        let is_unlike = sister_w.is_some_and(|w| {
            shown_w > OF_SISTER * w || shown_w > (1.0 + MORE_OF_SOUND) * any_sound_w
        });
        (is_hot || is_unlike && more_w > ANY_W).then(|| (drop.label.clone(), more_w))
    });
    hot.max_by(|a, b| a.1.total_cmp(&b.1))
}

/// Largest resistance of a sound part of a family, ohm.
fn largest_ohm(family: &Family) -> f64 {
    let rated_a = family.nameplate().rated_current_a;
    let ohm = |drawn: &crate::family::Drawn| {
        let member = &family.members()[drawn.member];
        let own = member.trip_point_a / (drawn.placing.trip_multiple * rated_a);
        member.drop_v / member.trip_point_a * own * own
    };
    draws(family, PARTS).iter().map(ohm).fold(0.0, f64::max)
}

/// The terminal that is hotter than insulation bears, K.
pub fn hot_terminal_k(case: &Case) -> Option<f64> {
    let hotter_k = terminals_now(case)?.hotter_k.value;
    (hotter_k > INSULATION_K).then_some(hotter_k)
}

/// Whether a drop beside a sister's or both terminals were measured and all of them are those of
/// sound joints.
pub fn joints_measured_sound(case: &Case) -> bool {
    let is_sound = |drop: &Drop| {
        let sister = drop.sister_v.map(|s| s.value);
        sister.is_some_and(|v| drop.voltage_v.value <= (1.0 + SOUND_JOINT.exp()) * v)
    };
    let apart_k = |t: &Terminals| t.hotter_k.value - t.other_k.value;
    let is_measured = drops_now(case).next().is_some() || terminals_now(case).is_some();
    is_measured
        && drops_now(case).all(is_sound)
        && terminals_now(case).is_none_or(|t| apart_k(t) <= TERMINALS_K)
        && !shows_marks(case)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::Measured;
    use crate::family::Nameplate;

    fn with_drop(volts: f64, sister_v: Option<f64>) -> Case {
        Case::of(Nameplate::of_rating(16.0)).with_drop(Drop {
            label: "drop".into(),
            voltage_v: Measured::new(volts, 0.01 * volts),
            current_a: Measured::new(12.3, 0.2),
            sister_v: sister_v.map(|v| Measured::new(v, 0.01 * v)),
            mended: 0,
        })
    }

    #[test]
    fn a_joint_that_makes_some_watts_more_than_a_sound_part_is_hot_however_much_it_drops() {
        let family = Family::new(&Nameplate::of_rating(16.0), 24).expect("a family");
        let hot = |v, sister| hot_joint(&with_drop(v, sister), &family).map(|(_, w)| w);
        for volts in [0.33, 0.7, 2.1, 8.0] {
            let w = hot(volts, Some(0.06)).expect("a hot joint");
            assert!(
                (w - (0.98 * volts - 1.02 * 0.06) * 12.3).abs() < 1e-9,
                "{w}"
            );
            // Some sound part drops nearly as much as the least of them.
            assert_eq!(hot(volts, None).is_some(), volts > 0.5, "{volts}");
        }
        for (volts, sister) in [(0.06, Some(0.06)), (0.12, Some(0.06)), (0.06, None)] {
            assert_eq!(hot(volts, sister), None);
        }
        // Thrice a sister's is bad though it makes little; a sister that is as bad clears nothing.
        assert!(hot(0.16, Some(0.05)).is_some_and(|w| w < 1.5));
        assert_eq!(hot(0.012, Some(0.004)), None);
        assert_eq!(hot(0.8, Some(0.8)), hot(0.8, None));
        // 4 W are too few to be sure where no sister was measured; one that drops as much is no sound one.
        assert!(hot(0.38, None).is_none() && hot(0.38, Some(0.38)).is_some());
    }

    #[test]
    fn what_was_measured_says_that_joints_are_sound_or_burn() {
        let at = |hotter_c: f64, other_c: f64| {
            let mut case = Case::of(Nameplate::of_rating(16.0));
            let k = |c: f64| Measured::new(c + 273.15, 2.0);
            case.terminals = Some(Terminals {
                label: "terminals".into(),
                hotter_k: k(hotter_c),
                other_k: k(other_c),
                mended: 0,
            });
            case
        };
        assert!(joints_measured_sound(&at(49.0, 47.0)));
        assert!(!joints_measured_sound(&at(58.0, 47.0)));
        assert!(joints_measured_sound(&with_drop(0.062, Some(0.06))));
        assert!(!joints_measured_sound(&with_drop(0.085, Some(0.06))));
        assert!(!joints_measured_sound(&with_drop(0.06, None)));
        assert!(!joints_measured_sound(&Case::of(Nameplate::of_rating(
            16.0
        ))));
        let family = Family::new(&Nameplate::of_rating(16.0), 24).expect("a family");
        let shown = |case: &Case| bad_joint(case, &family).map(|(_, shown)| shown);
        assert_eq!(shown(&at(72.0, 47.0)), None);
        let apart = Some(BadJoint::Apart { apart_k: 26.0 });
        assert_eq!(shown(&at(73.0, 47.0)), apart);
        // Both of them hot: by the air that was measured.
        let mut both = at(95.0, 93.0);
        assert_eq!(shown(&both), None);
        let mut trip = crate::evidence::Event::trip_from_cold("trip", 700.0);
        trip.air_k = Some(Measured::new(273.15 + 25.0, 1.0));
        both.events.push(trip);
        assert_eq!(shown(&both), Some(BadJoint::Rise { rise_k: 70.0 }));
        assert_eq!(hot_terminal_k(&at(104.0, 60.0)), None);
        assert_eq!(hot_terminal_k(&at(180.0, 60.0)), Some(453.15));
    }
}
