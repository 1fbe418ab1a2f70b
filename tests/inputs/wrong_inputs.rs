//! Wrong scenario files and the messages they get, reviewed one by one:
//! `tests/wrong_inputs/NAME.toml` and `NAME.txt`. `RELATCH_BLESS=1 cargo test --test inputs
//! wrong_inputs` rewrites the messages; read what it wrote.

use crate::reviewed::every_file_gets_its_message;
use proptest::prelude::*;
use relatch::internals::scenario::{read, read_text};
use std::path::Path;
use std::process::Command;

const FOLDER: &str = "tests/wrong_inputs";
const RIGHT: &str = include_str!("../support/right.toml");

#[test]
fn every_wrong_file_gets_its_reviewed_message() {
    every_file_gets_its_message(FOLDER, 40, &["NaN", "panicked"], read);
}

#[test]
fn the_program_ends_with_two_and_writes_nothing() {
    let folder = tempfile::tempdir().expect("folder");
    for name in [
        "empty",
        "binary",
        "not_utf8",
        "several_at_once",
        "toml_open_quote",
        "layers_reversed",
    ] {
        let path = std::fs::canonicalize(format!("{FOLDER}/{name}.toml")).expect("path");
        let done = Command::new(env!("CARGO_BIN_EXE_relatch"))
            .arg("run")
            .arg(&path)
            .current_dir(folder.path())
            .output()
            .expect("run");
        assert_eq!(done.status.code(), Some(2), "{name}");
        assert!(done.stdout.is_empty(), "{name} wrote to standard output");
        assert!(!done.stderr.is_empty(), "{name} says nothing");
        assert_eq!(
            std::fs::read_dir(folder.path()).expect("folder").count(),
            0,
            "{name} left something behind"
        );
    }
}

#[test]
fn what_is_no_scenario_file_is_refused_by_name() {
    let folder = tempfile::tempdir().expect("folder");
    let huge = folder.path().join("huge.toml");
    std::fs::File::create(&huge)
        .expect("file")
        .set_len(100_000_000)
        .expect("length");
    let cases = [
        (huge.as_path(), "100 MB"),
        (folder.path(), "folder"),
        (&folder.path().join("missing.toml"), "no such file"),
    ];
    for (path, expected) in cases {
        let message = read(path).expect_err("refused").to_string();
        assert!(message.contains(expected), "{message}");
        assert!(message.contains("help"), "{message}");
    }
    // A file without an end does not fill the memory.
    #[cfg(target_os = "linux")]
    assert!(read(Path::new("/dev/zero")).is_err());
}

#[test]
fn the_right_file_is_right() {
    if let Err(e) = read_text("right.toml", RIGHT) {
        panic!("{e}");
    }
    // An editor's byte-order mark and other line ends do not matter.
    assert!(
        read_text(
            "right.toml",
            &format!("\u{feff}{}", RIGHT.replace('\n', "\r\n"))
        )
        .is_ok()
    );
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever is done to a right file, it is read or refused with a message: never a panic.
    #[test]
    fn damaged_files_never_panic(at in 0usize..1000, length in 0usize..40, put in "[ -~\\n]{0,6}") {
        let at = at % RIGHT.len();
        let end = (at + length).min(RIGHT.len());
        let damaged = format!("{}{put}{}", &RIGHT[..at], &RIGHT[end..]);
        if let Err(e) = read_text("damaged.toml", &damaged) {
            let message = e.to_string();
            prop_assert!(!message.is_empty() && !message.contains("report this file"), "{message}\n{damaged}");
        }
    }

    /// A number that is anything at all.
    #[test]
    fn any_number_is_read_or_refused(value in any::<f64>()) {
        let text = RIGHT.replace("\"36 mm\"", &format!("\"{value:e} mm\""));
        let _ = read_text("number.toml", &text);
    }
}
