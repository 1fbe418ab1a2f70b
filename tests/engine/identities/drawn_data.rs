//! What the figures draw obeys the same laws as the answers.

use crate::support::made;
use crate::support::{everything, shipped};
use relatch::internals::device::{Device, Drive, Fineness, Model, Plant};
use relatch::internals::predict::{Options, Outcome, predict};
use relatch::internals::scenario::{Scenario, ShuntNode};

fn outcome(s: &Scenario) -> Outcome {
    let options = made!(Options {
        film: true,
        ..Options::default()
    });
    predict(s, &options, &mut |_, _| {}).expect("predict")
}

/// Electrical power = everything given away + what is stored, where the first comes from the
/// account of energy and the last from the right-hand side of the heat equation.
#[test]
fn the_heat_adds_up_at_any_state() {
    let mut into_housing = everything();
    into_housing.strip.shunt_heat_to = Some(ShuntNode::Housing);
    let names = [
        "01-pug-mill.toml",
        "02-curtain-winch.toml",
        "08-worked-strip.toml",
    ];
    let all = names
        .into_iter()
        .map(shipped)
        .chain([everything(), into_housing]);
    for s in all {
        let device = Device::new(&s).expect("device");
        let model = Model::new(
            &device,
            Fineness {
                order: 9,
                end_element_m: device.length_m,
            },
        );
        let mut y = model.uniform(310.0);
        for (k, t) in y.iter_mut().enumerate() {
            *t += 25.0 * (k as f64).sin() + 2.0 * k as f64;
        }
        for drive in [
            Drive::constant(1.7 * s.protector.rated_current_a, 298.15),
            Drive::open(298.15),
        ] {
            let plant = Plant {
                model: &model,
                drive,
            };
            let h = plant.heat_flows(0.0, &y);
            let out = h.convection_w + h.radiation_w + h.terminals_w + h.contact_w;
            let scale = h.electrical_w.abs() + out.abs() + h.stored_w.abs();
            let defect = h.electrical_w - out - h.stored_w;
            assert!(scale > 1e-3, "{}: nothing flows", s.title);
            assert!(defect.abs() < 1e-10 * scale, "{}: {h:?} {defect}", s.title);
        }
    }
}

/// The moments drawn belong to the load itself, also where a history plays something else before
/// it.
#[test]
fn shapes_and_frames_are_those_of_the_load() {
    for name in [
        "01-pug-mill.toml",
        "02-curtain-winch.toml",
        "04-fog-machine.toml",
    ] {
        let o = outcome(&shipped(name));
        let trip_s = o.trip.time_s().expect("trips");
        let release = o
            .shapes
            .iter()
            .find(|s| s.moment == relatch::internals::predict::Moment::Release)
            .expect("a shape");
        assert!((release.time_s - trip_s).abs() < 1e-9 * trip_s, "{name}");
        let peak = release
            .temperature_c
            .iter()
            .copied()
            .fold(f64::MIN, f64::max);
        let told = o.trip.release().expect("trips").strip_peak_c;
        assert!((peak - told).abs() < 0.5, "{name}: {peak} {told}");
        let film = o.film.as_ref().expect("frames");
        let last = film.heating.last().expect("a frame");
        assert!((last.state.time_s - trip_s).abs() < 1e-6 * trip_s, "{name}");
        assert!(film.heating.iter().all(|f| f.state.closed), "{name}");
        assert!(film.cooling.len() > 40, "{name}: {}", film.cooling.len());
        assert!(film.cooling.iter().all(|f| !f.state.closed), "{name}");
        let highest = o.heat.iter().map(|h| h.electrical_w).fold(0.0, f64::max);
        assert!(highest > 0.1, "{name}");
        for h in &o.heat {
            let out = h.convection_w + h.radiation_w + h.terminals_w + h.contact_w;
            let defect = h.electrical_w - out - h.stored_w;
            assert!(defect.abs() < 1e-6 * highest, "{name}: {h:?}");
        }
    }
}

