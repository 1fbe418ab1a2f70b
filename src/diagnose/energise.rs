//! May it be switched on again? One rule, and nothing softens it:
//!
//! * **No** after a sign of a fault, after a trip that came sooner than any current-heated strip of
//!   the rating can release under that load, or at once on the machine from any state, with a
//!   terminal hotter than insulation bears, and for a part that trips too late: that a record or a
//!   bench shows to be, or that most probably is.
//! * **Not yet** while a bad joint (it can burn) has more than one chance in twenty, or in five where
//!   it was measured to be sound; a joint that was measured to be hot or shows marks of heat, whether
//!   or not anything trips; a late part (it protects nothing) with more than one chance in ten, or by
//!   a current read beside it; a part that is not that of the drawing; a motor that hums and stands.
//! * **Yes** otherwise; the cause is still to be found first.
//!
//! What is measured counts here as it was written down, however improbable it is: a wrong entry costs
//! a look.
//!
//! How soon a strip can release, and how long it lets a load flow at most, says `family::outside`.

use super::burning::{BadJoint, bad_joint, hot_terminal_k, joints_measured_sound, shows_marks};
use super::measurement::Measurement;
use super::plan::{Action, IsIt, Step};
use super::record::Verdict;
use super::scales::Scales;
use super::too_late::{Passed, too_late};
use crate::evidence::{
    Before, Case, Event, Joints, Measured, Mend, Meter, Outcome, Setting, Sign, Taken, Unit,
    Waveform,
};
use crate::family::{AT_ONCE_S, Element, Family, MAY_BE_LOW, soonest_s};
use crate::physics::constants::ZERO_CELSIUS_K;
use serde::{Deserialize, Serialize};

/// Probability of a part that protects nothing, from which nothing is switched on.
const ONE_IN_TEN: f64 = 0.1;
/// The same of a joint that can burn: what is found of one differs twofold between seeds, so that
/// one in twenty may be one in ten.
const ONE_IN_TWENTY: f64 = 0.05;
/// The same where drop or terminals are those of a sound joint: what is left is the chance that they
/// were measured wrongly.
const ONE_IN_FIVE: f64 = 0.2;
/// A machine draws at most so many times its running current when it starts (motors switched
/// straight on: 6 to 8; common practice, no source).
const START_OVER_RUN: f64 = 8.0;

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
    /// It tripped at once on the machine, where it was warm or had tripped before.
    AtOnce {
        /// When it tripped, s.
        time_s: f64,
    },
    /// It let a load flow that was recorded, or sent through it on a bench, far longer than any part
    /// of the rating.
    TooLate(Passed),
    /// Its instantaneous element may have opened at once: beside a trip at once from cold.
    ElementOpens {
        /// Currents between which such elements pick up, A.
        picks_up_a: [f64; 2],
        /// Largest current that the load may have had, A.
        at_most_a: f64,
        /// Chance that it opens at once when it is closed onto that current, 0..1.
        opens: f64,
    },
    /// A terminal is hotter than insulation bears.
    HotTerminal {
        /// degC.
        temperature_c: f64,
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
        /// What was measured there, where that says by itself that it is bad.
        #[serde(flatten)]
        shows: Option<BadJoint>,
    },
    /// A timed trip on a bench shows that it is not late.
    TimeATrip {
        /// Probability of a late part, 0..1.
        probability: f64,
        /// How long it let a current flow that was read beside it, where that is far too long.
        #[serde(default, skip_serializing_if = "Option::is_none")]
        passed: Option<Passed>,
        /// A trip was timed and came within its window: what is left is that it was sooner as new.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        in_window: bool,
    },
    /// The part of the drawing is fitted: the marking is another one's.
    FitThePartOfTheDrawing,
    /// It is looked, dead, why the motor hums and stands.
    LookWhyItHums,
}

impl First {
    /// Whether one of these steps sees to it.
    pub(crate) fn is_seen_to(&self, plan: &[&Step]) -> bool {
        let re_makes = |step: &&Step| match (&step.action, self) {
            (Action::Mend { mend }, First::ReMakeTheConnection { .. }) => {
                mend.contains(&Verdict::ReMakeTheConnection)
            }
            _ => false,
        };
        let measures = |step: &Step| {
            let is_it = self.is_measured();
            is_it.is_some_and(|is_it| step.measured().is_some_and(is_it))
        };
        // Nothing is tried before the joint is re-made.
        plan.first().is_some_and(re_makes) || plan.iter().any(|step| measures(step))
    }

