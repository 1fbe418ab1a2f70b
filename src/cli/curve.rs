//! `relatch curve`: the time-current characteristic.

use super::Failure;
use super::engine::Options;
use super::job::{Air, Delivery, Sets, read_all};
use super::output::print;
use super::prints::Prints;
use crate::present::{Look, curve_blocks, json};
use crate::scenario::read_current_text;
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Curve {
    /// Scenario file; `-` reads standard input
    #[arg(value_name = "SCENARIO")]
    scenario: PathBuf,
    #[command(flatten)]
    sets: Sets,
    #[command(flatten)]
    air: Air,
    /// Currents, as "12 A, 20 A" or in multiples of the rating, as "1.35x, 2x"
    #[arg(long, value_name = "LIST", value_delimiter = ',', value_parser = current)]
    currents: Option<Vec<Current>>,
    /// State before the hot curve, as a fraction of the rated current
    #[arg(long, value_name = "FRACTION", default_value = "0.8", value_parser = fraction)]
    hot: f64,
    /// Print JSON alone on standard output
    #[arg(long)]
    json: bool,
    /// Folder for the files, new or empty; without it no files are written
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    /// Replace files of the same name in the folder given with --out
    #[arg(long, requires = "out")]
    force: bool,
    #[command(flatten)]
    prints: Prints,
    /// No progress and no warnings on standard error
    #[arg(long)]
    quiet: bool,
}

/// A current on the command line.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Current {
    Amperes(f64),
    Multiple(f64),
}

impl Curve {
    /// Reads, predicts, writes and prints.
    pub fn execute(self) -> Result<(), Failure> {
        let jobs = read_all(
            std::slice::from_ref(&self.scenario),
            &self.air.in_place(&self.sets),
        )?;
        for job in &jobs {
            let folder = self
                .out
                .as_deref()
                .map(|out| job.folder(Some(out), self.force, false));
            if let Some(folder) = &folder {
                folder.check()?;
            }
            let rated_a = job.scenario.protector.rated_current_a;
            let amperes = |current: &Current| match current {
                Current::Amperes(a) => *a,
                Current::Multiple(m) => m * rated_a,
            };
            let list = self.currents.as_ref();
            let options = Options {
                characteristic: true,
                currents_a: list.map(|list| list.iter().map(amperes).collect()),
                hot_fraction: self.hot,
                without_tables: true,
                ..Options::default()
            };
            let outcome = job.predict(&options, self.quiet)?;
            let delivery = Delivery {
                look: Look {
                    print: self.prints.print(),
                    moving: false,
                },
                report: false,
                quiet: self.quiet,
                blocks: (!self.json).then_some(curve_blocks),
            };
            delivery.of(job, &outcome, folder)?;
            if self.json {
                print(&json(&outcome)?)?;
            }
        }
        Ok(())
    }
}

/// "20 A", "1.5 kA", "300 mA" or "2x".
fn current(text: &str) -> Result<Current, String> {
    let (current, value) = match text.trim().strip_suffix('x') {
        Some(number) => {
            let value = number.trim().parse().unwrap_or(f64::NAN);
            (Current::Multiple(value), value)
        }
        None => {
            let or = |e| format!("{e}; or a multiple of the rating, \"2x\"");
            let value = read_current_text(text.trim()).map_err(or)?;
            (Current::Amperes(value), value)
        }
    };
    if value > 0.0 && value.is_finite() {
        return Ok(current);
    }
    Err("write a current above zero, \"20 A\", or a multiple of the rating, \"2x\"".to_owned())
}

/// A fraction above 0, or "80 %".
fn fraction(text: &str) -> Result<f64, String> {
    let (number, scale) = match text.trim().strip_suffix('%') {
        Some(number) => (number, 0.01),
        None => (text, 1.0),
    };
    let help = "write a fraction of the rated current, as 0.8 or \"80 %\"";
    let value = number
        .trim()
        .parse::<f64>()
        .map_err(|_| format!("not a number: {help}"))?
        * scale;
    if value > 0.0 && value <= 5.0 {
        Ok(value)
    } else {
        Err(format!("must lie above 0 and not above 5: {help}"))
    }
}
