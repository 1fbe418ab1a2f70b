//! From the layers to a movement: values, curvature, flexivity, deflection.

use super::ByHandError;
use super::formulas as by;
use super::full::Full;
use super::ledger::Ledger;
use super::record::{Block, Remark, Subject, Values};
use super::unit::{MM, unit_of};
use crate::physics::constants::ZERO_CELSIUS_K;

/// Writes the chapter; `false`: the strip does not bend, so that nothing follows.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<bool, ByHandError> {
    let laws = &full.device.laws;
    ledger.chapter(Subject::Layers);
    let Some(round_k) = round_temperature_k(full) else {
        ledger.say(Remark::NeverBends);
        return Ok(false);
    };
    give_dimensions(full, ledger, round_k);
    values(full, ledger, round_k);

    ledger.chapter(Subject::Bending);
    let two = laws.layers.len() == 2;
    if two {
        two_layers(ledger)?;
    } else {
        many_layers(laws.layers.len(), ledger)?;
    }
    let bend = laws.bend(round_k);
    ledger.beside(bend.curvature_per_m - laws.initial_curvature_per_m);
    let stiffness = match two {
        true => &by::TWO_LAYER_STIFFNESS,
        false => &by::LAYERED_STIFFNESS,
    };
    ledger.by("EI", stiffness)?;
    ledger.beside(bend.stiffness_n_m2);
    ledger.by("F", &by::FLEXIVITY)?;
    ledger.beside(full.outcome.part.flexivity_per_k);
    if full.device.release.mechanism.latch().is_some() {
        let tip = match laws.initial_curvature_per_m == 0.0 {
            true => &by::TIP,
            false => &by::TIP_BENT,
        };
        ledger.by_with("d_h", tip, &push_point(full))?;
        ledger.beside(full.warm().map(|at| {
            let state = at.model.uniform(round_k);
            at.model.free_deflection_m(&state, 0.0)
        }));
    }
    Ok(true)
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
    let mechanism = full.device.mechanism();
    let needed = mechanism.release_curvature_per_m(&full.device, first.stiffness_n_m2);
    let rise = (100.0 * needed / curvature).clamp(20.0, 400.0);
    let celsius = flat + rise - ZERO_CELSIUS_K;
    Some((celsius / 10.0).round() * 10.0 + ZERO_CELSIUS_K)
}

fn give_dimensions(full: &Full, ledger: &mut Ledger, round_k: f64) {
    let (device, laws) = (&full.device, &full.device.laws);
    ledger.give([("L", device.length_m)]);
    if !push_point(full).is_empty() {
        ledger.give([("x_P", device.push_point_m)]);
    }
    ledger.give([
        ("w", laws.width_m),
        ("h", laws.thickness_m),
        ("T_h", round_k),
        ("T_flat", laws.flat_temperature_k),
        ("T_air", full.air_k),
        ("DeltaT_h", round_k - laws.flat_temperature_k),
        ("kappa_0", laws.initial_curvature_per_m),
    ]);
}

/// The table of layer values.
fn values(full: &Full, ledger: &mut Ledger, round_k: f64) {
    let laws = &full.device.laws;
    let columns = vec!["t", "E", "eps", "rho", "k", "c", "rho_m"];
    let mut rows = Vec::new();
    let mut height = 0.0;
    let layers = laws.layers.iter().zip(laws.thermal_layers(round_k));
    for ((layer, section), n) in layers.zip(1..) {
        let a = &layer.alloy;
        let numbers = vec![
            layer.thickness_m,
            section.modulus_pa,
            section.thermal_strain,
            a.resistivity.at(round_k),
            a.conductivity.at(round_k),
            a.specific_heat.at(round_k),
            a.density.at(round_k),
        ];
        for (symbol, value) in columns.iter().zip(&numbers) {
            ledger.give_in(&format!("{symbol}_{n}"), *value, unit_of(symbol));
        }
        ledger.give_in(&format!("z_{n}"), height + 0.5 * layer.thickness_m, MM);
        height += layer.thickness_m;
        rows.push((format!("{n}  {}", a.name), numbers));
    }
    ledger.say(Remark::Strip {
        length_m: full.device.length_m,
        width_m: laws.width_m,
        thickness_m: laws.thickness_m,
        flat_k: laws.flat_temperature_k,
        round_k,
    });
    ledger.block(Block::Values(Values {
        at_k: round_k,
        columns,
        rows,
    }));
}

fn two_layers(ledger: &mut Ledger) -> Result<(), ByHandError> {
    ledger.say(Remark::TwoLayers);
    ledger.step("m", "t_1 / t_2", "definition")?;
    ledger.step("n", "E_1 / E_2", "definition")?;
    ledger.step("Deltaeps", "eps_2 - eps_1", "definition")?;
    ledger.by("kappa_T", &by::TWO_LAYER_CURVATURE)?;
    Ok(())
}

/// A sum over the layers: each `#` is the number of the layer.
pub(super) fn over_layers(count: usize, term: &str) -> String {
    let terms: Vec<String> = (1..=count)
        .map(|n| term.replace('#', &n.to_string()))
        .collect();
    terms.join(" + ")
}

fn many_layers(count: usize, ledger: &mut Ledger) -> Result<(), ByHandError> {
    ledger.say(Remark::ManyLayers);
    for (symbol, term) in [
        ("A", "E_# t_#"),
        ("B", "E_# t_# z_#"),
        ("D", "E_# t_# (z_#^2 + t_#^2 / 12)"),
        ("N", "E_# t_# eps_#"),
        ("M", "E_# t_# z_# eps_#"),
    ] {
        ledger.step(symbol, &over_layers(count, term), by::LAYERED)?;
    }
    ledger.by("kappa_T", &by::LAYERED_CURVATURE)?;
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
