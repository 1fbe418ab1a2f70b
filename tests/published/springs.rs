//! Springs and relaxation: R. G. Budynas & J. K. Nisbett, Shigley's Mechanical Engineering Design
//! (constants from memory, values computed); Larson-Miller form read in a public document, values
//! computed with C = 20.

use crate::formulas::relaxation::{arrhenius_time_s, equivalent_time_h, exposure_for_loss};
use crate::formulas::spring::{
    BasquinLine, helical_rate_n_per_m, helical_stress_pa, leaf_rate_n_per_m, leaf_stress_pa,
    wahl_factor, wire_strength_pa,
};
use relatch::internals::physics::relaxation::{larson_miller_k, logarithmic_loss};

use crate::close;

#[test]
fn r8_larson_miller() {
    let rows = [
        (100.0, 1000.0, 8582.45),
        (150.0, 1000.0, 9732.45),
        (200.0, 1000.0, 10882.45),
        (100.0, 87_600.0, 9307.30),
    ];
    for (celsius, hours, expected) in rows {
        close(
            larson_miller_k(273.15 + celsius, hours, 20.0),
            expected,
            1e-5,
        );
    }
}

#[test]
fn r8b_equivalent_exposure() {
    let rows = [
        (100.0, 150.0, 20.0, 1.9155),
        (100.0, 150.0, 25.0, 0.49145),
        (150.0, 200.0, 20.0, 3.7109),
        (150.0, 200.0, 25.0, 1.09928),
    ];
    for (from, to, constant, expected) in rows {
        let hours = equivalent_time_h(1000.0, 273.15 + from, 273.15 + to, constant);
        close(hours, expected, 1e-4);
    }
}

#[test]
fn r15_strength_of_wire() {
    let rows = [
        (2211.0, 0.145, 0.5, 2444.8),
        (2211.0, 0.145, 1.0, 2211.0),
        (2211.0, 0.145, 2.0, 1999.6),
        (1867.0, 0.146, 0.5, 2065.8),
    ];
    for (a, m, mm, expected) in rows {
        close(
            wire_strength_pa(a * 1e6, m, mm * 1e-3) / 1e6,
            expected,
            1e-4,
        );
    }
}

#[test]
fn r16_helical_spring() {
    close(
        helical_rate_n_per_m(79.3e9, 0.5e-3, 4e-3, 8.0),
        1210.022,
        1e-5,
    );
    close(wahl_factor(8.0), 1.184018, 1e-5);
    close(helical_stress_pa(3.0, 0.5e-3, 4e-3) / 1e6, 289.447, 1e-5);
}

#[test]
fn r17_leaf_spring() {
    close(leaf_rate_n_per_m(110e9, 4e-3, 0.3e-3, 20e-3), 371.25, 1e-6);
    // 333.33 printed to five digits.
    close(
        leaf_stress_pa(1.0, 4e-3, 0.3e-3, 20e-3) / 1e6,
        333.333333,
        1e-6,
    );
}

#[test]
fn r19_basquin_line() {
    let line = BasquinLine::through(1000e6, 400e6);
    close(line.coefficient_pa / 1e6, 2025.0, 1e-5);
    close(line.exponent, -0.117394, 1e-5);
    close(line.cycles(600e6), 31_622.8, 1e-5);
    close(line.cycles(900e6), 1e3, 1e-9);
    close(line.cycles(400e6), 1e6, 1e-9);
}

/// R2, qualitative (read: U. P. Sinha & D. W. Levinson, J. Testing & Eval. 20 (1992) no. 2): fast
/// first, slower later, faster when hot.
#[test]
fn r2_shape_of_relaxation() {
    let loss = |hours: f64, kelvin: f64| {
        let tau_s = arrhenius_time_s(1e-6, 90e3, kelvin);
        logarithmic_loss(0.01, hours * 3600.0 / tau_s)
    };
    let (first, second) = (loss(100.0, 400.0), loss(200.0, 400.0));
    assert!(first > 0.0 && second > first && second < 2.0 * first);
    assert!(loss(100.0, 420.0) > first);
    close(
        logarithmic_loss(0.01, exposure_for_loss(0.01, 0.2)),
        0.2,
        1e-12,
    );
}
