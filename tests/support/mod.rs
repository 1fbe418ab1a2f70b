//! Scenarios and cases for tests.
#![allow(dead_code)]

use relatch::device::{Device, Fineness, Model};
use relatch::load::Programme;
use relatch::predict::{Case, Converged, RunAnswer, run};
use relatch::scenario::{self, Scenario};
use std::path::Path;

/// A shipped scenario.
pub fn shipped(file: &str) -> Scenario {
    let path = Path::new(env!("CARGO_MANIFEST_DIR"))
        .join("scenarios")
        .join(file);
    scenario::read(&path).unwrap_or_else(|e| panic!("{file}: {e}"))
}

/// The worked strip with changes.
pub fn worked(change: impl FnOnce(&mut Scenario)) -> Scenario {
    let mut s = shipped("08-worked-strip.toml");
    change(&mut s);
    s
}

/// Case of a scenario.
pub fn case(s: &Scenario) -> Case {
    Case {
        ambient: s.surroundings.ambient.clone(),
        before: s.before,
        rated_current_a: s.protector.rated_current_a,
        accuracy: s.ask.accuracy,
        longest_s: s.ask.longest_s,
    }
}

/// Run a scenario's device at a constant current and cool it.
pub fn run_at(s: &Scenario, current_a: f64) -> Converged<RunAnswer> {
    let device = Device::new(s).expect("device");
    run(&device, &case(s), &Programme::constant(current_a), true).expect("run")
}

/// Model on a fine grid.
pub fn fine_model(s: &Scenario) -> Model {
    let device = Device::new(s).expect("device");
    Model::new(
        &device,
        Fineness {
            order: 14,
            end_element_m: device.length_m / 6.0,
        },
    )
}

/// Relative difference.
pub fn apart(a: f64, b: f64) -> f64 {
    (a - b).abs() / b.abs()
}
