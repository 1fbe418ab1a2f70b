//! Sliders written into the text of a scenario, its comments and everything else kept.

use super::{PageError, Preset, Sliders};
use crate::scenario::{Scenario, set};
use toml_edit::DocumentMut;

/// The text of a preset's scenario with the sliders written into it; the text itself where none was
/// moved.
///
/// A history of the preset is left out once a slider is moved: what it does was meant for the load
/// it had.
///
/// # Errors
/// A slider outside its range.
pub fn written(preset: &Preset, sliders: &Sliders) -> Result<String, PageError> {
    let sliders = sliders.checked()?;
    if sliders.is_unmoved() {
        return Ok(preset.text.clone());
    }
    let values = values(&preset.scenario, &sliders);
    let values: Vec<(&str, &str)> = values
        .iter()
        .map(|(p, v)| (p.as_str(), v.as_str()))
        .collect();
    let impossible = |e: &dyn std::fmt::Display| PageError::Impossible(e.to_string());
    let (text, _) =
        set((&preset.id, &preset.text), "the sliders", &values).map_err(|e| impossible(&e))?;
    let mut document: DocumentMut = text.parse().map_err(|e| impossible(&e))?;
    document.remove("history");
    let from = &preset.id;
    Ok(format!(
        "# Written by `relatch page` from the scenario {from}.\n{document}"
    ))
}

/// What the sliders set, by path.
fn values(scenario: &Scenario, sliders: &Sliders) -> Vec<(String, String)> {
    let mut values = Vec::new();
    let mut set = |path: &str, value: Option<String>| {
        values.extend(value.map(|value| (path.to_owned(), value)));
    };
    if let Some(percent) = sliders.thickness_percent {
        for (k, layer) in scenario.strip.layers.iter().enumerate() {
            let path = format!("strip.layer[{k}].thickness");
            let mut new = format!("{} mm", tidy(10.0 * layer.thickness_m * percent));
            // A tolerance stays, as a part of the thickness.
            if let Some(known) = scenario.tolerances.iter().find(|t| t.path == path) {
                let percent = 100.0 * known.standard_uncertainty / known.value;
                if percent.is_finite() {
                    new += &format!(" +- {} %", tidy(percent));
                }
            }
            set(&path, Some(new));
        }
    }
    set(
        "cooling.posture",
        sliders.posture.map(|posture| posture.word().to_owned()),
    );
    let mechanism = scenario.release.mechanism.table();
    let lost = sliders
        .preload_left_percent
        .map(|left| format!("{} %", tidy(100.0 - left)));
    set(&format!("{mechanism}.preload_loss"), lost);
    let dial = sliders.dial_a.filter(|_| scenario.dial.is_some());
    set(
        "protector.rated_current",
        dial.map(|mark| format!("{} A", tidy(mark))),
    );
    // The motor goes on with more in the poles that are left.
    let lost = sliders.lost_phase.filter(|lost| *lost >= 1.0);
    if let (Some(lost), Some(poles)) = (lost, &scenario.poles) {
        for (k, pole) in poles.each.iter().enumerate() {
            let more = match k + 1 == lost as usize {
                true => 0.0,
                false => poles.lost_phase_factor,
            };
            let path = format!("poles.pole[{k}].current");
            set(&path, Some(tidy(more * pole.current_factor)));
        }
    }
    let air = sliders
        .ambient_c
        .map(|celsius| format!("{} degC", tidy(celsius)));
    set("surroundings.ambient", air);
    let current = sliders
        .current_a
        .map(|current| format!("{} A", tidy(current)));
    set("load.current", current);
    values
}

/// To nine decimals, without the dust of binary fractions.
fn tidy(number: f64) -> String {
    let rounded = (number * 1e9).round() / 1e9;
    format!("{}", if rounded.is_finite() { rounded } else { number })
}
