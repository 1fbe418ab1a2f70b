//! What is said of a wait.

use super::{Sits, WaitQuestion};
use crate::answer::{Caution, WhyNotAsked};
use crate::family::assumed::Assumed;
use crate::family::kinds::Instantaneous;
use crate::family::not_modelled::LeftOut;
use crate::family::parts_wait::PartsWait;
use crate::family::spread::Spread;
use crate::load::Programme;
use crate::physics::constants::ZERO_CELSIUS_K;
use serde::{Deserialize, Serialize};

const FORMAT: u32 = 2;
/// The slowest motors have cooled after an hour (trade pages: air compressors 30 to 60 min).
const MOTOR_COOLS_S: f64 = 3600.0;
/// From so many times the rating on a load is a fault whatever tripped: above the pick-up of the least sensitive
/// instantaneous element (20 times: type D, IEC 60898-1) and above starts. The margin is common practice, no
/// source.
const SHORT_CIRCUIT: f64 = 25.0;

/// A reset after some wait.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Early {
    /// Wait after the contacts opened, s.
    pub wait_s: f64,
    /// Share of the parts whose latch holds by then, 0..1.
    pub latch_holds: f64,
    /// Share of those that trip again under the same load within an hour, 0..1.
    pub trips_again: f64,
    /// When, s (median of those that do).
    pub again_after_s: Option<f64>,
}

/// What became of what was timed.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "timed", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Agreement {
    /// Nothing was timed.
    Nothing,
    /// The answer is that of the parts which agree with it.
    Narrowed {
        /// How many equal parts they are worth.
        parts: f64,
    },
    /// Too few sound parts of the family agree: the answer is that of all of them.
    NoPartAgrees,
    /// The trip came sooner than a heated strip of this rating can: nothing is to be reset.
    TooSoon {
        /// The soonest that any can, s.
        soonest_s: f64,
    },
    /// The trip came later than any sound part of this rating lets it.
    TooLate {
        /// The latest of them, s.
        latest_s: f64,
    },
    /// It was not to be reset after a wait that is longer than what the latch of such parts needs.
    NeverLatches {
        /// The longest wait after which it was refused, s.
        refused_s: f64,
        /// Nine of ten of them have cooled by then, s.
        usual_s: f64,
    },
    /// A reset was refused later than one held.
    Contradicts {
        /// The shortest wait after which it held, s.
        held_s: f64,
        /// The longest after which it was refused, s.
        refused_s: f64,
    },
}

impl Agreement {
    /// What refused resets say where no part agrees with all that was timed: `usual_s` is the wait after which nine
    /// of ten parts can be reset.
    pub(super) fn of_resets(question: &WaitQuestion, usual_s: Option<f64>) -> Option<Agreement> {
        let timed = &question.timed;
        let refused_s = timed.refused_s.iter().copied().reduce(f64::max)?;
        if let Some(held_s) = timed.held_s.iter().copied().reduce(f64::min)
            && held_s <= refused_s
        {
            return Some(Agreement::Contradicts { held_s, refused_s });
        }
        // A motor keeps its part warm for as long as the slowest of them cools.
        let motor_s = match question.sits {
            Some(Sits::OnTheMachine) => MOTOR_COOLS_S,
            _ => 0.0,
        };
        let usual_s = usual_s?.max(motor_s);
        (refused_s > usual_s).then_some(Agreement::NeverLatches { refused_s, usual_s })
    }
}

/// The answer.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct WaitAnswer {
    /// Version of this record's layout.
    pub format: u32,
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Reference air, degC.
    pub reference_ambient_c: f64,
    /// Air at the part, degC.
    pub ambient_c: f64,
    /// Load that tripped it, A.
    pub load_a: f64,
    /// Share of sound parts that this load trips, or the start to it, 0..1; those that melt
    /// counted.
    pub trips: f64,
    /// Share of sound parts whose strip or winding melts before the latch lets go, 0..1.
    #[serde(default)]
    pub melts: f64,
    /// Share of sound parts that carry the load but are tripped by the start from cold, 0..1.
    pub trips_by_start: f64,
    /// How soon it trips from cold, s.
    pub trip_s: Option<Spread>,
    /// From open contacts until it can be reset.
    pub reset: PartsWait,
    /// Until the machine can be started.
    pub start: PartsWait,
    /// A disc on a motor: it closes by itself, and these are its waits.
    #[serde(default)]
    pub closes_by_itself: bool,
    /// What an instantaneous element does beside the strip, whose waits these are.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instantaneous: Option<Instantaneous>,
    /// A reset too early.
    pub early: Vec<Early>,
    /// The load is that of a short circuit, which is no trip of a heated strip's own kind.
    #[serde(default)]
    pub short_circuit: bool,
    /// What became of what was timed.
    pub timed: Agreement,
    /// Parts simulated.
    pub parts: usize,
    /// What the model leaves out that may matter here.
    pub not_modelled: Vec<LeftOut>,
    /// Cautions, most urgent first.
    pub cautions: Vec<Caution>,
    /// What was assumed.
    pub assumed: Vec<Assumed>,
}

impl WaitAnswer {
    /// What a question brings by itself.
    pub(super) fn unasked(question: &WaitQuestion) -> WaitAnswer {
        let plate = &question.nameplate;
        let nothing = PartsWait::not_asked(WhyNotAsked::DoesNotTrip);
        let most_a = question
            .timed
            .trip
            .map_or(question.load_a, |t| t.1.max(question.load_a));
        WaitAnswer {
            format: FORMAT,
            rated_current_a: plate.rated_current_a,
            reference_ambient_c: plate.reference_ambient_k - ZERO_CELSIUS_K,
            ambient_c: question.ambient_k - ZERO_CELSIUS_K,
            load_a: question.load_a,
            trips: 1.0,
            melts: 0.0,
            trips_by_start: 0.0,
            trip_s: None,
            reset: nothing,
            start: nothing,
            closes_by_itself: false,
            instantaneous: None,
            early: Vec::new(),
            short_circuit: most_a > SHORT_CIRCUIT * plate.rated_current_a,
            timed: Agreement::Nothing,
            parts: 0,
            not_modelled: left_out(question),
            cautions: vec![
                Caution::FindCause,
                Caution::FaultSigns,
                Caution::StartsByItself,
                Caution::NeverHold,
                Caution::WindingCoolsLonger,
                Caution::NeverRaise,
                Caution::ModelEstimate,
            ],
            assumed: plate.assumed.clone(),
        }
    }
}

fn left_out(question: &WaitQuestion) -> Vec<LeftOut> {
    let start_a = question.start.as_ref().map_or(0.0, Programme::largest_a);
    let largest_a = question.load_a.max(start_a);
    let plate = &question.nameplate;
    let mut list = Vec::from_iter(LeftOut::instantaneous(plate, largest_a));
    list.extend(LeftOut::other_rating(plate));
    match (question.sits, plate.resets_itself) {
        (Some(Sits::OnTheMachine), false) => list.push(LeftOut::HeatOfTheMachine),
        (Some(Sits::OnTheMachine), true) | (_, false) => {}
        (_, true) => list.push(LeftOut::SnapsBack),
    }
    list
}
