//! Comparisons: each difference alone does what a prediction with it alone says, and the rest is
//! interaction.

use relatch::bench::Change;
use relatch::errors::CompareError;

const WORKED: &str = include_str!("../../scenarios/08-worked-strip.toml");

#[test]
fn each_difference_alone_does_what_a_prediction_with_it_says() {
    let sets = [
        ("strip.width", "6 mm"),
        ("latch.relatch_travel", "0.9 mm"),
        ("latch.preload", "0.2 N"),
    ];
    let other = relatch::set(WORKED, &sets).expect("another part");
    let outcome = relatch::compare(&[("worked", WORKED), ("other", &other)]).expect("compared");
    let cause = &outcome.causes[0];
    assert_eq!(cause.changes.len(), 3, "{:#?}", cause.changes);
    let first = &outcome.scenarios[0].summary;
    let time = |change: &Change| {
        change
            .effect(first, |s| s.trip_time.time_s())
            .expect("an effect")
    };
    for change in &cause.changes {
        let (path, _, to) = &change.keys[0];
        let alone = [(path.as_str(), to.as_deref().expect("set"))];
        let text = relatch::set(WORKED, &alone).expect("a scenario");
        let run = relatch::predict(&relatch::parse("alone", &text).unwrap()).expect("a run");
        let own = run.trip.time_s().unwrap() - first.trip_time.time_s().unwrap();
        assert_eq!(time(change), own, "{path}");
        let is_wait_alone = path == "latch.relatch_travel";
        assert_eq!(own == 0.0, is_wait_alone, "{path}: {own}");
    }
    // A wider strip is later, and so is one that pushes against a spring.
    assert!(time(&cause.changes[0]) > 0.0 && cause.changes.iter().all(|c| c.keys.len() == 1));
    // The curves are those of the parts: later at every current.
    let curve = |k: usize| &outcome.scenarios[k].curve;
    assert_eq!((curve(0).len(), curve(1).len()), (24, 24));
    assert!(
        curve(0)
            .iter()
            .all(|at| at.trip_time.time_s().is_some() && at.relatch_wait.time_s().is_some())
    );
}

/// What is known of the metals is said of each part.
#[test]
fn each_part_has_the_band_of_its_metals() {
    let part = include_str!("../../scenarios/01-pug-mill.toml");
    let other = relatch::set(part, &[("strip.width", "4 mm")]).expect("another part");
    let outcome = relatch::compare(&[("one", part), ("other", &other)]).expect("compared");
    for part in &outcome.scenarios {
        let data = part.summary.metal_data.as_ref().expect("metals");
        let band = data.trip_time_s.band().expect("a band");
        let time_s = part.summary.trip_time.time_s().expect("a time");
        assert!(band.low < time_s && band.high.expect("it trips") > time_s);
    }
}

#[test]
fn what_only_goes_together_is_changed_together() {
    let sets = [
        ("cooling.posture", "constant"),
        ("cooling.coefficient", "14 W/(m2 K)"),
    ];
    let other = relatch::set(WORKED, &sets).expect("another part");
    let outcome = relatch::compare(&[("worked", WORKED), ("other", &other)]).expect("compared");
    let changes = &outcome.causes[0].changes;
    let together = changes
        .iter()
        .find(|c| c.keys.len() == 2)
        .expect("together");
    let paths: Vec<&str> = together.keys.iter().map(|k| k.0.as_str()).collect();
    assert_eq!(paths, ["cooling.posture", "cooling.coefficient"]);
    let whole = &outcome.scenarios[1].summary;
    assert_eq!(
        together.summary.as_ref().map(|s| s.trip_time.time_s()),
        Some(whole.trip_time.time_s())
    );
}

#[test]
fn scenarios_alike_but_for_their_titles_differ_in_nothing() {
    let other = WORKED.replace("title = \"", "title = \"Another ");
    let outcome = relatch::compare(&[("worked", WORKED), ("other", &other)]).expect("compared");
    assert!(outcome.causes[0].changes.is_empty());
}

#[test]
fn what_cannot_be_compared_is_named() {
    let wrong = "title = \"a part without a strip\"";
    let error = relatch::compare(&[("worked", WORKED), ("other", wrong)]).expect_err("no strip");
    assert!(matches!(&error, CompareError::Read { name, .. } if name == "other"));
    assert!(error.to_string().starts_with("other: "), "{error}");
}
