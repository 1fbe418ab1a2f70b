//! May it be switched on again? One rule, and nothing softens it:
//!
//! * **No** after a sign of a fault, after a trip that came sooner than any current-heated strip of
//!   the rating can release under that load, or at once on the machine, and for a part that trips
//!   too late.
//! * **Not yet** while a bad joint (it can burn) or a late part (it protects nothing) has more than
//!   one chance in ten.
//! * **Yes** otherwise; the cause is still to be found first.
//!
//! How soon a strip can release: without any loss of heat the time goes with one over the square of
//! the current. So the soonest trip of the family far above its trip point gives a lower bound at
//! every current; of a part that has lost its preload, the share that is left of it. Parts of the
//! family that no sheet excludes are the fastest there.

use super::record::Verdict;
use super::scatter::MOST_LOSS;
use crate::evidence::{
    Before, Case, Event, Joints, Measured, Meter, Outcome, Setting, Sign, Taken, Unit, Waveform,
};
use crate::family::{AT_ONCE_S, Element, Family, draws};
use serde::{Deserialize, Serialize};

/// Probability of a part that protects nothing, from which nothing is switched on.
const ONE_IN_TEN: f64 = 0.1;
/// The same of a joint that can burn: what is found of one differs twofold between seeds, so that
/// one in twenty may be one in ten.
const ONE_IN_TWENTY: f64 = 0.05;
/// A machine draws at most so many times its running current when it starts (motors switched
/// straight on: 6 to 8; common practice, no source).
const START_OVER_RUN: f64 = 8.0;
/// A reading that may be low, or was not taken up to the trip, counts as so much more (a maker's
/// note: meters that respond to the average read up to 40 % low).
const MAY_BE_LOW: f64 = 1.6;
/// Where heat has no time to leave: multiples of the rating.
const FAR_ABOVE: f64 = 12.0;
/// Parts drawn.
const PARTS: u64 = 400;

/// May it be energised again?
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "answer", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Energise {
    /// Not at all.
    No {
        /// Why.
        why: Vec<WhyNot>,
    },
    /// Only after something is done.
    NotYet {
        /// What comes first.
        after: Vec<First>,
    },
    /// Nothing forbids it; the cause is to be found first.
    Yes,
}

/// Why it may not be energised.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "reason", rename_all = "snake_case")]
#[non_exhaustive]
pub enum WhyNot {
    /// Signs of a fault.
    Signs {
        /// Which.
        signs: Vec<Sign>,
    },
    /// It tripped sooner than a heated strip can.
    TooSoon {
        /// The line of the case.
        label: String,
        /// When it tripped, s.
        time_s: f64,
        /// The soonest that any strip of this rating can release there, s.
        soonest_s: f64,
        /// Largest current that the load may have had, A.
        at_most_a: f64,
        /// Chance that its instantaneous element opens at once when it is closed onto that current,
        /// where it has one.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        opens: Option<f64>,
    },
    /// It trips too late or not at all.
    Late {
        /// Probability, 0..1.
        probability: f64,
    },
}

/// What must come before it is energised.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "first", rename_all = "snake_case")]
#[non_exhaustive]
pub enum First {
    /// The connection is opened, looked at and re-made, dead.
    ReMakeTheConnection {
        /// Probability of a bad joint, 0..1.
        probability: f64,
        /// What was found at the joints, where somebody looked.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        found: Option<Joints>,
    },
    /// A timed trip on a bench shows that it is not late.
    TimeATrip {
        /// Probability of a late part, 0..1.
        probability: f64,
    },
}

impl Energise {
    /// By the rule: signs and trips of the case, the verdict, and the probabilities of a bad joint
    /// and a late part.
    pub fn by_rule(
        case: &Case,
        too_soon: Vec<WhyNot>,
        verdict: Verdict,
        joint: f64,
        late: f64,
    ) -> Energise {
        let mut why = Vec::new();
        if !case.signs.is_empty() {
            let signs = case.signs.clone();
            why.push(WhyNot::Signs { signs });
        }
        why.extend(too_soon);
        if why.is_empty() && verdict == Verdict::DoNotReEnergise {
            why.push(WhyNot::Late { probability: late });
        }
        let mut after = Vec::new();
        if joint > ONE_IN_TWENTY {
            after.push(First::ReMakeTheConnection {
                probability: joint,
                found: case.joints,
            });
        }
        // What was timed inside its window is timed.
        if (late > ONE_IN_TEN || case.held_too_long()) && !case.trips_in_time() {
            after.push(First::TimeATrip { probability: late });
        }
        match (why.is_empty(), after.is_empty()) {
            (false, _) => Energise::No { why },
            (true, false) => Energise::NotYet { after },
            (true, true) => Energise::Yes,
        }
    }

