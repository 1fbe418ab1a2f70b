//! What a machine is once it was mended, and what is left of what was wrong with it.
//!
//! A mend is the only change between what was seen before and after it. So an entry from after it is
//! weighed by the same machine with that thing put right, where it was out of order: what trips all
//! the same had another cause (too), what holds had that one.

use super::advice::cure;
use super::hypothesis::Hypothesis;
use super::latent::{
    BURST, JOINT, LATE, LOAD, PLACE, Particle, ROOM, SOUND_JOINT, START, WARM_ROOM_K,
};
use super::looked::STILL_BAD;
use super::record::{Cause, Verdict};
use super::scales::Scales;
use super::scatter::{METER, RE_MADE, Slip};
use crate::evidence::{AirPlace, Case, Event, Mend, Mended, Reading, Setting, Unit};

/// How often somebody who mends something reaches what is out of order there (common practice, no
/// source).
const REACHES: f64 = 0.85;
/// The same of a supply that is put right where a machine draws too much: it may do so for other
/// reasons (common practice, no source).
const BY_THE_SUPPLY: f64 = 0.5;
/// A load that was freed is what such machines draw: logarithm over the rating, and its spread, where
/// it is not read (common practice, no source).
const FREED: (f64, f64) = (-0.29, 0.25);
/// The same over the machine's plate, where that was read.
const OF_PLATE: (f64, f64) = (-0.03, 0.08);
/// Air that was cooled lies about that of the room; K (common practice, no source).
const COOLED_K: f64 = 8.0;
/// A meter that was changed because it was doubted was wrong as often as not (common practice, no
/// source).
const DOUBTED: f64 = 0.5;

/// Causes that a mend puts right, and how often it reaches them.
fn reaches(mend: Mend) -> &'static [(Cause, f64)] {
    match mend {
        Mend::Protector => &[(Cause::WornEarly, 1.0), (Cause::WornLate, 1.0)],
        Mend::Load => &[(Cause::Overload, REACHES), (Cause::StartOrStall, REACHES)],
        Mend::Air => &[(Cause::HotSurroundings, REACHES)],
        Mend::Supply => &[
            (Cause::LostPhase, REACHES),
            (Cause::Overload, BY_THE_SUPPLY),
            (Cause::StartOrStall, BY_THE_SUPPLY),
        ],
        Mend::Joints => &[(Cause::BadConnection, 1.0 - STILL_BAD)],
        Mend::Meter => &[],
    }
}

/// Whether one of some mends puts a cause right.
fn is_put_right(mended: &[Mended], cause: Cause) -> bool {
    let mut all = mended.iter().flat_map(|m| reaches(m.what));
    all.any(|(reached, _)| *reached == cause)
}

/// Whether what was done is what a verdict asks for.
pub fn is_done(mended: &[Mended], verdict: Verdict) -> bool {
    let mut all = mended.iter().flat_map(|m| reaches(m.what));
    all.any(|(cause, chance)| *chance > 0.5 && cause.mended_by() == verdict)
}

/// What is left of the causes of a hypothesis: of two that were both mended, or one alone, all may
/// be, where the mend did not reach it.
pub fn left(hypothesis: &Hypothesis, mended: &[Mended]) -> Hypothesis {
    let causes = match hypothesis.causes {
        [one, other] => match [one, other].map(|c| is_put_right(mended, *c)) {
            [true, false] => &hypothesis.causes[1..],
            [false, true] => &hypothesis.causes[..1],
            _ => hypothesis.causes,
        },
        causes => causes,
    };
    Hypothesis {
        causes,
        ..*hypothesis
    }
}

/// How probably a joint is bad that was with some probability, now that it was perhaps re-made.
pub fn joint_now(case: &Case, was_bad: f64) -> f64 {
    let holds = case.since_mended().is_some_and(|e| !e.is_trip());
    match case.has_mended(Mend::Joints) && holds {
        true => STILL_BAD * was_bad,
        false => was_bad,
    }
}

/// How often a reading is wrong.
pub fn meter_slip(case: &Case, reading: &Reading) -> Slip {
    match case.is_undone(reading.mended, &[Mend::Meter]) {
        true => Slip {
            chance: DOUBTED,
            ..METER
        },
        false => METER,
    }
}

