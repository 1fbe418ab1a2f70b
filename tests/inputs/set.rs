//! Values set in the text of a scenario: what is meant is set and nothing else; what is wrong gets
//! its reviewed message (`tests/wrong_sets`: `RELATCH_BLESS=1 cargo test --test inputs set::`
//! rewrites them; read what it wrote).

use crate::reviewed::every_file_gets_its_message;
use relatch::internals::load::Current;
use relatch::internals::scenario::{Convection, Scenario, read_text, set};
use std::process::Command;

const RIGHT: &str = include_str!("../support/right.toml");

fn changed(text: &str, values: &[(&str, &str)]) -> (String, Scenario) {
    set(("right.toml", text), "--set", values).unwrap_or_else(|e| panic!("{values:?}\n{e}"))
}

#[test]
fn every_wrong_value_gets_its_reviewed_message() {
    every_file_gets_its_message("tests/wrong_sets", 18, &["NaN", "understood"], |path| {
        let sheet = std::fs::read_to_string(path).expect("a file");
        let sheet: toml::Table = sheet.parse().expect("TOML");
        let of = sheet["of"].as_str().expect("a path");
        let text = std::fs::read_to_string(of).expect("a scenario");
        let pairs = sheet["set"].as_array().expect("pairs").iter();
        let texts = |k: usize| {
            pairs
                .clone()
                .map(move |pair| pair[k].as_str().expect("a text"))
        };
        let values: Vec<(&str, &str)> = texts(0).zip(texts(1)).collect();
        set((of, &text), "--set", &values)
    });
}

#[test]
fn each_kind_of_value_is_set_and_the_rest_is_kept() {
    let text = RIGHT.replace(
        "length = \"36 mm\"",
        "# as measured\nlength = \"36 mm\" # with the clamp",
    );
    let (new, s) = changed(
        &text,
        &[
            ("strip.length", "38 mm +- 1 %"),
            ("strip.layer[1].thickness", "0.4 mm"),
            ("cooling.posture", "\"constant\""),
            ("cooling.coefficient", "12 W/(m2 K)"),
            ("strip.allow_extrapolation", "true"),
            ("ask.waits", "1 s, 20 s"),
            ("ask.accuracy", "1e-6"),
            ("housing.heat_capacity", "8 J/K"),
            ("housing.conductance", "60 mW/K"),
            ("title", "Another"),
        ],
    );
    assert_eq!(
        (s.strip.length_m, s.strip.layers[1].thickness_m),
        (0.038, 0.4e-3)
    );
    assert!(matches!(
        s.cooling.convection,
        Convection::Constant { coefficient_w_per_m2_k } if coefficient_w_per_m2_k == 12.0
    ));
    assert!(s.strip.allow_extrapolation);
    assert_eq!(
        (s.ask.waits_s.as_slice(), s.ask.accuracy),
        (&[1.0, 20.0][..], 1e-6)
    );
    assert_eq!(s.housing.expect("set").conductance_w_per_k, 0.06);
    assert_eq!(s.title, "Another");
    assert_eq!(s.tolerances.len(), 1);
    assert_eq!(s.changed.len(), 10);
    assert_eq!(s.changed[0], "strip.length = 38 mm +- 1 %");
    assert!(
        new.contains("# as measured\nlength = \"38 mm +- 1 %\" # with the clamp"),
        "{new}"
    );
    // Every line of the file is there still, but title, length and posture; the other thickness
    // looks as the first did.
    let gone = text.lines().filter(|line| !new.lines().any(|l| l == *line));
    assert_eq!(gone.count(), 3, "{new}");
    // What was set stays said when more is set; of one path the last counts.
    let (_, again) = changed(&new, &[("strip.length", "37 mm"), ("load.current", "30 A")]);
    assert_eq!(again.changed.len(), 11);
    assert!(!again.changed.contains(&s.changed[0]));
    assert_eq!(again.strip.length_m, 0.037);
}

#[test]
fn what_stands_instead_takes_the_other_out() {
    let text = std::fs::read_to_string("scenarios/10-impatient-resets.toml").expect("shipped");
    let (_, s) = changed(
        &text,
        &[
            ("load.current", "30 A"),
            ("before.steady_at", "5 A"),
            ("history[1].for", "9 s"),
        ],
    );
    assert!(matches!(s.load.segments[0].current, Current::Constant(a) if a == 30.0));
    assert_eq!(s.load.segments.len(), 1);
    let inline = RIGHT.replace(
        "[load]\ncurrent = \"20 A\"",
        "[load]\nstep = [{ current = \"9 A\" }]",
    );
    assert_ne!(inline, RIGHT);
    let (_, s) = changed(&inline, &[("load.step[0].current", "11 A")]);
    assert!(matches!(s.load.segments[0].current, Current::Constant(a) if a == 11.0));
}

