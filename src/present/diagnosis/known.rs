//! What the case says of the part and the machine, in words.

use crate::evidence::{Before, Case, Event, Joints, Outcome, Setting, Unit};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::language::worded;
use crate::present::number::{celsius, duration, plain, significant, spoken};

/// What is known of the part and its history, one item a fact.
pub(super) fn facts(case: &Case) -> Vec<String> {
    let plate = &case.nameplate;
    let mut facts = Vec::new();
    if let Some(limits) = &plate.limits {
        let limits = worded(limits);
        facts.push(say!("limits: {limits}"; limits));
    }
    if plate.compensated {
        facts.push(word!("compensated for the air").to_owned());
    }
    if let Some((ohm, _)) = plate.resistance_ohm.filter(|(ohm, _)| ohm.is_finite()) {
        facts.push(format!("{} mΩ", significant(ohm * 1e3, 3)));
    }
    facts.push(if plate.resets_itself {
        word!("resets by itself").to_owned()
    } else {
        word!("reset by hand").to_owned()
    });
    if let Some(rated) = case.equipment_rated_a.filter(|a| a.is_finite()) {
        facts.push(say!("machine rated {} A", plain(rated)));
    }
    if let Some(agrees) = case.marking_agrees {
        let not = if agrees {
            word!("agrees")
        } else {
            word!("DOES NOT agree")
        };
        facts.push(say!("marking {not} with the drawing"; not));
    }
    if let Some(found) = case.joints {
        let found = match found {
            Joints::NoMarks => word!("no marks of heat"),
            Joints::MarksOfHeat => word!("marks of heat"),
            Joints::ReMade => word!("re-made, and it has tripped since"),
        };
        facts.push(say!("joints: {found}"; found));
    }
    if let Some(years) = case.age_years.filter(|a| a.is_finite()) {
        facts.push(say!("{} years old", significant(years, 2)));
    }
    if let Some(trips) = case.trips_so_far {
        facts.push(say!("about {trips} trips so far"; trips));
    }
    if let Some(cleared) = case.short_circuit {
        let words = if cleared {
            word!("has")
        } else {
            word!("has not")
        };
        facts.push(say!("{words} cleared a short circuit"; words));
    }
    facts
}

/// The last timed event of a part under a known current, as the cells of the table of times.
pub(super) fn timed(case: &Case, unit: Unit) -> Option<[String; 5]> {
    let (event, current_a) = case
        .events
        .iter()
        .rev()
        .find_map(|event| match &event.setting {
            Setting::Bench { current_a } if event.unit == unit => Some((event, current_a.value)),
            _ => None,
        })?;
    Some([
        significant(current_a, 3),
        significant(current_a / case.nameplate.rated_current_a, 2),
        air(event),
        before_words(&event.before),
        outcome_words(&event.outcome),
    ])
}

fn air(event: &Event) -> String {
    let air_c = event.air_k.map(|k| k.value - ZERO_CELSIUS_K);
    match air_c.filter(|c| c.is_finite()) {
        Some(air_c) => celsius(Some(air_c), 0),
        None => String::new(),
    }
}

fn before_words(before: &Before) -> String {
    match before {
        Before::Cold => word!("cold").to_owned(),
        Before::Hot { current_a } => say!("hot, {} A", plain(*current_a)),
        Before::AfterTrip { wait_s } => say!("{} after a trip", spoken(*wait_s)),
        Before::Unknown => String::new(),
    }
}

fn outcome_words(outcome: &Outcome) -> String {
    match outcome {
        Outcome::Tripped { after_s } => duration(after_s.value, 3),
        Outcome::TrippedWithin { from_s, to_s } => {
            say!("{} to {}", spoken(*from_s), spoken(*to_s))
        }
        Outcome::Held { for_s } => say!("held {}", spoken(*for_s)),
    }
}
