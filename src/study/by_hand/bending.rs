//! From the layers to a movement: values, curvature, flexivity, deflection.

use super::ByHandError;
use super::formulas as by;
use super::full::Full;
use super::ledger::Ledger;
use super::record::Values;
use super::unit::*;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::SectionKind;

const SAME: &str = "The same formula at the same temperature; the full model takes it at every place of \
    the strip at the temperature of that place.";

/// Writes the chapter; `false`: the strip does not bend, so that nothing follows.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<bool, ByHandError> {
    let laws = &full.device.laws;
    ledger.chapter("The strip and its layers");
    let Some(round_k) = round_temperature_k(full) else {
        ledger.text(
            "These layers do not bend towards the release when they get warm, so no temperature \
             releases the protector by bending. There is nothing to compute by hand.",
        );
        return Ok(false);
    };
    give_dimensions(full, ledger, round_k);
    values(full, ledger, round_k);

    ledger.chapter("How far it bends");
    let two = laws.layers.len() == 2;
    if two {
        two_layers(ledger)?;
    } else {
        many_layers(full, ledger)?;
    }
    let bend = laws.bend(round_k);
    let thermal = bend.curvature_per_m - laws.initial_curvature_per_m;
    ledger.beside("Curvature of the layered section", Some(thermal), 0.0, SAME);
    stiffness(ledger, two)?;
    ledger.beside(
        "Stiffness of the layered section",
        Some(bend.stiffness_n_m2),
        0.0,
        stiffness_reason(laws.section),
    );
    ledger.by(
        "Flexivity: how much curvature, times thickness, a kelvin makes",
        ("F", PPM_PER_K),
        &by::FLEXIVITY,
        &[],
    )?;
    ledger.beside(
        "Flexivity between the flat strip and its trip temperature",
        Some(full.outcome.part.flexivity_per_k),
        0.0,
        "Expansion is no straight line: the low-expansion alloy expands more the hotter it gets, so the \
         mean depends on the temperatures between which it is taken.",
    );
    tip(full, ledger, round_k)?;
    Ok(true)
}

fn stiffness_reason(section: SectionKind) -> &'static str {
    match section {
        SectionKind::WideFree => {
            "A wide strip gives less to a force than to heat: the full model takes E/(1 - nu^2) here."
        }
        SectionKind::Narrow | SectionKind::HeldFlat => "The same sums at the same temperature.",
    }
}

/// A round temperature near release at which all layer values are taken, K.
fn round_temperature_k(full: &Full) -> Option<f64> {
    let laws = &full.device.laws;
    let flat = laws.flat_temperature_k;
    // A catalogue's usual range first; its flexivity gives the release to a few kelvin.
    let first = laws.bend(flat + 100.0);
    let curvature = first.curvature_per_m - laws.initial_curvature_per_m;
    if !(curvature > 0.0) {
        return None;
    }
    let needed =
        (full.device.mechanism()).release_curvature_per_m(&full.device, first.stiffness_n_m2);
    let rise = (100.0 * needed / curvature).clamp(20.0, 400.0);
    let celsius = flat + rise - ZERO_CELSIUS_K;
    Some((celsius / 10.0).round() * 10.0 + ZERO_CELSIUS_K)
}

fn give_dimensions(full: &Full, ledger: &mut Ledger, round_k: f64) {
    let (device, laws) = (&full.device, &full.device.laws);
    ledger.give("L", device.length_m, MM);
    if (device.push_point_m - device.length_m).abs() > 1e-12 {
        ledger.give("x_P", device.push_point_m, MM);
    }
    ledger.give("w", laws.width_m, MM);
    ledger.give("h", laws.thickness_m, MM);
    ledger.give("T_h", round_k, CELSIUS);
    ledger.give("T_flat", laws.flat_temperature_k, CELSIUS);
    ledger.give("T_air", full.air_k, CELSIUS);
    ledger.give("DeltaT_h", round_k - laws.flat_temperature_k, KELVIN);
    ledger.give("kappa_0", laws.initial_curvature_per_m, PER_M);
}

/// The table of layer values.
fn values(full: &Full, ledger: &mut Ledger, round_k: f64) {
    let laws = &full.device.laws;
    let flat = laws.flat_temperature_k;
    let columns = [
        ("thickness", "t", MM),
        ("modulus", "E", GPA),
        ("strain since flat", "eps", PPM),
        ("resistivity", "rho", MICRO_OHM_M),
        ("conductivity", "k", W_PER_M_K),
        ("specific heat", "c", J_PER_KG_K),
        ("density", "rho_m", KG_PER_M3),
    ];
    let mut rows = Vec::new();
    let mut height = 0.0;
    for (i, (layer, section)) in laws
        .layers
        .iter()
        .zip(laws.thermal_layers(round_k))
        .enumerate()
    {
        let (a, n) = (&layer.alloy, i + 1);
        let numbers = [
            layer.thickness_m,
            section.modulus_pa,
            section.thermal_strain,
            a.resistivity.at(round_k),
            a.conductivity.at(round_k),
            a.specific_heat.at(round_k),
            a.density.at(round_k),
        ];
        for ((_, symbol, unit), value) in columns.iter().zip(numbers) {
            ledger.give(&format!("{symbol}_{n}"), value, *unit);
        }
        ledger.give(&format!("z_{n}"), height + 0.5 * layer.thickness_m, MM);
        height += layer.thickness_m;
        rows.push((format!("{n}  {}", a.name), numbers.to_vec()));
    }
    let effective = match laws.section {
        SectionKind::Narrow => "",
        SectionKind::WideFree => {
            " The strip is wide and free to bow both ways: E stands for E/(1 - nu)."
        }
        SectionKind::HeldFlat => {
            " The strip is held flat across its width: E stands for E/(1 - nu^2), and the strain is \
             larger by 1 + nu."
        }
    };
    ledger.text(format!(
        "{} mm long, {} mm wide, {} mm thick; flat and free of stress at {:.0} °C. A first pass \
         with values 100 K above that puts the release near {:.0} °C, so all values are taken at this \
         round temperature. Layers are counted from the low-expansion side.{effective}",
        in_mm(full.device.length_m),
        in_mm(laws.width_m),
        in_mm(laws.thickness_m),
        flat - ZERO_CELSIUS_K,
        round_k - ZERO_CELSIUS_K,
    ));
    ledger.values(Values {
        caption: format!(
            "Layers at {:.0} °C, from the sources named at the end",
            round_k - ZERO_CELSIUS_K
        ),
        columns: columns
            .iter()
            .map(|(words, symbol, unit)| ((*words).to_owned(), (*symbol).to_owned(), *unit))
            .collect(),
        rows,
    });
}

