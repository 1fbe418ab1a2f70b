//! Polynomials in the engine's place against the engine, unit by unit and lot by lot.

use crate::support::shipped;
use relatch::internals::study::population::{
    Design, Plan, Settings, VaryOutcome, chunk, tally::Tally,
};

fn plan(file: &str, units: u64, surrogate: bool) -> Plan {
    let settings = Settings::new(units, 5, Design::Sobol, 0, true, None).expect("settings");
    Plan::new(&shipped(file), &settings.by_surrogate(surrogate)).expect("a plan")
}

fn computed(plan: &Plan) -> (VaryOutcome, String) {
    let mut whole = Tally::new(plan).expect("a tally");
    let mut table = String::new();
    for k in plan.settings.own_chunks() {
        let (part, lines) = chunk::compute(plan, k).expect("a chunk");
        whole.merge(&part).expect("merged");
        table += &lines;
    }
    (VaryOutcome::new(plan, &whole).expect("an outcome"), table)
}

/// Every number of every unit is within the bound stated, though none of these units was among those
/// on which it was measured; counts at limits are those of the engine.
#[test]
fn every_unit_is_within_the_bound() {
    for file in ["13-kiln-lot.toml", "14-kiln-lot-set.toml"] {
        let (quick, exact) = (plan(file, 8192, true), plan(file, 8192, false));
        let ((ours, our_units), (theirs, their_units)) = (computed(&quick), computed(&exact));
        let record = ours.accuracy.surrogate.expect("it was asked for");
        let bound = record.bound_relative.expect("a bound");
        assert!(
            record.is_used && bound < 0.011 && record.engine < 200,
            "{file}: {record:?}"
        );
        assert!(theirs.accuracy.surrogate.is_none());
        let numbers = |line: &str| -> Vec<Option<f64>> {
            line.split(',').map(|cell| cell.parse().ok()).collect()
        };
        let (mut worst, mut count) = (0.0f64, 0);
        for (a, b) in our_units.lines().zip(their_units.lines()) {
            for (x, y) in numbers(a).into_iter().zip(numbers(b)) {
                assert_eq!(x.is_some(), y.is_some(), "{a}\n{b}");
                let (Some(x), Some(y)) = (x, y) else { continue };
                if x != y {
                    worst = worst.max((x / y - 1.0).abs());
                    count += 1;
                }
            }
        }
        assert!(
            count > 50_000 && worst > 0.0 && worst <= bound,
            "{file}: {worst} {count} {record:?}"
        );
        for (a, b) in ours.limits.iter().zip(&theirs.limits) {
            let units = |s: &relatch::internals::study::population::SidesRecord| {
                (s.late.units, s.early.units)
            };
            assert_eq!(units(&a.sides), units(&b.sides));
        }
    }
}

/// A lot whose parts differ too much for polynomials says so, and is the engine's.
#[test]
fn what_polynomials_do_not_follow_is_simulated() {
    let mut wild = shipped("13-kiln-lot.toml");
    for t in &mut wild.tolerances {
        let is_strip = t.path.starts_with("strip.");
        t.standard_uncertainty *= if is_strip { 8.0 } else { 1.0 };
    }
    let settings = Settings::new(256, 5, Design::Sobol, 0, true, None).expect("settings");
    let with = |yes| Plan::new(&wild, &settings.clone().by_surrogate(yes)).expect("a plan");
    let (quick, exact) = (computed(&with(true)), computed(&with(false)));
    let record = quick.0.accuracy.surrogate.expect("it was asked for");
    assert!(!record.is_used && record.engine == 0, "{record:?}");
    assert_eq!(quick.1, exact.1);
}
