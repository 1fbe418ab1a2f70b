//! Runs on disk: stopped and continued, sharded and merged, one unit by its number; what does not
//! fit is refused.

use crate::program::{Ran, names, relatch, run};
use std::collections::BTreeMap;
use std::path::Path;
use std::time::{Duration, Instant};

const UNITS: &str = "6000";

/// A folder with the shipped lots.
fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    for file in ["13-kiln-lot.toml", "14-kiln-lot-set.toml"] {
        let from = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("scenarios")
            .join(file);
        std::fs::copy(from, folder.path().join(file)).expect("copied");
    }
    folder
}

fn vary(folder: &Path, more: &[&str]) -> Ran {
    let mut all = vec!["vary", "13-kiln-lot.toml", "--sensitivity-rows", "64"];
    all.extend(more);
    run(folder, &all)
}

/// Every file under a folder with its bytes.
fn contents(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut all = BTreeMap::new();
    for name in names(folder) {
        let path = folder.join(&name);
        assert!(!path.is_dir(), "{name} was left behind");
        all.insert(name, std::fs::read(path).expect("readable"));
    }
    all
}

fn assert_same(a: &Path, b: &Path) {
    let (a, b) = (contents(a), contents(b));
    let list = |all: &BTreeMap<String, Vec<u8>>| all.keys().cloned().collect::<Vec<_>>();
    assert_eq!(list(&a), list(&b));
    for (name, bytes) in &a {
        assert!(bytes == &b[name], "{name} differs");
    }
}

/// Killed without warning in the middle, at several moments, and continued by the same command:
/// every file is the same as that of a run that was not interrupted.
#[test]
fn a_killed_run_goes_on_to_the_same_bytes() {
    let folder = folder();
    let at = folder.path();
    let whole = vary(at, &["--units", UNITS, "--out", "whole"]);
    assert_eq!(whole.code, 0, "{}", whole.err);
    let command = [
        "vary",
        "13-kiln-lot.toml",
        "--sensitivity-rows",
        "64",
        "--units",
        UNITS,
        "--out",
        "stopped",
    ];
    let parts = at.join("stopped/parts");
    let finished = || {
        std::fs::read_dir(&parts).map_or(0, |entries| {
            let names = entries.filter_map(Result::ok).map(|e| e.file_name());
            names
                .filter(|n| n.to_string_lossy().ends_with(".json"))
                .count()
        })
    };
    let mut kills = 0;
    for wanted in [1, 6] {
        let mut child = relatch(at, &command).spawn().expect("starts");
        let started = Instant::now();
        while finished() < wanted && started.elapsed() < Duration::from_secs(300) {
            std::thread::sleep(Duration::from_millis(2));
        }
        child.kill().expect("killed");
        let status = child.wait().expect("ended");
        kills += usize::from(!status.success());
    }
    // A machine may be so fast that a run is over before it is killed, but not both.
    assert!(kills > 0);
    let kept = finished();
    let again = run(at, &command);
    assert_eq!(again.code, 0, "{}", again.err);
    if kept > 0 {
        assert!(again.err.contains("goes on"), "{}", again.err);
    }
    assert_same(&at.join("whole"), &at.join("stopped"));
    assert_eq!(whole.out.replace("whole", "stopped"), again.out);
    // Once more: nothing is computed, the same is said.
    let third = run(at, &command);
    assert_eq!(third.out, again.out);
}

/// Sixteen shards, merged in any order: the same bytes as the run that was not sharded.
#[test]
fn sixteen_shards_are_the_whole() {
    let folder = folder();
    let at = folder.path();
    assert_eq!(vary(at, &["--units", UNITS, "--out", "whole"]).code, 0);
    let mut shards = Vec::new();
    for part in (1..=16).rev() {
        let (shard, out) = (format!("{part}/16"), format!("shard-{part}"));
        let ran = vary(at, &["--units", UNITS, "--shard", &shard, "--out", &out]);
        assert_eq!(ran.code, 0, "{}", ran.err);
        shards.push(out);
    }
    let mut command = vec!["merge"];
    command.extend(shards.iter().map(String::as_str));
    command.extend(["--out", "merged"]);
    let merged = run(at, &command);
    assert_eq!(merged.code, 0, "{}", merged.err);
    assert_same(&at.join("whole"), &at.join("merged"));

    let without: Vec<&str> = command
        .iter()
        .copied()
        .filter(|c| *c != "shard-7" && *c != "merged")
        .chain(["other"])
        .collect();
    let ran = run(at, &without);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("7/16"), "{}", ran.err);
    let ran = run(at, &["merge", "shard-3", "shard-3", "--out", "other"]);
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("both are shard 3/16"), "{}", ran.err);
    let ran = run(at, &["merge", "whole", "shard-3", "--out", "other"]);
    assert!(ran.err.contains("whole run"), "{}", ran.err);
    assert!(!at.join("other").exists());
}

