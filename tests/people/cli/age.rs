use crate::program::{names, run};
use std::fs;
use std::path::Path;

fn pump() -> String {
    format!(
        "{}/scenarios/06-irrigation-pump-new.toml",
        env!("CARGO_MANIFEST_DIR")
    )
}

#[test]
fn age_prints_a_screenful_and_writes_a_folder() {
    let folder = tempfile::tempdir().unwrap();
    let ran = run(folder.path(), &["age", &pump(), "--units", "60", "--quiet"]);
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.err.is_empty(), "{}", ran.err);
    let at = |text: &str| {
        ran.out
            .find(text)
            .unwrap_or_else(|| panic!("{text}\n{}", ran.out))
    };
    // Late before early, and the sensitivity is always there.
    assert!(at("1  LATE") < at("2  EARLY"));
    assert!(at("0.02 % more current") < at("1 % larger coefficient"));
    assert!(
        ran.out.lines().all(|l| l.chars().count() <= 110),
        "{}",
        ran.out
    );
    assert!(!ran.out.contains("NaN"));
    let out = folder.path().join("relatch-out-06-irrigation-pump-new");
    let expected = [
        "age.json",
        "drift.csv",
        "drift.png",
        "drift.svg",
        "lives.csv",
        "lives.png",
        "lives.svg",
    ];
    assert_eq!(names(&out), expected);
    let drift = fs::read_to_string(out.join("drift.csv")).unwrap();
    assert!(drift.starts_with("years,preload_left_fraction"), "{drift}");
    assert!(drift.lines().count() > 10);
}

#[test]
fn age_in_json_is_json_alone_and_the_same_every_time() {
    let folder = tempfile::tempdir().unwrap();
    let arguments = [
        "age",
        &pump(),
        "--json",
        "--units",
        "40",
        "--seed",
        "7",
        "--years",
        "12",
    ];
    let first = run(folder.path(), &arguments);
    assert_eq!(first.code, 0, "{}", first.err);
    let value: serde_json::Value = serde_json::from_str(&first.out).unwrap();
    assert_eq!(value["horizon_years"], 12.0);
    assert_eq!(value["lives"]["seed"], 7);
    assert!(value["sensitivity"]["per_current"].as_f64().unwrap() < -1.0);
    assert!(!value["cautions"].as_array().unwrap().is_empty());
    assert_eq!(run(folder.path(), &arguments).out, first.out);
    assert!(names(folder.path()).is_empty());
}

#[test]
fn nothing_is_overwritten_without_force() {
    let folder = tempfile::tempdir().unwrap();
    let arguments = ["age", &pump(), "--units", "0", "--quiet", "--out", "here"];
    assert_eq!(run(folder.path(), &arguments).code, 0);
    let before = fs::read(folder.path().join("here/drift.csv")).unwrap();
    let again = run(folder.path(), &arguments);
    assert_eq!(again.code, 2);
    assert!(again.err.contains("--force"), "{}", again.err);
    assert_eq!(
        fs::read(folder.path().join("here/drift.csv")).unwrap(),
        before
    );
    let forced: Vec<&str> = arguments.into_iter().chain(["--force"]).collect();
    assert_eq!(run(folder.path(), &forced).code, 0);
}

#[test]
fn what_cannot_be_aged_is_refused_with_the_way_out() {
    let folder = tempfile::tempdir().unwrap();
    let strip = format!(
        "{}/scenarios/05-classroom-strip.toml",
        env!("CARGO_MANIFEST_DIR")
    );
    let without = run(folder.path(), &["age", &strip]);
    assert_eq!(without.code, 2);
    assert!(
        without.err.contains("[ageing]") && without.err.contains("help"),
        "{}",
        without.err
    );
    for (option, value) in [
        ("--years", "NaN"),
        ("--years", "1e9"),
        ("--years", "-3"),
        ("--years", "0.001"),
        ("--units", "99999999999"),
    ] {
        let argument = format!("{option}={value}");
        let ran = run(folder.path(), &["age", &pump(), &argument]);
        assert_eq!(ran.code, 2, "{argument}: {}", ran.err);
        // Of what stands on the command line the file is not to blame.
        let is_named = ran.err.starts_with(&format!("error: {option}: "));
        assert!(ran.out.is_empty() && is_named, "{argument}: {}", ran.err);
    }
    assert!(names(Path::new(folder.path())).is_empty());
}

/// The commented block of the starter is what a person will uncomment.
#[test]
fn the_starter_ages_once_its_block_is_uncommented() {
    let folder = tempfile::tempdir().unwrap();
    let starter = run(folder.path(), &["new", "latch"]).out;
    let at = starter.find("# [ageing]").expect("a block");
    let block: String = starter[at..]
        .lines()
        .map(|l| format!("{}\n", l.strip_prefix("# ").unwrap_or(l)))
        .collect();
    fs::write(
        folder.path().join("part.toml"),
        format!("{}{block}", &starter[..at]),
    )
    .unwrap();
    let ran = run(
        folder.path(),
        &["age", "part.toml", "--no-files", "--quiet", "--units", "20"],
    );
    assert_eq!(ran.code, 0, "{}", ran.err);
    assert!(ran.out.contains("1  LATE"), "{}", ran.out);
}

/// A contact that gains so much resistance that nothing settles ends the part; it does not end the
/// program.
#[test]
fn contacts_that_burn_up_end_the_life() {
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(pump()).unwrap();
    let line = text
        .lines()
        .find(|l| l.starts_with("film_per_operation"))
        .expect("the line");
    for film in ["10 uohm", "2 mohm"] {
        let changed = text.replace(line, &format!("film_per_operation = \"{film}\""));
        fs::write(folder.path().join("burns.toml"), changed).unwrap();
        let arguments = ["age", "burns.toml", "--json", "--units", "0", "--quiet"];
        let ran = run(folder.path(), &arguments);
        assert_eq!(ran.code, 0, "{}", ran.err);
        let value: serde_json::Value = serde_json::from_str(&ran.out).unwrap();
        let life = value["dates"]["trips_in_service"]["years"]
            .as_f64()
            .unwrap();
        assert!(life < 23.0, "{life}");
    }
}

#[test]
fn figures_of_years_can_be_had_in_the_dark() {
    let folder = tempfile::tempdir().unwrap();
    let drawn = |out: &str, theme: &str| {
        let pump = pump();
        let asked = [
            "age", &pump, "--units", "0", "--quiet", "--theme", theme, "--out", out,
        ];
        let ran = run(folder.path(), &asked);
        assert_eq!(ran.code, 0, "{}", ran.err);
        fs::read_to_string(folder.path().join(out).join("drift.svg")).unwrap()
    };
    let (light, dark) = (drawn("light", "light"), drawn("dark", "dark"));
    assert!(light.contains("fill=\"#ffffff\"") && !dark.contains("fill=\"#ffffff\""));
}
