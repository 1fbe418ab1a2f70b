//! Sweeps: every point is what a run says of it, a stopped one goes on, and what is wrong gets its
//! reviewed message (`tests/wrong_sweeps`: `RELATCH_BLESS=1 cargo test --test studies sweep::`
//! rewrites them; read what it wrote).

use crate::reviewed::every_file_gets_its_message;
use relatch::bench::{Point, PointAnswer};
use relatch::internals::present::sweep_csv;
use relatch::internals::study::sweep::{Ledger, Sweep};

const WORKED: &str = include_str!("../../scenarios/08-worked-strip.toml");

#[test]
fn every_wrong_sweep_gets_its_reviewed_message() {
    every_file_gets_its_message("tests/wrong_sweeps", 14, &["NaN"], |path| {
        let sheet = std::fs::read_to_string(path).expect("a file");
        let sheet: toml::Table = sheet.parse().expect("TOML");
        let of = sheet["of"].as_str().expect("a path");
        let text = std::fs::read_to_string(of).expect("a scenario");
        let over = sheet["over"].as_array().expect("texts").iter();
        let over: Vec<&str> = over.map(|o| o.as_str().expect("a text")).collect();
        let together = sheet.get("together").is_some();
        Sweep::new((of, &text), &over, together)
    });
}

#[test]
fn every_point_is_what_a_prediction_of_it_says() {
    let over = [
        "strip.length=20 mm, 28 mm",
        "strip.push_point=18 mm, 26 mm",
        "load.current=6 A, 20 A",
    ];
    let swept = relatch::sweep(WORKED, &over, false).expect("a sweep");
    assert_eq!(swept.points.len(), 8);
    for point in &swept.points {
        let [length, push, current] = [0, 1, 2].map(|k| swept.axes[k].values[point.at[k]].as_str());
        let set = [
            ("strip.length", length),
            ("strip.push_point", push),
            ("load.current", current),
        ];
        let Ok(text) = relatch::set(WORKED, &set) else {
            assert_eq!((length, push), ("20 mm", "26 mm"));
            let why = matches!(&point.answer, PointAnswer::Impossible { why } if !why.is_empty());
            assert!(why, "{point:?}");
            continue;
        };
        let scenario = relatch::parse("a point", &text).expect("a scenario");
        let outcome = relatch::predict(&scenario).expect("a prediction");
        let summary = point.summary().expect("an answer");
        assert_eq!(summary.trip_time.time_s(), outcome.trip.time_s());
        let point_a = outcome.trip_point.current_a();
        assert_eq!(summary.trip_point.current_a(), point_a);
        assert_eq!(summary.relatch_wait, outcome.reset.relatch_wait);
        assert_eq!(summary.trip_time.time_s().is_some(), current == "20 A");
    }
    // What does not trip, and what cannot be, is said.
    let table = sweep_csv(&swept).expect("a table");
    let rows: Vec<&str> = table.lines().collect();
    let head = "point,strip.length_m,strip.push_point_m,load.current_a,answer,trip_time_s,";
    assert!(rows[0].starts_with(head), "{table}");
    assert!(
        rows[1].contains("0.02,0.018,6,holds_for_ever,never,"),
        "{table}"
    );
    assert!(rows[3].contains("0.02,0.026,6,impossible,"), "{table}");
    assert!(rows[3].contains("not a possible scenario"), "{table}");
}

#[test]
fn ratios_are_equal_and_paths_can_move_together() {
    let over = [
        "load.current=10 A to 40 A in 3 by ratio",
        "strip.width=5 mm to 7 mm in 3",
    ];
    let sweep = Sweep::new(("worked", WORKED), &over, true).expect("a sweep");
    assert_eq!(sweep.count(), 3);
    assert_eq!(sweep.axes[0].values, ["10 A", "20 A", "40 A"]);
    assert_eq!(sweep.axes[1].values, ["5 mm", "6 mm", "7 mm"]);
    let swept = sweep.run(&mut |_| {});
    assert!(swept.points.iter().all(|p| p.at[0] == p.at[1]));
}

#[test]
fn a_stopped_sweep_goes_on_to_the_same_bytes() {
    let over = ["load.current=8 A to 30 A in 20"];
    let sweep = Sweep::new(("worked", WORKED), &over, false).expect("a sweep");
    let folder = tempfile::tempdir().expect("a folder");
    let whole = Ledger::open(folder.path(), &sweep).expect("a folder");
    let first = whole.run(&sweep, &mut |_| {}).expect("a run");
    assert_eq!(first, sweep.run(&mut |_| {}));
    // Two of three chunks are lost, as when it had been stopped.
    let parts = folder.path().join("parts");
    for part in ["000000.json", "000002.json"] {
        std::fs::remove_file(parts.join(part)).expect("a part");
    }
    let again = Ledger::open(folder.path(), &sweep).expect("the same run");
    assert_eq!(again.done(&sweep), 8);
    let mut told = Vec::new();
    let second = again
        .run(&sweep, &mut |done| told.push(done))
        .expect("a run");
    assert_eq!(sweep_csv(&second).unwrap(), sweep_csv(&first).unwrap());
    assert!(
        told.iter().all(|done| (8..=20).contains(done)) && told.contains(&20),
        "{told:?}"
    );
    // Another sweep does not take its place, and a changed part is not taken in.
    let other = Sweep::new(
        ("worked", WORKED),
        &["load.current=8 A to 30 A in 21"],
        false,
    );
    let refused = Ledger::open(folder.path(), &other.expect("a sweep")).expect_err("taken");
    assert!(refused.to_string().contains("other values"), "{refused}");
    let part = parts.join("000001.json");
    let text = std::fs::read_to_string(&part).expect("a part");
    std::fs::write(&part, text.replacen("\"number\":8", "\"number\":9", 1)).expect("written");
    let damaged = again.run(&sweep, &mut |_| {}).expect_err("changed");
    assert!(damaged.to_string().contains("changed"), "{damaged}");
    assert!(first.points.iter().map(Point::summary).all(|s| s.is_some()));
}

/// With what is known of the metals each point has the band that a run states.
#[test]
fn points_have_the_band_of_the_metals() {
    use relatch::internals::predict::AskMetals;
    let part = include_str!("../../scenarios/01-pug-mill.toml");
    let over = ["load.current=6 A, 20 A"];
    let sweep = Sweep::new(("part", part), &over, false).expect("a sweep");
    let swept = sweep.with_metals(true).run(&mut |_| {});
    let mut options = relatch::Options::default();
    options.metals = AskMetals::Always;
    let scenario = relatch::parse("part", part).expect("a scenario");
    let run = relatch::internals::predict::predict(&scenario, &options, &mut |_, _| {});
    let run = run.expect("a run").metal_data.expect("metals");
    let at = swept.points[1].summary().expect("an answer");
    assert_eq!(at.metal_data.as_ref(), Some(&run));
    let table = sweep_csv(&swept).expect("a table");
    let rows: Vec<Vec<&str>> = table.lines().map(|l| l.split(',').collect()).collect();
    let column = |name: &str| rows[0].iter().position(|c| *c == name).expect("a column");
    let number = |name: &str| rows[2][column(name)].parse::<f64>().expect("a number");
    let band = run.trip_time_s.band().expect("a band");
    assert_eq!(number("trip_time_low_s"), band.low);
    assert_eq!(rows[0].last(), Some(&"note"));
    assert!(number("trip_time_low_s") < number("trip_time_s"));
    assert!(number("trip_time_high_s") > number("trip_time_s"));
    assert!(number("trip_point_low_a") < number("trip_point_a"));
}
