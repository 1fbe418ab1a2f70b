//! What the case says of the part and the machine, in words.

use crate::evidence::{Before, Case, Event, Outcome, Setting, Unit};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::number::{celsius, duration, plain, significant, spoken};

/// What is known of the part and its history, one item a fact.
pub(super) fn facts(case: &Case) -> Vec<String> {
    let plate = &case.nameplate;
    let mut facts = Vec::new();
    if let Some(limits) = &plate.limits {
        facts.push(format!("limits: {limits}"));
    }
    if plate.compensated {
        facts.push("compensated for the air".to_owned());
    }
    if let Some((ohm, _)) = plate.resistance_ohm.filter(|(ohm, _)| ohm.is_finite()) {
        facts.push(format!("{} mΩ", significant(ohm * 1e3, 3)));
    }
    facts.push(if plate.resets_itself {
        "resets by itself".to_owned()
    } else {
        "reset by hand".to_owned()
    });
    if let Some(rated) = case.equipment_rated_a.filter(|a| a.is_finite()) {
        facts.push(format!("machine rated {} A", plain(rated)));
    }
    if let Some(agrees) = case.marking_agrees {
        let not = if agrees { "agrees" } else { "DOES NOT agree" };
        facts.push(format!("marking {not} with the drawing"));
    }
    if let Some(years) = case.age_years.filter(|a| a.is_finite()) {
        facts.push(format!("{} years old", significant(years, 2)));
    }
    if let Some(trips) = case.trips_so_far {
        facts.push(format!("about {trips} trips so far"));
    }
    if let Some(cleared) = case.short_circuit {
        let words = if cleared { "has" } else { "has not" };
        facts.push(format!("{words} cleared a short circuit"));
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
        Before::Cold => "cold".to_owned(),
        Before::Hot { current_a } => format!("hot, {} A", plain(*current_a)),
        Before::AfterTrip { wait_s } => format!("{} after a trip", spoken(*wait_s)),
        Before::Unknown => String::new(),
    }
}

fn outcome_words(outcome: &Outcome) -> String {
    match outcome {
        Outcome::Tripped { after_s } => duration(after_s.value, 3),
        Outcome::TrippedWithin { from_s, to_s } => {
            format!("{} to {}", spoken(*from_s), spoken(*to_s))
        }
        Outcome::Held { for_s } => format!("held {}", spoken(*for_s)),
    }
}