#[test]
fn a_problem_elsewhere_keeps_its_line_of_the_file() {
    let text = format!(
        "{}\n",
        RIGHT.replace("width", "push_point = \"36 mm\"\nwidth")
    );
    let error = set(
        ("right.toml", &text),
        "--set",
        &[("strip.length", "30 mm"), ("strip.current_share", "0.5")],
    );
    let message = error
        .expect_err("the push point lies beyond the end")
        .to_string();
    let line = 1 + text
        .lines()
        .position(|l| l.starts_with("push_point"))
        .expect("there");
    assert!(
        message.contains(&format!("right.toml:{line}:")),
        "{message}"
    );
    // A file that is wrong by itself is refused as it is.
    let wrong = RIGHT.replace("36 mm", "36 A");
    let read = read_text("right.toml", &wrong)
        .expect_err("a wrong unit")
        .to_string();
    let with = set(
        ("right.toml", &wrong),
        "--set",
        &[("strip.length", "36 mm")],
    );
    assert_eq!(with.expect_err("the same").to_string(), read);
}

#[test]
fn the_program_sets_and_says_what_was_set() {
    let folder = tempfile::tempdir().expect("folder");
    let run = |args: &[&str]| {
        let done = Command::new(env!("CARGO_BIN_EXE_relatch"))
            .args(args)
            .current_dir(folder.path())
            .output()
            .expect("run");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
        (done.status.code(), text(done.stdout), text(done.stderr))
    };
    std::fs::write(folder.path().join("right.toml"), RIGHT).expect("write");
    let flags = [
        "--set",
        "strip.length=38 mm",
        "--set",
        "load.current=\"30 A\"",
    ];
    let said = "changed: strip.length = 38 mm, load.current = 30 A";
    for command in ["run", "curve", "explain"] {
        let (code, out, err) = run(&[&[command, "right.toml", "--quiet"][..], &flags].concat());
        let flat = out.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(
            code == Some(0) && flat.contains(said),
            "{command}: {out}{err}"
        );
    }
    let json = [&["run", "right.toml", "--json", "--quiet"][..], &flags].concat();
    let (_, out, _) = run(&json);
    let json: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!(json["changed"][1], "load.current = 30 A");
    // The older flag is the same thing under a shorter name.
    let (_, with_load, _) = run(&[
        "run",
        "right.toml",
        "--json",
        "--quiet",
        "--set",
        "strip.length=38 mm",
        "--load",
        "30 A",
    ]);
    assert_eq!(out, with_load);
    let (code, _, err) = run(&[
        "run",
        "right.toml",
        "--set",
        "load.current=9 A",
        "--load",
        "30 A",
    ]);
    assert!(code == Some(2) && err.contains("set twice"), "{err}");
    let (_, warmer, _) = run(&[
        "run",
        "right.toml",
        "--json",
        "--quiet",
        "--load",
        "30",
        "--air",
        "-5 degC",
    ]);
    let flags = [
        "--set",
        "load.current=30 A",
        "--set",
        "surroundings.ambient=-5 degC",
    ];
    let json = [&["run", "right.toml", "--json", "--quiet"][..], &flags].concat();
    let by_path: serde_json::Value = serde_json::from_str(&run(&json).1).expect("JSON");
    let warmer: serde_json::Value = serde_json::from_str(&warmer).expect("JSON");
    let changed = |json: &serde_json::Value| {
        let mut all: Vec<_> = json["changed"].as_array().expect("a list").to_vec();
        all.sort_by_key(ToString::to_string);
        all
    };
    assert_eq!(changed(&warmer), changed(&by_path));
    assert_eq!(warmer["trip"], by_path["trip"]);
    let (code, _, err) = run(&["curve", "right.toml", "--air", "-5", "--currents", "2x"]);
    assert!(
        code == Some(0) && err.contains("\"-5\" read as -5 °C"),
        "{err}"
    );
    let (code, _, err) = run(&["run", "right.toml", "--load", "-5 A"]);
    assert!(
        code == Some(2) && err.contains("a current that a protector could carry"),
        "{err}"
    );
    let (code, _, err) = run(&["run", "right.toml", "--set", "strip.length"]);
    assert!(code == Some(2) && err.contains("path and value"), "{err}");
}