    /// The look or measurement of a plan that sees to it, where there is one.
    pub(super) fn is_measured(&self) -> Option<IsIt> {
        match self {
            First::ReMakeTheConnection {
                found: Some(Joints::ReMade),
                shows: None,
                ..
            } => Some(|m| m == Measurement::DropBesideASister),
            First::ReMakeTheConnection { .. } => Some(|m| m == Measurement::LookAtTheJoints),
            First::TimeATrip { .. } => Some(|m| matches!(m, Measurement::TimedTrip { .. })),
            First::FitThePartOfTheDrawing | First::LookWhyItHums => None,
        }
    }
}

/// What the entries of a case say by themselves, however probable they are found.
#[derive(Debug, Clone, Default)]
pub struct ByEntries {
    /// What forbids it.
    pub why: Vec<WhyNot>,
    /// What was measured of a bad joint.
    joint: Option<BadJoint>,
    /// A joint was measured to be bad, or marks of heat were seen at one.
    pub burns: bool,
    /// How long a current flowed that was read.
    passed: Option<Passed>,
    /// Entries that this stands on: they are not asked for again.
    stands_on: Vec<String>,
}

impl ByEntries {
    /// Of a case.
    pub fn of(scales: &Scales<'_>) -> ByEntries {
        let (case, family) = (scales.case, scales.family);
        let signs = Some(case.signs.clone()).filter(|signs| !signs.is_empty());
        let mut why: Vec<WhyNot> = signs
            .map(|signs| WhyNot::Signs { signs })
            .into_iter()
            .collect();
        why.extend(too_soon(case, family));
        why.extend(hot_terminal_k(case).map(|k| WhyNot::HotTerminal {
            temperature_c: k - ZERO_CELSIUS_K,
        }));
        let late = too_late(scales);
        let shown = late.as_ref().filter(|l| l.is_shown);
        why.extend(shown.map(|l| WhyNot::TooLate(l.passed)));
        let bad = bad_joint(case, family);
        ByEntries {
            why,
            burns: bad.is_some() || shows_marks(case),
            joint: bad.as_ref().map(|(_, shown)| *shown),
            passed: late.as_ref().filter(|l| !l.is_shown).map(|l| l.passed),
            stands_on: (bad.map(|(entry, _)| entry).into_iter())
                .chain(late.into_iter().flat_map(|l| l.entries))
                .collect(),
        }
    }

    /// Whether the part may be late by a current that was read: then nothing else is advised.
    pub fn may_be_late(&self) -> bool {
        self.passed.is_some()
    }

    /// Whether it stands on an entry, or on the mean of the record that an entry is about.
    pub fn stands_on(&self, entry: &str) -> bool {
        self.stands_on.iter().any(|e| entry.ends_with(e.as_str()))
    }
}

impl Energise {
    /// By the rule: the entries of the case, the verdict, and the probabilities of a bad joint and a
    /// late part.
    pub fn by_rule(
        case: &Case,
        entries: &ByEntries,
        verdict: Verdict,
        joint: f64,
        late: f64,
    ) -> Energise {
        let mut why = entries.why.clone();
        if why.is_empty() && verdict == Verdict::DoNotReEnergise {
            why.push(WhyNot::Late { probability: late });
        }
        let joints_may_be = match joints_measured_sound(case) {
            true => ONE_IN_FIVE,
            false => ONE_IN_TWENTY,
        };
        let remake = First::ReMakeTheConnection {
            probability: joint,
            found: case.joints,
            shows: entries.joint,
        };
        let time = First::TimeATrip {
            probability: late,
            passed: entries.passed,
            in_window: case.trips_in_time(),
        };
        let is_other = case.marking_agrees == Some(false);
        let all = [
            (is_other, First::FitThePartOfTheDrawing),
            (case.hums == Some(true), First::LookWhyItHums),
            (entries.passed.is_some(), time),
            // Joints are looked at when the part is taken out to be timed.
            (
                joint > joints_may_be && entries.passed.is_none() || entries.burns,
                remake,
            ),
            (late > ONE_IN_TEN && entries.passed.is_none(), time),
        ];
        let after: Vec<First> = all
            .iter()
            .filter(|(asked, _)| *asked)
            .map(|a| a.1)
            .collect();
        match (why.is_empty(), after.is_empty()) {
            (false, _) => Energise::No { why },
            (true, false) => Energise::NotYet { after },
            (true, true) => Energise::Yes,
        }
    }

