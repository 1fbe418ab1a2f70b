//! Fits of published characteristics: they find the parts that the numbers came from, and the part
//! that is written does what the fitted one does. Wrong datasheets
//! (`tests/wrong_datasheets/NAME.toml`) get reviewed messages (`NAME.txt`). `RELATCH_BLESS=1 cargo
//! test --test studies fit::` rewrites them; read what it wrote.

use crate::reviewed::every_file_gets_its_message;
use crate::support::made;
use crate::support::{apart, case, run_at};
use relatch::internals::device::Device;
use relatch::internals::evidence::{datasheet_starter, read_datasheet, read_datasheet_text};
use relatch::internals::family::{
    Effort, Family, FitAnswer, Kept, Nameplate, Point, Printed, fit_in, fit_with,
};
use relatch::internals::load::Programme;
use relatch::internals::predict;
use relatch::internals::scenario::{self, Before, Scenario};
use relatch::internals::statistics::stream::{Purpose, Stream};

const FOLDER: &str = "tests/wrong_datasheets";
fn small() -> Effort {
    made!(Effort {
        designs: 24,
        steps: 20,
        parts: 30,
        ..Effort::default()
    })
}

/// Parts that are in no family of the fit give the points, with 10 % of scatter; the 90 % range of
/// the trip point should then hold it in nine of ten cases. Eight or more of twelve fails for 90 %
/// in 4 of 1000.
#[test]
fn the_trip_point_behind_the_points_lies_in_its_range() {
    let base = Nameplate::of_rating(10.0);
    let others = Family::of_designs(&base, 5000..5016).expect("a family");
    let (mut held, mut trials, mut width) = (0, 0, 0.0);
    let (low, high) = others.trip_multiples();
    for k in 0..12 {
        let stream = Stream::new(77, Purpose::other(50), k);
        let truth = others.draw(&stream).expect("a draw");
        let mut plate = base.clone();
        plate.points = [1.5, 2.0, 3.0, 5.0]
            .iter()
            .enumerate()
            .map(|(i, multiple)| {
                let scatter = (0.1 * stream.normal(i as u32)).exp();
                let time_s = others.cold_trip_s(truth, *multiple) * scatter;
                Point::cold(*multiple, time_s, 0.1)
            })
            .collect();
        let family = Family::new(&plate, 40).expect("a family");
        let effort = made!(Effort {
            parts: 40,
            ..small()
        });
        let answer = fit_in(&family, k, effort, &mut |_, _| {}).expect("a fit");
        let range = answer.trip_multiple;
        let true_multiple = truth.placing.trip_multiple;
        trials += 1;
        held += usize::from(range.low <= true_multiple && true_multiple <= range.high);
        width += (range.high - range.low) / (0.9 * (high - low));
    }
    assert!(held >= 8, "{held} of {trials}");
    // The points say something.
    assert!(
        width / f64::from(trials) < 0.8,
        "{}",
        width / f64::from(trials)
    );
}

fn trip_s(s: &Scenario, multiple: f64, hot_from: f64) -> f64 {
    let mut case = case(s);
    if hot_from > 0.0 {
        case.before = Before::Hot {
            fraction_of_rated: hot_from,
        };
    }
    let device = Device::new(s).expect("device");
    let load = Programme::constant(multiple * s.protector.rated_current_a);
    let answer = predict::run(&device, &case, &load, false).expect("run");
    answer.value.trip_time_s.unwrap_or(f64::INFINITY)
}

