//! A placed member as a scenario file.
//!
//! The two similarities of a member are carried out on its metals and nodes: all resistances
//! multiplied by the square of its own amperes for one real ampere, all heat capacities by its
//! pace. Temperatures, and with them bending and release, stay.

use super::behaviour::place;
use crate::family::shape::{PATTERN, emissivity, uncovered};
use crate::family::{Drawn, Family, Member};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::physics::contact::wiedemann_franz_conductance_w_per_k;
use crate::predict::closed_steady;
use crate::quantity::format_number;
use crate::scenario::read_text;
use toml_edit::{DocumentMut, Item, value};

const HEAD: &str = "\
# One of many parts that follow a published characteristic, found by `relatch fit`. It is not the part itself:
# strips, latches and terminals that differ in everything below follow the same curve. Only currents and times
# near those published are meaningful. The maker's curve prevails.
";
const METALS: &str = "
# Not real metals: expansion, moduli and conduction are near those of Fe-36Ni and of a chromium-nickel steel,
# resistivity and specific heat are multiplied so that currents and times are those of the fitted part.
";

/// The scenario's text; `None` when no strip or winding of the scenario reader's range has such a
/// resistance.
pub(super) fn written(family: &Family, drawn: Drawn) -> Option<String> {
    let plate = family.nameplate();
    let member = &family.members()[drawn.member];
    let device = &member.device;
    let own = drawn.placing.own_per_ampere(member, plate.rated_current_a);
    let (ohms, capacities) = (own * own, drawn.placing.pace);
    let mut file: DocumentMut = PATTERN.parse().ok()?;
    let reference = celsius(plate.reference_ambient_k);
    let rating = format_number(plate.rated_current_a);
    set(
        &mut file,
        "",
        "title",
        format!("One part that follows a published {rating} A characteristic"),
    );
    set(
        &mut file,
        "",
        "shows",
        "A part fitted to published trip times: one of many that follow them, not the part itself."
            .into(),
    );
    set(
        &mut file,
        "protector",
        "rated_current",
        format!("{rating} A"),
    );
    set(
        &mut file,
        "protector",
        "reference_ambient",
        reference.clone(),
    );
    if let Some(limits) = &plate.limits {
        set(&mut file, "protector", "limits", limits.clone());
    }
    set(&mut file, "surroundings", "ambient", reference);
    set(
        &mut file,
        "load",
        "current",
        format!("{} A", format_number(2.0 * plate.rated_current_a)),
    );
    set(&mut file, "strip", "length", mm(device.length_m));
    set(&mut file, "strip", "width", mm(device.laws.width_m));
    let layers = file
        .get_mut("strip")?
        .get_mut("layer")?
        .as_array_of_tables_mut()?;
    for (table, layer) in layers.iter_mut().zip(&device.laws.layers) {
        table["thickness"] = value(mm(layer.thickness_m));
    }
    file["cooling"]["emissivity"] = value(emissivity(member.strip));
    let mut node = |name: &str, capacity: f64, conductance: f64| {
        set(
            &mut file,
            name,
            "heat_capacity",
            format!("{} J/K", format_number(capacity * capacities)),
        );
        set(&mut file, name, "conductance", mw_per_k(conductance));
    };
    let (clamped, moving, fixed) = (device.clamped, device.moving, device.fixed);
    node(
        "clamped_terminal",
        clamped.heat_capacity_j_per_k,
        clamped.conductance_w_per_k,
    );
    node(
        "moving_contact",
        moving.heat_capacity_j_per_k,
        moving.conductance_w_per_k,
    );
    node(
        "fixed_contact",
        fixed.heat_capacity_j_per_k,
        fixed.conductance_w_per_k,
    );
    let housing = device.housing?;
    node(
        "housing",
        housing.heat_capacity_j_per_k,
        housing.conductance_w_per_k,
    );
    set(
        &mut file,
        "clamped_terminal",
        "resistance",
        mohm(clamped.resistance_ohm * ohms),
    );
    set(
        &mut file,
        "contact",
        "resistance",
        mohm(device.contact.resistance_ohm * ohms),
    );
    heater(&mut file, member, ohms, capacities);
    // Heat crosses the contact as in the member, not as the new resistance would have it.
    let conductance = contact_conductance(family, drawn, member)?;
    set(
        &mut file,
        "contact",
        "film_conductance",
        mw_per_k(conductance),
    );
    let latch = device.release.mechanism.latch()?;
    set(
        &mut file,
        "latch",
        "release_travel",
        mm(latch.release_travel_m),
    );
    set(
        &mut file,
        "latch",
        "relatch_travel",
        mm(latch.relatch_travel_m),
    );
    set(
        &mut file,
        "latch",
        "preload",
        format!("{} N", format_number(latch.preload_n)),
    );
    let reset = if plate.resets_itself {
        "automatic"
    } else {
        "by hand"
    };
    set(&mut file, "latch", "reset", reset.into());
    metals(&mut file, ohms, capacities)?;
    let text = format!("{HEAD}{file}");
    // What the reader refuses is not written.
    read_text("fitted part", &text).ok()?;
    Some(text)
}