/// A changed digit in a finished piece, be it of its tally or of its table, is noticed and named;
/// without that piece the same command mends the run.
#[test]
fn a_changed_digit_in_a_finished_piece_is_noticed() {
    let folder = folder();
    let at = folder.path();
    let command = ["--units", "600", "--shard", "1/1", "--out", "shard"];
    let merged = |out: &str| run(at, &["merge", "shard", "--out", out]);
    assert_eq!(vary(at, &command).code, 0);
    assert_eq!(merged("whole").code, 0);
    let tally = at.join("shard/parts/000001.json");
    for (file, digit) in [("000001.json", "\"finite\""), ("000001.csv", "")] {
        let path = at.join("shard/parts").join(file);
        let text = std::fs::read_to_string(&path).expect("a piece");
        let from = text.rfind(digit).expect("where to change it");
        let changed: String = text[..from]
            .chars()
            .rev()
            .scan(false, |done, c| {
                let hit = !*done && matches!(c, '1'..='8');
                *done |= hit;
                Some(if hit { (c as u8 + 1) as char } else { c })
            })
            .collect();
        let changed: String = changed.chars().rev().collect();
        std::fs::write(&path, changed + &text[from..]).expect("written");
        let ran = merged("other");
        assert_eq!(ran.code, 2, "{file}: {}", ran.err);
        let says = ran.err.contains("000001.json") && ran.err.contains("checksum");
        assert!(says, "{file}: {}", ran.err);
        std::fs::remove_file(&tally).expect("removed");
        assert_eq!(vary(at, &command).code, 0);
        assert_eq!(merged(file).code, 0);
        assert_same(&at.join("whole"), &at.join(file));
    }
}

/// Shards of different runs are refused with what differs.
#[test]
fn shards_that_do_not_fit_are_refused() {
    let folder = folder();
    let at = folder.path();
    let changed = std::fs::read_to_string(at.join("13-kiln-lot.toml"))
        .expect("read")
        .replace("1.83 mm", "1.84 mm");
    std::fs::write(at.join("changed.toml"), changed).expect("written");
    let one = |scenario: &str, more: &[&str], out: &str| {
        let mut all = vec!["vary", scenario, "--sensitivity-rows", "0", "--out", out];
        all.extend(more);
        let ran = run(at, &all);
        assert_eq!(ran.code, 0, "{}", ran.err);
    };
    let first = ["--units", "600", "--shard", "1/2"];
    one("13-kiln-lot.toml", &first, "first");
    for (out, scenario, more, says) in [
        (
            "seed",
            "13-kiln-lot.toml",
            ["--units", "600", "--seed", "2"],
            "the seed differs, 1 here and 2 there",
        ),
        (
            "units",
            "13-kiln-lot.toml",
            ["--units", "700", "--seed", "1"],
            "the number of units differs, 600 here and 700 there",
        ),
        (
            "scenario",
            "changed.toml",
            ["--units", "600", "--seed", "1"],
            "their scenarios differ, first in line 54",
        ),
    ] {
        let mut all = more.to_vec();
        all.extend(["--shard", "2/2"]);
        one(scenario, &all, out);
        let ran = run(at, &["merge", "first", out, "--out", "merged"]);
        assert_eq!(ran.code, 2, "{}", ran.err);
        assert!(ran.err.contains(says), "{}", ran.err);
        assert!(ran.out.is_empty() && !at.join("merged").exists());
    }
    one(
        "13-kiln-lot.toml",
        &["--units", "600", "--shard", "2/3"],
        "third",
    );
    let ran = run(at, &["merge", "first", "third", "--out", "merged"]);
    assert!(
        ran.err.contains("of 2 shards, the other of 3"),
        "{}",
        ran.err
    );
    // The folder of another run is not continued.
    let ran = vary(
        at,
        &[
            "--units", "600", "--shard", "1/2", "--seed", "9", "--out", "first",
        ],
    );
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("holds another run"), "{}", ran.err);
}

