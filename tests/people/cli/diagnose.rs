//! `relatch diagnose`: the screen, the long form, logs from flags, figures.

use crate::program::{names, ran, relatch, run};
use std::fs;
use std::path::{Path, PathBuf};

fn cases() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/cases")
}

/// A case that is soon weighed, in a folder of its own.
fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for name in ["09-pug-mill-recorded.toml", "09-pug-mill-seed-7.csv"] {
        fs::copy(cases().join(name), folder.path().join(name)).unwrap();
    }
    folder
}

#[test]
fn everything_fits_a_narrow_terminal() {
    let folder = folder();
    let arguments = ["diagnose", "09-pug-mill-recorded.toml", "--full"];
    let mut command = relatch(folder.path(), &arguments);
    let narrow = ran(&command.env("COLUMNS", "40").output().unwrap());
    assert_eq!(narrow.code, 0, "{}", narrow.err);
    for line in narrow.out.lines() {
        assert!(line.chars().count() <= 40, "{line}");
    }
}

#[test]
fn a_screen_first_and_everything_when_asked() {
    let folder = folder();
    let screen = run(folder.path(), &["diagnose", "09-pug-mill-recorded.toml"]);
    assert_eq!(screen.code, 0, "{}", screen.err);
    assert!(screen.out.lines().count() <= 32, "{}", screen.out);
    assert!(screen.out.contains("In full: --full"), "{}", screen.out);
    assert!(
        screen
            .out
            .contains("Log 09-pug-mill-seed-7.csv: 720 of 720 rows used")
    );
    let full = run(
        folder.path(),
        &["diagnose", "09-pug-mill-recorded.toml", "--full"],
    );
    assert_eq!(full.code, 0, "{}", full.err);
    // The import of the log in full comes before anything that rests on it.
    assert!(
        full.out
            .starts_with("09-pug-mill-seed-7.csv: 720 rows read"),
        "{}",
        full.out
    );
    assert!(full.out.contains("As it now seems:"), "{}", full.out);
    assert!(full.out.lines().count() > screen.out.lines().count() + 10);
    assert!(full.err.contains("assumed:"), "{}", full.err);
}

#[test]
fn the_long_form_is_no_json() {
    let folder = folder();
    for with in [&["--json"][..], &["--rating", "13 A"]] {
        let mut arguments = vec!["diagnose", "09-pug-mill-recorded.toml", "--full"];
        arguments.extend(with);
        assert_eq!(run(folder.path(), &arguments).code, 2, "{arguments:?}");
    }
}

/// A log from flags is read like that of a case: one line of it on the screen, its import in the
/// long form.
#[test]
fn a_log_needs_no_case() {
    let folder = folder();
    let flags = [
        "diagnose",
        "--rating",
        "13 A",
        "--log",
        "09-pug-mill-seed-7.csv",
        "--log-trips",
        "at 09:22",
        "--log-from",
        "cold",
        "--log-accuracy",
        "1 %",
    ];
    let done = run(folder.path(), &flags);
    assert_eq!(done.code, 0, "{}", done.err);
    assert!(
        done.out
            .contains("Log 09-pug-mill-seed-7.csv: 720 of 720 rows used"),
        "{}",
        done.out
    );
    assert!(done.out.contains("124 % of the rating"), "{}", done.out);
}

#[test]
fn wrong_use_of_a_log_ends_with_two_and_names_the_flag() {
    let folder = folder();
    let rating = ["diagnose", "--rating", "13 A"];
    let wrong: [(&[&str], &str); 7] = [
        (&["--log", "no-such.csv"], "no such file"),
        (&["--log", "."], "folder"),
        (
            &["--log", "09-pug-mill-seed-7.csv", "--log-trips", "soon"],
            "--log-trips \"soon\"",
        ),
        (
            &["--log", "09-pug-mill-seed-7.csv", "--log-values", "peaks"],
            "--log-values \"peaks\"",
        ),
        (&["--log-trips", "every fall"], "--log"),
        (
            &[
                "--log",
                "09-pug-mill-seed-7.csv",
                "--watch",
                "09-pug-mill-seed-7.csv",
            ],
            "--watch",
        ),
        (&["--theme", "dark", "--held", "1 h"], "--figures"),
    ];
    for (flags, says) in wrong {
        let arguments: Vec<&str> = rating.iter().chain(flags).copied().collect();
        let done = run(folder.path(), &arguments);
        assert_eq!(done.code, 2, "{flags:?}: {}", done.err);
        assert!(
            done.out.is_empty() && done.err.contains(says),
            "{flags:?}: {}",
            done.err
        );
    }
    let both = [
        "diagnose",
        "09-pug-mill-recorded.toml",
        "--log",
        "09-pug-mill-seed-7.csv",
    ];
    assert_eq!(run(folder.path(), &both).code, 2);
}

