//! Cautions for the person at the machine, chosen by what the outcome holds. They cannot be
//! switched off. The wording is our own; where a rule stands behind a caution it is named.

use crate::diagnose::Diagnosis;
use crate::family::FitAnswer;
use crate::predict::Outcome;
use crate::study::ageing::{AgeOutcome, Date};
use crate::study::population::VaryOutcome;

/// Where a caution stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// Before everything else.
    Top,
    /// Before the waits.
    BeforeWaits,
    /// Beside the waits.
    BesideWaits,
    /// At the head of anything that is to be measured.
    Measuring,
    /// At the head of anything that a test may be planned from.
    Testing,
    /// In the list of cautions at the end.
    End,
}

/// One caution and its place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Caution {
    /// Where it stands.
    pub place: Place,
    /// In words.
    pub text: String,
}

const FIND_CAUSE: &str = "Find the cause before switching on again. At work, repeated reclosing by \
    hand is prohibited (OSHA 1910.334(b)(2), NFPA 70E) unless an overload is clearly established \
    with the circuit dead.";
const FAULT_SIGNS: &str = "Smell, soot, discolouration, an instant trip when cold, a trip with no \
    load: do not reset.";
const NOT_PROTECTED: &str = "LATE: as modelled, the equipment is not protected at twice the rating \
    or more. Take it out of service now.";
const LATE_IN_TIME: &str = "LATE within the time looked at: from that date on the part no longer trips as soon as \
    its limits demand and the equipment is not protected. Replace or exercise it before.";
const LATE_PERHAPS: &str = "LATE: more than one unit in twenty may no longer trip as soon as its limits demand \
    within the time looked at.";
const STARTS_BY_ITSELF: &str = "The machine may start by itself after cooling or when power returns: \
    switch off and lock first.";
const NEVER_HOLD: &str = "Never hold the reset button in, and never tape or bridge it.";
const NEVER_BRIDGE: &str = "Never hold the protector closed and never bridge it.";
const WINDING_COOLS_LONGER: &str = "These waits are for the protector; a motor winding may need far \
    longer to cool.";
const LIVE_WORK: &str = "Measuring a drop is live work: a qualified worker, a meter of the fitting \
    category, no open terminals. Isolate, lock, prove dead and let cool before touching or tightening.";
const DELIBERATE_OVERLOAD: &str = "Test a trip only with the part removed and the equipment \
    disconnected: a low-voltage source, a time limit, ventilation, never a shared supply; parts get \
    hotter than 60 °C. Count the test trips: they use up life.";
const LIVE_READINGS: &str = "Live measuring is for qualified people: a meter of the fitting category, no open \
    terminals. Isolate, lock, prove dead, let it cool before touching or tightening.";
const FORCED_TRIP: &str = "Force a trip only with the part removed: low-voltage source, time limit, ventilation, \
    never a shared supply; parts get hotter than 60 °C. Count the trips: they use up life.";
pub(super) const NEVER_RAISE: &str =
    "Never raise the rating to stop the tripping: wiring and equipment set it.";
const TEACHING: &str = "Bench or classroom: 24 V at most, guard the hot strip, no mains boards, never \
    unattended.";
const ONE_OF_MANY: &str = "Many different parts follow the same published curve. A fitted part is no \
    approval, no replacement and no setting: choose and replace a protector by the maker's sheet.";
const ESTIMATE: &str = "Numbers are model estimates; the maker's curve and local rules prevail.";

const LATE_UNITS: &str = "LATE: some units leave the equipment unprotected. A rate says nothing about the one \
    in hand: time it before it is trusted.";
const MODELLED_SCATTER: &str = "Rates are those of the tolerances written in the scenario, as new. A lot \
    is accepted by tests of its own parts, not by this.";

/// The cautions for `outcome`, each at its place, most urgent first. Cautions already written in
/// the record are kept.
pub fn cautions(outcome: &Outcome) -> Vec<Caution> {
    let mut list = Vec::new();
    let mut add = |place, text: &str| {
        list.push(Caution {
            place,
            text: text.to_owned(),
        })
    };
    if leaves_unprotected(outcome) {
        add(Place::Top, NOT_PROTECTED);
    }
    add(Place::Top, FIND_CAUSE);
    add(Place::Top, FAULT_SIGNS);
    if outcome.part.reset == "automatic" {
        add(Place::BeforeWaits, STARTS_BY_ITSELF);
        add(Place::BesideWaits, NEVER_BRIDGE);
    } else {
        add(Place::BesideWaits, NEVER_HOLD);
    }
    add(Place::BesideWaits, WINDING_COOLS_LONGER);
    if outcome.part.drop_at_rated_mv.is_some() {
        add(Place::Measuring, LIVE_WORK);
    }
    if outcome.characteristic.is_some() {
        add(Place::Testing, DELIBERATE_OVERLOAD);
    }
    if is_teaching(outcome) {
        add(Place::Top, TEACHING);
    }
    add(Place::End, NEVER_RAISE);
    for text in &outcome.cautions {
        if !list.iter().any(|c| &c.text == text) {
            list.push(Caution {
                place: Place::End,
                text: text.clone(),
            });
        }
    }
    if !list.iter().any(|c| c.text == ESTIMATE) {
        list.push(Caution {
            place: Place::End,
            text: ESTIMATE.to_owned(),
        });
    }
    list
}

