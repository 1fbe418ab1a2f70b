//! Thermostat metal as bought: ASTM B106-08(2013) (definition of flexivity, read); ASTM B223 (form of the
//! modulus test, from memory); the design constant 0.53 (from memory); catalogue ratios K/F (read, GB/T 4461
//! types and a table of 58 types).

use relatch::physics::thermostat_metal::{
    blocked_force_n, cantilever_deflection_m, cantilever_test_modulus_pa, flexivity_per_k,
    specific_deflection_per_k,
};
use relatch::physics::timoshenko::curvature_per_m;

use crate::{close, near};

/// B1: the definition, applied to Timoshenko's strip of m = n = 1, gives 1.5 Δα.
#[test]
fn b1_flexivity_by_definition() {
    let (h, difference) = (0.8e-3, 18e-6);
    let at = |kelvin: f64| curvature_per_m(1.0, 1.0, h, difference * kelvin);
    close(
        flexivity_per_k(h, at(20.0), at(90.0), 70.0),
        1.5 * difference,
        1e-12,
    );
}

/// B3: 58 catalogue types have K/F = 0.5306 ± 0.0063; the ideal narrow strip has one half.
#[test]
fn b3_ideal_strip_has_half_of_its_flexivity() {
    let (h, length_m, kelvin, flexivity) = (0.8e-3, 40e-3, 60.0, 27e-6);
    let deflection_m = cantilever_deflection_m(flexivity * kelvin / h, length_m);
    let ideal = specific_deflection_per_k(deflection_m, h, length_m, kelvin) / flexivity;
    close(ideal, 0.5, 1e-12);
    // Read: 5J1480 and 5J20110. A real wide strip, clamped across, does 0.53 ± 0.015.
    for (specific, flexivity) in [(14.3, 26.2), (20.8, 39.0)] {
        near(specific / flexivity, 0.53, 0.0159);
        assert!(specific / flexivity > ideal);
    }
}

/// B4: computed; the constants 0.53 and 0.1325 = 0.53/4 from memory.
#[test]
fn b4_cantilever_design_formulas() {
    let (flexivity, kelvin, l, h, w, e) = (27e-6, 60.0, 40e-3, 0.8e-3, 10e-3, 172e9);
    // 0.53 instead of 0.5: wide strips move by 1.06 of the ideal one.
    let deflection_m = 1.06 * cantilever_deflection_m(flexivity * kelvin / h, l);
    close(deflection_m, 1.7172e-3, 1e-6);
    close(blocked_force_n(e, w, h, l, deflection_m), 5.907168, 1e-6);
}

/// B6: computed; form of ASTM B223 from memory.
#[test]
fn b6_modulus_from_the_cantilever_test() {
    close(
        cantilever_test_modulus_pa(1.0, 80e-3, 2e-3, 10e-3, 0.8e-3),
        200e9,
        1e-9,
    );
}
