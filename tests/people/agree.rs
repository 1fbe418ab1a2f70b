//! Two surfaces say the same of one answer, and what cannot be answered is said as such.

use relatch::answers::{Failed, Held, Outcome, Trip, TripPoint, TripTime};
use relatch::internals::present::block::{Screen, terminal};
use relatch::internals::present::short::shown;
use relatch::internals::present::{sweep_blocks, text};

fn shipped(name: &str) -> String {
    let path = format!("{}/scenarios/{name}.toml", env!("CARGO_MANIFEST_DIR"));
    std::fs::read_to_string(path).expect("a scenario")
}

fn outcome(name: &str, values: &[(&str, &str)]) -> Outcome {
    let text = relatch::set(&shipped(name), values).unwrap_or_else(|e| panic!("{e}"));
    let scenario = relatch::parse(name, &text).expect("a scenario");
    relatch::predict(&scenario).unwrap_or_else(|e| panic!("{name}: {e}"))
}

/// The load of the saw is what it is closed onto: both are 110 A.
#[test]
fn a_load_that_is_set_is_what_it_is_closed_onto() {
    let share = |values: &[(&str, &str)]| {
        let magnetic = outcome("15-theatre-saw", values).magnetic;
        magnetic.expect("an element").closing.probability
    };
    let shares = ["10 A", "110 A", "200 A", "400 A"].map(|a| share(&[("load.current", a)]));
    assert_eq!((shares[0], shares[3]), (0.0, 1.0), "{shares:?}");
    assert!(shares.windows(2).all(|w| w[0] <= w[1]), "{shares:?}");
    assert_eq!(shares[1], share(&[]));
    let apart = [("load.current", "10 A"), ("closing.current", "400 A")];
    assert_eq!(share(&apart), 1.0);
}

/// Who acts first and what is warned of stands beside the numbers of a sweep, too.
#[test]
fn a_sweep_says_who_acts_first_and_what_a_run_warns_of() {
    let over = ["load.step[0].current=110 A, 120 A"];
    let swept = relatch::sweep(&shipped("15-theatre-saw"), &over, false).expect("a sweep");
    let first = swept.points[0].summary().expect("an answer");
    let run = outcome("15-theatre-saw", &[]);
    let share = run.magnetic.as_ref().map(|m| m.closing.probability);
    assert_eq!(first.opens_at_once, share);
    assert!(share.is_some_and(|s| s > 0.2 && s < 0.5), "{share:?}");
    let said = terminal(&sweep_blocks(&swept), Screen::PLAIN).replace("\n", " ");
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        said.contains("the instantaneous element opens it at once in"),
        "{said}"
    );
    assert!(
        swept.cautions.starts_with(&run.cautions[..2]),
        "{:?}",
        swept.cautions
    );

    let over = ["snap_blade.rise=0.25 mm, 0.57 mm"];
    let swept = relatch::sweep(&shipped("04-fog-machine"), &over, false).expect("a sweep");
    let [creeps, snaps] = [0, 1].map(|k| &swept.points[k].summary().expect("an answer").warnings);
    assert!(
        !creeps.is_empty() && creeps != snaps,
        "{creeps:?} {snaps:?}"
    );
}

/// Air beyond the metals' data: a run in it is refused, and so is the row of a table.
#[test]
fn a_row_of_other_air_keeps_to_the_metals_data_as_a_run_does() {
    let rows = outcome(
        "01-pug-mill",
        &[("ask.ambients", "[\"-90 degC\", \"25 degC\"]")],
    );
    let [cold, usual] = &rows.ambient_correction[..] else {
        panic!("two rows")
    };
    assert_eq!(cold.trip_point, Held::OutOfRange);
    let out = matches!(
        &cold.trip_time,
        TripTime::Failed {
            why: Failed::OutOfRange { .. }
        }
    );
    assert!(out && cold.relatch_wait.time_s().is_none(), "{cold:?}");
    assert!(usual.trip_time.time_s().is_some());
    let text = relatch::set(
        &shipped("01-pug-mill"),
        &[("surroundings.ambient", "-90 degC")],
    );
    let scenario = relatch::parse("cold", &text.expect("a text")).expect("a scenario");
    assert!(relatch::predict(&scenario).is_err());
}

