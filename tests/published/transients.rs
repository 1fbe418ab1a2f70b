//! Lumped heating and cooling (Newton's law, any heat transfer textbook), values computed; F. P.
//! Incropera & D. P. DeWitt, Ex. 5.1 (text values from memory).

use crate::formulas::heating::{LumpedBody, relative_trip_time};

use crate::close;

/// The strip of the fin checks as one body: C 1.20704 J/K, G 0.01296 W/K, 4 mΩ.
const BODY: LumpedBody = LumpedBody {
    heat_capacity_j_per_k: 1.20704,
    conductance_w_per_k: 0.01296,
    resistance_ohm: 4e-3,
};

#[test]
fn h5_time_to_sixty_kelvin() {
    close(BODY.time_constant_s(), 93.135802, 1e-6);
    close(BODY.ultimate_current_a(60.0), 13.94274, 1e-6);
    let rows = [
        (25.0, 192.9012, 34.69980, 28.96896),
        (30.0, 277.7778, 22.66425, 20.11733),
        (60.0, 1111.111, 5.170221, 5.029333),
    ];
    for (current, steady, time_s, adiabatic_s) in rows {
        close(BODY.steady_rise_k(current), steady, 1e-6);
        close(BODY.time_to_rise_s(current, 60.0).unwrap(), time_s, 1e-6);
        close(BODY.adiabatic_time_s(current, 60.0), adiabatic_s, 1e-6);
        close(BODY.rise_k(current, time_s), 60.0, 1e-6);
    }
    assert_eq!(BODY.time_to_rise_s(13.9, 60.0), None);
}

#[test]
fn h5b_relative_trip_time() {
    let rows = [
        (1.05, 2.375473),
        (1.1, 1.751268),
        (1.2, 1.185624),
        (1.35, 0.795616),
        (1.5, 0.587787),
        (2.0, 0.287682),
        (3.0, 0.117783),
        (4.0, 0.064539),
        (6.0, 0.028171),
        (10.0, 0.010050),
    ];
    for (ratio, expected) in rows {
        // Six decimals printed.
        crate::near(relative_trip_time(ratio).unwrap(), expected, 1e-6);
    }
    assert_eq!(relative_trip_time(1.0), None);
}

#[test]
fn h6_reset_wait_doubles_in_warm_air() {
    let wait = |air: f64| BODY.cooling_time_s(273.15 + 85.0, 273.15 + 45.0, 273.15 + air);
    close(wait(25.0).unwrap(), 102.3201, 1e-6);
    close(wait(40.0).unwrap(), 204.6403, 1e-6);
    assert_eq!(wait(45.0), None);
}

/// Incropera & DeWitt Ex. 5.1: thermocouple bead (text 7.06e-4 m, 5.2 s from memory). 0.2 %.
#[test]
fn h17_thermocouple_bead() {
    let (h, density, specific_heat, k) = (400.0, 8500.0, 400.0, 20.0);
    let d = 0.70588e-3_f64;
    let area = std::f64::consts::PI * d * d;
    let bead = LumpedBody {
        heat_capacity_j_per_k: density * specific_heat * area * d / 6.0,
        conductance_w_per_k: h * area,
        resistance_ohm: 0.0,
    };
    close(bead.time_constant_s(), 1.0, 2e-3);
    close(h * d / 6.0 / k, 0.00235, 2e-3);
    // Warming towards 200 °C is cooling with the sign turned.
    close(
        bead.cooling_time_s(200.0 - 25.0, 200.0 - 199.0, 0.0)
            .unwrap(),
        5.165,
        2e-3,
    );
}
