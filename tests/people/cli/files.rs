use crate::program::{folder_with_scenario, names, ran, relatch, run};
use std::fs;

const TABLES: [&str; 4] = [
    "ambient_correction.csv",
    "characteristic.csv",
    "preload_shift.csv",
    "series.csv",
];

#[test]
fn run_makes_a_new_folder_every_time() {
    let (folder, _) = folder_with_scenario();
    let first = run(folder.path(), &["run", "pug-mill.toml", "--quiet"]);
    assert_eq!(first.code, 0, "{}", first.err);
    assert!(
        first
            .out
            .contains("Files in relatch-out-pug-mill: result.json"),
        "{}",
        first.out
    );
    let out = folder.path().join("relatch-out-pug-mill");
    let written = names(&out);
    for name in TABLES
        .iter()
        .chain(&["result.json", "time_course.svg", "time_course.png"])
    {
        assert!(
            written.contains(&(*name).to_owned()),
            "{name} in {written:?}"
        );
    }
    let before = fs::read(out.join("result.json")).unwrap();
    fs::write(out.join("series.csv"), "mine").unwrap();
    let second = run(folder.path(), &["run", "pug-mill.toml", "--quiet"]);
    assert_eq!(second.code, 0, "{}", second.err);
    assert_eq!(fs::read(out.join("series.csv")).unwrap(), b"mine");
    let again = folder.path().join("relatch-out-pug-mill-2");
    assert_eq!(fs::read(again.join("result.json")).unwrap(), before);
}

#[test]
fn a_folder_with_files_in_it_is_refused_unless_forced() {
    let (folder, _) = folder_with_scenario();
    let out = folder.path().join("results");
    fs::create_dir(&out).unwrap();
    fs::write(out.join("result.json"), "mine").unwrap();
    fs::write(out.join("notes.txt"), "keep").unwrap();
    let refused = run(folder.path(), &["run", "pug-mill.toml", "--out", "results"]);
    assert_eq!(refused.code, 2);
    assert!(refused.out.is_empty(), "{}", refused.out);
    assert!(refused.err.contains("--force"), "{}", refused.err);
    assert_eq!(names(&out), ["notes.txt", "result.json"]);
    assert_eq!(fs::read_to_string(out.join("result.json")).unwrap(), "mine");

    let forced = run(
        folder.path(),
        &["run", "pug-mill.toml", "--out", "results", "--force"],
    );
    assert_eq!(forced.code, 0, "{}", forced.err);
    assert_ne!(fs::read_to_string(out.join("result.json")).unwrap(), "mine");
    assert_eq!(fs::read_to_string(out.join("notes.txt")).unwrap(), "keep");
}

#[test]
fn several_scenarios_get_a_folder_each() {
    let (folder, path) = folder_with_scenario();
    fs::create_dir(folder.path().join("other")).unwrap();
    fs::copy(path, folder.path().join("other/pug-mill.toml")).unwrap();
    let both = [
        "run",
        "pug-mill.toml",
        "other/pug-mill.toml",
        "--out",
        "results",
    ];
    let done = run(folder.path(), &both);
    assert_eq!(done.code, 0, "{}", done.err);
    assert_eq!(
        names(&folder.path().join("results")),
        ["pug-mill", "pug-mill-2"]
    );
}

#[test]
fn a_folder_that_cannot_be_made_fails_with_its_name() {
    let (folder, _) = folder_with_scenario();
    let done = run(
        folder.path(),
        &["run", "pug-mill.toml", "--out", "pug-mill.toml/results"],
    );
    assert_eq!(done.code, 1, "{}", done.err);
    assert!(done.err.contains("pug-mill.toml/results"), "{}", done.err);
    assert_eq!(names(folder.path()), ["pug-mill.toml"]);
}

#[test]
fn a_file_in_place_of_the_folder_is_refused() {
    let (folder, path) = folder_with_scenario();
    let before = fs::read(&path).unwrap();
    let done = run(
        folder.path(),
        &["run", "pug-mill.toml", "--out", "pug-mill.toml", "--force"],
    );
    assert_eq!(done.code, 2, "{}", done.err);
    assert_eq!(fs::read(&path).unwrap(), before);
}

/// A limit on the size of files stands in for a full disk: the write fails half way in the same
/// manner, with another error number.
#[cfg(unix)]
#[test]
fn a_disk_that_fills_up_leaves_nothing_behind() {
    let (folder, _) = folder_with_scenario();
    let limited = |arguments: &str| {
        let script = format!("trap '' XFSZ; ulimit -f 8; exec \"$0\" {arguments}");
        let output = std::process::Command::new("sh")
            .args(["-c", &script, env!("CARGO_BIN_EXE_relatch")])
            .current_dir(folder.path())
            .output()
            .unwrap();
        ran(&output)
    };
    let done = limited("run pug-mill.toml --quiet");
    assert_eq!(done.code, 1, "{}\n{}", done.out, done.err);
    assert!(done.err.contains("cannot write"), "{}", done.err);
    assert_eq!(names(folder.path()), ["pug-mill.toml"]);

    fs::create_dir(folder.path().join("old")).unwrap();
    fs::write(folder.path().join("old/series.csv"), "mine").unwrap();
    let done = limited("run pug-mill.toml --quiet --out old --force");
    assert_eq!(done.code, 1, "{}\n{}", done.out, done.err);
    assert_eq!(names(&folder.path().join("old")), ["series.csv"]);
    assert_eq!(
        fs::read_to_string(folder.path().join("old/series.csv")).unwrap(),
        "mine"
    );
}

#[test]
fn curve_writes_files_only_when_asked() {
    let (folder, _) = folder_with_scenario();
    let text = run(
        folder.path(),
        &["curve", "pug-mill.toml", "--currents", "2x, 4x"],
    );
    assert_eq!(text.code, 0, "{}", text.err);
    assert!(text.out.contains("Time to trip"), "{}", text.out);
    assert_eq!(names(folder.path()), ["pug-mill.toml"]);
    let files = run(folder.path(), &["curve", "pug-mill.toml", "--out", "curve"]);
    assert_eq!(files.code, 0, "{}", files.err);
    assert!(names(&folder.path().join("curve")).contains(&"characteristic.svg".to_owned()));
}

#[test]
fn no_files_means_none() {
    let (folder, _) = folder_with_scenario();
    let done = relatch(folder.path(), &["run", "pug-mill.toml", "--no-files"])
        .output()
        .unwrap();
    assert_eq!(ran(&done).code, 0);
    assert_eq!(names(folder.path()), ["pug-mill.toml"]);
}