/// The cool-down ends beyond both waits, and meets the relatch deflection at the wait that is told.
#[test]
fn the_cool_down_passes_relatch_at_the_wait_told() {
    let o = outcome(&shipped("01-pug-mill.toml"));
    let (first, last) = (&o.cool_down[0], o.cool_down.last().expect("states"));
    let wait_s = o.reset.relatch_wait.time_s().expect("relatches");
    let relatch_mm = o.part.relatch_travel_mm.expect("a latch");
    assert!(last.time_s - first.time_s > wait_s);
    let pair = o
        .cool_down
        .windows(2)
        .find(|p| p[0].tip_deflection_mm >= relatch_mm && p[1].tip_deflection_mm < relatch_mm)
        .expect("passes relatch");
    assert!(pair[0].time_s - first.time_s <= wait_s + 1e-3);
    assert!(pair[1].time_s - first.time_s >= wait_s - 1e-3);
}

/// The first of the repeated trips is the trip; what is warm already trips sooner.
#[test]
fn repeated_resets_begin_with_the_trip_and_come_sooner() {
    for name in ["01-pug-mill.toml", "02-curtain-winch.toml"] {
        let o = outcome(&shipped(name));
        let times: Vec<f64> = o
            .repeated_resets
            .iter()
            .filter_map(|r| r.trips_after.time_s())
            .collect();
        let trip_s = o.trip.time_s().expect("trips");
        assert_eq!(times.len(), 6);
        assert!((times[0] - trip_s).abs() < 1e-4 * trip_s, "{name}");
        assert!(
            times.windows(2).all(|p| p[1] < p[0] * (1.0 + 1e-6)),
            "{name}: {times:?}"
        );
        let at_relatch = o.premature_reset[0]
            .trips_again_after
            .time_s()
            .expect("trips again");
        assert!((times[1] - at_relatch).abs() < 2e-3 * at_relatch, "{name}");
    }
}

/// A blade stands in the valleys of its energy; the closed side ends at the trip, the other at the
/// reset.
#[test]
fn the_branches_of_a_blade_end_where_it_snaps() {
    let o = outcome(&shipped("04-fog-machine.toml"));
    let snap = o.snap.expect("a blade");
    let reset_c = snap.reset_temperature_c.expect("resets");
    for point in &snap.branches {
        let t = point.temperature_c;
        // Right at the snap the two equilibria lie closer together than the rises looked at.
        if (t - snap.trip_temperature_c).abs() > 0.3 {
            assert_eq!(
                point.closed_mm.is_some(),
                t < snap.trip_temperature_c,
                "{t}"
            );
        }
        if (t - reset_c).abs() > 0.3 {
            assert_eq!(point.snapped_mm.is_some(), t > reset_c, "{t}");
        }
    }
    for curve in &snap.energy {
        for stands in &curve.stands_at_mm {
            let energy = |a: f64| {
                let near = curve.rise_mm.iter().zip(&curve.energy_mj);
                near.min_by(|x, y| (x.0 - a).abs().total_cmp(&(y.0 - a).abs()))
                    .map(|p| *p.1)
            };
            let here = energy(*stands).expect("a point");
            for aside in [stands - 0.12, stands + 0.12] {
                assert!(
                    energy(aside).expect("a point") > here,
                    "{:?} {stands}",
                    curve.moment
                );
            }
        }
    }
}

/// Nothing pulls on a free strip: its stresses carry neither a force nor a moment.
#[test]
fn the_free_strip_carries_no_force_and_no_moment() {
    for name in [
        "01-pug-mill.toml",
        "03-deck-oven.toml",
        "05-classroom-strip.toml",
    ] {
        let o = outcome(&shipped(name));
        let layers = o.stress.expect("stresses").layers;
        let (mut force, mut moment, mut scale) = (0.0, 0.0, 0.0);
        for l in &layers {
            let (a, b, t) = (l.free_mpa[0], l.free_mpa[1], l.to_mm - l.from_mm);
            force += 0.5 * (a + b) * t;
            // Linear stress about the first face of the strip.
            moment += l.from_mm * 0.5 * (a + b) * t + t * t * (a / 6.0 + b / 3.0);
            scale += 0.5 * (a.abs() + b.abs()) * t;
        }
        assert!(scale > 1.0, "{name}");
        assert!(force.abs() < 1e-9 * scale, "{name}: {force}");
        assert!(moment.abs() < 1e-9 * scale, "{name}: {moment}");
    }
}
