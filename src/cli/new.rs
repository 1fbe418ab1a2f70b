//! `relatch new`: a commented scenario file to start from.

use super::Failure;
use super::engine;
use super::failure::say;
use super::one_file;
use super::output::print;
use clap::Args;
use clap::builder::PossibleValuesParser;
use std::path::{Path, PathBuf};

/// The kinds that are no scenarios.
const CASE: &str = "case";
const DATASHEET: &str = "datasheet";
const KEYS: &str = "keys";
const SCHEMA: &str = "schema";
const TARGETS: &str = "targets";
const CASE_SCHEMA: &str = "case-schema";
const DATASHEET_SCHEMA: &str = "datasheet-schema";
const TARGETS_SCHEMA: &str = "targets-schema";

fn kinds() -> Vec<&'static str> {
    let scenarios = engine::STARTER_KINDS.iter().copied();
    scenarios
        .chain([
            CASE,
            DATASHEET,
            TARGETS,
            KEYS,
            SCHEMA,
            CASE_SCHEMA,
            DATASHEET_SCHEMA,
            TARGETS_SCHEMA,
        ])
        .collect()
}

#[derive(Debug, Args)]
pub struct New {
    /// Kind of protector; `case`: what was seen of one that keeps tripping; `datasheet`: its
    /// published characteristic; `targets`: what a part shall do; `keys`: every key that a scenario
    /// may have; `schema`, `case-schema`, `datasheet-schema`, `targets-schema`: the keys of
    /// scenarios, cases, datasheets and targets as a JSON Schema, for editors
    #[arg(value_parser = PossibleValuesParser::new(kinds()))]
    kind: String,
    /// File to write, never over an existing one [default: standard output]
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
}

impl New {
    /// Prints or writes the file.
    pub fn execute(self) -> Result<(), Failure> {
        let text = match self.kind.as_str() {
            CASE => Some(engine::case_starter().to_owned()),
            DATASHEET => Some(engine::datasheet_starter().to_owned()),
            TARGETS => Some(engine::targets_starter().to_owned()),
            KEYS => Some(engine::key_list()),
            SCHEMA => Some(format!("{:#}\n", engine::json_schema())),
            CASE_SCHEMA => Some(format!("{:#}\n", engine::case_schema())),
            DATASHEET_SCHEMA => Some(format!("{:#}\n", engine::datasheet_schema())),
            TARGETS_SCHEMA => Some(format!("{:#}\n", engine::targets_schema())),
            kind => engine::starter(kind).map(str::to_owned),
        };
        let Some(text) = text else {
            return Err(Failure::Failed(format!(
                "error: there is no starter for {}",
                self.kind
            )));
        };
        match self.out {
            None => print(&text),
            Some(path) => write_new(&path, &text, &self.kind),
        }
    }
}

fn write_new(path: &Path, text: &str, kind: &str) -> Result<(), Failure> {
    if path.exists() {
        let path = path.display();
        return Err(Failure::Input(format!(
            "error: {path} exists already and stays as it is: choose another name"
        )));
    }
    one_file::write(path, text, false)?;
    let next = match kind {
        CASE => "put in what you have seen".to_owned(),
        DATASHEET => format!(
            "put in what the sheet prints, then relatch fit {}",
            path.display()
        ),
        TARGETS => format!(
            "put in what is free and what is wanted, then relatch design {}",
            path.display()
        ),
        KEYS => "take over what your scenario needs".to_owned(),
        SCHEMA => "name it in the editor as the schema of scenario files".to_owned(),
        CASE_SCHEMA => "name it in the editor as the schema of case files".to_owned(),
        DATASHEET_SCHEMA => "name it in the editor as the schema of datasheets".to_owned(),
        _ => format!("relatch run {}", path.display()),
    };
    say(&format!("{} written; next: {next}", path.display()));
    Ok(())
}
