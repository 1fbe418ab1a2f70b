//! `relatch cite`: how to cite the program, and what its answers rest on.

use super::Failure;
use super::job::{Sets, read_all};
use super::output::print;
use crate::present::citation_file;
use crate::study::by_hand::formulas;
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Cite {
    /// Scenario whose metals and documents are listed too; `-` reads standard input
    #[arg(value_name = "SCENARIO")]
    scenario: Option<PathBuf>,
    #[command(flatten)]
    sets: Sets,
}

impl Cite {
    /// Prints a citation file (CFF 1.2.0) of the program, its sources as comments.
    pub fn execute(self) -> Result<(), Failure> {
        let scenario: Vec<PathBuf> = self.scenario.into_iter().collect();
        let jobs = match scenario.is_empty() {
            true => Vec::new(),
            false => read_all(&scenario, &self.sets)?,
        };
        let data = jobs.first().map(|job| &job.scenario.sources[..]);
        print(&citation_file(&formulas::sources(), data))
    }
}