/// What a meter across one pole shows: its own resistance, warm, times its own current.
#[test]
fn the_drop_is_that_of_one_pole() {
    for name in ["01-pug-mill", "18-conveyor-class-20"] {
        let part = outcome(name, &[]).part;
        let drop_v = 1e-3 * part.drop_at_rated_mv.expect("it holds its rating");
        let warm = drop_v / (part.rated_current_a * part.resistance_ohm);
        assert!((1.0..1.2).contains(&warm), "{name}: {warm}");
    }
}

/// 12.24 A trips after half an hour, so what is held is said with the digit that is below it.
#[test]
fn what_is_held_is_told_from_a_load_that_trips() {
    let tripped = outcome("01-pug-mill", &[("load.current", "12.24 A")]);
    let held = tripped.trip_point.current_a().expect("some current");
    assert!(tripped.trip.trips() && held < 12.24, "{held}");
    let said = text(&tripped);
    let told: f64 = said
        .split_once("It holds ")
        .and_then(|(_, rest)| rest.split_once(" A"))
        .and_then(|(number, _)| number.parse().ok())
        .expect("a current");
    assert!(told < 12.24, "{told}");
    assert_eq!(shown(&tripped).lines[1].value, format!("{told} A"));
}

#[test]
fn where_the_air_changes_the_trip_point_says_in_which() {
    let oven = outcome("03-deck-oven", &[]);
    let range = oven.part.ambient_range_c.expect("it changes");
    assert!(
        (range[0] - 32.0).abs() < 1e-9 && range[1] > 60.0,
        "{range:?}"
    );
    let said = text(&oven);
    assert!(
        said.contains("air 32 to 72 °C") && said.contains("in air of 35 °C"),
        "{said}"
    );
    assert!(shown(&oven).lines[1].note.contains("in air of 35 °C"));
    let mill = outcome("01-pug-mill", &[]);
    assert!(mill.part.ambient_range_c.is_none() && !text(&mill).contains("A for ever in air"));
}

/// Just before the snap the blade still stands as it was made, whichever current takes it there.
#[test]
fn the_rise_at_release_is_that_before_the_snap() {
    for current in ["16 A", "17 A", "18 A", "20 A", "24 A", "30 A"] {
        let blade = outcome("04-fog-machine", &[("load.current", current)]);
        let Trip::After(release) = &blade.trip else {
            panic!("{current} trips it")
        };
        let rise_mm = release.tip_deflection_mm;
        assert!(rise_mm > 0.05, "{current}: {rise_mm}");
        let middle = blade.shapes.iter().find_map(|s| {
            let at_release = s.moment == relatch::internals::predict::Moment::Release;
            at_release.then(|| s.y_mm.iter().copied().fold(f64::NEG_INFINITY, f64::max))
        });
        let middle = middle.expect("its shape");
        assert!(
            (middle / rise_mm - 1.0).abs() < 0.1,
            "{current}: {middle} {rise_mm}"
        );
    }
}

/// The worst late part: no current releases it before it melts, and that is the answer.
#[test]
fn a_part_that_never_releases_is_answered() {
    let late = outcome("09-late-part", &[("latch.release_force_factor", "10")]);
    assert_eq!(late.trip_point, TripPoint::NeverReleases);
    assert!(!late.trip.trips());
}

/// The winch in air that keeps it open: a reset that is refused is an event, no error.
#[test]
fn a_history_goes_on_with_a_reset_that_is_refused() {
    let winch = outcome("02-curtain-winch", &[("surroundings.ambient", "90 degC")]);
    assert!(winch.reset.relatch_wait.is_never(), "{:?}", winch.reset);
    assert!(text(&winch).contains("NEVER"));
}

#[test]
fn what_is_not_known_is_no_no() {
    let short = [("load.current", "12.3 A"), ("ask.longest", "60 s")];
    let open = outcome("01-pug-mill", &short);
    let json: serde_json::Value =
        serde_json::from_str(&relatch::json(&open).expect("JSON")).expect("JSON");
    assert!(json["trip"]["trips"].is_null(), "{}", json["trip"]);
    let holds = outcome("01-pug-mill", &[("load.current", "12 A")]);
    let lines = shown(&holds).lines;
    assert_eq!(lines[2].value, "not asked: it does not trip");
    assert!(!lines[2].name.contains("after"), "{}", lines[2].name);
}
