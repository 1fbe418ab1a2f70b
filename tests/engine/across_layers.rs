//! Heat across the layers, resolved by modes, against two-dimensional solutions of the same strip.
//!
//! Strip of 0.6/0.12/0.6 mm: two steels and copper, in three orders. The changes of the trip time
//! against one temperature per section are those of a two-dimensional solution (x along, z across;
//! finite elements, stated to two digits without the geometry). The geometry here was found by
//! fitting a two-dimensional finite-volume program (per-layer conduction along and across, Joule
//! heat from a common field in each section, terminals joined to all layers) to those numbers; what
//! that program gives is the second column.

use crate::support::made;
use crate::support::{apart, case, fine_model, shipped, worked};
use pulp::Simd;
use relatch::internals::device::{
    Across, Device, Drive, Fineness, Gauge, Model, Plant, quasi_steady_across,
};
use relatch::internals::load::{Programme, Repeat};
use relatch::internals::material::{Alloy, Law};
use relatch::internals::predict::{Fidelity, Unwatched, Watch, run, run_on};
use relatch::internals::scenario::{ContactResistance, Convection, Layer, Scenario};
use relatch::internals::solve::wide::dispatch;
use relatch::internals::solve::{DenseStep, Flow, March, Marched};
use std::sync::Arc;

const RATED_A: f64 = 53.09;

fn copper(base: &Alloy) -> Alloy {
    let mut a = base.clone();
    a.name = "copper of the case".into();
    a.density.law = Law::Constant(8940.0);
    a.specific_heat.law = Law::Constant(385.0);
    a.conductivity.law = Law::Constant(390.0);
    let r = 1.7241e-8;
    a.resistivity.law = Law::Polynomial {
        reference_k: 293.15,
        coefficients: vec![r, r * 3.93e-3],
    };
    a.youngs_modulus.law = Law::Constant(119e9);
    a.expansion.property.law = Law::Constant(17e-6);
    a
}

#[derive(Clone, Copy, Debug, PartialEq)]
enum Copper {
    Middle,
    HighSide,
    LowSide,
}

fn strip(place: Copper, travel_m: f64) -> Scenario {
    worked(|s| {
        let (low, high) = (
            s.strip.layers[0].alloy.clone(),
            s.strip.layers[1].alloy.clone(),
        );
        let layer = |alloy, thickness_m| {
            let base = s.strip.layers[0].clone();
            made!(Layer {
                alloy,
                thickness_m,
                ..base
            })
        };
        let metal = layer(Arc::new(copper(&low)), 0.12e-3);
        let steel = |alloy| layer(alloy, 0.6e-3);
        let (low, high) = (steel(low), steel(high));
        s.strip.layers = match place {
            Copper::Middle => vec![low, metal, high],
            Copper::HighSide => vec![low, high, metal],
            Copper::LowSide => vec![metal, low, high],
        };
        (s.strip.length_m, s.strip.push_point_m, s.strip.width_m) = (47.81e-3, 47.81e-3, 8.55e-3);
        s.clamped_terminal.resistance_ohm *= 0.020_55;
        s.contact.resistance = ContactResistance::Constant(1e-3 * 0.020_55);
        s.clamped_terminal.conductance_w_per_k *= 0.047_63;
        s.moving_contact.conductance_w_per_k *= 0.047_63;
        s.fixed_contact.conductance_w_per_k *= 0.047_63;
        if let Some(latch) = s.release.mechanism.latch_mut() {
            latch.release_travel_m = travel_m;
            latch.relatch_travel_m = 0.5 * travel_m;
        }
    })
}

/// One travel for the three orders: a uniform rise of 49.54 K of the strip with the copper in the
/// middle.
fn travel_m() -> f64 {
    let model = fine_model(&strip(Copper::Middle, 1e-3));
    model.free_deflection_m(&model.uniform(293.15 + 49.536_74), 0.0)
}

fn change_percent(place: Copper, multiple: f64) -> f64 {
    let s = strip(place, travel_m());
    let device = Device::new(&s).expect("device");
    let (case, load) = (case(&s), Programme::constant(multiple * RATED_A));
    let time = |d: &Device| {
        run(d, &case, &load, false)
            .expect("run")
            .value
            .trip_time_s
            .expect("trips")
    };
    100.0 * (time(&device.resolved(0.0)) / time(&device) - 1.0)
}

