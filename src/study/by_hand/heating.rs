//! Resistance, heat of the current, heat capacity.

use super::ByHandError;
use super::formulas as by;
use super::full::Full;
use super::ledger::Ledger;
use super::unit::*;

const UNEVEN: &str = "The strip is not at one temperature: hottest near its middle, colder towards its \
    terminals, and its metal resists more where it is hot.";

/// Writes the chapter.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    ledger.chapter("How much heat the current makes");
    resistance(full, ledger)?;
    ledger.give("I", full.current_a, AMPERE);
    if !full.is_whole_load {
        ledger.text(format!(
            "The load changes with time. The hand takes one constant current, {:.3} A, and the numbers of the \
             full model beside it are for the same constant current.",
            full.current_a
        ));
    }
    ledger.by(
        "Heat made at the load",
        ("Q", WATT),
        &by::JOULE,
        &[heat_resistance(full)],
    )?;
    let at_release = full.release.as_ref();
    let own = full.device.winding.is_none();
    ledger.beside(
        "Heat made in the strip at release",
        at_release.filter(|_| own).map(|at| at.heat_w()),
        0.0,
        UNEVEN,
    );
    capacity(full, ledger)
}

fn resistance(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let count = full.device.laws.layers.len();
    let parallel: Vec<String> = (1..=count).map(|n| format!("t_{n} / rho_{n}")).collect();
    ledger.step(
        "Resistance of the strip: its layers side by side share the current",
        ("R", MILLI_OHM),
        &format!("L / (w ({}))", parallel.join(" + ")),
        "conductors in parallel (G. S. Ohm, 1827)",
    )?;
    ledger.beside(
        if full.release.is_some() {
            "Resistance of the strip at release"
        } else {
            "Resistance of the strip at its trip point"
        },
        full.warm().map(|at| at.resistance_ohm()),
        0.0,
        UNEVEN,
    );
    let share = full.device.current_share;
    if share < 1.0 {
        ledger.give("s", share, PLAIN);
    }
    let strip = if share < 1.0 { "s^2 R" } else { "R" };
    if let Some(winding) = full.device.winding {
        ledger.give("R_20", winding.resistance_ohm, MILLI_OHM);
        ledger.give("alpha_W", winding.temperature_coefficient_per_k, PPM_PER_K);
        ledger.give(
            "DeltaT_W",
            ledger.value("T_rel").unwrap_or(293.15) - 293.15,
            KELVIN,
        );
        ledger.step(
            "Resistance of the winding, at the temperature of the strip",
            ("R_W", MILLI_OHM),
            "R_20 (1 + alpha_W DeltaT_W)",
            "linear law about 20 °C",
        )?;
        ledger.step(
            "What heats the strip, all heat of the winding included",
            ("R_h", MILLI_OHM),
            &format!("{strip} + R_W"),
            "heats add up",
        )?;
    } else if share < 1.0 {
        ledger.step(
            "What heats the strip: it carries only its share of the current",
            ("R_h", MILLI_OHM),
            strip,
            "the rest goes through the shunt",
        )?;
    }
    Ok(())
}

/// Which resistance makes the heat of the strip.
pub(super) fn heat_resistance(full: &Full) -> (&'static str, &'static str) {
    let is_plain = full.device.winding.is_none() && full.device.current_share >= 1.0;
    ("R", if is_plain { "R" } else { "R_h" })
}

fn capacity(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let count = full.device.laws.layers.len();
    let sum: Vec<String> = (1..=count)
        .map(|n| format!("rho_m_{n} c_{n} t_{n}"))
        .collect();
    let formula = format!("w L ({})", sum.join(" + "));
    let symbol = if full.device.winding.is_some() {
        "C_S"
    } else {
        "C"
    };
    ledger.step(
        "Heat that a kelvin takes up in the strip",
        (symbol, J_PER_K),
        &formula,
        "definition of the heat capacity",
    )?;
    ledger.beside(
        "Heat stored in the strip above the air, over its mean rise",
        full.release.as_ref().map(|at| at.capacity_j_per_k(full.air_k)),
        0.0,
        "Specific heat rises with temperature; the mean over the way from the air is smaller than the \
         value at the end.",
    );
    if let Some(winding) = full.device.winding {
        ledger.give("C_W", winding.heat_capacity_j_per_k, J_PER_K);
        ledger.step(
            "Together with the winding",
            ("C", J_PER_K),
            "C_S + C_W",
            "heat capacities add up",
        )?;
    }
    Ok(())
}
