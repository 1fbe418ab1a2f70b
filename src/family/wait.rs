//! How long to wait, from a nameplate alone.
//!
//! Layout of the answer: `format` 2. Since `format` 1:
//!
//! | format 1 | format 2 |
//! | --- | --- |
//! | `reset_s`, `never_resets` | `reset`: waits of one part in twenty to 99 of 100, those that never reset counted, and `never` |
//! | `start_s`, `never_starts` | `start`: the same, until the machine can be started |
//! | `assumed`: sentences | `assumed`: codes with their numbers |
//! | - | `trips_by_start`, `timed`, `not_modelled`, `cautions`, `instantaneous`, `closes_by_itself` |

use super::assumed::Assumed;
use super::kinds::{Element, Instantaneous, disc_waits};
use super::nameplate::Nameplate;
use super::not_modelled::LeftOut;
use super::part::{Carries, Part, Wear};
use super::parts_wait::PartsWait;
use super::prior::{Drawn, Family, FamilyError};
use super::ready::{Opened, Start};
use super::timed::Timed;
use crate::answer::{Caution, WhyNever, WhyNotAsked};
use crate::load::Programme;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::predict::magnet::HORIZON_S;
use crate::predict::parallel;
use crate::statistics::stream::{Purpose, Stream};
use crate::statistics::weighted::{Weighted, effective, systematic};
use serde::{Deserialize, Serialize};

const FORMAT: u32 = 2;
/// Designs and draws: enough for the ends of a 90 % interval to settle, few enough for an answer at
/// once.
const DESIGNS: usize = 48;
const DRAWS: u64 = 120;
/// Draws where something was timed: most of them will not agree with it.
const DRAWS_TIMED: u64 = 360;
/// How far a trip time that was read off a characteristic may be from the timed one to be simulated
/// at all, relative.
const ROUGHLY: f64 = 0.4;
/// The least chance to be simulated.
const LEAST: f64 = 0.02;
/// Parts that must agree with what was timed before they speak for the others.
const ENOUGH: f64 = 5.0;
/// A load or start that trips fewer parts than this does not trip them.
const FEW: f64 = 0.05;
/// Waits at which a reset too early is tried, in units of the median wait to reset.
const EARLY: [f64; 6] = [0.5, 1.0, 1.5, 2.0, 4.0, 8.0];

/// Median and 90 % range over the parts in question.
#[derive(Debug, Clone, Copy, Default, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// One in twenty lies below.
    pub low: f64,
    /// Half lie below.
    pub median: f64,
    /// One in twenty lies above.
    pub high: f64,
}

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
}

/// Where the protector sits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Sits {
    /// In a box of its own.
    InABox,
    /// On or in a motor, pump or compressor, whose heat it feels.
    OnTheMachine,
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

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct WaitQuestion {
    /// The nameplate.
    pub nameplate: Nameplate,
    /// Current that tripped it, A.
    pub load_a: f64,
    /// Air at the part, K.
    pub ambient_k: f64,
    /// What the machine draws when it is started again: the start and the run after it.
    pub start: Option<Programme>,
    /// What was timed at the part in hand.
    pub timed: Timed,
    /// Where it sits; `None`: nobody said.
    pub sits: Option<Sits>,
}

impl WaitQuestion {
    /// A nameplate and the current, A, that tripped it, in air of 25 degC; nothing else is known.
    pub fn new(nameplate: Nameplate, load_a: f64) -> WaitQuestion {
        WaitQuestion {
            nameplate,
            load_a,
            ambient_k: 298.15,
            start: None,
            timed: Timed::default(),
            sits: None,
        }
    }

    /// Temperature of the air that the part feels, K.
    fn felt_k(&self) -> f64 {
        if self.nameplate.compensated {
            self.nameplate.reference_ambient_k
        } else {
            self.ambient_k
        }
    }

    fn place(&self, family: &Family, d: &Drawn) -> Part {
        let rated_a = self.nameplate.rated_current_a;
        let member = &family.members()[d.member];
        let wear = self.nameplate.loaded.wear(Wear::NONE);
        Part::new(member, d.placing, wear, rated_a, 1.0)
    }
}

