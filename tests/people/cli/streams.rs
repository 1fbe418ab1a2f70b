use crate::program::{folder_with_scenario, names, ran, relatch, run};
use std::fs::{self, File};
use std::io::Write;
use std::process::Stdio;

/// Runs with a standard output that nobody reads.
#[cfg(unix)]
fn into_a_closed_pipe(folder: &std::path::Path, arguments: &[&str]) -> crate::program::Ran {
    let (reader, writer) = std::io::pipe().unwrap();
    drop(reader);
    ran(&relatch(folder, arguments).stdout(writer).output().unwrap())
}

#[cfg(unix)]
#[test]
fn help_into_a_closed_pipe_does_not_panic() {
    let folder = tempfile::tempdir().unwrap();
    let done = into_a_closed_pipe(folder.path(), &["--help"]);
    assert!(done.err.is_empty(), "{}", done.err);
}

#[cfg(unix)]
#[test]
fn a_reader_that_goes_away_is_no_error_and_the_files_are_kept() {
    let (folder, _) = folder_with_scenario();
    let done = into_a_closed_pipe(folder.path(), &["run", "pug-mill.toml", "--quiet"]);
    assert_eq!(done.code, 0, "{}", done.err);
    assert!(done.err.is_empty(), "{}", done.err);
    assert!(
        folder
            .path()
            .join("relatch-out-pug-mill/result.json")
            .exists()
    );
    let json = into_a_closed_pipe(
        folder.path(),
        &["run", "pug-mill.toml", "--json", "--quiet"],
    );
    assert_eq!((json.code, json.err.as_str()), (0, ""));
    let table = into_a_closed_pipe(folder.path(), &["materials"]);
    assert_eq!((table.code, table.err.as_str()), (0, ""));
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_standard_output_is_an_error() {
    let (folder, _) = folder_with_scenario();
    let full = File::options().write(true).open("/dev/full").unwrap();
    let arguments = ["run", "pug-mill.toml", "--no-files"];
    let done = ran(&relatch(folder.path(), &arguments)
        .stdout(full)
        .output()
        .unwrap());
    assert_eq!(done.code, 1);
    assert!(done.err.contains("standard output"), "{}", done.err);
}

#[test]
fn json_stands_alone_on_standard_output() {
    let (folder, _) = folder_with_scenario();
    let one = run(folder.path(), &["run", "pug-mill.toml", "--json"]);
    assert_eq!(one.code, 0, "{}", one.err);
    let value: serde_json::Value = serde_json::from_str(&one.out).unwrap();
    assert_eq!(value["format"], 2);
    assert!(value["trip"]["trips"].is_boolean());
    let cautions = value["cautions"].as_array().unwrap();
    assert!(
        cautions
            .iter()
            .any(|c| c["text"].as_str().unwrap().contains("OSHA 1910.334(b)(2)"))
    );
    assert_eq!(names(folder.path()), ["pug-mill.toml"]);

    let two = run(
        folder.path(),
        &["run", "pug-mill.toml", "pug-mill.toml", "--json"],
    );
    let value: serde_json::Value = serde_json::from_str(&two.out).unwrap();
    assert_eq!(value.as_array().map(Vec::len), Some(2));

    let curve = run(
        folder.path(),
        &["curve", "pug-mill.toml", "--currents", "2x", "--json"],
    );
    let value: serde_json::Value = serde_json::from_str(&curve.out).unwrap();
    assert_eq!(
        value["characteristic"]["cold"].as_array().map(Vec::len),
        Some(1)
    );
}

#[test]
fn the_file_and_standard_output_hold_the_same_record() {
    let (folder, _) = folder_with_scenario();
    let done = run(
        folder.path(),
        &["run", "pug-mill.toml", "--json", "--out", "results"],
    );
    assert_eq!(done.code, 0, "{}", done.err);
    let file = fs::read_to_string(folder.path().join("results/result.json")).unwrap();
    assert_eq!(file, done.out);
}

#[test]
fn a_dash_reads_standard_input() {
    let (folder, path) = folder_with_scenario();
    let feed = |bytes: &[u8]| {
        let mut child = relatch(folder.path(), &["run", "-", "--no-files"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        let mut stdin = child.stdin.take().unwrap();
        stdin.write_all(bytes).unwrap();
        drop(stdin);
        ran(&child.wait_with_output().unwrap())
    };
    let done = feed(&fs::read(&path).unwrap());
    assert_eq!(done.code, 0, "{}", done.err);
    let from_file = run(folder.path(), &["run", "pug-mill.toml", "--no-files"]);
    assert_eq!(done.out, from_file.out);
    let binary = feed(&[0xff, 0xfe, 0x00]);
    assert_eq!(binary.code, 2);
    assert!(binary.err.contains("UTF-8"), "{}", binary.err);
}

#[test]
fn quiet_leaves_standard_error_empty() {
    let (folder, _) = folder_with_scenario();
    let done = run(
        folder.path(),
        &["run", "pug-mill.toml", "--no-files", "--quiet"],
    );
    assert_eq!((done.code, done.err.as_str()), (0, ""));
    assert!(done.out.contains("1  Does it trip?"), "{}", done.out);
}

/// What a run says that reads a pipe into which nobody writes.
#[cfg(unix)]
fn reading_a_pipe(arguments: &[&str]) -> crate::program::Ran {
    let folder = tempfile::tempdir().unwrap();
    let pipe = folder.path().join("pipe");
    let made = std::process::Command::new("mkfifo").arg(&pipe).status();
    assert!(made.expect("mkfifo").success());
    let mut child = relatch(folder.path(), arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    for _ in 0..600 {
        if child.try_wait().unwrap().is_some() {
            return ran(&child.wait_with_output().unwrap());
        }
        std::thread::sleep(std::time::Duration::from_millis(100));
    }
    child.kill().unwrap();
    child.wait().unwrap();
    panic!("{arguments:?} waits for ever");
}

#[cfg(unix)]
#[test]
fn a_pipe_is_refused_where_reading_it_would_never_end() {
    let rating = "--rating=13 A";
    for arguments in [
        &["run", "pipe"][..],
        &["diagnose", "pipe"],
        &["diagnose", rating, "--log", "pipe"],
        &["diagnose", rating, "--watch", "pipe", "--until-end"],
        &["diagnose", rating, "--log", "/dev/stdin"],
    ] {
        let said = reading_a_pipe(arguments);
        assert_eq!(said.code, 2, "{arguments:?}: {}", said.err);
        let named = said.err.contains("pipe or a device");
        assert!(named && said.err.contains("help: "), "{}", said.err);
    }
}