/// The heater winding, or none.
fn heater(file: &mut DocumentMut, member: &Member, ohms: f64, capacities: f64) {
    let Some(winding) = member.device.winding else {
        file.remove("winding");
        return;
    };
    let entries = [
        (
            "resistance",
            format!("{} ohm", format_number(winding.resistance_ohm * ohms)),
        ),
        (
            "heat_capacity",
            format!(
                "{} J/K",
                format_number(winding.heat_capacity_j_per_k * capacities)
            ),
        ),
        (
            "conductance_to_strip",
            mw_per_k(winding.conductance_to_strip_w_per_k),
        ),
        (
            "conductance_to_air",
            mw_per_k(winding.conductance_to_air_w_per_k),
        ),
    ];
    for (key, text) in entries {
        set(file, "winding", key, text);
    }
    file["cooling"]["uncovered_fraction"] = value(uncovered(member.strip));
}

fn mw_per_k(conductance_w_per_k: f64) -> String {
    format!("{} mW/K", format_number(1e3 * conductance_w_per_k))
}

/// Conductance of the closed contact at its temperatures under the trip point, W/K.
fn contact_conductance(family: &Family, drawn: Drawn, member: &Member) -> Option<f64> {
    let part = place(family, drawn, 1.0);
    let model = part.model();
    let reference_k = family.nameplate().reference_ambient_k;
    let cold = model.uniform(reference_k);
    let y = closed_steady(model, 0.99 * member.trip_point_a, reference_k, &cold).ok()??;
    let mean_k = 0.5 * (y[model.layout.strip - 1] + y[model.layout.fixed]);
    Some(wiedemann_franz_conductance_w_per_k(
        member.device.contact.resistance_ohm,
        mean_k,
    ))
}

/// Resistivity and specific heat of both metals.
fn metals(file: &mut DocumentMut, ohms: f64, capacities: f64) -> Option<()> {
    let alloys = file.get_mut("alloy")?.as_array_of_tables_mut()?;
    alloys.get_mut(0)?.decor_mut().set_prefix(METALS);
    for alloy in alloys.iter_mut() {
        let resistivity = alloy.get_mut("resistivity")?.get_mut("value")?;
        multiply(resistivity, ohms)?;
        let heat = alloy
            .get_mut("specific_heat")?
            .get_mut("polynomial")?
            .as_array_mut()?;
        for term in heat.iter_mut() {
            let text = scaled(term.as_str()?, capacities)?;
            *term = text.into();
        }
    }
    Some(())
}

fn multiply(item: &mut Item, factor: f64) -> Option<()> {
    let text = scaled(item.as_str()?, factor)?;
    *item = value(text);
    Some(())
}

/// "0.80 uohm m" times a factor.
fn scaled(text: &str, factor: f64) -> Option<String> {
    let (number, unit) = text.split_once(' ')?;
    let number: f64 = number.parse().ok()?;
    Some(format!("{} {unit}", format_number(number * factor)))
}

fn set(file: &mut DocumentMut, table: &str, key: &str, text: String) {
    if table.is_empty() {
        file[key] = value(text);
    } else {
        file[table][key] = value(text);
    }
}

fn mm(length_m: f64) -> String {
    format!("{} mm", format_number(1e3 * length_m))
}

fn mohm(resistance_ohm: f64) -> String {
    format!("{} mohm", format_number(1e3 * resistance_ohm))
}

fn celsius(temperature_k: f64) -> String {
    // Rounded: 296.15 - 273.15 is not 23 in binary.
    format!("{} degC", format_number(temperature_k - ZERO_CELSIUS_K))
}