/// Writes the cautions into the record, so that every machine-readable output carries them too.
pub fn fill(outcome: &mut Outcome) {
    outcome.cautions = cautions(outcome).into_iter().map(|c| c.text).collect();
}

/// The cautions of a diagnosis, each at its place, most urgent first. Cautions already written in the record are
/// kept.
pub fn diagnosis_cautions(diagnosis: &Diagnosis) -> Vec<Caution> {
    let mut list: Vec<Caution> = [
        (Place::Top, FIND_CAUSE),
        (Place::Top, FAULT_SIGNS),
        (Place::BeforeWaits, STARTS_BY_ITSELF),
        (Place::BesideWaits, NEVER_HOLD),
        (Place::BesideWaits, WINDING_COOLS_LONGER),
        (Place::Measuring, LIVE_READINGS),
        (Place::Testing, FORCED_TRIP),
        (Place::End, NEVER_RAISE),
    ]
    .map(|(place, text)| Caution {
        place,
        text: text.to_owned(),
    })
    .into();
    for text in diagnosis
        .cautions
        .iter()
        .map(String::as_str)
        .chain([ESTIMATE])
    {
        if !list.iter().any(|c| c.text == text) {
            list.push(Caution {
                place: Place::End,
                text: text.to_owned(),
            });
        }
    }
    list
}

/// The cautions beside the waits after a fall to zero in a log that is followed, most urgent first.
pub fn after_a_fall() -> [&'static str; 4] {
    [
        FIND_CAUSE,
        STARTS_BY_ITSELF,
        NEVER_HOLD,
        WINDING_COOLS_LONGER,
    ]
}

/// What stands over a log that is followed.
pub fn over_a_watch() -> [&'static str; 2] {
    [NEVER_RAISE, ESTIMATE]
}

const EXERCISE_HIDES: &str = "Take the as-found trip time before the latch is exercised: one movement hides that \
    it was late.";
const REPLACE_BEFORE: &str = "A date is a model estimate from the constants in the scenario: test in time, and \
    replace before it.";

/// Writes the cautions of an ageing study into its record, most urgent first.
pub fn fill_age(outcome: &mut AgeOutcome) {
    let late_within = |d: &Date| d.years.is_some_and(|y| y <= outcome.horizon_years);
    let mut list = Vec::new();
    let late_share = outcome.lives.by_year.last().and_then(|y| y.late);
    if late_within(&outcome.dates.leaves_limits_late) {
        list.push(LATE_IN_TIME);
    } else if late_share.is_some_and(|s| s.high >= 0.05) {
        list.push(LATE_PERHAPS);
    }
    list.extend([FIND_CAUSE, FAULT_SIGNS]);
    if outcome.reset == "automatic" {
        list.push(STARTS_BY_ITSELF);
    }
    list.extend([REPLACE_BEFORE, NEVER_RAISE]);
    if outcome.mechanism == "latch" {
        list.push(EXERCISE_HIDES);
    }
    list.push(DELIBERATE_OVERLOAD);
    if teaches(&outcome.scenario, &outcome.shows) {
        list.push(TEACHING);
    }
    list.push(ESTIMATE);
    outcome.cautions = list.into_iter().map(str::to_owned).collect();
}

/// The cautions for a population of units.
pub fn of_population(outcome: &VaryOutcome) -> Vec<String> {
    let late = outcome
        .load
        .fails_to_protect
        .iter()
        .chain(outcome.any_limit.iter().map(|s| &s.late))
        .any(|rate| rate.units > 0);
    let mut list = Vec::new();
    if late {
        list.push(LATE_UNITS);
    }
    list.extend([MODELLED_SCATTER, NEVER_RAISE, ESTIMATE]);
    list.into_iter().map(str::to_owned).collect()
}

/// Writes the cautions into the record of a fit.
pub fn fill_fit(answer: &mut FitAnswer) {
    let mut list = vec![ONE_OF_MANY, FIND_CAUSE, NEVER_RAISE];
    if answer.resets_itself {
        list.insert(0, STARTS_BY_ITSELF);
    }
    list.extend([DELIBERATE_OVERLOAD, ESTIMATE]);
    answer.cautions = list.into_iter().map(str::to_owned).collect();
}

/// Twice the rating is held for ever, or a trip there comes later than a published limit allows.
fn leaves_unprotected(outcome: &Outcome) -> bool {
    let holds_twice = outcome
        .trip_point
        .multiple_of_rated
        .is_some_and(|m| m >= 2.0);
    let late_against_limits = outcome
        .characteristic
        .iter()
        .flat_map(|c| &c.limits)
        .any(|limit| {
            let late = limit
                .at_most_s
                .is_some_and(|most| limit.time_s.is_none_or(|t| t > most));
            limit.multiple >= 2.0 && late
        });
    let never_at_twice = outcome
        .characteristic
        .iter()
        .flat_map(|c| &c.cold)
        .any(|point| point.multiple >= 2.0 && point.time_s.is_none());
    holds_twice || late_against_limits || never_at_twice
}

/// Whether the story plays at a bench supply or in a lesson: the record has no field for it, so
/// the author's own words decide.
fn is_teaching(outcome: &Outcome) -> bool {
    teaches(&outcome.scenario, &outcome.shows)
}

fn teaches(title: &str, shows: &str) -> bool {
    let words = format!("{title} {shows}").to_lowercase();
    [
        "bench",
        "classroom",
        "class room",
        "lesson",
        "pupil",
        "student",
        "teach",
    ]
    .iter()
    .any(|word| words.contains(word))
}