/// The table of units and the unit by its number agree.
#[test]
fn a_unit_is_found_by_its_number() {
    let folder = folder();
    let at = folder.path();
    let ran = run(
        at,
        &[
            "vary",
            "14-kiln-lot-set.toml",
            "--units",
            "700",
            "--sensitivity-rows",
            "0",
            "--out",
            "set",
        ],
    );
    assert_eq!(ran.code, 0, "{}", ran.err);
    let mut table = csv::Reader::from_path(at.join("set/units.csv")).expect("a table");
    let header = table.headers().expect("a header").clone();
    let column = |name: &str| header.iter().position(|h| h == name).expect("a column");
    let rows: Vec<csv::StringRecord> = table.records().map(|r| r.expect("a row")).collect();
    assert_eq!(rows.len(), 700);
    for number in [0_usize, 411, 699] {
        let row = &rows[number];
        assert_eq!(&row[0], number.to_string());
        let ran = run(
            at,
            &[
                "vary",
                "14-kiln-lot-set.toml",
                "--units",
                "700",
                "--unit",
                &number.to_string(),
                "--json",
            ],
        );
        assert_eq!(ran.code, 0, "{}", ran.err);
        let unit: serde_json::Value = serde_json::from_str(&ran.out).expect("JSON");
        for (key, name) in [
            ("trip_point_a", "trip_point_a"),
            ("trip_time_s", "trip_time_s"),
            ("relatch_wait_s", "relatch_wait_s"),
        ] {
            let value = unit[key].as_f64().expect("a number");
            let cell: f64 = row[column(name)].parse().expect("a number");
            assert!(
                (value / cell - 1.0).abs() < 1e-8,
                "{number} {name}: {value} {cell}"
            );
        }
    }
    let ran = run(
        at,
        &[
            "vary",
            "14-kiln-lot-set.toml",
            "--units",
            "700",
            "--unit",
            "700",
        ],
    );
    assert_eq!(ran.code, 2);
    assert!(ran.err.contains("0 to 699"), "{}", ran.err);
}

/// What cannot be asked is refused before anything is written.
#[test]
fn wrong_usage_writes_nothing() {
    let folder = folder();
    let at = folder.path();
    let before = names(at);
    let plain = std::fs::read_to_string(at.join("13-kiln-lot.toml")).expect("read");
    for (arguments, says) in [
        (
            vec!["--units", "0"],
            "--units: a population of 0 has no scatter",
        ),
        (vec!["--units", "1"], "no scatter"),
        (vec!["--shard", "17/16"], "3/16"),
        (vec!["--design", "sobel"], "sobol"),
        (
            vec!["--sensitivity-rows", "1"],
            "error: --sensitivity-rows: 1 rows",
        ),
    ] {
        let ran = vary_plain(at, &arguments);
        assert_eq!(ran.code, 2, "{arguments:?} {}", ran.err);
        assert!(ran.err.contains(says), "{arguments:?} {}", ran.err);
        assert!(ran.out.is_empty());
    }
    assert_eq!(names(at), before);
    let without: String = plain
        .lines()
        .take_while(|l| !l.contains("[population]"))
        .map(|l| match l.split_once(" +- ") {
            Some((number, _)) => format!("{number}\"\n"),
            None => format!("{l}\n"),
        })
        .collect();
    // A tolerance of a metal is no tolerance of a unit, and is shown where it stands.
    let strip = Path::new(env!("CARGO_MANIFEST_DIR")).join("scenarios/08-worked-strip.toml");
    let strip = std::fs::read_to_string(strip).expect("shipped");
    let metal = strip.replacen("8100 kg/m3", "8100 kg/m3 +- 2 %", 1);
    std::fs::write(at.join("metal.toml"), metal).expect("written");
    let ran = run(at, &["vary", "metal.toml"]);
    let line = 1 + strip.lines().take_while(|l| !l.contains("8100")).count();
    assert_eq!(ran.code, 2, "{}", ran.err);
    for says in [
        &format!("metal.toml:{line}:"),
        "8100 kg/m3 +- 2 %",
        "no unit differs in it",
    ] {
        assert!(ran.err.contains(says), "{says}: {}", ran.err);
    }
    std::fs::write(at.join("same.toml"), without).expect("written");
    let ran = run(at, &["vary", "same.toml"]);
    assert_eq!(ran.code, 2, "{}", ran.err);
    assert!(ran.err.contains("carries a tolerance"), "{}", ran.err);
}

fn vary_plain(folder: &Path, more: &[&str]) -> Ran {
    let mut all = vec!["vary", "13-kiln-lot.toml"];
    all.extend(more);
    run(folder, &all)
}

/// At this air no unit ever relatches: the nominal one too is said not to, not left out.
#[test]
fn a_nominal_unit_that_never_comes_to_it_is_said_to() {
    let folder = folder();
    let hot = "surroundings.ambient=\"75 degC\"";
    let more = ["--units", "256", "--set", hot, "--out", "hot"];
    let mut all = vec!["vary", "13-kiln-lot.toml", "--sensitivity-rows", "0"];
    all.extend(more);
    let ran = run(folder.path(), &all);
    assert_eq!(ran.code, 0, "{}", ran.err);
    let line = |name: &str| ran.out.lines().find(|l| l.trim_start().starts_with(name));
    let wait = line("Wait for the reset").expect("a row");
    assert_eq!(wait.matches("NEVER").count(), 4, "{wait}");
}
