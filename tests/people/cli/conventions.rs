//! What shells, `man` and authors of papers ask of a program.

use crate::program::{folder_with_scenario, names, run};
use std::fs;

#[test]
fn completions_name_every_command() {
    let folder = tempfile::tempdir().unwrap();
    let help = run(folder.path(), &["--help"]).out;
    let listed = help.lines().filter_map(|l| l.strip_prefix("  "));
    let commands: Vec<&str> = listed
        .filter(|l| l.starts_with(|c: char| c.is_ascii_lowercase()))
        .filter_map(|l| l.split_whitespace().next())
        .collect();
    assert!(
        commands.contains(&"diagnose") && commands.len() > 12,
        "{commands:?}"
    );
    for shell in ["bash", "zsh", "fish"] {
        let script = run(folder.path(), &["completions", shell]);
        assert_eq!(script.code, 0, "{}", script.err);
        for command in &commands {
            assert!(script.out.contains(command), "{shell}: {command}");
        }
    }
    let other = run(folder.path(), &["completions", "abacus"]);
    assert_eq!(other.code, 2);
    assert!(other.err.contains("possible values: bash"), "{}", other.err);
    // A page of the manual for the program and for each of them but help.
    let manual = run(folder.path(), &["manual", "--out", "man1"]);
    assert_eq!(manual.code, 0, "{}", manual.err);
    let pages = names(&folder.path().join("man1"));
    for command in commands.iter().filter(|c| **c != "help") {
        assert!(pages.contains(&format!("relatch-{command}.1")), "{pages:?}");
    }
    let page = fs::read_to_string(folder.path().join("man1/relatch-wait.1")).unwrap();
    assert!(
        page.contains(".TH relatch-wait 1") && page.contains("Air at the protector"),
        "{page}"
    );
    let again = run(folder.path(), &["manual", "--out", "man1"]);
    assert_eq!(again.code, 2, "never over a page: {}", again.err);
}

#[test]
fn a_citation_names_the_version_and_what_the_scenario_rests_on() {
    let (folder, _) = folder_with_scenario();
    let alone = run(folder.path(), &["cite"]);
    assert!(
        alone.out.starts_with("cff-version: 1.2.0\n"),
        "{}",
        alone.out
    );
    let version = format!("\nversion: {}\n", env!("CARGO_PKG_VERSION"));
    assert!(
        alone.out.contains(&version) && alone.out.contains("Timoshenko"),
        "{}",
        alone.out
    );
    let with = run(folder.path(), &["cite", "pug-mill.toml"]);
    let json = run(
        folder.path(),
        &["run", "pug-mill.toml", "--json", "--quiet"],
    )
    .out;
    let outcome: serde_json::Value = serde_json::from_str(&json).unwrap();
    let citations = outcome["citations"].as_array().expect("a list");
    assert!(!citations.is_empty());
    for source in citations {
        let line = format!("\n# - {}\n", source.as_str().unwrap());
        assert!(
            with.out.contains(&line) && !alone.out.contains(&line),
            "{line}"
        );
    }
}

/// A reading whose last digit is coarse says so, and how to narrow it.
#[test]
fn a_coarse_reading_says_how_to_narrow_it() {
    let folder = tempfile::tempdir().unwrap();
    let seen = |reading: &str| {
        let flags = [
            "--rating",
            "13 A",
            "--reading",
            reading,
            "--trip",
            "after 40 s from cold",
        ];
        let ran = run(
            folder.path(),
            &[&["diagnose", "--quiet"], &flags[..]].concat(),
        );
        assert_eq!(ran.code, 0, "{}", ran.err);
        ran.out.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let coarse = seen("5 A");
    assert!(
        coarse.contains("its last digit is 1 A") && coarse.contains("write every digit"),
        "{coarse}"
    );
    // It does so in few words rather than that a step has no room.
    assert!(!coarse.contains("4. Then as the full text"), "{coarse}");
    // Who writes 17 A has rounded by half of one.
    assert!(!seen("17 A").contains("its last digit"));
    assert!(!seen("17 A +- 0.5 A").contains("its last digit"));
}

/// Columns of tables name their units as the JSON does: where a column and a key differ in capitals
/// only, or in the way a unit is spelt, neither can be looked up by the other.
#[test]
fn columns_spell_units_as_json_does() {
    let (folder, _) = folder_with_scenario();
    let ran = run(
        folder.path(),
        &["run", "pug-mill.toml", "--quiet", "--out", "out"],
    );
    assert_eq!(ran.code, 0, "{}", ran.err);
    let json = fs::read_to_string(folder.path().join("out/result.json")).unwrap();
    let tables = names(&folder.path().join("out"));
    let tables: Vec<_> = tables.iter().filter(|n| n.ends_with(".csv")).collect();
    assert!(tables.len() >= 3, "{tables:?}");
    for table in tables {
        let text = fs::read_to_string(folder.path().join("out").join(table)).unwrap();
        for column in text.lines().next().unwrap().split(',') {
            assert_eq!(column, column.to_lowercase(), "{table}");
            assert!(!column.contains("degc"), "{table}: {column}");
        }
    }
    for (table, column) in [
        ("ambient_correction", "ambient_c"),
        ("characteristic", "current_a"),
        ("preload_shift", "trip_temperature_c"),
    ] {
        let text = fs::read_to_string(folder.path().join(format!("out/{table}.csv"))).unwrap();
        let header = text.lines().next().unwrap();
        assert!(header.split(',').any(|c| c == column), "{header}");
        assert!(json.contains(&format!("\"{column}\":")), "{column}");
    }
}
