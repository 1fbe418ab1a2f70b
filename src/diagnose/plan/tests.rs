//! Plans of few machines whose answers can be told by hand.

use super::*;

/// Particles for which one advice alone is right, by its place among all.
fn rights(which: &[usize]) -> Vec<Rights> {
    let one = |k: &usize| std::array::from_fn(|a| a == *k);
    which.iter().map(one).collect()
}

const LOAD: usize = 0;
const JOINT: usize = 2;
const WORN: usize = 3;
const NOTHING: usize = 5;
const RUN: f64 = 10.0;

fn of(parts: &[(usize, usize)]) -> Vec<Rights> {
    let all: Vec<usize> = parts.iter().flat_map(|(k, n)| vec![*k; *n]).collect();
    rights(&all)
}

/// Two mends of known probability: the cost in closed form.
#[test]
fn the_expected_cost_is_that_of_the_best_order() {
    let rights = of(&[(JOINT, 60), (WORN, 40)]);
    let alive = Alive {
        rights: &rights,
        which: (0..100).collect(),
        watch_min: RUN,
    };
    // First the joint (0.6 / 30 is more than 0.4 / 40), then the part.
    assert!((alive.cost_of_mending() - (30.0 + 0.4 * 40.0)).abs() < 1e-9);
    assert_eq!(alive.next_mend(), Some(JOINT));
}

#[test]
fn a_look_that_separates_comes_before_mends_and_one_that_does_not_never() {
    let rights = of(&[(LOAD, 50), (WORN, 50)]);
    let value = |f: fn(usize) -> f64| (0..100).map(f).collect::<Vec<f64>>();
    let shown = [
        Shown {
            measurement: Measurement::ReadThePlate,
            values: value(|k| f64::from(u8::from(k < 50))),
        },
        Shown {
            measurement: Measurement::AirAtThePart,
            values: value(|k| (k % 2) as f64),
        },
    ];
    let steps = plan(&rights, &shown, &Energise::Yes, false, RUN);
    assert_eq!(steps.len(), 1, "{steps:?}");
    let Action::Measure { measurement } = &steps[0].action else {
        panic!("{steps:?}");
    };
    assert_eq!(*measurement, Measurement::ReadThePlate);
    for result in &steps[0].results {
        assert!(matches!(&result.then, Then::Mend { right, .. } if *right > 0.99));
    }
    let steps = plan(&rights, &shown[1..], &Energise::Yes, false, RUN);
    let mends = |s: &Step| matches!(s.action, Action::Mend { .. });
    assert!(steps.len() == 2 && steps.iter().all(mends), "{steps:?}");
    // The cheaper of two that are as probable.
    assert_eq!(
        steps[0].action,
        Action::Mend {
            mend: vec![Verdict::ReplaceTheProtector]
        }
    );
}

/// A joint that may burn comes first.
fn joint_first() -> Energise {
    Energise::NotYet {
        after: vec![First::ReMakeTheConnection {
            probability: 0.15,
            found: None,
            shows: None,
        }],
    }
}

#[test]
fn a_joint_that_may_burn_is_looked_at_first_and_nothing_is_planned_after_no() {
    // As seldom as it is asked for.
    let rights = of(&[(LOAD, 94), (JOINT, 6)]);
    let shown = [Shown {
        measurement: Measurement::LookAtTheJoints,
        values: (0..100).map(|k| f64::from(u8::from(k >= 94))).collect(),
    }];
    let not_yet = joint_first();
    let steps = plan(&rights, &shown, &not_yet, false, RUN);
    let first = &steps[0].action;
    assert!(
        matches!(first, Action::Measure { measurement } if *measurement == Measurement::LookAtTheJoints)
    );
    assert!(
        plan(
            &rights,
            &shown,
            &Energise::No { why: Vec::new() },
            false,
            RUN
        )
        .is_empty()
    );
}