    /// What must come before it is energised.
    pub fn first(&self) -> &[First] {
        match self {
            Energise::NotYet { after } => after,
            _ => &[],
        }
    }

    /// Whether a measurement sees to what must come first.
    pub fn demands(&self, measurement: Measurement) -> bool {
        let mut asked = self.first().iter().filter_map(First::is_measured);
        asked.any(|is_it| is_it(measurement))
    }

    /// Whether a trip at once, or sooner than a strip can, forbids it: such a part is not late.
    pub fn is_at_once(&self) -> bool {
        let at_once = |w: &WhyNot| match w {
            WhyNot::TooSoon { .. } | WhyNot::AtOnce { .. } => true,
            WhyNot::Signs { signs } => signs.contains(&Sign::TripsAtOnceCold),
            _ => false,
        };
        matches!(self, Energise::No { why } if why.iter().any(at_once))
    }

    /// Whether nothing but a late part forbids it.
    pub fn is_late(&self) -> bool {
        let late = |w: &WhyNot| matches!(w, WhyNot::Late { .. } | WhyNot::TooLate(_));
        matches!(self, Energise::No { why } if why.iter().all(late))
    }

    /// Whether the machine may run for a measurement, attended: not with a part that may be late,
    /// nor on a joint that was hot; a motor that stands would stand again.
    pub fn lets_measure(&self) -> bool {
        let forbids = |first: &First| match first {
            First::ReMakeTheConnection { shows, .. } => shows.is_some(),
            First::TimeATrip { .. } | First::LookWhyItHums => true,
            First::FitThePartOfTheDrawing => false,
        };
        !matches!(self, Energise::No { .. }) && !self.first().iter().any(forbids)
    }
}

/// Trips of this part from cold that came sooner than any strip of the family can release, or from
/// any state at once on the machine, whatever it draws when it starts: a strip that was closed again,
/// or carries its load, is far from release.
pub fn too_soon(case: &Case, family: &Family) -> Vec<WhyNot> {
    let square_s = soonest_s(family, 1.0);
    let element = Element::of(&case.nameplate);
    let judged = |event: &Event| -> Option<Vec<WhyNot>> {
        let from_cold = matches!(event.before, Before::Cold | Before::Unknown);
        let is_replaced = case.is_undone(event.mended, &[Mend::Protector]);
        if event.unit != Unit::ThisPart || is_replaced {
            return None;
        }
        let time_s = match event.outcome {
            Outcome::Tripped { after_s } => after_s.value,
            Outcome::TrippedWithin { to_s, .. } => to_s,
            Outcome::Held { .. } => return None,
        };
        let at_most_a = at_most_a(case, event, time_s);
        let soonest_s = square_s / at_most_a.powi(2);
        let at_once = time_s <= AT_ONCE_S && matches!(event.setting, Setting::InService { .. });
        if at_once && !from_cold {
            return Some(vec![WhyNot::AtOnce { time_s }]);
        }
        if !from_cold {
            return None;
        }
        if time_s < soonest_s {
            return Some(vec![WhyNot::TooSoon {
                label: event.label.clone(),
                time_s,
                soonest_s,
                at_most_a,
                opens: element.map(|e| e.chance(at_most_a)),
            }]);
        }
        let signs = vec![Sign::TripsAtOnceCold];
        let is_said = case.signs.contains(&signs[0]);
        let signs = (!is_said).then_some(WhyNot::Signs { signs });
        let opens = element.map(|e| WhyNot::ElementOpens {
            picks_up_a: e.limits_a(),
            at_most_a,
            opens: e.chance(at_most_a),
        });
        at_once.then(|| signs.into_iter().chain(opens).collect())
    };
    let all = case.events.iter().filter_map(judged);
    let mut all: Vec<WhyNot> = all.flatten().collect();
    all.dedup();
    all
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
mod tests;