/// Within 15 % of the size of each effect, as the resolved model promises.
#[test]
fn trip_times_change_as_in_two_dimensions() {
    let cases = [
        (Copper::Middle, 20.0, 1.5, 1.44),
        (Copper::HighSide, 2.0, -0.4, -0.385),
        (Copper::HighSide, 6.0, -6.9, -6.81),
        (Copper::HighSide, 20.0, -53.0, -53.3),
        (Copper::LowSide, 2.0, 0.8, 0.856),
        (Copper::LowSide, 6.0, 6.9, 6.98),
        (Copper::LowSide, 20.0, 76.0, 77.5),
    ];
    for (place, multiple, elements, volumes) in cases {
        let change = change_percent(place, multiple);
        for expected in [elements, volumes] {
            assert!(
                (change / expected - 1.0).abs() < 0.15,
                "copper {place:?} at {multiple} x rated: {change:.3} % against {expected} %"
            );
        }
    }
}

/// Copper in the middle at 20 times rated: 23 K (finite elements) or 22 K (finite volumes) across.
#[test]
fn the_temperature_difference_across_is_that_of_two_dimensions() {
    let s = strip(Copper::Middle, travel_m());
    let device = Device::new(&s).expect("device");
    let model = Model::new(&device, Fidelity::quick(device.length_m).fineness);
    let (_, spread_k) = quasi_steady_across(&model.device.laws, 345.0, (20.0 * RATED_A).powi(2));
    assert!((spread_k / 22.5 - 1.0).abs() < 0.15, "{spread_k}");
}

/// Two steel layers of 0.2 mm (the worked strip) at 100 A: -0.33 % by finite elements.
#[test]
fn the_worked_strip_at_100_a_trips_a_third_of_a_percent_earlier() {
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let (case, load) = (case(&s), Programme::constant(100.0));
    let time = |d: &Device| {
        run(d, &case, &load, false)
            .expect("run")
            .value
            .trip_time_s
            .expect("trips")
    };
    let change = 100.0 * (time(&device.resolved(0.0)) / time(&device) - 1.0);
    assert!((change / -0.33 - 1.0).abs() < 0.15, "{change}");
}

/// Where nothing differs between the layers, resolving them changes nothing.
#[test]
fn equal_layers_need_no_resolving() {
    let s = worked(|s| {
        let mut high = (*s.strip.layers[1].alloy).clone();
        let low = s.strip.layers[0].alloy.clone();
        high.resistivity = low.resistivity.clone();
        high.conductivity = low.conductivity.clone();
        high.specific_heat = low.specific_heat.clone();
        s.strip.layers[1].alloy = Arc::new(high);
        // Loss at the faces would cool both of them, and metals of unequal expansion bend by that.
        s.cooling.emissivity = 0.0;
        s.cooling.convection = Convection::Constant {
            coefficient_w_per_m2_k: 0.0,
        };
    });
    let device = Device::new(&s).expect("device");
    let (case, load) = (case(&s), Programme::constant(60.0));
    let time = |d: &Device| {
        run(d, &case, &load, false)
            .expect("run")
            .value
            .trip_time_s
            .expect("trips")
    };
    let (resolved, uniform) = (time(&device.resolved(0.0)), time(&device));
    assert!(
        (resolved / uniform - 1.0).abs() < 2e-6,
        "{resolved} {uniform}"
    );
}

/// Sees every step, so that the general way is gone.
struct Seen;

impl Watch for Seen {
    fn step(&mut self, _: &Plant<'_>, _: &DenseStep) {}
}

/// The march of explicit steps and the general way of implicit ones solve the same equations.
#[test]
fn the_march_gives_the_times_of_the_general_way() {
    let s = strip(Copper::HighSide, travel_m());
    let device = Device::new(&s).expect("device").resolved(0.0);
    let model = device.on(Fidelity::quick(device.length_m).fineness);
    let case = case(&s);
    for multiple in [6.0, 9.0, 20.0] {
        let load = Programme::constant(multiple * RATED_A);
        let time = |watch: &mut dyn Watch| {
            run_on(&model, 1e-8, &case, &load, false, watch)
                .expect("run")
                .trip_time_s
                .expect("trips")
        };
        let (marched, general) = (time(&mut Unwatched), time(&mut Seen));
        assert!(
            (marched / general - 1.0).abs() < 1e-5,
            "{multiple} x: {marched} {general}"
        );
    }
}

/// A current too weak to matter across the layers is served by one temperature a section, a strong
/// one is not.
#[test]
fn weak_currents_are_served_by_one_temperature_a_section() {
    let s = strip(Copper::HighSide, travel_m());
    let device = Device::new(&s).expect("device");
    let (strong_a, weak_a) = (20.0 * RATED_A, 2.0 * RATED_A);
    let resolved = device.resolved((4.0 * RATED_A).powi(2));
    let (whole, case) = (device.resolved(0.0), case(&s));
    let time = |d: &Device, current_a: f64| {
        run(d, &case, &Programme::constant(current_a), false)
            .expect("run")
            .value
    };
    let (weak, uniform) = (time(&resolved, weak_a), time(&device, weak_a));
    let (a, b) = (
        weak.trip_time_s.expect("trips"),
        uniform.trip_time_s.expect("trips"),
    );
    assert!((a / b - 1.0).abs() < 1e-5, "{a} {b}");
    let (strong, all) = (time(&resolved, strong_a), time(&whole, strong_a));
    let (a, b) = (
        strong.trip_time_s.expect("trips"),
        all.trip_time_s.expect("trips"),
    );
    assert!((a / b - 1.0).abs() < 1e-5, "{a} {b}");
}

/// A cold trip in which all modes move, or only those that an accuracy asks for.
struct Trip<'a> {
    model: &'a Model,
    drive: Drive,
    accuracy: Option<f64>,
}