#[test]
fn a_joint_that_shows_heat_is_re_made_even_where_it_is_probably_not_the_cause() {
    let rights = of(&[(LOAD, 55), (WORN, 30), (JOINT, 15)]);
    // Two in three of those that show heat are others'.
    let shown = [Shown {
        measurement: Measurement::LookAtTheJoints,
        values: (0..100).map(|k| f64::from(u8::from(k >= 55))).collect(),
    }];
    let not_yet = joint_first();
    let steps = plan(&rights, &shown, &not_yet, false, RUN);
    let Then::Mend { mend, right } = &steps[0].results[1].then else {
        panic!("{steps:?}");
    };
    assert_eq!(mend[..], [Verdict::ReMakeTheConnection]);
    assert!((right - 15.0 / 45.0).abs() < 1e-12, "{right}");
    // It may not be all: the steps go on for those whom it does not help.
    let replaces = |s: &Step| {
        let mend = vec![Verdict::ReplaceTheProtector];
        s.action == Action::Mend { mend }
    };
    assert!(steps[1..].iter().any(replaces), "{steps:?}");
}

/// A part that may be late is timed first, and mended by another one.
#[test]
fn a_part_that_may_be_late_is_timed_first_and_replaced() {
    let late = Advice::ALL
        .iter()
        .position(|a| *a == Advice::one(Verdict::DoNotReEnergise))
        .expect("an advice");
    let rights = of(&[(LOAD, 50), (late, 50)]);
    let shown = [
        Shown {
            measurement: Measurement::ReadThePlate,
            values: (0..100).map(|k| f64::from(u8::from(k < 50))).collect(),
        },
        Shown {
            measurement: Measurement::TimedTrip { current_a: 20.0 },
            values: (0..100).map(f64::from).collect(),
        },
    ];
    let not_yet = Energise::NotYet {
        after: vec![First::TimeATrip {
            probability: 0.5,
            passed: None,
            in_window: false,
        }],
    };
    let steps = plan(&rights, &shown, &not_yet, false, RUN);
    let timed = Measurement::TimedTrip { current_a: 20.0 };
    assert_eq!(steps[0].measured(), Some(timed), "{steps:?}");
    let Then::Mend { mend, .. } = &steps[0].results[1].then else {
        panic!("{steps:?}");
    };
    assert_eq!(mend[..], [Verdict::ReplaceTheProtector]);
}

#[test]
fn nothing_is_mended_on_a_reading_that_may_be_low() {
    let rights = of(&[(WORN, 70), (LOAD, 30)]);
    let shown = [Shown {
        measurement: Measurement::RunningCurrent,
        // It makes nothing known alone.
        values: (0..100).map(|k| f64::from(k % 10)).collect(),
    }];
    let first =
        |may_read_low| plan(&rights, &shown, &Energise::Yes, may_read_low, RUN)[0].measured();
    assert_eq!(first(true), Some(Measurement::RunningCurrent));
    assert_eq!(first(false), None);
}

/// A run of ten minutes cannot show a trip after fourteen.
#[test]
fn a_run_is_watched_for_twice_the_time_that_it_took_to_trip() {
    use crate::evidence::Event;
    let mut case = Case::of(crate::family::Nameplate::of_rating(16.0));
    assert_eq!(watch_min(&case), SHORTEST_RUN);
    case.events = [14.0, 9.0]
        .map(|min| Event::trip_from_cold("trip", 60.0 * min))
        .into();
    assert!((watch_min(&case) - 28.0).abs() < 1e-9);
    let step = |watch_min| {
        let rights = of(&[(NOTHING, 60), (LOAD, 40)]);
        plan(&rights, &[], &Energise::Yes, false, watch_min).swap_remove(0)
    };
    assert_eq!(step(28.0).minutes, 28.0);
    // Where it has to be watched for hours, something is mended first.
    let tries = |watch_min| {
        step(watch_min).action
            == Action::Mend {
                mend: vec![Verdict::NothingToMend],
            }
    };
    assert!(tries(28.0) && !tries(300.0));
}
