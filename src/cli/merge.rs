//! `relatch merge`: the shards of a population joined.

use super::Failure;
use super::prints::Prints;
use super::vary::{deliver, failure};
use crate::present::{Folder, write_population};
use crate::scenario::read_text;
use crate::study::population::{Found, Ledger, Plan, VaryOutcome, merge};
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Merge {
    /// Folders of all shards of one run
    #[arg(required = true, value_name = "FOLDER")]
    folders: Vec<PathBuf>,
    /// Folder for the whole run, new or empty
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// Print JSON alone on standard output
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    prints: Prints,
    /// No warnings on standard error
    #[arg(long)]
    quiet: bool,
}

impl Merge {
    /// Checks that the shards belong together, writes and prints.
    pub fn execute(self) -> Result<(), Failure> {
        let name = "merge";
        let wrong = |e| failure(name, &e);
        let shards = merge(&self.folders).map_err(wrong)?;
        let scenario = read_text("scenario.toml", &shards.scenario)
            .map_err(|e| Failure::Input(e.to_string()))?;
        Folder::Given {
            path: self.out.clone(),
            force: false,
        }
        .check()?;
        let plan = Plan::new(&scenario, &shards.settings).map_err(wrong)?;
        let tally = shards.tally(&plan).map_err(wrong)?;
        let outcome = VaryOutcome::new(&plan, &tally).map_err(wrong)?;
        let (ledger, found) =
            Ledger::open(&self.out, &shards.settings, &shards.scenario).map_err(wrong)?;
        debug_assert_eq!(found, Found::New);
        shards.write_table(&plan, ledger.folder()).map_err(wrong)?;
        write_population(ledger.folder(), &outcome, &tally, &self.prints.print())?;
        deliver(&outcome, ledger.folder(), self.json, self.quiet)
    }
}
