//! How long to wait, from a nameplate alone.
//!
//! Layout of the answer: `format` 2. Since `format` 1:
//!
//! | format 1 | format 2 |
//! | --- | --- |
//! | `reset_s`, `never_resets` | `reset`: waits of one part in twenty to 99 of 100, those that never reset counted, and `never` |
//! | `start_s`, `never_starts` | `start`: the same, until the machine can be started |
//! | `assumed`: sentences | `assumed`: codes with their numbers |
//! | - | `trips_by_start`, `timed`, `not_modelled`, `cautions`, `instantaneous`, `closes_by_itself`, `short_circuit` |

mod agreeing;
mod answer;
mod early;
mod question;

use super::assumed::Assumed;
use super::kinds::{Element, Instantaneous, disc_waits};
use super::part::Drawn;
use super::parts_wait::PartsWait;
use super::prior::{Family, FamilyError};
use super::ready::{Opened, Start};
use super::spread::Spread;
use crate::answer::{WhyNever, WhyNotAsked};
use crate::load::Programme;
use crate::predict::magnet::HORIZON_S;
use crate::predict::parallel;
use crate::statistics::weighted::Weighted;
pub(crate) use agreeing::draws;
use agreeing::{agreeing, too_soon};
pub use answer::{Agreement, Early, WaitAnswer};
use early::resets_too_early;
pub use question::{Sits, WaitQuestion};

/// Designs of the family.
const DESIGNS: usize = 48;
/// A load or start that trips fewer parts than this does not trip them.
const FEW: f64 = 0.05;
/// Waits at which a reset too early is tried, in units of the median wait to reset.
const EARLY: [f64; 6] = [0.5, 1.0, 1.5, 2.0, 4.0, 8.0];

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
        let too_soon = too_soon(question)?;
        return Ok(disc_on_a_motor(question, too_soon));
    }
    let family = Family::new(plate, DESIGNS)?;
    let (drawn, weights, timed) = agreeing(&family, question);
    let air = [(0.0, question.felt_k())];
    let load = Programme::constant(question.load_a);
    let both: Vec<(Drawn, f64)> = drawn.into_iter().zip(weights).collect();
    let found: Vec<Option<Tripped>> = parallel::map(
        &both,
        |(d, weight)| {
            let part = family.sound_part(d);
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
        timed: with_resets(timed, question, &reset),
        parts: found.len(),
        ..WaitAnswer::unasked(question)
    })
}

