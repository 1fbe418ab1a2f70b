//! Currents so strong that heat has no time to leave the strip, or even its layers.

use crate::adiabatic::action_a2_s_per_m4;
use crate::support::{case, fine_model, run_at, worked};
use relatch::internals::device::{Device, Model};
use relatch::internals::load::Programme;
use relatch::internals::material::Law;
use relatch::internals::predict::{Fidelity, Unwatched, run_on};
use std::sync::Arc;

/// The faster the heat, the nearer is the trip to `I^2 t` of a conductor that loses none; what is
/// left is the share of the ends, which goes as the root of the time.
#[test]
fn the_limit_of_strong_currents_is_the_action_of_a_conductor() {
    let s = worked(|s| {
        // The formula knows one resistivity and one heat capacity.
        let resistivity = s.strip.layers[0].alloy.resistivity.clone();
        for layer in &mut s.strip.layers {
            let mut alloy = (*layer.alloy).clone();
            alloy.resistivity = resistivity.clone();
            alloy.specific_heat.law = Law::Constant(480.0);
            alloy.density.law = Law::Constant(8000.0);
            layer.alloy = Arc::new(alloy);
        }
    });
    let model = fine_model(&s);
    // Mechanics alone: the temperature at which an evenly warm strip releases.
    let excess = |t_k: f64| model.release_excess_m(&model.uniform(t_k), 0.0);
    let (mut holds, mut releases) = (300.0, 600.0);
    for _ in 0..60 {
        let middle = 0.5 * (holds + releases);
        match excess(middle) < 0.0 {
            true => holds = middle,
            false => releases = middle,
        }
    }
    let strip = &s.strip;
    let area_m2: f64 = strip
        .layers
        .iter()
        .map(|l| l.thickness_m * strip.width_m)
        .sum();
    let capacity = 8000.0 * 480.0;
    let Law::Polynomial {
        reference_k,
        coefficients,
    } = &strip.layers[0].alloy.resistivity.law
    else {
        panic!("a straight line");
    };
    let (ohm_m, slope) = (coefficients[0], coefficients[1]);
    let start_k = s.surroundings.ambient[0].1;
    let action = action_a2_s_per_m4(
        capacity,
        ohm_m,
        slope / ohm_m,
        *reference_k,
        start_k,
        releases,
    );
    let ratio = |current_a: f64| {
        let time_s = run_at(&s, current_a).value.trip_time_s.expect("trips");
        (current_a / area_m2).powi(2) * time_s / action
    };
    let (slower, faster) = (ratio(400.0) - 1.0, ratio(800.0) - 1.0);
    assert!(slower > faster && faster > 0.0, "{slower} {faster}");
    // A time four times as short leaves half; of that, what is left is of the next order.
    assert!(
        (2.0 * faster - slower).abs() < 0.05 * slower,
        "{slower} {faster}"
    );
}

/// A current that melts the strip while its contacts open would heat it without end: it is followed
/// until it melts.
#[test]
fn a_strip_is_followed_until_it_melts() {
    let s = worked(|s| s.release.opening_time_s = 5e-3);
    let device = Device::new(&s).expect("device");
    let model = Model::new(&device, Fidelity::quick(device.length_m).fineness);
    let load = Programme::constant(200_000.0);
    let run = run_on(&model, 1e-5, &case(&s), &load, true, &mut Unwatched).expect("run");
    let open = run.open_state.expect("opens");
    let peak_k = model.strip_range_k(&open).1;
    assert!((1800.0..50_000.0).contains(&peak_k), "{peak_k} K");
}
