//! `relatch compare`: scenarios beside each other, and what makes them differ.

use super::Failure;
use super::job::{Sets, read_all};
use super::output::{fold, print, show};
use super::prints::Prints;
use super::progress::Progress;
use crate::present::plot::{compare_figures, files};
use crate::present::words;
use crate::present::{Folder, compare_blocks, compare_json, write_all};
use crate::study::compare::compare;
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Compare {
    /// Two scenario files or more; the others are held against the first
    #[arg(required = true, num_args = 2.., value_name = "SCENARIO")]
    scenarios: Vec<PathBuf>,
    #[command(flatten)]
    sets: Sets,
    /// Ask what is known of the metals of parts with which that takes longer, too
    #[arg(long)]
    metals: bool,
    /// Print JSON alone on standard output
    #[arg(long)]
    json: bool,
    /// Folder for record and figure, new or empty; without it no files are written
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Replace files of the same name in the folder given with --out
    #[arg(long, requires = "out")]
    force: bool,
    #[command(flatten)]
    prints: Prints,
    /// No progress on standard error
    #[arg(long)]
    quiet: bool,
}

impl Compare {
    /// Reads all, predicts, writes and prints.
    pub fn execute(self) -> Result<(), Failure> {
        let jobs = read_all(&self.scenarios, &self.sets)?;
        let folder = self.out.map(|path| Folder::Given {
            path,
            force: self.force,
        });
        if let Some(folder) = &folder {
            folder.check()?;
        }
        let jobs: Vec<_> = jobs
            .into_iter()
            .map(|j| (j.stem, j.text, j.scenario))
            .collect();
        let mut progress = Progress::new("compare".to_owned(), self.quiet);
        let mut report = |what: &str, share: f64| progress.update(what, share);
        let outcome = compare(&jobs, self.metals, &mut report)
            .map_err(|error| Failure::Failed(format!("error: {error}")))?;
        drop(progress);
        let mut line = String::new();
        if let Some(folder) = &folder {
            let titles = outcome.scenarios.iter().map(|s| s.title.as_str());
            let from = words::computed_from(&titles.collect::<Vec<_>>().join("\", \""));
            let mut contents = files(compare_figures(&outcome), &self.prints.print(), &from)
                .map_err(|e| Failure::Failed(format!("error: {e}")))?;
            let record = compare_json(&outcome)?;
            contents.push(("result.json".to_owned(), record.into_bytes()));
            let written = write_all(&contents, folder)?;
            line = format!(
                "\nFiles in {}: {}\n",
                written.folder.display(),
                written.names.join(", ")
            );
        }
        if self.json {
            return print(&compare_json(&outcome)?);
        }
        show(&compare_blocks(&outcome))?;
        fold(&line)
    }
}
