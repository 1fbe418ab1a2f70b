//! Runs the program in a folder of its own.

use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

/// The program, to be run in `folder`.
pub fn relatch(folder: &Path, arguments: &[&str]) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_relatch"));
    // Whatever is spoken where the tests run.
    command.env("LC_ALL", "C");
    command
        .args(arguments)
        .current_dir(folder)
        .stdin(Stdio::null());
    command
}

/// What the program did.
pub struct Ran {
    pub code: i32,
    pub out: String,
    pub err: String,
}

/// Runs to the end; a signal or a panic fails the test.
pub fn run(folder: &Path, arguments: &[&str]) -> Ran {
    ran(&relatch(folder, arguments)
        .output()
        .expect("the program starts"))
}

pub fn ran(output: &Output) -> Ran {
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("UTF-8");
    let ran = Ran {
        code: output.status.code().expect("no signal ends the program"),
        out: text(&output.stdout),
        err: text(&output.stderr),
    };
    assert!(!ran.err.contains("panicked"), "{}", ran.err);
    ran
}

/// A folder with a scenario that reads, `pug-mill.toml`.
pub fn folder_with_scenario() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let made = run(folder.path(), &["new", "latch", "--out", "pug-mill.toml"]);
    assert_eq!(made.code, 0, "{}", made.err);
    let path = folder.path().join("pug-mill.toml");
    (folder, path)
}

/// Names in a folder, sorted.
pub fn names(folder: &Path) -> Vec<String> {
    let entries = std::fs::read_dir(folder).expect("a folder");
    let mut names: Vec<String> = entries
        .map(|e| {
            e.expect("an entry")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    names.sort();
    names
}
