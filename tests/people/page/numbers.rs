//! The numbers of the sliders are those of the command: the scenario that the page exports, run by
//! the program, gives the same record to the last digit.

use super::client::Served;
use serde_json::{Value, json};
use std::io::Write;
use std::process::{Command, Stdio};

/// What `relatch run --json` says of a scenario's text.
pub fn run(text: &str) -> Value {
    let mut child = Command::new(env!("CARGO_BIN_EXE_relatch"))
        .args(["run", "-", "--json", "--quiet"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("start");
    let mut input = child.stdin.take().expect("input");
    input.write_all(text.as_bytes()).expect("write");
    drop(input);
    let done = child.wait_with_output().expect("run");
    let said = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success(), "{said}\n{text}");
    serde_json::from_slice(&done.stdout).expect("JSON")
}

const CASES: [(&str, &str); 16] = [
    ("01-pug-mill", "{}"),
    ("01-pug-mill", r#"{"current_a":13.1}"#),
    ("01-pug-mill", r#"{"current_a":11}"#),
    ("01-pug-mill", r#"{"posture":"upright"}"#),
    (
        "01-pug-mill",
        r#"{"current_a":33.3,"ambient_c":41,"preload_left_percent":70,"thickness_percent":108,"posture":"flat"}"#,
    ),
    (
        "02-curtain-winch",
        r#"{"current_a":5.2,"thickness_percent":93}"#,
    ),
    ("03-deck-oven", "{}"),
    ("03-deck-oven", r#"{"ambient_c":50,"current_a":40}"#),
    ("04-fog-machine", r#"{"preload_left_percent":80}"#),
    ("05-classroom-strip", r#"{"thickness_percent":120}"#),
    ("06-irrigation-pump-new", r#"{"preload_left_percent":45}"#),
    ("07-irrigation-pump-worn", r#"{"ambient_c":-10}"#),
    ("08-worked-strip", r#"{"posture":"flat"}"#),
    (
        "08-worked-strip",
        r#"{"current_a":60,"thickness_percent":70}"#,
    ),
    ("09-late-part", r#"{"current_a":25}"#),
    ("10-impatient-resets", r#"{"current_a":18,"ambient_c":35}"#),
];

#[test]
fn the_exported_scenario_gives_the_numbers_of_the_page() {
    let s = Served::start();
    for (preset, sliders) in CASES {
        let question = format!(r#"{{"preset":"{preset}","sliders":{sliders}}}"#);
        let answer = s.post("/answer", &question);
        assert_eq!(answer.status, 200, "{question}: {}", answer.text());
        let page = &answer.json()["outcome"];
        let exported = s.post("/scenario", &question);
        assert_eq!(exported.status, 200, "{}", exported.text());
        let command = run(exported.text());
        for key in ["scenario", "part", "trip", "trip_point", "reset"] {
            assert_eq!(page[key], command[key], "{key} of {question}");
        }
        for key in [
            "trip_time_relative",
            "trip_point_relative",
            "relatch_wait_relative",
            "computed_with",
        ] {
            let (a, b) = (
                &page["error_estimate"][key],
                &command["error_estimate"][key],
            );
            assert_eq!(a, b, "{key} of {question}");
        }
    }
}

#[test]
fn an_unmoved_page_exports_the_scenario_as_it_is() {
    let s = Served::start();
    let exported = s.post("/scenario", r#"{"preset":"03-deck-oven"}"#);
    let file = std::fs::read_to_string("scenarios/03-deck-oven.toml").expect("file");
    assert_eq!(exported.text(), file);
}

/// The drawn curve is coarse, but its points lie where the command has them, within the error they
/// state.
#[test]
fn the_curve_lies_on_the_command_s() {
    let s = Served::start();
    let answer = s.post("/answer", r#"{"preset":"08-worked-strip"}"#).json();
    let points = answer["outcome"]["characteristic"]["cold"]
        .as_array()
        .expect("points")
        .clone();
    assert_eq!(points.len(), 20);
    let currents: Vec<String> = points
        .iter()
        .map(|p| format!("{} A", p["current_a"]))
        .collect();
    let done = Command::new(env!("CARGO_BIN_EXE_relatch"))
        .args(["curve", "scenarios/08-worked-strip.toml", "--json"])
        .args(["--currents", &currents.join(", ")])
        .output()
        .expect("run");
    let said = String::from_utf8_lossy(&done.stderr);
    assert!(done.status.success(), "{said}");
    let record: Value = serde_json::from_slice(&done.stdout).expect("JSON");
    let exact = record["characteristic"]["cold"]
        .as_array()
        .or_else(|| record["cold"].as_array())
        .expect("points");
    for (coarse, exact) in points.iter().zip(exact) {
        let (a, b) = (
            coarse["time_s"].as_f64().expect("time"),
            exact["time_s"].as_f64().expect("time"),
        );
        let error = coarse["error_relative"].as_f64().expect("error");
        assert!(error <= 1e-3);
        assert!(
            (a / b - 1.0).abs() <= error + 1e-5,
            "{a} against {b}, {error}"
        );
    }
}

/// The worn pump in hot air: its latch lets go as the load comes on, and no surface calls that
/// held.
#[test]
fn what_trips_at_once_is_drawn_and_said_so() {
    let s = Served::start();
    let question =
        r#"{"preset":"07-irrigation-pump-worn","sliders":{"ambient_c":90,"current_a":20}}"#;
    let answer = s.post("/answer", question).json();
    let trip = &answer["shown"]["lines"][0];
    assert_eq!(
        (&trip["answer"], &trip["value"]),
        (&json!("at_once"), &json!("at once"))
    );
    let reset = &answer["shown"]["lines"][2];
    assert_eq!(reset["answer"], "never", "{reset}");
    // There every current trips at once or never, and no curve is drawn.
    assert_eq!(answer["curve"], "", "{}", answer["curve"]);
}

/// A figure is drawn for the room it has, and its axes can be read off it.
#[test]
fn figures_fit_the_screen() {
    let s = Served::start();
    for (width, units) in [(340, "0 0 810 "), (760, "0 0 1812 ")] {
        let question = format!(
            r#"{{"preset":"08-worked-strip","look":{{"width_px":{width},"is_dark":true}}}}"#
        );
        let answer = s.post("/answer", &question).json();
        for name in ["curve", "strip"] {
            let svg = answer[name].as_str().expect("a figure");
            assert!(svg.contains(&format!("viewBox=\"{units}")), "{svg}");
            assert!(svg.contains("#16191e"), "dark paper");
        }
        let curve = answer["curve"].as_str().expect("a figure");
        for name in [
            "data-x-min",
            "data-y-max",
            "data-x-scale=\"log\"",
            "data-series=\"cold",
        ] {
            assert!(curve.contains(name), "{name}");
        }
    }
}
