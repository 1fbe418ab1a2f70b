//! `relatch materials`: what the program knows of each material, and from where.

use super::Failure;
use super::output::{print, show};
use crate::material::{library, strip_sheet};
use crate::present::{material_blocks, materials_blocks, materials_readme, strip_blocks};
use clap::Args;

#[derive(Debug, Args)]
pub struct Materials {
    /// One material in full; without a name all of them in a table
    name: Option<String>,
    /// What a strip of these layers does, low-expansion side first, e.g. "Fe-36Ni 0.40 mm,
    /// 22Ni-3Cr-Fe 0.40 mm"
    #[arg(long, value_name = "LAYERS", conflicts_with = "name")]
    strip: Option<String>,
    /// The table as Markdown: the README of the folder `materials`
    #[arg(long, conflicts_with_all = ["name", "strip"])]
    markdown: bool,
}

impl Materials {
    /// Prints the table, or one material.
    pub fn execute(self) -> Result<(), Failure> {
        if self.markdown {
            return print(&materials_readme());
        }
        if let Some(layers) = self.strip {
            let strip = strip_sheet(&layers).map_err(|e| Failure::Input(format!("error: {e}")))?;
            return show(&strip_blocks(&strip));
        }
        let Some(name) = self.name else {
            return show(&materials_blocks());
        };
        let unknown = || {
            let near = nearest(&name).map(|near| format!("; the nearest name is {near}"));
            let near = near.unwrap_or_default();
            Failure::Input(format!(
                "error: no material is called \"{name}\"{near}; all names: relatch materials"
            ))
        };
        show(&material_blocks(&name).ok_or_else(unknown)?)
    }
}

/// The known name that is most like `name`, if any is like it at all.
fn nearest(name: &str) -> Option<&'static str> {
    let names = library::all().iter().map(|r| r.sheet.name.as_str());
    let likeness = |known: &str| strsim::jaro_winkler(&known.to_lowercase(), &name.to_lowercase());
    names
        .map(|known| (likeness(known), known))
        .filter(|(likeness, _)| *likeness > 0.75)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, known)| known)
}
