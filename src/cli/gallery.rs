//! `relatch gallery`: a page of figures with the sentence that each one proves.

use super::Failure;
use super::engine::Options;
use super::job::{Sets, read_all};
use super::output::print;
use super::prints::Colours;
use crate::present::gallery::{Chapter, is_left_out, page, pictures};
use crate::present::{Folder, write_all};
use clap::Args;
use std::path::{Path, PathBuf};

#[derive(Debug, Args)]
pub struct Gallery {
    /// Scenario files
    #[arg(required = true, value_name = "SCENARIO")]
    scenarios: Vec<PathBuf>,
    #[command(flatten)]
    sets: Sets,
    /// Folder for gallery.md and its pictures, new or empty
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// Replace files of the same name in that folder
    #[arg(long)]
    force: bool,
    /// Colours of the pictures
    #[arg(long, value_enum, value_name = "COLOURS", default_value = "light")]
    theme: Colours,
    /// No progress on standard error
    #[arg(long)]
    quiet: bool,
}

impl Gallery {
    /// Reads, predicts and draws every scenario, then writes the page and its pictures together.
    pub fn execute(self) -> Result<(), Failure> {
        let jobs = read_all(&self.scenarios, &self.sets)?;
        let folder = Folder::Given {
            path: self.out.clone(),
            force: self.force,
        };
        folder.check()?;
        let options = Options {
            characteristic: true,
            film: true,
            ..Options::default()
        };
        let mut chapters = Vec::new();
        let mut left_out = Vec::new();
        for job in &jobs {
            if is_left_out(&job.stem) {
                left_out.push(job.name.as_str());
                continue;
            }
            let outcome = job.predict(&options, self.quiet)?;
            let pictures = pictures(&job.stem, &outcome, self.theme.into())
                .map_err(|e| Failure::Failed(format!("error: {}: {e}", job.name)))?;
            chapters.push(Chapter {
                title: outcome.scenario,
                link: link(&self.out, Path::new(&job.name)),
                pictures,
            });
        }
        let mut contents = vec![("gallery.md".to_owned(), page(&chapters).into_bytes())];
        for picture in chapters.into_iter().flat_map(|c| c.pictures) {
            contents.push((picture.name, picture.bytes));
        }
        let written = write_all(&contents, &folder)?;
        print(&format!(
            "Page in {}: gallery.md and {} pictures\n",
            written.folder.display(),
            written.names.len() - 1
        ))?;
        match left_out[..] {
            [] => Ok(()),
            _ => print(&format!(
                "Left out, because others show the same better: {}\n",
                left_out.join(", ")
            )),
        }
    }
}

/// The way from the page to a scenario in the folder above it.
fn link(out: &Path, scenario: &Path) -> Option<String> {
    let name = scenario.file_name()?.to_str()?;
    (out.parent()? == scenario.parent()?).then(|| format!("../{name}"))
}
