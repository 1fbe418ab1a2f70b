//! `relatch run`: the main job.

use super::Failure;
use super::amount;
use super::engine::Options;
use super::failure::say;
use super::job::{Air, Delivery, Job, Sets, read_all};
use super::output::print;
use super::prints::Prints;
use crate::predict::{AskMetals, Outcome};
use crate::present::{Folder, Look, json, json_list, run_blocks};
use crate::scenario::read_current_text;
use clap::Args;
use std::path::PathBuf;

/// Fraction of the rating before the hot curve.
const HOT_FRACTION: f64 = 0.8;

#[derive(Debug, Args)]
pub struct Run {
    /// Scenario files; `-` reads one from standard input
    #[arg(required = true, value_name = "SCENARIO")]
    scenarios: Vec<PathBuf>,
    #[command(flatten)]
    sets: Sets,
    /// Print JSON alone on standard output (an array for several scenarios); files only with --out
    /// or --report
    #[arg(long)]
    json: bool,
    /// Folder for the files, new or empty [default: a new folder relatch-out-SCENARIO]
    #[arg(long, value_name = "DIR", conflicts_with = "no_files")]
    out: Option<PathBuf>,
    /// Replace files of the same name in the folder given with --out
    #[arg(long, requires = "out")]
    force: bool,
    /// Write a report too, one HTML page that prints, into the folder of the files
    #[arg(long, conflicts_with = "no_files")]
    report: bool,
    /// Carry this constant current instead of the scenario's load, e.g. "13 A"
    #[arg(long, value_name = "CURRENT", value_parser = amperes, allow_hyphen_values = true)]
    load: Option<String>,
    #[command(flatten)]
    air: Air,
    /// Compute the trip time a second time with an explicit stepper and state the difference
    #[arg(long)]
    cross_check: bool,
    /// Ask the answers again for what is known of the metals of parts with which that takes longer
    /// too: poles, discs, heat across the layers
    #[arg(long)]
    metals: bool,
    #[command(flatten)]
    prints: Prints,
    /// Write moving pictures too: the strip beside its temperatures, and the mechanism in section at
    /// work
    #[arg(long, conflicts_with = "no_files")]
    moving: bool,
    /// No progress and no warnings on standard error
    #[arg(long)]
    quiet: bool,
    /// Write no files
    #[arg(long)]
    no_files: bool,
}

impl Run {
    /// Reads everything, then predicts, writes and prints one scenario after the other.
    pub fn execute(self) -> Result<(), Failure> {
        if self.moving && self.json && self.out.is_none() {
            let why = "error: --moving writes files, --json alone writes none: add --out DIR";
            return Err(Failure::Input(why.to_owned()));
        }
        let sets = self.air.in_place(&self.sets);
        let sets = sets.and("load.current", self.load.clone());
        let jobs = read_all(&self.scenarios, &sets)?;
        for job in &jobs {
            if let Some(folder) = self.folder(job, jobs.len()) {
                folder.check()?;
            }
        }
        let options = Options {
            characteristic: true,
            hot_fraction: HOT_FRACTION,
            cross_check: self.cross_check,
            film: self.moving,
            metals: if self.metals {
                AskMetals::Always
            } else {
                AskMetals::WithTables
            },
            ..Options::default()
        };
        let delivery = Delivery {
            look: Look {
                print: self.prints.print(),
                moving: self.moving,
            },
            report: self.report,
            quiet: self.quiet,
            blocks: (!self.json).then_some(run_blocks),
        };
        let mut done: Vec<Outcome> = Vec::new();
        let mut has_failed = false;
        for (k, job) in jobs.iter().enumerate() {
            match job.predict(&options, self.quiet) {
                Ok(outcome) => {
                    if k > 0 && !self.json {
                        print("\n\n")?;
                    }
                    delivery.of(job, &outcome, self.folder(job, jobs.len()))?;
                    done.push(outcome);
                }
                // One scenario without an answer must not hide the answers of the others.
                Err(Failure::Failed(message)) => {
                    say(&message);
                    has_failed = true;
                }
                Err(other) => return Err(other),
            }
        }
        if self.json {
            self.print_json(&done, jobs.len())?;
        }
        if has_failed {
            Err(Failure::Reported)
        } else {
            Ok(())
        }
    }

    fn folder(&self, job: &Job, count: usize) -> Option<Folder> {
        let wants_files = !self.no_files && (!self.json || self.out.is_some() || self.report);
        wants_files.then(|| job.folder(self.out.as_deref(), self.force, count > 1))
    }

    fn print_json(&self, done: &[Outcome], count: usize) -> Result<(), Failure> {
        let text = match done {
            [] if count == 1 => return Ok(()),
            [one] if count == 1 => json(one),
            list => json_list(list),
        };
        print(&text?)
    }
}

/// A current as a file writes it.
fn amperes(text: &str) -> Result<String, String> {
    let text = amount::current_text(text)?;
    read_current_text(&text).map(|_| text)
}