/// The scenario that is written gives the trip times of the fitted part within 2 %, its trip point
/// within 1 %, its resistance within a per mille and its wait within 3 %.
fn written_does_the_same(answer: &FitAnswer) {
    let text = answer.scenario.as_ref().expect("a scenario");
    let s = scenario::read_text("fitted", text).unwrap_or_else(|e| panic!("{e}"));
    let rated = answer.rated_current_a;
    for row in &answer.rows {
        let Some(fitted_s) = row.best_s else { continue };
        if row.multiple < 1.02 * answer.best.trip_multiple {
            continue;
        }
        let run_s = trip_s(&s, row.multiple, row.after_multiple);
        assert!(
            apart(run_s, fitted_s) < 0.02,
            "{} x from {}: {run_s} s and {fitted_s} s",
            row.multiple,
            row.after_multiple
        );
    }
    let device = Device::new(&s).expect("device");
    let reference_k = answer.reference_ambient_c + 273.15;
    let point = predict::trip_point(&device, reference_k, rated, 1e-4).expect("trip point");
    let point_a = point.value.current_a().expect("a current");
    assert!(
        apart(point_a, answer.best.trip_multiple * rated) < 0.01,
        "{point_a} A"
    );
    assert!(
        apart(
            device.resistance_ohm(reference_k),
            answer.best.resistance_ohm
        ) < 1e-3
    );
    let reset_s = run_at(&s, 2.0 * rated)
        .value
        .relatch_wait_s
        .expect("it relatches");
    assert!(
        apart(reset_s, answer.best.reset_s.expect("it relatches")) < 0.03,
        "{reset_s} s"
    );
}

#[test]
fn the_written_part_does_what_the_fitted_one_does() {
    let sheet = read_datasheet_text("starter", datasheet_starter()).expect("the starter reads");
    let answer = fit_with(&sheet.nameplate, 1, small(), &mut |_, _| {}).expect("a fit");
    assert!(
        answer.rows.iter().all(|r| r.kept == Kept::Yes),
        "{:?}",
        answer.rows
    );
    assert!(answer.rows.iter().any(|r| r.after_multiple > 0.0));
    written_does_the_same(&answer);
}

#[test]
fn other_ratings_are_written_too() {
    for (rated, seed) in [(3.0, 2), (32.0, 3)] {
        let mut plate = Nameplate::of_rating(rated).at_reference(298.15);
        plate.points = vec![Point::cold(2.0, 40.0, 0.2), Point::cold(4.0, 8.0, 0.2)];
        let answer = fit_with(&plate, seed, small(), &mut |_, _| {}).expect("a fit");
        written_does_the_same(&answer);
    }
}

/// Every shipped datasheet says that it is invented, is followed by the best part in everything it
/// prints, and its written part does what the fitted one does.
#[test]
fn every_shipped_datasheet_is_followed() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/scenarios/datasheets");
    let mut count = 0;
    for entry in std::fs::read_dir(folder).expect("folder") {
        let path = entry.expect("entry").path();
        let sheet = read_datasheet(&path).unwrap_or_else(|e| panic!("{e}"));
        assert!(sheet.shows.contains("Invented for demonstration"));
        assert!(sheet.shows.len() > 100, "{} has no story", path.display());
        let effort = made!(Effort {
            designs: 60,
            ..small()
        });
        let answer = fit_with(&sheet.nameplate, 1, effort, &mut |_, _| {}).expect("a fit");
        for row in &answer.rows {
            assert_eq!(row.kept, Kept::Yes, "{}: {row:?}", path.display());
        }
        assert!(answer.effective_designs > 5.0, "{}", path.display());
        for row in answer.air.iter().filter(|a| a.printed.is_some()) {
            let (usable, printed) = (row.usable.expect("usable"), row.printed.expect("printed"));
            assert!(usable.low <= printed + 0.025 && printed - 0.025 <= usable.high);
        }
        written_does_the_same(&answer);
        count += 1;
    }
    assert!(count >= 2, "{count}");
}

/// Time at a multiple on one line of a drawn curve, straight between its points on logarithmic
/// axes.
fn drawn_s(answer: &FitAnswer, after: f64, multiple: f64, quantile: usize) -> Option<f64> {
    let curve = answer
        .curves
        .iter()
        .find(|c| c.after_multiple == after)
        .expect("a curve of every start");
    let pair = curve
        .rows
        .windows(2)
        .find(|p| p[0].multiple <= multiple && multiple <= p[1].multiple)
        .expect("every published current lies on the curve");
    let (low, high) = (pair[0].trip_s[quantile]?, pair[1].trip_s[quantile]?);
    let share = (multiple / pair[0].multiple).ln() / (pair[1].multiple / pair[0].multiple).ln();
    Some((low.ln() + (high / low).ln() * share).exp())
}

