//! `relatch diagnose`: the screen and the long form.

use crate::program::run;
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
fn a_screen_first_and_everything_when_asked() {
    let folder = folder();
    let screen = run(folder.path(), &["diagnose", "09-pug-mill-recorded.toml"]);
    assert_eq!(screen.code, 0, "{}", screen.err);
    assert!(screen.out.lines().count() <= 40, "{}", screen.out);
    assert!(screen.out.contains("add --full"), "{}", screen.out);
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