/// A disc feels the motor, not the current alone: when that has cooled, both start.
fn disc_on_a_motor(question: &WaitQuestion, too_soon: Option<Agreement>) -> WaitAnswer {
    let (waits, timed, parts) = disc_waits(question.ambient_k, &question.timed);
    let timed = too_soon.unwrap_or_else(|| with_resets(timed, question, &waits));
    let mut answer = WaitAnswer::unasked(question);
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

/// What became of what was timed, with what refused resets say where no part agrees with it.
fn with_resets(timed: Agreement, question: &WaitQuestion, reset: &PartsWait) -> Agreement {
    let of_resets = || Agreement::of_resets(question, reset.nine_of_ten.time_s());
    match timed {
        Agreement::NoPartAgrees => of_resets().unwrap_or(timed),
        _ => timed,
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
            let part = family.sound_part(d);
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

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::{Nameplate, Timed};

    fn timed(rated_a: f64, trip: (f64, f64)) -> Agreement {
        let mut question = WaitQuestion::new(Nameplate::of_rating(rated_a), trip.1);
        question.timed = Timed {
            trip: Some(trip),
            ..Timed::default()
        };
        wait(&question).expect("an answer").timed
    }

    #[test]
    fn what_no_sound_part_does_is_no_wait() {
        // 0.1 s at 14 A is 20 A²s on a 13 A part: no strip of it warms by a kelvin.
        for trip in [(0.02, 14.0), (0.1, 14.0)] {
            let found = timed(13.0, trip);
            assert!(
                matches!(found, Agreement::TooSoon { .. }),
                "{trip:?} {found:?}"
            );
        }
        // What an instantaneous element may have done is no trip of the strip.
        let mut question = WaitQuestion::new(Nameplate::of_rating(13.0), 60.0);
        question.timed.trip = Some((0.02, 60.0));
        question.nameplate.instantaneous = Some(crate::standards::Band::C);
        let found = wait(&question).expect("an answer").timed;
        assert_eq!(found, Agreement::NoPartAgrees);
        // Windows published for 200 % end by two minutes.
        let found = timed(13.0, (1200.0, 30.0));
        assert!(matches!(found, Agreement::TooLate { .. }), "{found:?}");
        // A disc on a motor is a heated strip too, however it closes.
        let mut question = WaitQuestion::new(Nameplate::of_rating(10.0), 24.0);
        question.nameplate.resets_itself = true;
        question.sits = Some(Sits::OnTheMachine);
        for (trip_s, is_too_soon) in [(0.2, true), (9.0, false)] {
            question.timed.trip = Some((trip_s, 24.0));
            let found = wait(&question).expect("an answer").timed;
            assert_eq!(
                matches!(found, Agreement::TooSoon { .. }),
                is_too_soon,
                "{found:?}"
            );
        }
        let found = timed(10.0, (9.0, 24.0));
        assert!(matches!(found, Agreement::Narrowed { .. }), "{found:?}");
    }

    #[test]
    fn a_reset_that_is_refused_too_long_is_no_wait() {
        let mut question = WaitQuestion::new(Nameplate::of_rating(10.0), 24.0);
        let mut resets = |held_s: &[f64], refused_s: &[f64], sits| {
            question.sits = sits;
            question.timed = Timed {
                trip: Some((9.0, 24.0)),
                held_s: held_s.to_vec(),
                refused_s: refused_s.to_vec(),
            };
            let answer = wait(&question).expect("an answer");
            (answer.timed, answer.reset.nine_of_ten.time_s())
        };
        let refused_s = 1200.0;
        let (found, usual_s) = resets(&[], &[20.0, refused_s], None);
        let usual_s = usual_s.expect("nine of ten reset");
        assert_eq!(found, Agreement::NeverLatches { refused_s, usual_s });
        // On a motor that is still hot it may be so; after hours it is not.
        let on_motor = Some(Sits::OnTheMachine);
        let found = resets(&[], &[refused_s], on_motor).0;
        assert_eq!(found, Agreement::NoPartAgrees);
        let found = resets(&[], &[7300.0], on_motor).0;
        assert!(matches!(found, Agreement::NeverLatches { .. }), "{found:?}");
        let found = resets(&[], &[20.0], None).0;
        assert!(matches!(found, Agreement::Narrowed { .. }), "{found:?}");
        let (held_s, refused_s) = (20.0, 40.0);
        let contradicts = Agreement::Contradicts { held_s, refused_s };
        assert_eq!(resets(&[held_s], &[10.0, refused_s], None).0, contradicts);
    }

    /// The least sensitive instantaneous element picks up at 20 times the rating (IEC 60898-1, type D).
    #[test]
    fn a_short_circuit_is_known_by_its_current() {
        let is_short = |load_a: f64| {
            let question = WaitQuestion::new(Nameplate::of_rating(20.0), load_a);
            WaitAnswer::unasked(&question).short_circuit
        };
        assert!(is_short(2000.0) && is_short(502.0) && !is_short(498.0) && !is_short(400.0));
    }

    #[test]
    fn hotter_air_never_makes_the_wait_look_shorter() {
        let ready = |air_c: f64| {
            let mut question = WaitQuestion::new(Nameplate::of_rating(10.0), 15.0);
            question.ambient_k = air_c + 273.15;
            let reset = wait(&question).expect("an answer").reset;
            reset.nine_of_ten_ready.time_s().expect("some reset")
        };
        let waits = [30.0, 40.0, 50.0].map(ready);
        assert!(waits.windows(2).all(|w| w[1] > w[0]), "{waits:?}");
    }
}