/// What one part did: times in s, infinite where it never does.
struct Tripped {
    weight: f64,
    trip_s: f64,
    /// Whether the start tripped it, not the load.
    by_start: bool,
    melts: bool,
    reset_s: f64,
    /// `None`: no start is asked about.
    start_s: Option<f64>,
}

/// Answer.
///
/// # Errors
/// No protector keeps the published limits.
///
/// ```
/// use relatch::internals::family::{Nameplate, WaitQuestion, wait};
/// let answer = wait(&WaitQuestion::new(Nameplate::of_rating(10.0), 24.0))?;
/// let half_s = answer.reset.half.time_s().expect("24 A trips a 10 A part, and it cools");
/// assert!(half_s < answer.reset.nine_of_ten.time_s().expect("so do most"));
/// # Ok::<(), relatch::internals::family::FamilyError>(())
/// ```
pub fn wait(question: &WaitQuestion) -> Result<WaitAnswer, FamilyError> {
    let plate = &question.nameplate;
    let on_motor = question.sits == Some(Sits::OnTheMachine);
    if plate.resets_itself && on_motor {
        return Ok(disc_on_a_motor(question));
    }
    let family = Family::new(plate, DESIGNS)?;
    let (drawn, weights, timed) = agreeing(&family, question);
    let air = [(0.0, question.felt_k())];
    let load = Programme::constant(question.load_a);
    let both: Vec<(Drawn, f64)> = drawn.into_iter().zip(weights).collect();
    let found: Vec<Option<Tripped>> = parallel::map(
        &both,
        |(d, weight)| {
            let part = question.place(&family, d);
            let by_load = Opened::from_cold(&part, &air, &load);
            let by_start = by_load.is_none();
            let start = question.start.as_ref();
            let tripped = by_load.or_else(|| Opened::from_cold(&part, &air, start?));
            let (trip_s, opened) = tripped?;
            let melts = opened.melts();
            let reset_s = opened.relatch_s().unwrap_or(f64::INFINITY);
            let start_s = start.map(|start| match reset_s.is_finite() {
                true => match opened.start_after(reset_s, start) {
                    Start::After(s) => s,
                    Start::Never => f64::INFINITY,
                },
                false => f64::INFINITY,
            });
            Some(Tripped {
                weight: *weight,
                trip_s,
                by_start,
                melts,
                reset_s,
                start_s,
            })
        },
        &mut |_| {},
    );
    let total: f64 = both.iter().map(|b| b.1).sum();
    let tripped: Vec<_> = found.iter().flatten().collect();
    let share = |of: &dyn Fn(&Tripped) -> bool| {
        let these = tripped.iter().filter(|t| of(t));
        these.fold(0.0, |sum, t| sum + t.weight) / total
    };
    let trips = share(&|_| true);
    let melts = share(&|t| t.melts);
    let opens = tripped.iter().filter(|t| !t.melts);
    let trip_times = Weighted::new(opens.map(|t| (t.trip_s, t.weight)));
    let waits = |of: &dyn Fn(&Tripped) -> Option<f64>| -> Vec<(f64, f64)> {
        let all = tripped.iter().filter_map(|t| Some((of(t)?, t.weight)));
        all.filter(|_| trips >= FEW).collect()
    };
    let stays_shut = share(&|t| t.reset_s.is_infinite());
    let why_never = [WhyNever::StaysWarm, WhyNever::Melts][usize::from(2.0 * melts > stays_shut)];
    let reset = PartsWait::over(&waits(&|t| Some(t.reset_s)), why_never);
    let start = if question.start.is_none() && trips >= FEW {
        PartsWait::not_asked(WhyNotAsked::NoStartUp)
    } else {
        let never_resets = reset.half.is_never();
        let why = [WhyNever::StartTripsCold, why_never][usize::from(never_resets)];
        PartsWait::over(&waits(&|t| t.start_s), why)
    };
    let early = reset.half.time_s().map_or(Vec::new(), |half_s| {
        let waits_s: Vec<f64> = EARLY.iter().map(|e| e * half_s).collect();
        resets_too_early(question, &family, &both, &waits_s)
    });
    Ok(WaitAnswer {
        trips,
        melts,
        trips_by_start: share(&|t| t.by_start),
        trip_s: Spread::of(&trip_times),
        reset,
        start,
        early,
        instantaneous: instantaneous(question, &family, &both),
        timed,
        parts: found.len(),
        ..unasked(question)
    })
}

