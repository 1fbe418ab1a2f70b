//! Sliders written into the text of a scenario, its comments and everything else kept.

use super::{PageError, Preset, Sliders};
use crate::quantity::{Dimension, Quantity};
use toml_edit::{DocumentMut, Item, Table, TableLike, value};

/// The text of a preset's scenario with the sliders written into it; the text itself where none was moved.
///
/// A history of the preset is left out once a slider is moved: what it does was meant for the load it had.
///
/// # Errors
/// A slider outside its range.
pub fn written(preset: &Preset, sliders: &Sliders) -> Result<String, PageError> {
    let sliders = sliders.checked()?;
    if sliders.is_unmoved() {
        return Ok(preset.text.clone());
    }
    let text = preset.text.strip_prefix('\u{feff}').unwrap_or(&preset.text);
    let mut document: DocumentMut = text
        .parse()
        .map_err(|e| PageError::Impossible(format!("{}: {e}", preset.id)))?;
    let mut changes = Vec::new();
    if let Some(percent) = sliders.thickness_percent {
        thickness(&mut document, percent / 100.0)?;
        changes.push(format!("every layer {} % as thick", tidy(percent)));
    }
    if let Some(posture) = sliders.posture {
        let cooling = table(&mut document, "cooling")?;
        for key in ["coefficient", "air_speed", "flow_length", "gap"] {
            cooling.remove(key);
        }
        cooling.insert("posture", value(posture.word()));
        changes.push(format!("strip {}", posture.word()));
    }
    if let Some(percent) = sliders.preload_left_percent {
        let mechanism = ["latch", "snap_blade"]
            .into_iter()
            .find(|name| document.contains_key(name))
            .unwrap_or("latch");
        let loss = format!("{} %", tidy(100.0 - percent));
        table(&mut document, mechanism)?.insert("preload_loss", value(loss));
        changes.push(format!("{} % of the preload left", tidy(percent)));
    }
    if let Some(celsius) = sliders.ambient_c {
        let air = format!("{} degC", tidy(celsius));
        changes.push(format!("air {air}"));
        let surroundings = table(&mut document, "surroundings")?;
        surroundings.remove("ambient_points");
        surroundings.insert("ambient", value(air));
    }
    if let Some(current) = sliders.current_a {
        let current = format!("{} A", tidy(current));
        changes.push(format!("a constant {current}"));
        load(&mut document, current);
    }
    document.remove("history");
    let changes = changes.join(", ");
    note(&mut document, &changes);
    Ok(format!(
        "# Written by `relatch page` from the scenario {}, with {changes}.\n{document}",
        preset.id
    ))
}

fn table<'d>(
    document: &'d mut DocumentMut,
    name: &str,
) -> Result<&'d mut dyn TableLike, PageError> {
    document
        .get_mut(name)
        .and_then(Item::as_table_like_mut)
        .ok_or_else(|| PageError::Impossible(format!("the scenario has no table [{name}]")))
}

/// A constant load, at the place and under the comment of the one it replaces.
fn load(document: &mut DocumentMut, current: String) {
    let mut load = Table::new();
    load.insert("current", value(current));
    if let Some(old) = document.get("load").and_then(Item::as_table) {
        *load.decor_mut() = old.decor().clone();
        load.set_position(old.position());
    }
    document.insert("load", Item::Table(load));
}

/// The title and the story say that values were changed.
fn note(document: &mut DocumentMut, changes: &str) {
    for (key, more) in [
        ("title", ", changed".to_owned()),
        ("shows", format!("\nChanged on the page: {changes}.")),
    ] {
        if let Some(text) = document.get(key).and_then(Item::as_str) {
            let text = format!("{}{more}", text.trim_end());
            document.insert(key, value(text));
        }
    }
}

fn thickness(document: &mut DocumentMut, factor: f64) -> Result<(), PageError> {
    let layers = table(document, "strip")?.get_mut("layer");
    let scaled = match layers {
        Some(Item::ArrayOfTables(list)) => list
            .iter_mut()
            .map(|layer| scale(layer, factor))
            .collect::<Option<Vec<()>>>(),
        Some(Item::Value(toml_edit::Value::Array(list))) => list
            .iter_mut()
            .map(|layer| scale(layer.as_inline_table_mut()?, factor))
            .collect(),
        _ => None,
    };
    scaled.map(|_| ()).ok_or_else(|| {
        PageError::Impossible("the thickness of a layer of the scenario cannot be changed".into())
    })
}

/// One layer's thickness; a tolerance in percent stays, one in units of length is scaled along.
fn scale(layer: &mut dyn TableLike, factor: f64) -> Option<()> {
    let text = layer.get("thickness")?.as_str()?.to_owned();
    let quantity = Quantity::read(&text, Dimension::Length).ok()?;
    let thickness_mm = 1e3 * quantity.value_si * factor;
    let mut new = format!("{} mm", tidy(thickness_mm));
    if let Some(uncertainty_m) = quantity.standard_uncertainty_si {
        let percent = 100.0 * uncertainty_m / quantity.value_si;
        if percent.is_finite() {
            new += &format!(" +- {} %", tidy(percent));
        }
    }
    layer.insert("thickness", value(new));
    Some(())
}

/// To nine decimals, without the dust of binary fractions.
fn tidy(number: f64) -> String {
    let rounded = (number * 1e9).round() / 1e9;
    format!("{}", if rounded.is_finite() { rounded } else { number })
}
