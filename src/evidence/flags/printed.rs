//! What is printed on the protector.

use super::Gathered;
use super::measured::{air, quantity};
use crate::diagnostic::nearest;
use crate::evidence::read::protector::{is_setting, marked};
use crate::family::Nameplate;
use crate::quantity::Dimension;
use crate::standards::{Band, PublishedLimits};

impl Gathered<'_> {
    pub(super) fn nameplate(&mut self) -> Nameplate {
        let flags = self.flags;
        let rated = self.taken("rating", &flags.rating, rating(&flags.rating));
        let printed_a = rated.unwrap_or(1.0);
        // Beside a rating that was not understood no dial is judged.
        let dial = flags.setting.as_ref().filter(|_| rated.is_some());
        let set = self.asked("setting", dial, |text| setting(text, printed_a));
        let mut nameplate = Nameplate::of_rating(set.unwrap_or(printed_a));
        marked(&mut nameplate, printed_a, flags.poles, flags.pole.clone());
        nameplate.instantaneous = flags.instantaneous;
        // Whoever reads three currents has three phases.
        let phases = flags.phases.or(flags.phase_currents.as_ref().map(|_| 3));
        nameplate = nameplate.with_poles(flags.poles, phases, flags.notices_lost_phase);
        nameplate.resets_itself = flags.cycles.is_some();
        let rated_a = nameplate.rated_current_a;
        let limits = |text: &str| limits(text, rated_a);
        if let Some(table) = self.asked("limits", flags.limits.as_ref(), limits) {
            nameplate = nameplate.with_limits(table).at_air_of(table);
        }
        let reference = self.asked("reference-air", flags.reference_air.as_ref(), air);
        match reference {
            Some(air) => nameplate.at_reference(air.value),
            None => nameplate,
        }
    }
}

/// The amperes of a text with or without their unit.
fn amperes(text: &str) -> Option<f64> {
    text.trim_matches(['A', ' ']).parse().ok()
}

/// How `C16` is said: the rating and the type of an instantaneous element each by itself.
pub fn said_apart(text: &str) -> Option<String> {
    let typed = |(name, _): &&(&str, Band)| text.to_uppercase().starts_with(name);
    let (name, _) = Band::NAMES.iter().find(typed)?;
    let rated = text.get(name.len()..).and_then(amperes)?;
    Some(format!(
        "rating and type are said apart: --rating \"{rated} A\" --instantaneous {name}"
    ))
}

fn rating(text: &str) -> Result<f64, String> {
    let dial = text.split_once(['-', '\u{2013}']);
    if let Some((Some(_), Some(high))) = dial.map(|(low, high)| (amperes(low), amperes(high))) {
        return Err(format!(
            "of a dial the largest current is the rating: --rating \"{high} A\", and --setting where it \
             stands"
        ));
    }
    if let Some(apart) = said_apart(text) {
        return Err(apart);
    }
    let read = quantity(text, Dimension::Current)?;
    match Nameplate::RATINGS_A.contains(&read.value) {
        true => Ok(read.value),
        false => Err("rated currents lie between 0.05 A and 10 kA".into()),
    }
}

fn setting(text: &str, printed_a: f64) -> Result<f64, String> {
    let set = quantity(text, Dimension::Current)?;
    match is_setting(set.value, printed_a) {
        true => Ok(set.value),
        false => Err(
            "a dial is set below the largest current that it is marked with, its --rating".into(),
        ),
    }
}

fn limits(name: &str, rated_a: f64) -> Result<&'static PublishedLimits, String> {
    match Nameplate::limits_named(name) {
        Some(table) if rated_a <= table.up_to_a => Ok(table),
        Some(table) => Err(format!("they hold up to {} A", table.up_to_a)),
        None => {
            let known = crate::standards::LIMITS.iter().map(|l| l.name);
            Err(format!("not known; {}", near_and_known(name, known)))
        }
    }
}

/// The nearest of some names, and all of them.
pub(in crate::evidence) fn near_and_known<'n>(
    name: &str,
    known: impl Iterator<Item = &'n str> + Clone,
) -> String {
    let said = name.to_lowercase().replace(' ', "");
    let holds = |n: &&str| said.len() > 3 && n.to_lowercase().replace(' ', "").contains(&said);
    let shortest = || known.clone().filter(holds).min_by_key(|n| n.len());
    let near = nearest(name, known.clone()).or_else(shortest);
    let near = near.map(|n| format!("did you mean \"{n}\"? "));
    let known: Vec<&str> = known.collect();
    format!("{}known: {}", near.unwrap_or_default(), known.join(", "))
}
