//! Two-bar truss: worked example after Z. P. Bažant & L. Cedolin, Stability of Structures, Eq.
//! 4.4.5 (read: 3790 kN at 426.4 mm), also computed by two routes. Half-span 5 m, rise 1 m, EA 1280
//! MN.

use crate::formulas::truss::Truss;

use crate::close;

const TRUSS: Truss = Truss {
    half_span_m: 5.0,
    rise_m: 1.0,
    stiffness_ea_n: 1280e6,
};

#[test]
fn d6_limit_load() {
    close(TRUSS.limit_load_n() / 1e3, 3789.46, 1e-5);
    close(TRUSS.limit_drop_m() * 1e3, 426.428, 1e-5);
    close(TRUSS.limit_load_n() / 1e3, 3790.0, 2e-4);
}

#[test]
fn d7_shallow_limit() {
    close(TRUSS.shallow_limit_load_n() / 1e3, 3716.19, 1e-5);
}

/// Derived: the limit load is the maximum of the load by statics, 2 EA (1/cos-like shortening) of
/// the bars.
#[test]
fn limit_load_is_the_maximum_of_the_load() {
    let load = |drop_m: f64| {
        let height = TRUSS.rise_m - drop_m;
        let (long, short) = (5.0_f64.hypot(1.0), 5.0_f64.hypot(height));
        2.0 * TRUSS.stiffness_ea_n * (long - short) / long * height / short
    };
    let largest = (0..=1_000_000)
        .map(|i| load(i as f64 * 1e-6))
        .fold(0.0, f64::max);
    close(TRUSS.limit_load_n(), largest, 1e-9);
}
