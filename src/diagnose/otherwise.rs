//! What would have happened otherwise: the machine run again in thought, with one thing put right.

use super::latent::{Guess, LOAD, PLACE};
use super::posterior::Posterior;
use super::scales::Scales;
use crate::evidence::Case;
use crate::family::Wear;
use crate::predict::parallel;

/// Guesses that are run again.
const SAMPLE: usize = 200;

/// Probability that the machine trips the protector within twelve hours with one thing put right.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Otherwise {
    /// With a sound part.
    pub sound_part: f64,
    /// With the air of the room at the part.
    pub place_cured: f64,
    /// Without a bad joint.
    pub joint_cured: f64,
    /// With no more than rated current.
    pub load_cured: f64,
    /// Without a surge at the start.
    pub start_cured: f64,
}

/// Runs it.
pub fn otherwise(scales: &Scales<'_>, posterior: &Posterior, seed: u64) -> Otherwise {
    let chosen = posterior.sample(SAMPLE, seed ^ 0x07);
    let counts = parallel::map(
        &chosen,
        |carrier| {
            let guess = carrier.guess;
            let wear = guess.wear(scales.sound_w(&guess));
            let trips = |guess: &Guess, wear: Wear, with_start: bool| {
                f64::from(u8::from(scales.trips(guess, wear, with_start)))
            };
            let room = with(guess, PLACE, guess.x[PLACE].min(0.0));
            let rated = with(guess, LOAD, guess.x[LOAD].min(0.0));
            [
                trips(
                    &guess,
                    Wear {
                        joint_w: wear.joint_w,
                        ..Wear::NONE
                    },
                    true,
                ),
                trips(&room, wear, true),
                trips(
                    &guess,
                    Wear {
                        joint_w: 0.0,
                        ..wear
                    },
                    true,
                ),
                trips(&rated, wear, true),
                trips(&guess, wear, false),
            ]
        },
        &mut |_| {},
    );
    let mut sums = [0.0; 5];
    for row in &counts {
        for (s, c) in sums.iter_mut().zip(row) {
            *s += c / counts.len() as f64;
        }
    }
    let [
        sound_part,
        place_cured,
        joint_cured,
        load_cured,
        start_cured,
    ] = sums;
    Otherwise {
        sound_part,
        place_cured,
        joint_cured,
        load_cured,
        start_cured,
    }
}

fn with(mut guess: Guess, which: usize, value: f64) -> Guess {
    guess.x[which] = value;
    guess
}

/// Whether a start belongs to the case.
pub fn may_start(case: &Case) -> bool {
    case.has_start != Some(false)
}
