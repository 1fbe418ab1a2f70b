//! R. Holm, Electric Contacts, 4th ed. (1967), formulas from memory; numbers computed from the
//! exact SI constants.

use crate::formulas::contact::{spot_temperature_k, voltage_for_spot_temperature_v};
use relatch::internals::physics::contact::{
    LORENZ_W_OHM_PER_K2, constriction_ohm, wiedemann_franz_conductance_w_per_k,
};

use crate::{close, near};

#[test]
fn h13_lorenz_number() {
    close(LORENZ_W_OHM_PER_K2, 2.443004509e-8, 1e-9);
}

/// 0.01 K; two decimals printed.
#[test]
fn h14_voltage_and_temperature() {
    let rows = [
        (0.03, 35.31),
        (0.05, 60.80),
        (0.09, 137.74),
        (0.10, 160.75),
        (0.12, 209.86),
        (0.37, 946.23),
        (0.43, 1133.29),
    ];
    for (volts, celsius) in rows {
        let spot_k = spot_temperature_k(volts, 293.15, 293.15);
        near(spot_k - 273.15, celsius, 0.01);
        close(voltage_for_spot_temperature_v(spot_k, 293.15), volts, 1e-9);
    }
}

#[test]
fn h15_constriction() {
    close(constriction_ohm(17e-9, 0.55e9, 1.0), 353.33e-6, 1e-4);
    close(constriction_ohm(17e-9, 0.55e9, 0.1), 1117.31e-6, 1e-4);
    close(constriction_ohm(15.9e-9, 0.30e9, 1.0), 244.06e-6, 1e-4);
}

/// Derived. Between unequal sides the spot obeys conduction with k ρ = L0 T along the constriction:
/// heat made between a side and the hottest place flows to that side. Checked by marching in
/// potential.
#[test]
fn unequal_sides_by_marching() {
    let (volts, hot, cold): (f64, f64, f64) = (0.08, 420.0, 330.0);
    // T² is a parabola in the potential φ: T² = T_c² + b φ − φ²/L0 with T²(V) = T_h².
    let slope = (hot * hot - cold * cold) / volts + volts / LORENZ_W_OHM_PER_K2;
    let largest = (0..=100_000)
        .map(|i| volts * i as f64 / 100_000.0)
        .map(|phi| cold * cold + slope * phi - phi * phi / LORENZ_W_OHM_PER_K2)
        .fold(0.0, f64::max);
    close(spot_temperature_k(volts, hot, cold), largest.sqrt(), 1e-9);
    assert_eq!(
        spot_temperature_k(volts, hot, cold),
        spot_temperature_k(volts, cold, hot)
    );
    // Small voltage: the hotter side; continuous where the maximum reaches it.
    assert_eq!(spot_temperature_k(0.001, hot, cold), hot);
    assert_eq!(spot_temperature_k(0.0, 300.0, 300.0), 300.0);
    let edge = ((hot * hot - cold * cold) * LORENZ_W_OHM_PER_K2).sqrt();
    close(spot_temperature_k(edge * 1.000_001, hot, cold), hot, 1e-9);
}

/// Derived: 1 mΩ at 300 K conducts L0 T/R.
#[test]
fn closed_contact_conducts_heat() {
    close(
        wiedemann_franz_conductance_w_per_k(1e-3, 300.0),
        7.329013527e-3,
        1e-9,
    );
}
