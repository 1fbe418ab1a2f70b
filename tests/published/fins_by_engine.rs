//! Conduction with generation, by the whole engine, against closed forms (H1, H1b, H2, H4; provenance:
//! computed, two routes). The reference strip: 10 x 0.8 x 40 mm, 13 W/(m K), 0.80 uohm m, 8200 kg/m3,
//! 460 J/(kg K), 15 W/(m2 K) on its perimeter, 25 degC, 30 A.

use super::support::worked;
use relatch::device::{Device, Fineness, Model};
use relatch::load::Programme;
use relatch::material::Law;
use relatch::predict::{Case, Unwatched, closed_steady};
use relatch::scenario::{Before, ContactResistance, Convection, Scenario};
use std::sync::Arc;

const AIR_K: f64 = 298.15;
/// A terminal that nothing moves.
const HELD: f64 = 1e9;

/// `loss`: coefficient of the surface; `free_end`: no heat leaves at x = L.
fn reference(loss_w_per_m2_k: f64, free_end: bool) -> Scenario {
    worked(|s| {
        let mut alloy = (*s.strip.layers[0].alloy).clone();
        alloy.conductivity.law = Law::Constant(13.0);
        alloy.resistivity.law = Law::Constant(0.80e-6);
        alloy.density.law = Law::Constant(8200.0);
        alloy.specific_heat.law = Law::Constant(460.0);
        let mut layer = s.strip.layers[0].clone();
        layer.alloy = Arc::new(alloy);
        layer.thickness_m = 0.8e-3;
        s.strip.layers = vec![layer];
        (s.strip.length_m, s.strip.push_point_m, s.strip.width_m) = (0.040, 0.040, 0.010);
        s.cooling.convection = Convection::Constant {
            coefficient_w_per_m2_k: loss_w_per_m2_k,
        };
        s.cooling.emissivity = 0.0;
        s.clamped_terminal.resistance_ohm = 0.0;
        s.clamped_terminal.heat_capacity_j_per_k = HELD;
        s.clamped_terminal.conductance_w_per_k = HELD;
        s.contact.resistance = ContactResistance::Constant(1e-9);
        s.contact.film_conductance_w_per_k = Some(0.0);
        s.moving_contact.heat_capacity_j_per_k = if free_end { 1e-9 } else { HELD };
        s.moving_contact.conductance_w_per_k = if free_end { 0.0 } else { HELD };
    })
}

fn model(s: &Scenario) -> Model {
    let device = Device::new(s).expect("device");
    Model::new(
        &device,
        Fineness {
            order: 12,
            end_element_m: 0.010,
        },
    )
}

fn steady(m: &Model) -> Vec<f64> {
    closed_steady(m, 30.0, AIR_K, &m.uniform(AIR_K))
        .expect("solve")
        .expect("a steady state")
}

/// H1b: no lateral loss, both ends 25 degC: middle at 25 + q L^2/(8 k) = 198.076923 degC.
#[test]
fn h1b_both_ends_held_without_loss() {
    let m = model(&reference(0.0, false));
    let middle_c = m.mid_k(&steady(&m)) - 273.15;
    assert!((middle_c - 198.076_923).abs() < 1e-5, "{middle_c}");
}

/// H1 with both ends at the air: the closed form T_g (1 - cosh(m (L/2 - x))/cosh(m L/2)) over the air,
/// T_g - T_air = 277.7778 K, m = 55.81563 1/m.
#[test]
fn h1_both_ends_at_the_air_with_loss() {
    let m = model(&reference(15.0, false));
    let y = steady(&m);
    let fin = 55.815_63f64;
    for x in [0.005, 0.010, 0.020, 0.033] {
        let expected = 277.777_78 * (1.0 - (fin * (0.020 - x)).cosh() / (fin * 0.020).cosh());
        let rise = m.grid.interpolate(&y[..m.layout.strip], x) - AIR_K;
        assert!(
            (rise / expected - 1.0).abs() < 1e-6,
            "{x}: {rise} {expected}"
        );
    }
}

/// H2 shape: one end held at the air, the other insulated: rise at L is T_g (1 - 1/cosh(m L)).
#[test]
fn h2_a_free_end() {
    let m = model(&reference(15.0, true));
    let y = steady(&m);
    let expected = 277.777_78 * (1.0 - 1.0 / (55.815_63f64 * 0.040).cosh());
    let rise = y[m.layout.strip - 1] - AIR_K;
    assert!((rise / expected - 1.0).abs() < 1e-6, "{rise} {expected}");
}

/// H4: switched on with the ends held at 25 degC, rise of the middle at 1, 5, 10 s. 0.5 % is allowed to an
/// engine; the values are printed to six digits and the engine meets them to 1e-5.
#[test]
fn h4_switch_on_transient() {
    for (loss, table) in [
        (15.0, [(1.0, 2.966_55), (5.0, 14.516_95), (10.0, 28.103_11)]),
        (0.0, [(1.0, 2.982_50), (5.0, 14.910_06), (10.0, 29.631_71)]),
    ] {
        let m = model(&reference(loss, false));
        let case = Case {
            ambient: vec![(0.0, AIR_K)],
            before: Before::Cold,
            rated_current_a: 30.0,
            accuracy: 1e-6,
            longest_s: 1e4,
        };
        for (time_s, expected) in table {
            let mut session = case.start(&m, 1e-9).expect("start");
            session
                .carry(&Programme::constant(30.0), 0.0, time_s, 0.0, &mut Unwatched)
                .expect("carry");
            let rise = m.mid_k(&session.y) - AIR_K;
            assert!(
                (rise / expected - 1.0).abs() < 1e-5,
                "{loss} {time_s} s: {rise} {expected}"
            );
        }
    }
}
