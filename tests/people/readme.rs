//! The README shows what the program prints, and names what is there.

use std::path::Path;
use std::process::Command;

const README: &str = include_str!("../../README.md");

/// The first block of a language in the README.
fn block(language: &str) -> &'static str {
    let start = README.find(&format!("```{language}\n")).expect("a block") + language.len() + 4;
    let rest = &README[start..];
    &rest[..rest.find("\n```").expect("an end")]
}

/// Every line of the excerpt stands in the output of the command above it.
#[test]
fn the_excerpt_is_what_the_program_prints() {
    let command = block("sh").lines().next().expect("a command");
    let arguments = command
        .strip_prefix("cargo run --release -- ")
        .expect("the main job");
    let done = Command::new(env!("CARGO_BIN_EXE_relatch"))
        .args(arguments.split_whitespace())
        .arg("--no-files")
        .env_remove("COLUMNS")
        .output()
        .expect("run");
    assert!(done.status.success());
    let printed = String::from_utf8(done.stdout).expect("text");
    for line in block("text").lines() {
        assert!(
            printed.lines().any(|p| p == line),
            "no longer printed: {line}\n{printed}"
        );
    }
}

#[test]
fn every_scenario_is_listed_and_every_link_leads_somewhere() {
    for entry in std::fs::read_dir("scenarios").expect("folder") {
        let name = entry
            .expect("entry")
            .file_name()
            .into_string()
            .expect("name");
        assert!(
            !name.ends_with(".toml") || README.contains(&format!("(scenarios/{name})")),
            "{name} is not listed"
        );
    }
    for part in README.split("](").skip(1) {
        let target = &part[..part.find(')').expect("a link")];
        assert!(Path::new(target).exists(), "{target}");
    }
}

#[test]
fn the_top_level_is_as_it_should_be() {
    let allowed = [
        "Cargo.toml",
        "Cargo.lock",
        "README.md",
        "DEVELOPERS.md",
        "LICENSE",
        "src",
        "materials",
        "scenarios",
        "tests",
        "benches",
        "target",
    ];
    for entry in std::fs::read_dir(".").expect("folder") {
        let name = entry
            .expect("entry")
            .file_name()
            .into_string()
            .expect("name");
        assert!(
            name.starts_with('.')
                || name.starts_with("relatch-out")
                || allowed.contains(&name.as_str()),
            "{name} does not belong at the top"
        );
    }
}