    /// Whether the machine may run for a measurement, attended: not with a part that may be late.
    pub fn lets_measure(&self) -> bool {
        match self {
            Energise::No { .. } => false,
            Energise::NotYet { after } => {
                !after.iter().any(|a| matches!(a, First::TimeATrip { .. }))
            }
            Energise::Yes => true,
        }
    }
}

/// Trips of this part from cold that came sooner than any strip of the family can release, or at
/// once on the machine, whatever it draws when it starts.
pub fn too_soon(case: &Case, family: &Family) -> Vec<WhyNot> {
    let rated_a = case.nameplate.rated_current_a;
    let square_s = heat_to_release_s(family);
    let element = Element::of(&case.nameplate);
    let judged = |event: &Event| {
        let from_cold = matches!(event.before, Before::Cold | Before::Unknown);
        if event.unit != Unit::ThisPart || !from_cold {
            return None;
        }
        let time_s = match event.outcome {
            Outcome::Tripped { after_s } => after_s.value,
            Outcome::TrippedWithin { to_s, .. } => to_s,
            Outcome::Held { .. } => return None,
        };
        let at_most_a = at_most_a(case, event, time_s);
        let soonest_s = square_s * (rated_a / at_most_a).powi(2);
        let at_once = time_s <= AT_ONCE_S && matches!(event.setting, Setting::InService { .. });
        if time_s < soonest_s {
            return Some(WhyNot::TooSoon {
                label: event.label.clone(),
                time_s,
                soonest_s,
                at_most_a,
                opens: element.map(|e| e.chance(at_most_a)),
            });
        }
        let signs = vec![Sign::TripsAtOnceCold];
        (at_once && !case.signs.contains(&signs[0])).then_some(WhyNot::Signs { signs })
    };
    let mut all: Vec<WhyNot> = case.events.iter().filter_map(judged).collect();
    all.dedup();
    all
}

/// Time to release at the rated current if no heat were lost, of the fastest part whose preload is
/// gone, s.
fn heat_to_release_s(family: &Family) -> f64 {
    let soonest = |d: &crate::family::Drawn| {
        let left = 1.0 - MOST_LOSS * family.members()[d.member].preload_share;
        left * family.cold_trip_s(*d, FAR_ABOVE) * FAR_ABOVE * FAR_ABOVE
    };
    let all = draws(family, PARTS);
    all.iter().map(soonest).fold(f64::INFINITY, f64::min)
}

