//! `relatch age`: years of wear.

use super::Failure;
use super::failure::say;
use super::job::{Job, Sets, read_all};
use super::output::{fold, print, show};
use super::prints::{Prints, endings};
use super::progress::Progress;
use crate::present::{age_blocks, age_json, words, write_age};
use crate::study::ageing::{AgeError, AgeOutcome, Options, age};
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Age {
    /// Scenario file with [ageing] and [duty]; `-` reads standard input
    #[arg(value_name = "SCENARIO")]
    scenario: PathBuf,
    #[command(flatten)]
    sets: Sets,
    /// Years to look at, instead of the scenario's horizon
    #[arg(long, value_name = "N")]
    years: Option<f64>,
    /// Units drawn from the tolerances of the constants; 0 draws none
    #[arg(long, value_name = "COUNT", default_value_t = 1000)]
    units: u64,
    /// Seed of the draws: the same seed gives the same bytes
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    seed: u64,
    /// Print JSON alone on standard output; files only with --out
    #[arg(long)]
    json: bool,
    /// Folder for the files, new or empty [default: a new folder relatch-out-SCENARIO]
    #[arg(long, value_name = "DIR", conflicts_with = "no_files")]
    out: Option<PathBuf>,
    /// Replace files of the same name in the folder given with --out
    #[arg(long, requires = "out")]
    force: bool,
    #[command(flatten)]
    prints: Prints,
    /// No progress and no warnings on standard error
    #[arg(long)]
    quiet: bool,
    /// Write no files
    #[arg(long)]
    no_files: bool,
}

impl Age {
    /// Reads, ages, writes and prints.
    pub fn execute(self) -> Result<(), Failure> {
        for job in read_all(std::slice::from_ref(&self.scenario), &self.sets)? {
            let wants_files = !self.no_files && (!self.json || self.out.is_some());
            let folder = wants_files.then(|| job.folder(self.out.as_deref(), self.force, false));
            if let Some(folder) = &folder {
                folder.check()?;
            }
            let outcome = self.outcome(&job)?;
            let files = match &folder {
                Some(folder) => {
                    let written = write_age(&outcome, folder, &self.prints.print())?;
                    let ending = |e: &str| written.names.iter().filter(|n| n.ends_with(e)).count();
                    format!(
                        "Files in {}: age.json, {} tables (.csv), {} figures ({})\n",
                        written.folder.display(),
                        ending(".csv"),
                        ending(".svg"),
                        endings(&self.prints.print())
                    )
                }
                None => String::new(),
            };
            if self.json {
                if !self.quiet {
                    for warning in &outcome.warnings {
                        let warning = words::age_warning(warning);
                        say(&format!("warning: {}: {warning}", job.name));
                    }
                    if !files.is_empty() {
                        say(&files);
                    }
                }
                print(&age_json(&outcome)?)?;
            } else {
                show(&age_blocks(&outcome))?;
                if !files.is_empty() {
                    fold(&format!("\n{files}"))?;
                }
            }
        }
        Ok(())
    }

    fn outcome(&self, job: &Job) -> Result<AgeOutcome, Failure> {
        let options = Options {
            years: self.years,
            units: self.units,
            seed: self.seed,
        };
        let mut progress = Progress::new(job.name.clone(), self.quiet);
        let mut report = |stage: &str, share: f64| progress.update(stage, share);
        age(&job.scenario, &options, &mut report).map_err(|error| {
            let message = format!("error: {}: {error}", job.name);
            match error {
                AgeError::Option { option, what } => Failure::of_flag(option, &what),
                AgeError::NoAgeing | AgeError::LostAtStart(_) => Failure::Input(message),
                _ => Failure::Failed(message),
            }
        })
    }
}
