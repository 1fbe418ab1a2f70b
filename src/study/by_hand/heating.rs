//! Resistance, heat of the current, heat capacity.

use super::ByHandError;
use super::bending::over_layers;
use super::formulas as by;
use super::full::Full;
use super::ledger::Ledger;
use super::record::{Remark, Subject};

/// Writes the chapter.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    ledger.chapter(Subject::Heating);
    resistance(full, ledger)?;
    ledger.give([("I", full.current_a)]);
    if !full.is_whole_load {
        ledger.say(Remark::OneCurrent(full.current_a));
    }
    ledger.by_with("Q", &by::JOULE, &[heat_resistance(full)])?;
    let own = full.device.winding.is_none();
    let at_release = full.release.as_ref().filter(|_| own);
    ledger.beside(at_release.map(|at| at.heat_w()));
    capacity(full, ledger)
}

fn resistance(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let parallel = over_layers(full.device.laws.layers.len(), "t_# / rho_#");
    let formula = format!("L / (w ({parallel}))");
    ledger.step("R", &formula, "conductors in parallel (G. S. Ohm, 1827)")?;
    ledger.beside(full.warm().map(|at| at.resistance_ohm()));
    let share = full.device.current_share;
    if share < 1.0 {
        ledger.give([("s", share)]);
    }
    let strip = if share < 1.0 { "s^2 R" } else { "R" };
    if let Some(winding) = full.device.winding {
        ledger.give([
            ("R_20", winding.resistance_ohm),
            ("alpha_W", winding.temperature_coefficient_per_k),
            ("DeltaT_W", ledger.value("T_rel").unwrap_or(293.15) - 293.15),
        ]);
        ledger.step(
            "R_W",
            "R_20 (1 + alpha_W DeltaT_W)",
            "linear law about 20 °C",
        )?;
        ledger.step("R_h", &format!("{strip} + R_W"), "heats add up")?;
    } else if share < 1.0 {
        ledger.step("R_h", strip, "the rest goes through the shunt")?;
    }
    Ok(())
}

/// Which resistance makes the heat of the strip.
pub(super) fn heat_resistance(full: &Full) -> (&'static str, &'static str) {
    let is_plain = full.device.winding.is_none() && full.device.current_share >= 1.0;
    ("R", if is_plain { "R" } else { "R_h" })
}

fn capacity(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let sum = over_layers(full.device.laws.layers.len(), "rho_m_# c_# t_#");
    let symbol = if full.device.winding.is_some() {
        "C_S"
    } else {
        "C"
    };
    ledger.step(
        symbol,
        &format!("w L ({sum})"),
        "definition of the heat capacity",
    )?;
    let at_release = full.release.as_ref();
    ledger.beside(at_release.map(|at| at.capacity_j_per_k(full.air_k)));
    if let Some(winding) = full.device.winding {
        ledger.give([("C_W", winding.heat_capacity_j_per_k)]);
        ledger.step("C", "C_S + C_W", "heat capacities add up")?;
    }
    Ok(())
}