/// A length in millimetres to a ten-thousandth.
fn in_mm(length_m: f64) -> f64 {
    (1e7 * length_m).round() / 1e4
}

fn two_layers(ledger: &mut Ledger) -> Result<(), ByHandError> {
    ledger.text(
        "Two layers: Timoshenko's formula. The layer that expands more is held back by the other, and the \
         pair gives way by bending.",
    );
    ledger.step(
        "Ratio of the thicknesses",
        ("m", PLAIN),
        "t_1 / t_2",
        "definition",
    )?;
    ledger.step(
        "Ratio of the moduli",
        ("n", PLAIN),
        "E_1 / E_2",
        "definition",
    )?;
    ledger.step(
        "Strain by which layer 2 would outgrow layer 1",
        ("Deltaeps", PPM),
        "eps_2 - eps_1",
        "definition",
    )?;
    ledger.by(
        "Curvature of the free strip",
        ("kappa_T", PER_M),
        &by::TWO_LAYER_CURVATURE,
        &[],
    )?;
    Ok(())
}

/// A sum over the layers: each `#` is the number of the layer.
fn over_layers(count: usize, term: &str) -> String {
    let terms: Vec<String> = (1..=count)
        .map(|n| term.replace('#', &n.to_string()))
        .collect();
    terms.join(" + ")
}

fn many_layers(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let count = full.device.laws.layers.len();
    ledger.text(
        "Any number of layers: five sums over the layers (a width of one metre), with z the height of the \
         middle of a layer above the outer face of layer 1. A holds the strip against stretching, D \
         against bending, B couples the two; N and M are what the held expansion pushes and turns with.",
    );
    let mut sum = |what: &str, symbol: &str, unit: Unit, term: &str| {
        let formula = over_layers(count, term);
        ledger.step(what, (symbol, unit), &formula, by::LAYERED)
    };
    sum("Stretching stiffness", "A", N_PER_M, "E_# t_#")?;
    sum("Coupling", "B", NEWTON, "E_# t_# z_#")?;
    sum(
        "Bending stiffness about the face",
        "D",
        N_M,
        "E_# t_# (z_#^2 + t_#^2 / 12)",
    )?;
    sum("Thermal push", "N", N_PER_M, "E_# t_# eps_#")?;
    sum("Thermal moment", "M", NEWTON, "E_# t_# z_# eps_#")?;
    ledger.by(
        "Curvature of the free strip",
        ("kappa_T", PER_M),
        &by::LAYERED_CURVATURE,
        &[],
    )?;
    Ok(())
}

fn stiffness(ledger: &mut Ledger, two: bool) -> Result<(), ByHandError> {
    let formula = if two {
        &by::TWO_LAYER_STIFFNESS
    } else {
        &by::LAYERED_STIFFNESS
    };
    ledger.by("Bending stiffness", ("EI", N_MM2), formula, &[])?;
    Ok(())
}

fn tip(full: &Full, ledger: &mut Ledger, round_k: f64) -> Result<(), ByHandError> {
    if full.device.release.mechanism.latch().is_none() {
        return Ok(());
    }
    let formula = if full.device.laws.initial_curvature_per_m == 0.0 {
        &by::TIP
    } else {
        &by::TIP_BENT
    };
    ledger.by(
        &format!(
            "Deflection of the free tip when the whole strip is at {:.0} °C",
            round_k - ZERO_CELSIUS_K
        ),
        ("d_h", MM),
        formula,
        &push_point(full),
    )?;
    let uniform = full.warm().map(|at| {
        let state = at.model.uniform(round_k);
        at.model.free_deflection_m(&state, 0.0)
    });
    ledger.beside(
        "Bending integrated along the strip at that temperature",
        uniform,
        0.0,
        "At one temperature the curvature is the same everywhere, and its integral is the formula.",
    );
    Ok(())
}

/// Where the strip pushes, in place of its length.
pub(super) fn push_point(full: &Full) -> Vec<(&'static str, &'static str)> {
    if (full.device.push_point_m - full.device.length_m).abs() > 1e-12 {
        vec![("L", "x_P")]
    } else {
        Vec::new()
    }
}
