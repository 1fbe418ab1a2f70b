//! `relatch materials`: what the program knows of each material, and from where.

use super::Failure;
use super::engine;
use super::output::print;
use crate::material::library;
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
                let near = nearest(&name)
                    .map(|near| format!("; the nearest name is {near}"))
                    .unwrap_or_default();
                Err(Failure::Input(format!(
                    "error: no material is called \"{name}\"{near}; all names: relatch materials"
                )))
            }
        }
    }
}

/// The known name that is most like `name`, if any is like it at all.
fn nearest(name: &str) -> Option<&'static str> {
    let names = library::alloy_names().into_iter();
    let names = names.chain(library::contact_metal_names());
    let names = names.chain(library::spring_alloy_names());
    let likeness = |known: &str| strsim::jaro_winkler(&known.to_lowercase(), &name.to_lowercase());
    names
        .map(|known| (likeness(known), known))
        .filter(|(likeness, _)| *likeness > 0.75)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, known)| known)
}

fn with_newline(text: String) -> String {
    if text.ends_with('\n') {
        text
    } else {
        text + "\n"
    }
}