/// What a question brings by itself.
fn unasked(question: &WaitQuestion) -> WaitAnswer {
    let plate = &question.nameplate;
    let nothing = PartsWait::not_asked(WhyNotAsked::DoesNotTrip);
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

/// A disc feels the motor, not the current alone: when that has cooled, both start.
fn disc_on_a_motor(question: &WaitQuestion) -> WaitAnswer {
    let (waits, timed, parts) = disc_waits(question.ambient_k, &question.timed);
    let mut answer = unasked(question);
    answer.assumed.push(Assumed::DiscOnAMotor);
    WaitAnswer {
        reset: waits,
        start: waits,
        closes_by_itself: true,
        timed,
        parts,
        ..answer
    }
}

/// What the instantaneous element does, if there is one, and the waits after it has: the strip has
/// carried the load for a tenth of a second at most.
fn instantaneous(
    question: &WaitQuestion,
    family: &Family,
    drawn: &[(Drawn, f64)],
) -> Option<Instantaneous> {
    let element = Element::of(&question.nameplate)?;
    let air = [(0.0, question.felt_k())];
    let start = question.start.as_ref();
    let start_a = start.map(Programme::largest_a);
    let largest = Programme::constant(question.load_a.max(start_a.unwrap_or(0.0)));
    let waits = parallel::map(
        drawn,
        |(d, weight)| {
            let part = question.place(family, d);
            let mut run = part.cold(&air);
            run.stay_closed(&largest, HORIZON_S)?;
            Some((Opened::after(&part, run).relatch_s()?, *weight))
        },
        &mut |_| {},
    );
    let waits: Vec<(f64, f64)> = waits.into_iter().flatten().collect();
    let [may_open_from_a, opens_from_a] = element.limits_a();
    Some(Instantaneous {
        band: element.band,
        may_open_from_a,
        opens_from_a,
        by_load: element.chance(question.load_a),
        by_start: start_a.map(|a| element.chance(a)),
        reset: PartsWait::over(&waits, WhyNever::StaysWarm),
    })
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

/// Parts that agree with what was timed, with their weights.
fn agreeing(family: &Family, question: &WaitQuestion) -> (Vec<Drawn>, Vec<f64>, Agreement) {
    let timed = &question.timed;
    if timed.is_nothing() {
        let drawn = draws(family, DRAWS);
        let equal = vec![1.0; drawn.len()];
        return (drawn, equal, Agreement::Nothing);
    }
    let seen_a = timed.trip.map_or(question.load_a, |t| t.1);
    let multiple = seen_a / question.nameplate.rated_current_a;
    let roughly = |d: &Drawn| {
        let trip_s = family.cold_trip_s(*d, multiple);
        timed.agrees_with_trip(trip_s, ROUGHLY).max(LEAST)
    };
    let drawn = draws_weighed(family, DRAWS_TIMED, &roughly);
    let air = [(0.0, question.felt_k())];
    let seen = Programme::constant(seen_a);
    let agree = parallel::map(
        &drawn,
        |d| {
            let part = question.place(family, d);
            let Some((trip_s, opened)) = Opened::from_cold(&part, &air, &seen) else {
                return 0.0;
            };
            let reset_s = opened.relatch_s().unwrap_or(f64::INFINITY);
            timed.agrees(trip_s, reset_s)
        },
        &mut |_| {},
    );
    let prior: Vec<f64> = drawn.iter().map(|d| 1.0 / roughly(d)).collect();
    let weights: Vec<f64> = prior.iter().zip(&agree).map(|(p, a)| p * a).collect();
    // Parts at the edge of what agrees are few although they share a small weight evenly: none
    // agrees then.
    let best = agree.iter().copied().fold(0.0, f64::max);
    let parts = effective(&weights);
    if parts < ENOUGH || best < 0.1 {
        return (drawn, prior, Agreement::NoPartAgrees);
    }
    (drawn, weights, Agreement::Narrowed { parts })
}

/// Draws from the family; what soft knowledge makes improbable is drawn less often.
pub(crate) fn draws(family: &Family, count: u64) -> Vec<Drawn> {
    draws_weighed(family, count, &|_| 1.0)
}

/// Draws from the family, each as often as its soft knowledge and a weight ask for.
fn draws_weighed(family: &Family, count: u64, weight: &dyn Fn(&Drawn) -> f64) -> Vec<Drawn> {
    let all: Vec<(Drawn, f64)> = (0..4 * count)
        .filter_map(|k| {
            let drawn = family.draw(&Stream::new(1, Purpose::other(60), k))?;
            Some((drawn, family.weight(drawn) * weight(&drawn)))
        })
        .collect();
    let weights: Vec<f64> = all.iter().map(|a| a.1).collect();
    systematic(&weights, count as usize, 0.5)
        .into_iter()
        .map(|k| all[k].0)
        .collect()
}

fn resets_too_early(
    question: &WaitQuestion,
    family: &Family,
    drawn: &[(Drawn, f64)],
    waits_s: &[f64],
) -> Vec<Early> {
    let air = [(0.0, question.felt_k())];
    let load = Programme::constant(question.load_a);
    // A third of the parts is enough for shares.
    let some: Vec<(Drawn, f64)> = drawn.iter().step_by(3).copied().collect();
    // What becomes of a reset after each wait: does not hold, trips again after a time, holds
    // (infinite).
    let one = |(d, weight): &(Drawn, f64)| {
        let part = question.place(family, d);
        let start = question.start.as_ref();
        let (_, opened) = Opened::from_cold(&part, &air, &load)
            .or_else(|| Opened::from_cold(&part, &air, start?))?;
        let reset_s = opened.relatch_s().unwrap_or(f64::INFINITY);
        let after = |wait_s: &f64| {
            (*wait_s >= reset_s).then(|| match opened.again(*wait_s, &load) {
                Some(Carries::Trips(t)) => t,
                _ => f64::INFINITY,
            })
        };
        Some((*weight, waits_s.iter().map(after).collect::<Vec<_>>()))
    };
    let rows = parallel::map(&some, one, &mut |_| {});
    let rows: Vec<_> = rows.into_iter().flatten().collect();
    let total: f64 = rows.iter().map(|r| r.0).sum();
    let early = |(k, wait_s): (usize, &f64)| {
        let held: Vec<(f64, f64)> = rows.iter().filter_map(|r| Some((r.1[k]?, r.0))).collect();
        let again = held.iter().copied().filter(|t| t.0.is_finite());
        let again: Vec<(f64, f64)> = again.collect();
        let weight = |of: &[(f64, f64)]| of.iter().fold(0.0, |sum, t| sum + t.1);
        Early {
            wait_s: *wait_s,
            latch_holds: weight(&held) / total,
            trips_again: weight(&again) / weight(&held).max(1e-12),
            again_after_s: Spread::of(&Weighted::new(again)).map(|s| s.median),
        }
    };
    waits_s.iter().enumerate().map(early).collect()
}

impl Spread {
    /// Of numbers with weights; `None` of nothing.
    pub(crate) fn of(all: &Weighted) -> Option<Spread> {
        (!all.is_empty()).then(|| Spread {
            low: all.at(0.05),
            median: all.at(0.5),
            high: all.at(0.95),
        })
    }

    /// The same with the shortest interval that holds 90 %: of a number that is often at an end of
    /// what is possible, as a preload that is not lost, no end is left out.
    pub(crate) fn shortest(all: &Weighted) -> Option<Spread> {
        let (low, high) = all.shortest(0.9)?;
        Some(Spread {
            low,
            median: all.at(0.5),
            high,
        })
    }
}

/// Median and 90 % range; `None` of nothing.
pub(crate) fn spread(mut values: Vec<f64>) -> Option<Spread> {
    values.sort_by(f64::total_cmp);
    let at = |share: f64| {
        values
            .get(((share * values.len() as f64) as usize).min(values.len().saturating_sub(1)))
            .copied()
    };
    Some(Spread {
        low: at(0.05)?,
        median: at(0.5)?,
        high: at(0.95)?,
    })
}
