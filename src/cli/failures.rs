//! `relatch failures`: failures per year of units that differ.

use super::Failure;
use super::failure::say;
use super::job::{Job, Sets, read_all};
use super::output::{fold, print, show};
use super::prints::Prints;
use super::progress::Progress;
use crate::document::{FileKind, read_file};
use crate::present::{failures_blocks, failures_json, words, write_failures};
use crate::study::failures::{
    FailuresError, FailuresOutcome, FolderShelf, NoShelf, Options, ReturnedPart, Shelf,
    failures_kept, read_returned,
};
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Failures {
    /// Scenario file with tolerances, [ageing] and [duty]; `-` reads standard input
    #[arg(value_name = "SCENARIO")]
    scenario: PathBuf,
    #[command(flatten)]
    sets: Sets,
    /// Years looked at
    #[arg(long, value_name = "N", default_value_t = 10.0)]
    years: f64,
    /// Units drawn, most of them where parts fail
    #[arg(long, value_name = "COUNT", default_value_t = 16_384)]
    units: u64,
    /// Seed of the draws: the same seed gives the same bytes
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    seed: u64,
    /// Table (CSV) of parts taken back: age_years, state (sound, late, trips, early), count
    #[arg(long, value_name = "TABLE")]
    returned: Option<PathBuf>,
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

impl Failures {
    /// Reads, computes, writes and prints.
    pub fn execute(self) -> Result<(), Failure> {
        let returned = self.returned()?;
        for job in read_all(std::slice::from_ref(&self.scenario), &self.sets)? {
            let wants_files = !self.no_files && (!self.json || self.out.is_some());
            let folder = wants_files.then(|| job.folder(self.out.as_deref(), self.force, false));
            if let Some(folder) = &folder {
                folder.check()?;
            }
            let shelf = match folder.is_some() {
                true => Some(self.shelf(&job)?),
                false => None,
            };
            let outcome = self.outcome(&job, &returned, shelf.as_ref())?;
            let files = match &folder {
                Some(folder) => {
                    let written = write_failures(&outcome, folder, &self.prints.print())?;
                    let (names, at) = (written.names.join(", "), written.folder.display());
                    format!("Files in {at}: {names}\n")
                }
                None => String::new(),
            };
            if let Some(shelf) = shelf {
                shelf.clear();
            }
            if !self.json {
                show(&failures_blocks(&outcome))?;
                if !files.is_empty() {
                    fold(&format!("\n{files}"))?;
                }
                continue;
            }
            if !self.quiet {
                for warning in &outcome.warnings {
                    let warning = words::failures_warning(warning);
                    say(&format!("warning: {}: {warning}", job.name));
                }
            }
            print(&failures_json(&outcome)?)?;
        }
        Ok(())
    }

    fn returned(&self) -> Result<Vec<ReturnedPart>, Failure> {
        let Some(path) = &self.returned else {
            return Ok(Vec::new());
        };
        let wrong =
            |what: &str| Failure::of_flag("returned", &format!("{}: {what}", path.display()));
        let kind = FileKind {
            noun: "table",
            starter: "relatch failures --help",
        };
        let text = read_file(path, kind).map_err(|e| Failure::Input(e.to_string()))?;
        read_returned(&text).map_err(|e| wrong(&e))
    }

    /// Where what was computed is kept until the whole is there: stopped, the same command goes on.
    fn shelf(&self, job: &Job) -> Result<FolderShelf, Failure> {
        let mut folder = match &self.out {
            Some(out) => out.clone().into_os_string(),
            None => format!("relatch-out-{}", job.stem).into(),
        };
        folder.push(".parts");
        let folder = PathBuf::from(folder);
        let run = format!(
            "relatch {} failures, {} years, {} units, seed {}\n\n{}",
            env!("CARGO_PKG_VERSION"),
            self.years,
            self.units,
            self.seed,
            job.text
        );
        let shelf = FolderShelf::open(&folder, &run).map_err(|e| {
            Failure::Input(format!(
                "error: cannot keep parts of the run in {}: {e}\n  = help: repeat the command that began it, or \
                 take the folder away",
                folder.display()
            ))
        })?;
        if shelf.found > 0 && !self.quiet {
            say(&format!(
                "{}: goes on, with what is in {}",
                job.name,
                folder.display()
            ));
        }
        Ok(shelf)
    }

    fn outcome(
        &self,
        job: &Job,
        returned: &[ReturnedPart],
        shelf: Option<&FolderShelf>,
    ) -> Result<FailuresOutcome, Failure> {
        let options = Options {
            years: self.years,
            units: self.units,
            seed: self.seed,
            returned: returned.to_vec(),
        };
        let mut progress = Progress::new(job.name.clone(), self.quiet);
        let mut report = |stage: &str, share: f64| progress.update(stage, share);
        let shelf = shelf.map_or(&NoShelf as &dyn Shelf, |s| s);
        failures_kept(&job.scenario, &options, shelf, &mut report).map_err(|error| {
            let message = format!("error: {}: {error}", job.name);
            match error {
                FailuresError::Option { option, what } => Failure::of_flag(option, &what),
                error if error.is_input() => Failure::Input(message),
                _ => Failure::Failed(message),
            }
        })
    }
}
