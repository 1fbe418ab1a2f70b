//! The unknown numbers of a case, and what is believed of them before the evidence.

use super::density::Density;
use super::hypothesis::{Hypothesis, Trips};
use super::record::Cause;
use super::scatter::MOST_LOSS;
use crate::evidence::{AirPlace, Case, Waveform};
use crate::family::{Drawn, Wear};
use crate::statistics::stream::Stream;

/// Unknown numbers besides the part itself.
pub const COUNT: usize = 10;

/// Logarithm of the running current over the rating, when it trips.
pub const LOAD: usize = 0;
/// Air at the part above that of the room, K.
pub const PLACE: usize = 1;
/// Logarithm of the heat of the joint at rated current over that of a sound part, both W.
pub const JOINT: usize = 2;
/// Preload lost.
pub const LOSS: usize = 3;
/// Logarithm of the factor on the release force.
pub const LATE: usize = 4;
/// Logarithm of the starting over the running current at other times.
pub const PEAK: usize = 5;
/// Logarithm of the time that a start takes, s.
pub const START: usize = 6;
/// Logarithm of what a meter for averages shows over the true RMS.
pub const FORM: usize = 7;
/// Logarithm of the current when it trips over the current at other times.
pub const BURST: usize = 8;
/// Air in the room, K.
pub const ROOM: usize = 9;

/// Less of the preload than this is within what parts repeat: none (common practice, no source).
const LEAST_LOSS: f64 = 0.02;
/// Up to here a joint counts as sound, and where a good one lies.
pub const SOUND_JOINT: f64 = -1.4;
const GOOD_JOINT: f64 = -3.2;

/// One particle at everything unknown.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Particle {
    /// The part.
    pub drawn: Drawn,
    /// The other numbers.
    pub x: [f64; COUNT],
    /// A phase of its machine is lost.
    pub lost_phase: bool,
}

impl Particle {
    /// Logarithm of the current of a start over the rating: of the machine as it is at other times.
    pub fn log_start(&self) -> f64 {
        let more = match self.lost_phase {
            true => self.x[BURST].max(log_lost_phase()),
            false => self.x[BURST],
        };
        self.x[LOAD] - more + self.x[PEAK]
    }

    /// The same with a sound joint.
    pub fn with_sound_joint(&self) -> Particle {
        let mut other = *self;
        other.x[JOINT] = other.x[JOINT].min(GOOD_JOINT);
        other
    }

    /// Preload lost, 0..1; less than can be told from none is none.
    pub fn lost(&self) -> f64 {
        let told = self.x[LOSS] >= LEAST_LOSS;
        if told { self.x[LOSS] } else { 0.0 }
    }

    /// State of the part; the joint's heat is that of a sound part's times the factor.
    pub fn wear(&self, sound_w: f64) -> Wear {
        Wear {
            loss: self.x[LOSS],
            force_factor: self.x[LATE].exp(),
            joint_w: sound_w * self.x[JOINT].exp(),
            ..Wear::NONE
        }
    }
}

/// Logarithm of what a motor that goes on giving the same power on two phases draws in them, over
/// what it drew before: the root of three (textbook).
pub fn log_lost_phase() -> f64 {
    0.5 * 3f64.ln()
}

/// How far it may lie from that: shaft loads fall with the speed, currents rise with the losses
/// (common practice, no source).
const LOST_PHASE: f64 = 0.12;

/// What is believed of each number under one hypothesis.
#[derive(Debug, Clone)]
pub struct Prior {
    /// Of each by itself.
    pub each: [Density; COUNT],
    /// Of the logarithm of the current at other times over the rating, where that may be the usual
    /// one.
    usual: Option<Density>,
    /// A phase is lost.
    pub lost_phase: bool,
}

/// How often a machine that draws too much when it trips draws what it should at other times
/// (common practice, no source).
const AT_TIMES: f64 = 0.4;

/// How often a machine is read while it has less to do than when it trips (common practice, no
/// source).
const LESS_TO_DO: f64 = 0.2;

impl Prior {
    /// The least and the largest number that it allows.
    pub fn ends(&self, which: usize) -> (f64, f64) {
        let (low, high) = self.each[which].ends();
        match &self.usual {
            Some(usual) if which == BURST => {
                (low, high.max(self.each[LOAD].ends().1 - usual.ends().0))
            }
            _ => (low, high),
        }
    }

    /// Logarithm of the density of one number of a particle.
    pub fn log(&self, which: usize, x: &[f64; COUNT]) -> f64 {
        let own = self.each[which].log(x[which]);
        match &self.usual {
            Some(usual) if which == BURST => {
                let at_times = usual.log(x[LOAD] - x[BURST]);
                ((1.0 - AT_TIMES) * own.exp() + AT_TIMES * at_times.exp()).ln()
            }
            _ => own,
        }
    }

