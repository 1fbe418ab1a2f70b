//! The figure of a fit: nothing is cut, every colour has a dark one, and it says what it shows.

use super::sheet::{assert_every_colour_has_a_dark_one, assert_nothing_reaches_the_edge};
use crate::support::made;
use relatch::internals::evidence::{datasheet_starter, read_datasheet_text};
use relatch::internals::family::{Effort, FitAnswer, Kept, Nameplate, Printed, Window, fit_with};
use relatch::internals::present::plot::{Figure, fit_figure};
use std::sync::OnceLock;

fn small() -> Effort {
    made!(Effort {
        designs: 16,
        steps: 12,
        parts: 10,
        ..Effort::default()
    })
}

/// Points from cold and hot, windows and an air table.
fn full() -> &'static FitAnswer {
    static ANSWER: OnceLock<FitAnswer> = OnceLock::new();
    ANSWER.get_or_init(|| {
        let sheet = read_datasheet_text("starter", datasheet_starter()).expect("it reads");
        let mut answer = fit_with(&sheet.nameplate, 1, small(), &mut |_, _| {}).expect("a fit");
        answer.title =
            "A long title of a sheet that does not fit on one line of any figure ".repeat(4);
        answer
    })
}

/// Nothing but a rating: assumed windows.
fn bare() -> &'static FitAnswer {
    static ANSWER: OnceLock<FitAnswer> = OnceLock::new();
    ANSWER.get_or_init(|| {
        let plate = Nameplate::of_rating(4.0);
        fit_with(&plate, 1, small(), &mut |_, _| {}).expect("a fit")
    })
}

/// More windows than the key has room for, each missed.
fn crowded() -> FitAnswer {
    let mut answer = full().clone();
    for row in &mut answer.rows {
        row.kept = Kept::TooLate;
    }
    let window = answer
        .rows
        .iter()
        .find(|r| matches!(r.printed, Printed::Window { .. }))
        .expect("a window")
        .clone();
    for k in 0..30 {
        let mut more = window.clone();
        more.multiple = 1.5 + 0.1 * f64::from(k);
        answer.rows.push(more);
    }
    answer
}

fn drawn(answer: &FitAnswer) -> Figure {
    let figure = fit_figure(answer).expect("a figure");
    // It may travel alone.
    assert!(
        figure
            .svg
            .contains("A fitted part is no approval, no replacement, no setting.")
    );
    figure
}

#[test]
fn it_says_what_it_shows() {
    let all = drawn(full());
    assert_eq!(all.stem, "fit");
    for words in [
        "5 published points",
        "2 windows",
        "from hot broken",
        "against the air",
    ] {
        assert!(
            all.description.contains(words),
            "{words}: {}",
            all.description
        );
    }
    let bare = drawn(bare());
    for words in ["0 published points", "4 windows"] {
        assert!(bare.description.contains(words), "{}", bare.description);
    }
    for words in ["hot", "against the air", "NaN", "inf"] {
        assert!(!bare.description.contains(words), "{}", bare.description);
    }
    // The small panel is drawn, and so are the missed values.
    assert!(all.svg.len() > bare.svg.len());
    assert!(drawn(&crowded()).description.contains("misses 37"));
}

#[test]
fn every_colour_has_a_dark_one_and_nothing_is_cut() {
    for answer in [full(), bare(), &crowded()] {
        let figure = drawn(answer);
        assert_every_colour_has_a_dark_one(&figure);
        assert_nothing_reaches_the_edge(&figure);
    }
}

/// Parts that never trip in the drawn range leave nothing to draw.
#[test]
fn without_a_trip_there_is_no_figure() {
    let mut answer = bare().clone();
    for row in answer.curves.iter_mut().flat_map(|c| &mut c.rows) {
        row.trip_s = [None; 3];
    }
    assert!(fit_figure(&answer).is_none());
}

/// A window from hot asks for a curve from that load.
#[test]
fn a_hot_window_gets_its_curve() {
    let mut plate = Nameplate::of_rating(6.0);
    plate.windows.push(made!(Window {
        multiple: 1.6,
        at_least_s: 0.0,
        at_most_s: 3600.0,
        after_multiple: 0.9,
        ..plate.windows[0]
    }));
    let answer = fit_with(&plate, 1, small(), &mut |_, _| {}).expect("a fit");
    let starts: Vec<f64> = answer.curves.iter().map(|c| c.after_multiple).collect();
    assert_eq!(starts, [0.0, 0.9]);
    assert!(drawn(&answer).description.contains("from hot broken"));
}