#[test]
fn figures_go_to_a_folder_and_never_over_files() {
    let folder = folder();
    let draw = [
        "diagnose",
        "09-pug-mill-recorded.toml",
        "--quiet",
        "--figures",
        "drawn",
    ];
    let done = run(folder.path(), &draw);
    assert_eq!(done.code, 0, "{}", done.err);
    assert!(done.out.contains("Figures in drawn: "), "{}", done.out);
    let drawn = folder.path().join("drawn");
    for name in ["strip_through_log.svg", "strip_through_log.png"] {
        assert!(
            names(&drawn).contains(&name.to_owned()),
            "{:?}",
            names(&drawn)
        );
    }
    let mine = drawn.join("strip_through_log.svg");
    fs::write(&mine, "mine").unwrap();
    let refused = run(folder.path(), &draw);
    assert_eq!(refused.code, 2);
    assert!(
        refused.out.is_empty() && refused.err.contains("--force"),
        "{}",
        refused.err
    );
    assert_eq!(fs::read_to_string(&mine).unwrap(), "mine");
    let mut forced = draw.to_vec();
    forced.extend(["--theme", "dark", "--force", "--json"]);
    let done = run(folder.path(), &forced);
    assert_eq!(done.code, 0, "{}", done.err);
    assert!(done.out.starts_with('{'), "{}", done.out);
    let svg = fs::read_to_string(&mine).unwrap();
    assert!(svg.contains("<svg") && !svg.contains("#ffffff"));
}

#[test]
fn a_trip_too_soon_for_a_strip_is_never_switched_on_again() {
    let folder = tempfile::tempdir().unwrap();
    let flags = ["diagnose", "--rating", "10 A", "--reading", "7 A", "--trip"];
    let told = |trip: &str| {
        let all: Vec<&str> = flags.iter().copied().chain([trip]).collect();
        let screen = run(folder.path(), &all);
        assert_eq!(screen.code, 0, "{}", screen.err);
        screen.out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let soon = told("after 0.02 s from cold");
    assert!(soon.contains("NO: do not reset"), "{soon}");
    assert!(soon.contains("no heated strip"), "{soon}");
    let slow = told("after 20 min from cold");
    assert!(!slow.contains("no heated strip"), "{slow}");
    // Four of them are told once, the soonest.
    let trips = ["after 0.04 s", "after 0.03 s", "after 0.03 s"];
    let more = trips.iter().flat_map(|t| ["--trip", t]);
    let all: Vec<&str> = flags
        .iter()
        .copied()
        .chain([trips[0]])
        .chain(more)
        .collect();
    let said = run(folder.path(), &all).out;
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert_eq!(said.matches("It tripped within").count(), 1, "{said}");
    assert!(said.contains("It tripped within 0.030 s"), "{said}");
}

/// A strip that its own current heats is asked for; what is none is told what it is.
#[test]
fn what_is_no_heated_strip_is_refused_with_the_reason() {
    let folder = tempfile::tempdir().unwrap();
    let told = |words: &[&str]| {
        let ran = run(folder.path(), words);
        (ran.code, ran.err)
    };
    let trip = ["--trip", "after 8 min"];
    let of = |first: &'static str, flags: &[&'static str]| {
        let rest = if first == "wait" {
            ["--load", "14 A"]
        } else {
            trip
        };
        told(&[&[first][..], flags, &rest].concat())
    };
    for command in ["diagnose", "wait"] {
        let (code, err) = of(command, &["--rating", "150 degC"]);
        assert!(code == 2 && err.contains("feels the machine"), "{err}");
        let (code, err) = of(command, &["--rating", "10 A", "--kind", "blown fuse"]);
        assert!(code == 2 && err.contains("never reset"), "{err}");
        let (code, err) = of(command, &["--rating", "10 A", "--kind", "discc"]);
        assert!(code == 2 && err.contains("did you mean \"disc\"?"), "{err}");
        let (code, err) = of(command, &["--rating", "10 A", "--kind", "Disc"]);
        assert_eq!(code, 0, "{err}");
    }
}

/// A time that would fit is not called wrong beside the range that holds it.
#[test]
fn an_entry_is_never_called_wrong_where_it_would_fit() {
    let folder = tempfile::tempdir().unwrap();
    let flags = [
        "diagnose",
        "--json",
        "--rating",
        "16 A",
        "--load",
        "13.6 A",
        "--drop",
        "123 mV at 13.6 A, sister 17 mV",
        "--terminals",
        "106 degC and 37 degC",
        "--trip",
        "after 30 min",
    ];
    let ran = run(folder.path(), &flags);
    let json: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    for misfit in json["does_not_fit"].as_array().expect("a list") {
        if misfit["entry"] == "trip after 30 min" {
            let range = &misfit["expected"]["trip_s"];
            let [low, high] = ["low", "high"].map(|end| range[end].as_f64().expect("s"));
            assert!(!(low..=high).contains(&1800.0), "{misfit}");
        }
    }
    // Nor one between two times, some of which would.
    let ran = run(
        &cases(),
        &["diagnose", "02-proofing-cabinet.toml", "--json"],
    );
    let json: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(json["does_not_fit"], serde_json::json!([]));
}

