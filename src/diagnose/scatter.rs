//! What scatters from trip to trip and from entry to entry (common practice, no source).

use crate::evidence::{Event, Outcome, Setting, Unit};
use crate::statistics::normal;

/// Scatter of trip times of one unit from trip to trip, relative.
pub const REPEATS: f64 = 0.06;
/// Scatter of a unit's trip point from trip to trip, relative.
pub const THRESHOLD: f64 = 0.01;
/// How well the nearest design of the family stands for a real part, relative, in terms of the
/// current.
pub const DESIGN: f64 = 0.01;
/// Width of what a wrong entry may say of a time, in natural logarithms.
pub const SLIP_WIDTH: f64 = 6.0;
/// Scatter of the time until it can be reset, from trip to trip and by who tries, in natural
/// logarithms.
pub const RESETS: f64 = 0.2;
/// Probability that what is said of a reset is wrong.
pub const RESET_SLIP: f64 = 0.01;
/// Probability that a swap, by re-making the joint, has mended it.
pub const RE_MADE: f64 = 0.4;

/// How an entry can be plainly wrong, by its kind: common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Slip {
    /// Probability.
    pub chance: f64,
    /// Width of what it may say then, in the unit of the entry.
    pub width: f64,
}

/// A meter misread or round the wrong wire; natural logarithms.
pub const METER: Slip = Slip {
    chance: 0.03,
    width: 2.2,
};
/// A start caught wrongly; natural logarithms.
pub const START_SEEN: Slip = Slip {
    chance: 0.02,
    width: 4.0,
};
/// A thermometer in the wrong place; K.
pub const AIR: Slip = Slip {
    chance: 0.03,
    width: 50.0,
};
/// A drop measured over too much or too little; natural logarithms.
pub const DROP: Slip = Slip {
    chance: 0.03,
    width: 3.0,
};
/// What a wire or a lead too much adds to a drop is about what the part itself drops: a wrong drop is
/// so much less likely the higher it is, in natural logarithms (common practice, no source).
const TOO_MUCH: f64 = 0.7;
/// How often a bad joint was hotter while it was measured than over the runs that trip, and by how
/// much at most, in natural logarithms: one that glows comes and goes (common practice, no source).
const COMES_AND_GOES: (f64, f64) = (0.3, 3.5);
/// Terminals; K.
pub const TERMINALS: Slip = Slip {
    chance: 0.02,
    width: 60.0,
};

/// The same for a time, by whose time it is and where it was taken.
pub fn wrong_time(event: &Event) -> f64 {
    match (event.unit, &event.setting, event.outcome) {
        (Unit::AsNew, _, _) => 0.06,
        (_, Setting::Recorded(_), _) => 0.003,
        (_, Setting::Bench { .. }, _) => 0.015,
        (_, Setting::InService { .. }, Outcome::Held { .. }) => 0.05,
        (_, Setting::InService { .. }, _) => 0.03,
    }
}

/// Part of the wrong times of trips where this part did not trip at all: another one did, or a
/// switch, or under another load. People take a wrong time down more often than they make a trip up
/// (common practice, no source).
pub const NO_TRIP: f64 = 0.1;

/// Relative scatter of a running current about its mean.
pub const UNSTEADY: f64 = 0.015;
/// How well the pattern's resistance stands for that of a real part, relative.
pub const RESISTANCE: f64 = 0.10;
/// How far terminals of a sound part may differ, K (3 K is the first limit of thermography in the
/// field).
pub const TERMINALS_K: f64 = 3.0;
/// How well the model knows what a joint makes of them, relative: wires, place and hand differ
/// (common practice, no source).
pub const TERMINALS_APART: f64 = 0.4;
/// How well it knows how warm the cooler one is: K, and of its rise, since nobody says how long it
/// had run (common practice, no source).
pub const LEVEL_K: f64 = 6.0;
pub const LEVEL: f64 = 0.6;
/// Time in service within which a trip counts as the trip that brought the case, s.
pub const SELECTED_S: f64 = 12.0 * 3600.0;

pub use crate::family::MOST_LOSS;

/// A part is late when its way to release is so much longer than as new: some 7 % in the current.
pub const LATE_TRAVEL: f64 = 1.15;

/// Logarithm of the density of a measured number that may be wrong.
pub fn gauss(miss: f64, deviation: f64, slip: Slip) -> f64 {
    let z = miss / deviation;
    let right = (-0.5 * z * z).exp() / (deviation * (2.0 * std::f64::consts::PI).sqrt());
    ((1.0 - slip.chance) * right + slip.chance / slip.width).ln()
}

/// Logarithm of the density of a drop, natural logarithms, of a part whose joint is bad or is not.
pub fn drop(miss: f64, deviation: f64, is_bad: bool) -> f64 {
    let (often, hotter) = COMES_AND_GOES;
    let right = normal::density(miss / deviation) / deviation;
    let right = match is_bad {
        true if (0.0..hotter).contains(&miss) => (1.0 - often) * right + often / hotter,
        true => (1.0 - often) * right,
        false => right,
    };
    let wrong = DROP.chance / DROP.width * (-miss.max(0.0) / TOO_MUCH).exp();
    ((1.0 - DROP.chance) * right + wrong).ln()
}

/// Logarithm of the likelihood of a measured number that the true one exceeds by so much, or falls
/// short of it.
pub fn at_least(more: f64, deviation: f64, slip: Slip) -> f64 {
    // The density of one that is only known from below is spread over what wrong entries may say.
    let right = normal::cdf(more / deviation);
    ((1.0 - slip.chance) * right / slip.width + slip.chance / slip.width).ln()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Each tenfold more volts speaks more for a bad joint, of tenths of a volt as of several.
    #[test]
    fn the_more_it_drops_the_less_likely_a_sound_joint_dropped_it() {
        let speaks = |miss: f64| drop(miss, 0.15, true) - drop(miss, 0.15, false);
        assert!(speaks(1.0) > 1.0 && speaks(2.0) > speaks(1.0) + 1.0);
        assert!(speaks(3.3) > speaks(2.0) + 1.0 && speaks(0.0) < 0.0);
        // Too low is as likely of both.
        assert!((drop(-3.0, 0.15, true) - drop(-3.0, 0.15, false)).abs() < 1e-9);
    }
}
