//! Units of kinds that have no form side by side are asked one by one, each question on one grid
//! that the nominal unit chose: held to the same units alone, to a higher accuracy.

use crate::support::shipped;
use relatch::internals::predict::examine_alone;
use relatch::internals::study::population::{Design, Plan, Settings, chunk, tally::Tally};

/// Largest relative difference of an answer from the unit alone; what `vary` states is 1e-4.
const STATED: f64 = 1e-4;

fn held_to_units_alone(file: &str, units: &[u64]) {
    let scenario = shipped(file);
    let settings = Settings::new(64, 5, Design::Random, 0, true, None).expect("settings");
    let plan = Plan::new(&scenario, &settings).expect("a plan");
    let once = plan.once.as_ref().expect("units are asked one by one");
    let (mut values, mut worst) = (Vec::new(), 0.0f64);
    for unit in units {
        let mut own = plan.scenario.clone();
        chunk::values_of(&plan, *unit, &mut values);
        plan.inputs.apply(&values, &mut own);
        let found = once.examine(&own, 1.0).expect("computed");
        let alone = examine_alone(&own, &plan.questions, 1.0, 1e-6).expect("computed");
        let answers = |f: &relatch::internals::predict::Finding| {
            [&f.trip_points_a[..], &f.times_s, &f.waits_s].concat()
        };
        for (found, alone) in answers(&found).into_iter().zip(answers(&alone)) {
            assert_eq!(found.is_finite(), alone.is_finite(), "{found} {alone}");
            if found.is_finite() {
                worst = worst.max((found / alone - 1.0).abs());
            }
        }
        // Its own numbers move a trip point by more than that.
        let own_a = plan.trip_point_a(&alone) / plan.trip_point_a(&plan.nominal);
        assert!((own_a - 1.0).abs() > 10.0 * STATED, "{own_a}");
    }
    assert!(worst < STATED, "{file}: {worst}");
}

#[test]
fn poles_asked_once_are_those_asked_alone() {
    held_to_units_alone("16-pump-lost-phase.toml", &[1, 7]);
}

#[test]
fn discs_asked_once_are_those_asked_alone() {
    held_to_units_alone("17-pump-motor-disc.toml", &[2, 5]);
}

/// The bytes of a chunk do not hang on what was asked before it.
#[test]
fn a_chunk_is_the_same_whoever_computes_it() {
    let scenario = shipped("16-pump-lost-phase.toml");
    let settings = Settings::new(6, 1, Design::Sobol, 0, true, None).expect("settings");
    let lines = |plan: &Plan| {
        let (tally, lines) = chunk::compute(plan, 0).expect("a chunk");
        let mut whole = Tally::new(plan).expect("a tally");
        whole.merge(&tally).expect("merged");
        lines
    };
    let plan = Plan::new(&scenario, &settings).expect("a plan");
    let (first, again) = (lines(&plan), lines(&plan));
    let afresh = lines(&Plan::new(&scenario, &settings).expect("a plan"));
    assert_eq!(first, again);
    assert_eq!(first, afresh);
    assert_eq!(first.lines().count(), 6);
}