#[test]
fn what_is_not_at_hand_is_struck_from_every_step() {
    let steps = |cannot: &[&str]| {
        let mut words = vec!["diagnose", "01-pug-mill.toml", "--json"];
        words.extend(cannot.iter().flat_map(|c| ["--cannot", c]));
        let ran = run(&cases(), &words);
        assert_eq!(ran.code, 0, "{}", ran.err);
        let json: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
        let of = |list: &str| json[list].as_array().cloned().unwrap_or_default();
        let all = of("plan").into_iter().chain(of("next"));
        let measured: Vec<String> = all
            .filter_map(|s| Some(s["measure"].as_str()?.to_owned()))
            .collect();
        measured
    };
    let drop = "drop_beside_a_sister".to_owned();
    let free = steps(&[]);
    assert!(free.contains(&drop), "{free:?}");
    let without = steps(&["millivolts"]);
    assert!(
        !without.contains(&drop) && !without.is_empty(),
        "{without:?}"
    );
    let all = relatch::internals::evidence::Missing::NAMES.map(|(name, _)| name);
    assert!(steps(&all).is_empty());
    let ran = run(
        &cases(),
        &["diagnose", "01-pug-mill.toml", "--cannot", "milivolts"],
    );
    assert_eq!(ran.code, 2);
    assert!(
        ran.err.contains("did you mean \"millivolts\"?"),
        "{}",
        ran.err
    );
}

/// What was understood is said once, and not at all where nothing is to be said.
#[test]
fn what_was_understood_is_said_once_or_not_at_all() {
    let words = [
        "diagnose",
        "--rating",
        "16",
        "--reading",
        "13,2",
        "--reading",
        "13,2",
        "--held",
        "8 h",
    ];
    let said = run(&cases(), &words).err;
    assert_eq!(said.matches("\"13,2\" read as 13.2 A").count(), 1, "{said}");
    let quiet = run(&cases(), &[&words[..], &["--quiet"]].concat());
    assert_eq!((quiet.code, quiet.err.as_str()), (0, ""));
}

/// Numbers without a unit where one alone can be meant, and what became of every entry.
#[test]
fn flags_speak_as_people_do() {
    let words = [
        "diagnose",
        "--json",
        "--rating",
        "14",
        "--setting",
        "11",
        "--poles",
        "3",
        "--pole",
        "L2",
        "--load-kind",
        "heater",
        "--position",
        "high",
        "--reading",
        "14,2 on low",
        "--reading",
        "10.8 on high",
        "--meter",
        "true-rms",
        "--trip",
        "8 min from hot after 9",
        "--start",
        "50 for 0,7",
        "--supply",
        "229 at rest, 196 running of 230",
        "--drop",
        "123 mV at 10,8, sister 72 mV",
        "--terminals",
        "-5 and 31",
        "--room",
        "75 F",
        "--machine-rating",
        "12",
    ];
    let ran = run(&cases(), &words);
    assert_eq!(ran.code, 0, "{}", ran.err);
    for echo in [
        "\"14\" read as 14 A",
        "\"10.8 on high\" read as 10.8 A on high",
        "read as 8 min from hot after 9 A",
        "\"50 for 0,7\" read as 50 A for 0.7 s",
        "read as 229 V at rest, 196 V running of 230 V",
        "read as 123 mV at 10.8 A, sister 72 mV",
        "\"-5 and 31\" read as -5 °C and 31 °C",
        "\"75 F\" read as 23.9 °C",
        "the dial's setting, 11 A, stands for the rating",
        "pole L2 of 3",
        "left out, because it trips with the switch at high",
    ] {
        assert!(ran.err.contains(echo), "{echo}: {}", ran.err);
    }
    let json: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
    assert_eq!(json["rated_current_a"], 11.0);
    let wrong = [
        (["--setting", "20"], "--setting"),
        (["--load-kind", "heeter"], "did you mean \"heater\"?"),
        (["--supply", "196"], "one voltage"),
        (["--poles", "7"], "--poles"),
    ];
    for (flag, says) in wrong {
        let ran = run(
            &cases(),
            &[
                &["diagnose", "--rating", "14", "--reading", "11"][..],
                &flag,
            ]
            .concat(),
        );
        assert!(
            ran.code == 2 && ran.err.contains(says),
            "{flag:?}: {}",
            ran.err
        );
    }
}
