//! `relatch materials`: what the program knows of each material, and from where.

use super::Failure;
use super::engine;
use super::output::print;
use clap::Args;

#[derive(Debug, Args)]
pub struct Materials {
    /// One material in full; without a name all of them in a table
    name: Option<String>,
}

impl Materials {
    /// Prints the table, or one material.
    pub fn execute(self) -> Result<(), Failure> {
        let Some(name) = self.name else {
            return print(&with_newline(engine::table_text()));
        };
        match engine::describe(&name) {
            Some(text) => print(&with_newline(text)),
            None => {
                let near = engine::nearest_material(&name)
                    .map(|near| format!("; the nearest name is {near}"))
                    .unwrap_or_default();
                Err(Failure::Input(format!(
                    "error: no material is called \"{name}\"{near}; all names: relatch materials"
                )))
            }
        }
    }
}

fn with_newline(text: String) -> String {
    if text.ends_with('\n') {
        text
    } else {
        text + "\n"
    }
}