impl pulp::WithSimd for Trip<'_> {
    type Output = Marched;
    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Marched {
        let mut across = Across::new(simd, self.model, self.drive).expect("resolved");
        let gauge = Gauge::Release { in_hand_m: 0.0 };
        let cold = self.model.uniform(self.drive.ambient_k(0.0));
        if let Some(accuracy) = self.accuracy {
            across.move_what_lags(gauge, 0.0, 10.0, &cold, accuracy);
        }
        let mut y = across.pack(&cold);
        let mut march = March::new(across.unknowns(), across.len());
        let mut event = across.distance(gauge);
        let flow = &mut across;
        march
            .run(
                simd,
                flow,
                Some(&mut event),
                0.0,
                &mut y,
                10.0,
                5e-6,
                &mut |_| true,
            )
            .expect("marches")
    }
}

/// A mode that has long come to rest only shortens the steps: behind its sources by what they gain while it
/// settles, it costs less than is stated of an answer at least. Copper carries so much heat along that more
/// of them move there.
#[test]
fn modes_at_rest_cost_less_than_is_stated() {
    let files = ["01-pug-mill.toml", "03-deck-oven.toml", "09-late-part.toml"];
    for (file, multiple) in files
        .iter()
        .flat_map(|f| [6.0, 10.0, 15.0, 20.0, 50.0].map(|m| (f, m)))
    {
        let s = shipped(file);
        let device = Device::new(&s).expect("device").resolved(0.0);
        let model = device.on(Fineness {
            order: 20,
            end_element_m: device.length_m,
        });
        let drive = Drive::constant(multiple * s.protector.rated_current_a, 298.15);
        let trip = |accuracy| {
            let model = &model;
            dispatch(Trip {
                model,
                drive,
                accuracy,
            })
        };
        let (all, some) = (trip(None), trip(Some(1e-5)));
        let apart = apart(some.t, all.t);
        assert!(apart < 2e-6, "{file}, {multiple} x: {apart:e}");
        assert!(
            3 * some.rate_count < all.rate_count || multiple > 20.0 || file.starts_with("03"),
            "{file}, {multiple} x: {} of {} evaluations",
            some.rate_count,
            all.rate_count
        );
    }
}

/// What rests under one current of a load moves under another, or where that is short.
#[test]
fn modes_that_rest_under_a_second_current_have_moved_under_the_first() {
    let s = shipped("01-pug-mill.toml");
    let device = Device::new(&s).expect("device").resolved(0.0);
    let model = device.on(Fineness {
        order: 20,
        end_element_m: device.length_m,
    });
    let case = case(&s);
    let rated_a = s.protector.rated_current_a;
    let pieces = [(0.05, 24.0), (0.02, 3.0), (10.0, 14.0)];
    let pieces = pieces.map(|(duration_s, m)| (duration_s, m * rated_a));
    let load = Programme::steps(pieces, Repeat::Once);
    let time = |watch: &mut dyn Watch| {
        let answer = run_on(&model, 1e-8, &case, &load, false, watch).expect("run");
        answer.trip_time_s.expect("trips")
    };
    let (marched, general) = (time(&mut Unwatched), time(&mut Seen));
    assert!(marched > 0.1, "{marched}");
    let apart = apart(marched, general);
    assert!(apart < 2e-6, "{marched} {general}: {apart:e}");
}