    /// One number of a particle at a probability; `choice` picks the part of a sum.
    pub fn at(&self, which: usize, x: &[f64; COUNT], choice: f64, probability: f64) -> f64 {
        let own = &self.each[which];
        match &self.usual {
            Some(usual) if which == BURST => {
                if choice < AT_TIMES {
                    x[LOAD] - usual.at(choice / AT_TIMES, probability)
                } else {
                    own.at((choice - AT_TIMES) / (1.0 - AT_TIMES), probability)
                }
            }
            _ => own.at(choice, probability),
        }
    }
}

/// Usual air where nobody measured it, K, and how far it may lie from that.
const USUAL_ROOM_K: (f64, f64) = (295.65, 5.0);
/// Rooms where people work, K: a shed in frost, a warm one, and a place over an oven or a boiler
/// (common practice, no source). Ratings are stated for air of 23 to 40 degC.
const COLDEST_K: f64 = 253.15;
pub const WARM_ROOM_K: f64 = 313.15;
const HOTTEST_K: f64 = 338.15;

/// A plate up to so much above the rating is met in practice, and is carried: parts trip from a few
/// per cent above it on (common practice, no source).
const SUITS_TO: f64 = 1.08;

/// Whether a machine's plate, where it is known, suits the part; one well above the rating is the
/// wrong one at all times.
pub fn suits(case: &Case) -> bool {
    let rated_a = case.nameplate.rated_current_a;
    case.equipment_rated_a
        .is_none_or(|a| a <= SUITS_TO * rated_a)
}

/// Prior under a hypothesis; `None` when the case rules it out (wrong rating of a machine whose
/// plate suits).
pub fn prior(case: &Case, hypothesis: &Hypothesis) -> Option<Prior> {
    let rated = case.nameplate.rated_current_a;
    let plate = case.equipment_rated_a.map(|a| (a / rated).ln());
    let suits = suits(case);
    if !hypothesis.can_be(case) {
        return None;
    }
    // What a sound machine of this plate draws; without one, what parts usually carry.
    let (middle, spread, low, high) = match plate {
        Some(p) => (p - 0.03, 0.08, p - 0.7, p.max(0.0) + 0.02),
        None => (-0.29, 0.25, -1.9, 0.02),
    };
    let usual = Density::cut(middle, spread, low, high);
    let lost_phase = hypothesis.has(Cause::LostPhase);
    let load = if hypothesis.has(Cause::Overload) {
        let least = plate.map_or(0.03, |p| (p + 0.10).max(0.03));
        Density::cut(least.max(0.34), 0.3, least, least.max(0.34) + 1.5)
    } else if hypothesis.has(Cause::WrongRating) {
        match plate {
            Some(p) if p < 0.02 => return None,
            Some(p) => Density::normal(p, 0.06),
            None => Density::cut(0.26, 0.22, 0.03, 1.2),
        }
    } else {
        match plate {
            _ if !suits => return None,
            _ if lost_phase => {
                let more = log_lost_phase();
                let ends = (low + more - LOST_PHASE, high + more + 2.0 * LOST_PHASE);
                Density::cut(middle + more, spread.hypot(LOST_PHASE), ends.0, ends.1)
            }
            _ => usual.clone(),
        }
    };
    let late = hypothesis.has(Cause::WornLate);
    let faulty_start = hypothesis.has(Cause::StartOrStall) && hypothesis.trips == Trips::AsItRuns;
    if faulty_start && case.has_start == Some(false) {
        return None;
    }
    let choose = |cause: Cause, faulty: Density, healthy: Density| {
        if hypothesis.has(cause) {
            faulty
        } else {
            healthy
        }
    };
    let [long_start, short_start] = [
        Density::cut(1.6, 0.8, 0.2, 4.1),
        Density::cut(-1.2, 0.6, -4.0, 0.2),
    ];
    let is_room_hot = is_room_hot(case);
    let [hot_place, usual_place] = [
        Density::cut(30.0, 12.0, 10.0, 75.0),
        Density::cut(3.0, 4.0, -3.0, 12.0),
    ];
    let at_times = (hypothesis.has(Cause::Overload) || lost_phase) && suits;
    let each = [
        load,
        choose(
            Cause::HotSurroundings,
            match is_room_hot {
                true => Density::mixed(0.5, hot_place, usual_place.clone()),
                false => hot_place,
            },
            usual_place,
        ),
        choose(
            Cause::BadConnection,
            bad_joint(),
            Density::cut(GOOD_JOINT, 0.7, -6.0, SOUND_JOINT),
        ),
        choose(
            Cause::WornEarly,
            Density::uniform(0.15, MOST_LOSS),
            Density::cut(0.0, 0.04, 0.0, 0.14),
        ),
        if late {
            Density::cut(0.9, 0.6, 0.15, 3.5)
        } else {
            Density::half(0.03)
        },
        Density::cut(1.6, 0.35, 0.5, 2.6),
        match (faulty_start, lost_phase) {
            (true, _) => long_start,
            (_, false) => short_start,
            // Lost before the start it stands and hums, lost in mid-run it goes on.
            (_, true) => Density::mixed(0.5, long_start, short_start),
        },
        form(case),
        // Any machine may have been read while it had less to do than when it trips, as often
        // whatever is wrong.
        Density::mixed(
            match hypothesis.has(Cause::Overload) || lost_phase {
                true if suits => 1.0 - LESS_TO_DO / (1.0 - AT_TIMES),
                true => 0.5,
                false => 1.0 - LESS_TO_DO,
            },
            Density::half(0.04),
            Density::cut(0.35, 0.45, 0.0, 2.2),
        ),
        room(case, hypothesis.has(Cause::HotSurroundings) && is_room_hot),
    ];
    Some(Prior {
        each,
        usual: at_times.then_some(usual),
        lost_phase,
    })
}

