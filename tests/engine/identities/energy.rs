//! What flows in either flows out or is stored.

use crate::support::{case, shipped};
use relatch::internals::device::{Device, Drive, Fineness, Model, Plant};
use relatch::internals::load::Programme;
use relatch::internals::predict::{Recorder, Unwatched, closed_steady};

/// Energy in minus out minus stored over a trip and its cool-down. The tolerance is that of the
/// time integration (1e-9 a step, some hundred steps), with a factor for the quadrature.
#[test]
fn energy_closes_over_trip_and_cooling_of_every_shipped_part() {
    for file in
        std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios")).expect("folder")
    {
        let name = file
            .expect("entry")
            .file_name()
            .into_string()
            .expect("name");
        if !name.ends_with(".toml") {
            continue;
        }
        let s = shipped(&name);
        let device = Device::new(&s).expect("device");
        let model = Model::new(
            &device,
            Fineness {
                order: 10,
                end_element_m: device.length_m / 5.0,
            },
        );
        let case = case(&s);
        let mut recorder = Recorder::new(1, vec![]);
        let mut session = case.start(&model, 1e-9).expect("start");
        let before = session.y.clone();
        let load = Programme::constant(2.0 * s.protector.rated_current_a);
        session
            .carry(&load, 0.0, 400.0, 0.0, &mut recorder)
            .expect("carry");
        session.open(&load, 0.0, 0.01, &mut recorder).expect("open");
        let t = session.t;
        session.wait(t + 30.0, &mut recorder).expect("wait");
        let stored = model.stored_j(&session.y, 293.15) - model.stored_j(&before, 293.15);
        let defect = recorder.energy.in_j - recorder.energy.out_j - stored;
        assert!(recorder.energy.in_j > 1e-3, "{name}: nothing happened");
        assert!(
            defect.abs() < 2e-7 * recorder.energy.in_j,
            "{name}: in {} out {} stored {stored} defect {defect}",
            recorder.energy.in_j,
            recorder.energy.out_j
        );
    }
}

/// In the steady state what is made is given away, to round-off.
#[test]
fn in_the_steady_state_power_in_equals_power_out() {
    for name in ["08-worked-strip.toml", "01-pug-mill.toml"] {
        let s = shipped(name);
        let device = Device::new(&s).expect("device");
        let model = Model::new(
            &device,
            Fineness {
                order: 9,
                end_element_m: device.length_m,
            },
        );
        let current = 0.8 * s.protector.rated_current_a;
        let y = closed_steady(&model, current, 298.15, &model.uniform(298.15))
            .expect("solve")
            .expect("steady");
        let plant = Plant {
            model: &model,
            drive: Drive::constant(current, 298.15),
        };
        let powers = plant.powers(0.0, &y);
        assert!(
            (powers.electrical_w - powers.lost_w).abs() < 1e-9 * powers.electrical_w,
            "{name}: {powers:?}"
        );
    }
}

/// Without current nothing changes at the ambient.
#[test]
fn a_cold_protector_stays_cold() {
    let s = shipped("01-pug-mill.toml");
    let device = Device::new(&s).expect("device");
    let model = Model::new(
        &device,
        Fineness {
            order: 9,
            end_element_m: device.length_m,
        },
    );
    let case = case(&s);
    let mut session = case.start(&model, 1e-7).expect("start");
    let cold = session.y.clone();
    session
        .carry(&Programme::constant(0.0), 0.0, 1000.0, 0.0, &mut Unwatched)
        .expect("carry");
    for (a, b) in session.y.iter().zip(&cold) {
        assert!((a - b).abs() < 1e-9);
    }
}
