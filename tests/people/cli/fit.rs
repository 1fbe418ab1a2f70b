//! `relatch fit`, as a person runs it.

use crate::program::{names, run};

#[test]
fn a_datasheet_gives_a_screenful_and_a_scenario_that_runs() {
    let folder = tempfile::tempdir().expect("a folder");
    let made = run(folder.path(), &["new", "datasheet", "--out", "sheet.toml"]);
    assert_eq!(made.code, 0, "{}", made.err);
    let fitted = run(
        folder.path(),
        &[
            "fit",
            "sheet.toml",
            "--designs",
            "24",
            "--out",
            "part.toml",
            "--quiet",
        ],
    );
    assert_eq!(fitted.code, 0, "{}", fitted.err);
    for words in [
        "Trip point",
        "leave open",
        "maker's curve",
        "part.toml",
        "part-fit.svg",
    ] {
        assert!(fitted.out.contains(words), "{words}: {}", fitted.out);
    }
    assert!(
        !fitted.out.contains("NaN") && !fitted.out.contains("inf"),
        "{}",
        fitted.out
    );
    assert!(
        fitted.out.lines().all(|line| line.chars().count() <= 100),
        "{}",
        fitted.out
    );
    let part = std::fs::read_to_string(folder.path().join("part.toml")).expect("written");
    assert!(part.starts_with("# One of many parts"), "{part}");
    let ran = run(
        folder.path(),
        &[
            "curve",
            "part.toml",
            "--currents",
            "2x",
            "--json",
            "--quiet",
        ],
    );
    assert_eq!(ran.code, 0, "{}", ran.err);

    // Not over a file, and nothing beside it.
    let again = run(folder.path(), &["fit", "sheet.toml", "--out", "part.toml"]);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("--force"), "{}", again.err);
    let there = ["part-fit.png", "part-fit.svg", "part.toml", "sheet.toml"];
    assert_eq!(names(folder.path()), there);

    // Neither over a figure: nothing at all is written then.
    std::fs::remove_file(folder.path().join("part.toml")).expect("removed");
    let beside = run(folder.path(), &["fit", "sheet.toml", "--out", "part.toml"]);
    assert_eq!(beside.code, 2);
    assert!(beside.err.contains("part-fit"), "{}", beside.err);
    assert!(!folder.path().join("part.toml").exists());
}

#[test]
fn json_stands_alone_and_is_the_same_every_time() {
    let folder = tempfile::tempdir().expect("a folder");
    run(folder.path(), &["new", "datasheet", "--out", "sheet.toml"]);
    let once = || {
        run(
            folder.path(),
            &["fit", "sheet.toml", "--designs", "16", "--json"],
        )
    };
    let (first, second) = (once(), once());
    assert_eq!(first.code, 0, "{}", first.err);
    assert_eq!(first.out, second.out);
    let value: serde_json::Value = serde_json::from_str(&first.out).expect("JSON");
    assert!(value["trip_multiple"]["median"].as_f64().expect("a number") > 1.0);
    assert!(!value["cautions"].as_array().expect("a list").is_empty());
}

#[test]
fn what_no_heated_strip_does_is_refused_in_words() {
    let folder = tempfile::tempdir().expect("a folder");
    let sheet = "format = 1\nkind = \"datasheet\"\ntitle = \"t\"\n[protector]\nrating = \"10 A\"\n\
        [[protector.window]]\nmultiple = 2.0\nat_least = \"100 s\"\nat_most = \"120 s\"\n\
        [[protector.window]]\nmultiple = 2.2\nat_most = \"2 s\"\n";
    std::fs::write(folder.path().join("odd.toml"), sheet).expect("write");
    let ran = run(
        folder.path(),
        &["fit", "odd.toml", "--designs", "16", "--out", "part.toml"],
    );
    assert_eq!(ran.code, 1, "{}{}", ran.out, ran.err);
    assert!(ran.err.contains("limits"), "{}", ran.err);
    assert_eq!(names(folder.path()), ["odd.toml"]);
    let wrong = run(folder.path(), &["fit", "missing.toml"]);
    assert_eq!(wrong.code, 2);
    assert!(wrong.err.contains("relatch new datasheet"), "{}", wrong.err);
}

#[test]
fn the_json_of_a_fit_carries_codes_with_their_words_and_is_read_back() {
    let folder = tempfile::tempdir().expect("a folder");
    run(folder.path(), &["new", "datasheet", "--out", "sheet.toml"]);
    let words = ["fit", "sheet.toml", "--designs", "24", "--json", "--quiet"];
    let fitted = run(folder.path(), &words);
    assert_eq!(fitted.code, 0, "{}", fitted.err);
    let answer: relatch::FitAnswer = serde_json::from_str(&fitted.out).expect("read back");
    assert!(!answer.open.is_empty() && answer.cautions.len() > 3);
    let mut json: serde_json::Value = serde_json::from_str(&fitted.out).expect("JSON");
    assert_eq!(json["format"], 2);
    for list in ["open", "assumed", "cautions"] {
        for item in json[list].as_array_mut().expect("a list") {
            let item = item.as_object_mut().expect("an object");
            assert!(
                item.remove("text").is_some_and(|text| text.is_string()),
                "{item:?}"
            );
        }
    }
    assert_eq!(serde_json::to_value(&answer).expect("a value"), json);
}
