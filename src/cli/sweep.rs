//! `relatch sweep`: one scenario over one to three of its paths.

use super::Failure;
use super::failure::say;
use super::job::{Sets, read_all};
use super::output::{fold, print, show};
use super::prints::Prints;
use super::progress::Progress;
use super::vary::{failure, first_free};
use crate::present::{sweep_blocks, sweep_json, write_sweep};
use crate::study::sweep::{Ledger, Sweep as Points, SweepError};
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Sweep {
    /// Scenario file; `-` reads standard input
    #[arg(value_name = "SCENARIO")]
    scenario: PathBuf,
    #[command(flatten)]
    sets: Sets,
    /// A path of the file and the values that it takes: "strip.width=4 mm to 8 mm in 9",
    /// "load.current=12 A to 60 A in 8 by ratio", "strip.layer[0].alloy=Fe-36Ni, Fe-42Ni"; up to
    /// three times
    #[arg(long, value_name = "PATH=VALUES", required = true)]
    over: Vec<String>,
    /// Let the paths move together, first with first, instead of each with each
    #[arg(long)]
    zip: bool,
    /// Ask each point what is known of its metals too: a band beside each answer, which takes several
    /// times as long
    #[arg(long)]
    metals: bool,
    /// Print JSON alone on standard output
    #[arg(long)]
    json: bool,
    /// Folder of the run: new, empty, or that of the same run, which is then continued [default:
    /// relatch-sweep-SCENARIO]
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    #[command(flatten)]
    prints: Prints,
    /// No progress on standard error
    #[arg(long)]
    quiet: bool,
}

impl Sweep {
    /// Computes what is left of the run, writes and prints.
    pub fn execute(self) -> Result<(), Failure> {
        let jobs = read_all(std::slice::from_ref(&self.scenario), &self.sets)?;
        for job in &jobs {
            let over: Vec<&str> = self.over.iter().map(String::as_str).collect();
            let sweep = Points::new((&job.name, &job.text), &over, self.zip)
                .map_err(|e| match e {
                    SweepError::Read(report) => Failure::Input(report.to_string()),
                    e => Failure::of_flag("over", &e.to_string()),
                })?
                .with_metals(self.metals);
            let stem = format!("relatch-sweep-{}", job.stem);
            let ledger = first_free(self.out.as_deref(), &stem, |folder| {
                Ledger::open(folder, &sweep)
            })
            .map_err(|e| failure(&job.name, &e))?;
            let (all, before) = (sweep.count(), ledger.done(&sweep));
            if before > 0 && !self.quiet {
                say(&format!(
                    "{}: goes on in {}, {before} of {all} points are there",
                    job.name,
                    ledger.folder().display()
                ));
            }
            let mut progress = Progress::new(job.name.clone(), self.quiet);
            let mut report = |done: u64| {
                progress.update(&format!("{done} of {all} points"), done as f64 / all as f64);
            };
            let outcome = ledger
                .run(&sweep, &mut report)
                .map_err(|e| failure(&job.name, &e))?;
            drop(progress);
            let names = write_sweep(ledger.folder(), &outcome, &self.prints.print())?;
            ledger.clear();
            #[cfg(feature = "parquet")]
            {
                let words = outcome.axes.iter().filter(|axis| axis.dimension.is_none());
                let words: Vec<&str> = words.map(|axis| axis.path.as_str()).collect();
                super::vary::parquet_beside(ledger.folder(), "sweep", &words)?;
            }
            if self.json {
                return print(&sweep_json(&outcome)?);
            }
            show(&sweep_blocks(&outcome))?;
            let folder = ledger.folder().display();
            fold(&format!("\nFiles in {folder}: {}\n", names.join(", ")))?;
        }
        Ok(())
    }
}