/// The curves of the figure and the table are of the same parts: they agree to 3 % where all parts
/// trip (two grids and straight lines between the currents), cold and hot; the band over the air is
/// 1 at the reference.
#[test]
fn the_drawn_curve_goes_where_the_table_says() {
    let sheet = read_datasheet_text("starter", datasheet_starter()).expect("the starter reads");
    let answer = fit_with(&sheet.nameplate, 1, small(), &mut |_, _| {}).expect("a fit");
    assert_eq!(answer.curves.len(), 2);
    let mut compared = 0;
    for row in answer.rows.iter().filter(|r| r.holds == 0.0) {
        let Some(table) = &row.trip_s else { continue };
        for (k, expected) in [table.low, table.median, table.high].iter().enumerate() {
            if row.multiple < 1.02 * answer.trip_multiple.high {
                continue;
            }
            let drawn = drawn_s(&answer, row.after_multiple, row.multiple, k).expect("trips");
            assert!(
                apart(drawn, *expected) < 0.03,
                "{} x: {drawn} s and {expected} s",
                row.multiple
            );
            compared += 1;
        }
    }
    assert!(compared >= 15, "{compared}");
    for curve in &answer.curves {
        for pair in curve.rows.windows(2) {
            assert!(pair[0].multiple < pair[1].multiple);
            // More current is never slower (the tolerance of the runs is 0.1 %).
            if let (Some(slow), Some(fast)) = (pair[0].trip_s[1], pair[1].trip_s[1]) {
                assert!(fast <= 1.002 * slow, "{pair:?}");
            }
        }
    }
    let reference = answer.air_curve.first().expect("an air table is given");
    assert!((reference.ambient_c - 23.0).abs() < 1e-9);
    let usable = reference.usable.expect("usable");
    assert!(
        apart(usable.low, 1.0) < 2e-3 && apart(usable.high, 1.0) < 2e-3,
        "{usable:?}"
    );
}

fn one_point(rated_a: f64) -> Nameplate {
    let mut plate = Nameplate::of_rating(rated_a);
    plate.points = vec![Point::cold(2.0, 30.0, 0.2)];
    plate
}

/// Parts of small rating have a heater winding; their metals stay near metals (0.4 to 1.8 uohm m),
/// and what is written does what was fitted.
#[test]
fn small_ratings_are_heated_by_a_winding() {
    for (rated_a, ohms) in [(0.5, 0.5..8.0), (1.6, 0.05..0.8)] {
        let answer = fit_with(&one_point(rated_a), 1, small(), &mut |_, _| {}).expect("a fit");
        let best = &answer.best;
        let winding_ohm = best.winding_ohm.expect("a winding");
        assert!(
            ohms.contains(&winding_ohm),
            "{rated_a} A: {winding_ohm} ohm"
        );
        assert!(best.resistance_ohm > winding_ohm);
        assert!(
            (0.5..2.2).contains(&best.resistivity_factor),
            "{}",
            best.resistivity_factor
        );
        written_does_the_same(&answer);
    }
    let answer = fit_with(&one_point(5.0), 1, small(), &mut |_, _| {}).expect("a fit");
    assert!(answer.best.winding_ohm.is_none());
}

/// A winding of kilohms is no winding of a protector.
#[test]
fn what_cannot_be_a_part_is_not_written() {
    let answer = fit_with(&one_point(0.01), 1, small(), &mut |_, _| {}).expect("a fit");
    assert!(answer.scenario.is_none());
    assert!(
        answer.resistance_ohm.low > 1000.0,
        "{:?}",
        answer.resistance_ohm
    );
}

/// A trip time ten times too long at one current is not averaged away.
#[test]
fn points_that_do_not_belong_together_are_named() {
    let mut sheet = read_datasheet_text("starter", datasheet_starter()).expect("the starter reads");
    sheet.nameplate.points[3].time_s *= 10.0;
    let answer = fit_with(&sheet.nameplate, 1, small(), &mut |_, _| {}).expect("a fit");
    let missed = answer
        .rows
        .iter()
        .filter(|r| r.kept != Kept::Yes && matches!(r.printed, Printed::Point { .. }))
        .count();
    assert!(missed >= 1, "{:?}", answer.rows);
}

#[test]
fn every_wrong_datasheet_gets_its_reviewed_message() {
    every_file_gets_its_message(FOLDER, 8, &[], read_datasheet);
}