/// Logarithm of the heat of a bad joint over that of a sound part. Some lie beyond ten times
/// that: a bad joint drops tenths of a volt to several volts (a trade page on voltage-drop testing,
/// launchmyhvac.com), a sound part of some amperes some 60 mV. How many: one in twenty (common
/// practice, no source); such a joint is soon found by its smell.
fn bad_joint() -> Density {
    let usual = Density::cut(0.2, 0.7, -1.2, 2.3);
    Density::mixed(0.95, usual, Density::uniform(2.3, 3.4))
}

/// Whether the room was read as hot.
fn is_room_hot(case: &Case) -> bool {
    let mut rooms = case.air.iter().filter(|a| a.place == AirPlace::InTheRoom);
    rooms.any(|a| a.temperature_k.value > WARM_ROOM_K)
}

/// Air in the room: the usual one where nobody measured, and one in ten anything from a frosty shed
/// to a warm room where somebody did, who may have had a reason. A hotter one is itself what is
/// wrong: of places read as hot half are (common practice, no source).
fn room(case: &Case, is_hot: bool) -> Density {
    let usual = Density::normal(USUAL_ROOM_K.0, USUAL_ROOM_K.1);
    let was_measured = case.air.iter().any(|a| a.place == AirPlace::InTheRoom);
    match (is_hot, was_measured) {
        (true, _) => Density::mixed(0.5, usual, Density::uniform(WARM_ROOM_K - 5.0, HOTTEST_K)),
        (false, true) => Density::mixed(0.9, usual, Density::uniform(COLDEST_K, WARM_ROOM_K)),
        (false, false) => usual,
    }
}

/// What a meter for averages shows over the true RMS: 5 to 40 % low on drives, dimmers and switched
/// supplies (a maker's note), right on a sine.
fn form(case: &Case) -> Density {
    let right = Density::normal(0.0, 0.015);
    let low = Density::uniform(-0.55, -0.03);
    match case.waveform {
        Waveform::Sine => right,
        Waveform::Distorted => low,
        Waveform::Unknown => Density::mixed(0.65, right, low),
    }
}

/// Logarithms of the density of prior at each number of a particle; `None` where it excludes one.
pub fn logs_of(prior: &Prior, particle: &Particle) -> Option<[f64; COUNT]> {
    let mut logs = [0.0; COUNT];
    for k in 0..COUNT {
        logs[k] = prior.log(k, &particle.x);
        if !logs[k].is_finite() {
            return None;
        }
    }
    Some(logs)
}

/// A draw from prior; it takes the draws of the stream from number 4 on.
pub fn draw(prior: &Prior, stream: &Stream) -> [f64; COUNT] {
    let order = std::array::from_fn(|k| k);
    draw_in(order, stream, |k, x, choice, p| prior.at(k, x, choice, p))
}

/// The same of any density, number by number in some order: `at` gets those before it, a choice and
/// a probability.
pub fn draw_in(
    order: [usize; COUNT],
    stream: &Stream,
    at: impl Fn(usize, &[f64; COUNT], f64, f64) -> f64,
) -> [f64; COUNT] {
    let mut x = [0.0; COUNT];
    for k in order {
        let number = 4 + 2 * k as u32;
        x[k] = at(k, &x, stream.uniform(number), stream.uniform(number + 1));
    }
    x
}
