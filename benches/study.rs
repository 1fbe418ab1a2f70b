//! Studies beside what they stand for: a sweep and points asked one by one, a lot and the same by
//! polynomials, rare failures and plain draws, a design and a grid. Each pair in one run; the table
//! of ratios at the end is what to compare. `-- --test` does little of each.

use relatch::bench::Asked;
use relatch::internals::study::population::{Design, Settings, in_memory};
use relatch::{FailuresOptions, Targets};
use std::time::Instant;

const WORKED: &str = include_str!("../scenarios/08-worked-strip.toml");
const LOT: &str = include_str!("../scenarios/14-kiln-lot-set.toml");
const PUG_MILL: &str = include_str!("../scenarios/01-pug-mill.toml");

fn timed<T>(what: impl FnOnce() -> T) -> (T, f64) {
    let start = Instant::now();
    let made = what();
    (made, start.elapsed().as_secs_f64())
}

fn ratio(what: &str, beside: &str, over: f64) {
    println!("| {what} | {beside} | {over:.3} |");
}

/// Points of a sweep are those of predictions one after the other.
fn sweep(points: usize) {
    let over = format!("load.current=12 A to 40 A in {points} by ratio");
    let (swept, together_s) = timed(|| relatch::sweep(WORKED, &[&over], false).expect("a sweep"));
    let alone = || -> Vec<Option<f64>> {
        let values = swept.axes[0].values.iter();
        let one = |value: &String| {
            let text = relatch::set(WORKED, &[("load.current", value)]).expect("a scenario");
            let part = relatch::parse("part", &text).expect("a scenario");
            relatch::predict(&part).expect("a prediction").trip.time_s()
        };
        values.map(one).collect()
    };
    let (times, alone_s) = timed(alone);
    for (point, time_s) in swept.points.iter().zip(times) {
        let summary = point.summary().expect("an answer");
        assert_eq!(summary.trip_time.time_s(), time_s);
    }
    ratio(
        &format!("sweep of {points} points"),
        "whole predictions one by one: time",
        alone_s / together_s,
    );
}

/// A lot by polynomials has the median of the lot by the engine.
fn vary(units: u64) {
    let part = relatch::parse("lot", LOT).expect("a lot");
    let by = |surrogate: bool| {
        let settings = Settings::new(units, 1, Design::Sobol, 0, false, None).expect("settings");
        timed(|| in_memory(&part, &settings.by_surrogate(surrogate)).expect("a lot"))
    };
    let ((engine, engine_s), (quick, quick_s)) = (by(false), by(true));
    let middle =
        |lot: &relatch::VaryOutcome| lot.trip_point_a.quantiles[1].value.expect("a median");
    assert!((middle(&quick) / middle(&engine) - 1.0).abs() < 2e-3);
    ratio(
        &format!("vary with polynomials, {units} units"),
        "every unit by the engine: time",
        engine_s / quick_s,
    );
}

/// Draws that would be needed, were none drawn where parts fail, for as narrow an interval.
fn failures(units: u64) {
    let part = relatch::parse("lot", LOT).expect("a lot");
    let mut options = FailuresOptions::default();
    (options.years, options.units) = (10.0, units);
    let (found, found_s) = timed(|| relatch::failures(&part, &options).expect("failures"));
    for way in &found.ways {
        let shares = way.by_year.iter().map(|year| &year.failed);
        let rare = shares.filter(|f| f.share > 0.0 && f.high > f.low);
        let Some(last) = rare.min_by(|a, b| a.share.total_cmp(&b.share)) else {
            continue;
        };
        let half = 0.5 * (last.high - last.low);
        let plain = last.share * (1.0 - last.share) * (1.96 / half).powi(2);
        ratio(
            &format!(
                "failures, {:?}, a share of {:.1e} from {units} draws in {found_s:.1} s",
                way.failure, last.share
            ),
            "plain draws for the same interval: draws",
            plain / units as f64,
        );
    }
}

/// A grid over the free numbers made finer until one of its parts meets the wants.
fn design(finest: usize) {
    let ends = [
        ("strip.width", 3.0, 6.0),
        ("latch.release_travel", 1.0, 2.6),
    ];
    let mut text = "format = 1\ntitle = \"bench\"\nscenario = \"part\"\n".to_owned();
    for (path, from, to) in ends {
        text += &format!("[[free]]\npath = \"{path}\"\nfrom = \"{from} mm\"\nto = \"{to} mm\"\n");
    }
    text +=
        "[[want]]\nwhat = \"trip time\"\nof_rating = \"200 %\"\nis = \"20 s\"\nwithin = \"1 %\"\n";
    text += "[[want]]\nwhat = \"trip point\"\nis = \"12 A\"\nwithin = \"1 %\"\n";
    let targets = Targets::parse("bench", &text, PUG_MILL).expect("targets");
    let (found, found_s) = timed(|| relatch::design(&targets, &Asked::default()).expect("a part"));
    let meets = |width: f64, travel: f64| {
        let [width, travel] = [width, travel].map(|mm| format!("{mm} mm"));
        let values = [("strip.width", &*width), ("latch.release_travel", &*travel)];
        let part = relatch::set(PUG_MILL, &values).ok()?;
        let run = relatch::predict(&relatch::parse("part", &part).ok()?).ok()?;
        let (time_s, point_a) = (run.trip.time_s()?, run.trip_point.current_a()?);
        Some((time_s / 20.0 - 1.0).abs() <= 0.01 && (point_a / 12.0 - 1.0).abs() <= 0.01)
    };
    let grid = || {
        let mut asked = 0;
        let mut side = 3;
        while side <= finest {
            let at =
                |k: usize, [low, high]: [f64; 2]| low + (high - low) * k as f64 / (side - 1) as f64;
            for (x, y) in (0..side * side).map(|n| (n % side, n / side)) {
                asked += 1;
                if meets(at(x, [3.0, 6.0]), at(y, [1.0, 2.6])) == Some(true) {
                    return (asked, true);
                }
            }
            side = 2 * side - 1;
        }
        (asked, false)
    };
    let ((asked, hit), grid_s) = timed(grid);
    let what = format!(
        "design, 2 numbers, windows of 1 %: {} predictions",
        found.predicted
    );
    let grid = if hit {
        "a grid made finer until it meets"
    } else {
        "a grid that does not meet yet"
    };
    ratio(
        &what,
        &format!("{grid}: predictions"),
        asked as f64 / found.predicted as f64,
    );
    ratio(&what, &format!("{grid}: time"), grid_s / found_s);
}

fn main() {
    let is_test = std::env::args().any(|arg| arg == "--test");
    println!("| study | peer, and what is compared | peer over study |\n| --- | --- | --- |");
    match is_test {
        true => {
            sweep(4);
            vary(4_096);
            failures(1_024);
            design(5);
        }
        false => {
            sweep(64);
            vary(1_000_000);
            failures(16_384);
            design(129);
        }
    }
}