/// Whether a cause is at work in a particle.
fn is_out_of_order(particle: &Particle, cause: Cause) -> bool {
    let x = &particle.x;
    match cause {
        Cause::Overload => x[LOAD] > 0.02,
        Cause::StartOrStall => x[START] > 0.2,
        Cause::HotSurroundings => x[PLACE] > 10.0 || x[ROOM] > WARM_ROOM_K,
        Cause::BadConnection => x[JOINT] > SOUND_JOINT,
        Cause::LostPhase => particle.lost_phase,
        Cause::WornEarly | Cause::WornLate => true,
        Cause::WrongRating | Cause::NothingWrong => false,
    }
}

/// A particle as an entry found it, and how probably.
pub type Then = [(f64, Particle); 2];

impl Scales<'_> {
    /// The machine of a particle when something was read or timed after so many mends: as they have
    /// left it, had they reached nothing and all of it. A part that is swapped or replaced may have
    /// its joints re-made by that.
    pub fn then(&self, particle: &Particle, mended: usize, is_swapped: bool) -> Then {
        let (mut as_was, mut reached) = (*particle, *particle);
        let mut chance: f64 = 1.0;
        let mut is_new = is_swapped;
        for mend in &self.case.mended[..mended] {
            is_new |= mend.what == Mend::Protector;
            for (cause, often) in reaches(mend.what) {
                if !is_out_of_order(&reached, *cause) {
                    continue;
                }
                put_right(&mut reached, *cause);
                if *often == 1.0 {
                    put_right(&mut as_was, *cause);
                } else {
                    chance = chance.min(*often);
                }
            }
        }
        if is_new && is_out_of_order(&reached, Cause::BadConnection) {
            reached = reached.with_sound_joint();
            chance = chance.min(RE_MADE);
        }
        [(1.0 - chance, as_was), (chance, reached)]
    }

    /// The same of an event.
    pub fn then_of(&self, particle: &Particle, event: &Event) -> Then {
        let on_bench = matches!(event.setting, Setting::Bench { .. });
        let is_swapped = event.unit == Unit::Twin && !on_bench;
        self.then(particle, event.mended, is_swapped)
    }

    /// The machine of a particle as it is now, all that was mended put right.
    pub fn now(&self, particle: &Particle) -> Particle {
        self.then(particle, self.case.mended.len(), false)[1].1
    }

    /// Air at the part that was read after it was cooled, K.
    pub fn cooled_k(&self, event: &Event) -> Option<f64> {
        let read = self.case.air.iter().filter(|a| {
            let is_then = event.mended > 0 && a.mended == event.mended;
            is_then && event.is_in_service() && a.place == AirPlace::AtThePart
        });
        read.map(|a| a.temperature_k.value).next_back()
    }
}

/// Puts a cause right; what a machine draws at other times than when it trips stays where it was
/// less.
fn put_right(particle: &mut Particle, cause: Cause) {
    let before = particle.x[LOAD];
    cure(particle, cause);
    match cause {
        Cause::WornLate => particle.x[LATE] = 0.0,
        Cause::Overload | Cause::LostPhase => {
            let less = before - particle.x[LOAD];
            particle.x[BURST] = (particle.x[BURST] - less).max(0.0);
        }
        _ => {}
    }
}

/// Where the logarithm of a load over the rating lies that a mend has changed: middle and spread.
pub fn freed(case: &Case, before: &Particle, now: &Particle) -> Option<(f64, f64)> {
    let rated_a = case.nameplate.rated_current_a;
    let plate = case.equipment_rated_a;
    let lies = plate.map_or(FREED, |a| ((a / rated_a).ln() + OF_PLATE.0, OF_PLATE.1));
    (before.x[LOAD] != now.x[LOAD]).then_some(lies)
}

/// How much less is known of air that was cooled, K.
pub fn cooled(before: &Particle, now: &Particle) -> f64 {
    let is_other = before.x[PLACE] != now.x[PLACE] || before.x[ROOM] != now.x[ROOM];
    if is_other { COOLED_K } else { 0.0 }
}

/// Logarithm of a likelihood of either state.
pub fn either(then: &Then, mut log: impl FnMut(&Particle) -> f64) -> f64 {
    match then {
        [(_, one), (_, other)] if one == other => log(one),
        [(none, _), (all, other)] if *none == 0.0 && *all == 1.0 => log(other),
        [(none, one), (all, other)] => (none * log(one).exp() + all * log(other).exp()).ln(),
    }
}
