//! `relatch new`: a commented scenario file to start from.

use super::Failure;
use super::engine;
use super::failure::say;
use super::output::print;
use clap::Args;
use clap::builder::PossibleValuesParser;
use std::fs::OpenOptions;
use std::io::{ErrorKind, Write};
use std::path::{Path, PathBuf};

#[derive(Debug, Args)]
pub struct New {
    /// Kind of protector
    #[arg(value_parser = PossibleValuesParser::new(engine::STARTER_KINDS.iter().copied()))]
    kind: String,
    /// File to write, never over an existing one [default: standard output]
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
}

impl New {
    /// Prints or writes the file.
    pub fn execute(self) -> Result<(), Failure> {
        let Some(text) = engine::starter(&self.kind) else {
            return Err(Failure::Failed(format!(
                "error: there is no starter for {}",
                self.kind
            )));
        };
        match self.out {
            None => print(text),
            Some(path) => write_new(&path, text),
        }
    }
}

fn write_new(path: &Path, text: &str) -> Result<(), Failure> {
    let mut file = OpenOptions::new()
        .write(true)
        .create_new(true)
        .open(path)
        .map_err(|error| {
            let path = path.display();
            match error.kind() {
                ErrorKind::AlreadyExists => Failure::Input(format!(
                    "error: {path} exists already and stays as it is: choose another name"
                )),
                _ => Failure::Failed(format!("error: cannot write {path}: {error}")),
            }
        })?;
    if let Err(error) = file.write_all(text.as_bytes()) {
        drop(file);
        // Half a file would read as a whole one.
        let _ = std::fs::remove_file(path);
        return Err(Failure::Failed(format!(
            "error: cannot write {}: {error}",
            path.display()
        )));
    }
    say(&format!(
        "{} written; next: relatch run {}",
        path.display(),
        path.display()
    ));
    Ok(())
}
