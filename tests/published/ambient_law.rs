//! How the current that just trips changes with the air around the part: a correction table of a
//! thermal-magnetic breaker of 20 A, reference 40 °C (P1, read: a manufacturer's data sheet); the
//! square-root law (P1e, elementary, values computed).

use crate::formulas::derating::square_root_law_factor;
use relatch::internals::device::{Device, Fineness, Model};
use relatch::internals::predict::{trip_point, trip_temperature_k};
use relatch::internals::scenario::Scenario;

use super::support::shipped;
use super::{close, near, within};

const ZERO_C: f64 = 273.15;
/// Reference air of the published table.
const REFERENCE_K: f64 = ZERO_C + 40.0;

/// P1: air in °C, factor.
const P1: [(f64, f64); 12] = [
    (10.0, 1.16),
    (15.0, 1.13),
    (20.0, 1.11),
    (25.0, 1.08),
    (30.0, 1.06),
    (35.0, 1.03),
    (45.0, 0.97),
    (50.0, 0.94),
    (55.0, 0.91),
    (60.0, 0.88),
    (65.0, 0.85),
    (70.0, 0.81),
];

/// Shipped parts that are made for a room, and as good as new.
const PARTS: [&str; 5] = [
    "01-pug-mill.toml",
    "02-curtain-winch.toml",
    "03-deck-oven.toml",
    "04-fog-machine.toml",
    "06-irrigation-pump-new.toml",
];

/// P1e: trips at 85 °C, rated at 25 °C.
#[test]
fn p1e_square_root_law() {
    for (celsius, expected) in [
        (-20.0, 1.322876),
        (0.0, 1.190238),
        (40.0, 0.866025),
        (60.0, 0.645497),
    ] {
        let factor = square_root_law_factor(358.15, 298.15, ZERO_C + celsius);
        close(factor, expected, 1e-6);
    }
    assert!(square_root_law_factor(358.15, 298.15, 360.0).is_nan());
}

/// Trip temperature, degC, of the square-root law that comes closest to a table, and its largest
/// error.
fn fitted(table: &[(f64, f64)]) -> (f64, f64) {
    let worst = |trip_c: f64| {
        table.iter().fold(0.0_f64, |worst, (celsius, factor)| {
            let law = square_root_law_factor(ZERO_C + trip_c, REFERENCE_K, ZERO_C + celsius);
            worst.max((law - factor).abs())
        })
    };
    (900..2000)
        .map(|tenth| 0.1 * f64::from(tenth))
        .map(|trip_c| (trip_c, worst(trip_c)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .expect("candidates")
}

/// P1: the published table is a square-root law to its last digit: rounding alone makes 0.005. Its
/// part trips as if at 127.7 °C.
#[test]
fn p1_published_table_is_a_square_root_law() {
    let (trip_c, worst) = fitted(&P1);
    assert!(worst < 0.005, "worst error {worst} with {trip_c} degC");
    near(trip_c, 127.7, 0.1);
}

/// Trip point in still air of a temperature over that at the reference.
fn factors(s: &Scenario, device: &Device, celsius: impl Iterator<Item = f64>) -> Vec<(f64, f64)> {
    let current_a = |air_k: f64| {
        trip_point(device, air_k, s.protector.rated_current_a, 1e-5)
            .expect("trip point")
            .value
            .current_a()
            .expect("trips at some current")
    };
    let reference_a = current_a(REFERENCE_K);
    celsius
        .map(|c| (c, current_a(ZERO_C + c) / reference_a))
        .collect()
}

fn uniform_trip_k(device: &Device) -> f64 {
    let fineness = Fineness {
        order: 8,
        end_element_m: device.length_m / 3.0,
    };
    trip_temperature_k(&Model::new(device, fineness)).expect("a trip temperature")
}

/// P1 by the engine. No printed factor can be expected of other parts; but each follows a
/// square-root law as closely as the published table does, with about the uniform temperature that
/// trips it, and falls steadily.
#[test]
fn p1_shipped_parts_follow_a_square_root_law() {
    for file in PARTS {
        let s = shipped(file);
        let device = Device::new(&s).expect("device");
        let table = factors(&s, &device, P1.into_iter().map(|(celsius, _)| celsius));
        for pair in table.windows(2) {
            assert!(pair[1].1 < pair[0].1, "{file}: {pair:?}");
        }
        let (trip_c, worst) = fitted(&table);
        assert!(
            worst < 0.005,
            "{file}: worst error {worst} with {trip_c} degC"
        );
        within(trip_c + ZERO_C, uniform_trip_k(&device), 5.0);
    }
}

/// Derived. A strip of one temperature gives off heat by natural convection as rise^(5/4), by
/// conduction as the rise, by radiation as T⁴ − T_air⁴; with all ways open the factor lies between
/// the first and the last.
#[test]
fn p1_shipped_parts_lie_between_convection_and_radiation_alone() {
    for file in PARTS {
        let s = shipped(file);
        let device = Device::new(&s).expect("device");
        let trip_k = uniform_trip_k(&device);
        let convection = |air_k: f64| square_root_law_factor(trip_k, REFERENCE_K, air_k).powf(1.25);
        let radiation =
            |air_k: f64| square_root_law_factor(trip_k.powi(4), REFERENCE_K.powi(4), air_k.powi(4));
        for (celsius, factor) in factors(&s, &device, [-20.0, 10.0, 60.0, 70.0].into_iter()) {
            let (a, b) = (convection(ZERO_C + celsius), radiation(ZERO_C + celsius));
            assert!(
                a.min(b) < factor && factor < a.max(b),
                "{file}, {celsius} degC: {factor} not between {a} and {b}"
            );
        }
    }
}