/// Largest current that the load of an event may have had up to a time, A; of a start that was
/// captured, with the heat that it made until then.
fn at_most_a(case: &Case, event: &Event, time_s: f64) -> f64 {
    let with_start = match &event.setting {
        Setting::Bench { current_a } => {
            return current_a.value + 2.0 * current_a.standard_uncertainty;
        }
        Setting::Recorded(load) => return load.largest_a(),
        Setting::InService { with_start } => *with_start || case.has_start == Some(true),
    };
    let read_a = case.readings.iter().map(|r| {
        let sure = r.meter == Meter::TrueRms || case.waveform == Waveform::Sine;
        let factor = if sure && r.taken == Taken::UpToTheTrip {
            1.0
        } else {
            MAY_BE_LOW
        };
        factor * (r.current_a.value + 2.0 * r.current_a.standard_uncertainty)
    });
    let unread_a = MAY_BE_LOW
        * case
            .equipment_rated_a
            .unwrap_or(0.0)
            .max(case.nameplate.rated_current_a);
    let run_a = read_a.reduce(f64::max).unwrap_or(unread_a);
    match &case.start {
        _ if !with_start => run_a,
        Some(start) => {
            let most = |m: &Measured| m.value + 2.0 * m.standard_uncertainty;
            let part = (most(&start.duration_s) / time_s).min(1.0);
            let squares = part * most(&start.peak_a).powi(2) + (1.0 - part) * run_a.powi(2);
            run_a.max(squares.sqrt())
        }
        None => START_OVER_RUN * run_a,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::Nameplate;

    fn of(joint: f64, late: f64) -> Energise {
        let case = Case::of(Nameplate::of_rating(10.0));
        Energise::by_rule(&case, Vec::new(), Verdict::NotEnoughEvidence, joint, late)
    }

    #[test]
    fn more_than_one_chance_in_twenty_of_a_joint_or_in_ten_of_a_late_part_is_not_yet() {
        assert_eq!(of(0.05, 0.1), Energise::Yes);
        assert!(matches!(of(0.051, 0.0), Energise::NotYet { after } if after.len() == 1));
        assert!(matches!(of(0.0, 0.11), Energise::NotYet { after } if after.len() == 1));
        assert!(of(0.5, 0.0).lets_measure() && !of(0.5, 0.11).lets_measure());
    }

    fn tripped_after(time_s: f64, current_a: f64) -> Vec<WhyNot> {
        tripped(Nameplate::of_rating(10.0), time_s, current_a)
    }

    fn tripped(nameplate: Nameplate, time_s: f64, current_a: f64) -> Vec<WhyNot> {
        let mut case = Case::of(nameplate);
        let after_s = Measured::new(time_s, 0.0);
        case.events.push(Event {
            label: "the trip".into(),
            unit: Unit::ThisPart,
            setting: Setting::Bench {
                current_a: Measured::new(current_a, 0.0),
            },
            before: Before::Cold,
            air_k: None,
            outcome: Outcome::Tripped { after_s },
            times: 1,
            reset_between_s: None,
        });
        let family = Family::new(&case.nameplate, 40).expect("a family");
        too_soon(&case, &family)
    }

    #[test]
    fn a_trip_sooner_than_any_strip_can_release_is_no_without_a_sign() {
        assert_eq!(tripped_after(0.02, 7.0).len(), 1);
        assert_eq!(tripped_after(20.0, 20.0), Vec::new());
        // The same time is no fault under a current that heats so fast.
        assert_eq!(tripped_after(0.02, 400.0), Vec::new());
        let case = Case::of(Nameplate::of_rating(10.0));
        let soon = tripped_after(0.02, 7.0);
        let no = Energise::by_rule(&case, soon, Verdict::NothingToMend, 0.0, 0.0);
        assert!(matches!(&no, Energise::No { .. }) && !no.lets_measure());
    }

    /// A start that is over long before the trip makes no more heat than it lasts.
    #[test]
    fn a_short_start_does_not_explain_a_trip_after_it() {
        let mut case = Case::of(Nameplate::of_rating(10.0));
        let family = Family::new(&case.nameplate, 40).expect("a family");
        case.readings
            .push(crate::evidence::Reading::true_rms("clamp", 6.0));
        let trip = Event::trip_from_cold("the trip", 0.3);
        case.events.push(trip);
        let mut soon_after = |duration_s: f64| {
            case.start = Some(crate::evidence::StartSeen {
                label: "start".into(),
                peak_a: Measured::new(90.0, 0.0),
                duration_s: Measured::new(duration_s, 0.0),
            });
            case.has_start = Some(true);
            too_soon(&case, &family).len()
        };
        assert_eq!([0.01, 0.25].map(&mut soon_after), [1, 0]);
    }

    /// What may be a start may be a short circuit as well.
    #[test]
    fn a_trip_at_once_on_the_machine_is_no_even_where_a_start_could_do_it() {
        let mut case = Case::of(Nameplate::of_rating(16.0));
        let family = Family::new(&case.nameplate, 40).expect("a family");
        case.has_start = Some(true);
        case.start = Some(crate::evidence::StartSeen {
            label: "start".into(),
            peak_a: Measured::new(300.0, 0.0),
            duration_s: Measured::new(0.1, 0.0),
        });
        let mut why = |time_s| {
            case.events = vec![Event::trip_from_cold("the trip", time_s)];
            too_soon(&case, &family)
        };
        assert!(matches!(&why(0.1)[..], [WhyNot::Signs { .. }]));
        assert_eq!(why(0.4), Vec::new());
    }

    /// An instantaneous element of type C opens between 5 and 10 times the rating (IEC 60898-1): it
    /// may explain such a trip, and nothing is switched on for that.
    #[test]
    fn an_instantaneous_element_is_named_and_softens_nothing() {
        let mut nameplate = Nameplate::of_rating(10.0);
        nameplate.instantaneous = Some(crate::standards::Band::C);
        for (current_a, chance) in [(7.0, 0.0..=0.0), (75.0, 0.4..=0.8), (116.0, 1.0..=1.0)] {
            let why = tripped(nameplate.clone(), 0.003, current_a);
            let [WhyNot::TooSoon { opens: Some(p), .. }] = &why[..] else {
                panic!("{why:?}");
            };
            assert!(chance.contains(p), "{current_a} A: {p}");
        }
    }
}
