//! `relatch design`: the part that meets targets, as a scenario.

use super::Failure;
use super::failure::say;
use super::one_file;
use super::output::{fold, print, show};
use super::prints::Prints;
use super::progress::Progress;
use crate::present::plot::design_figures;
use crate::present::{design_blocks, design_json};
use crate::study::design::{Asked, DesignError, design, read};
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Design {
    /// Targets: what is free in a scenario, and what is wanted of it. `relatch new targets` prints
    /// a starter
    #[arg(value_name = "TARGETS")]
    targets: PathBuf,
    /// Write the part as a scenario for `relatch run`, and what --map and --trade draw as figures
    /// beside it (FILE-map.svg and .png, FILE-trade.svg and .png, without the ending of FILE)
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Map of where over two free numbers every want is met, e.g. "strip.width, strip.length"
    #[arg(long, value_name = "PATH,PATH", value_parser = pair)]
    map: Option<[String; 2]>,
    /// What one want costs another: the numbers of two wants in the order of the file, from 1, e.g.
    /// "1, 2"
    #[arg(long, value_name = "NUMBER,NUMBER", value_parser = numbers)]
    trade: Option<[usize; 2]>,
    /// Hold so many units, with the tolerances of the scenario, against the windows, and go into
    /// the middle of them
    #[arg(long, value_name = "N", default_value_t = 0)]
    units: u64,
    /// Start of the random numbers of --units
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// Ask what is known of the metals of a part with which that takes longer, too
    #[arg(long)]
    metals: bool,
    #[command(flatten)]
    prints: Prints,
    /// Replace the files named by --out
    #[arg(long, requires = "out")]
    force: bool,
    /// Print JSON alone on standard output
    #[arg(long)]
    json: bool,
    /// No progress on standard error
    #[arg(long)]
    quiet: bool,
}

impl Design {
    /// Reads, searches, writes and prints. A part that misses a want ends with 1: it is no answer
    /// to what was asked.
    pub fn execute(self) -> Result<(), Failure> {
        self.prints.need("--out FILE", self.out.is_some())?;
        if let Some(path) = &self.out {
            one_file::check(path, self.force)?;
            for ending in ["-map.svg", "-map.png", "-trade.svg", "-trade.png"] {
                one_file::check(&one_file::beside(path, ending), self.force)?;
            }
        }
        let targets = read(&self.targets).map_err(|e| Failure::Input(e.to_string()))?;
        let name = self.targets.display();
        let mut asked = Asked::default();
        (asked.units, asked.seed) = (self.units, self.seed);
        asked.map.clone_from(&self.map);
        asked.trade = self.trade;
        asked.metals = self.metals;
        let mut progress = Progress::new(name.to_string(), self.quiet);
        let mut report = |what: &str, share: f64| progress.update(what, share);
        let outcome = design(&targets, &asked, &mut report).map_err(|e| match e {
            DesignError::NotFree(..) => Failure::of_flag("map", &e.to_string()),
            DesignError::NoWant(_) => Failure::of_flag("trade", &e.to_string()),
            DesignError::Lot(e) => super::vary::failure(&name.to_string(), &e),
            e => Failure::Failed(format!("error: {name}: {e}")),
        })?;
        drop(progress);
        let mut written = String::new();
        if let Some(path) = &self.out {
            let figures = design_figures(&outcome).into_iter().map(|figure| {
                let ending = if figure.stem == "trade" {
                    "-trade"
                } else {
                    "-map"
                };
                (figure, ending)
            });
            let text = (path.as_path(), outcome.scenario_text.as_str());
            written = one_file::with_figures(text, figures.collect(), &self.prints, self.force)?;
            let path = path.display();
            written += &format!("\nThe part is in {path}; next: relatch run {path}\n");
        }
        if self.json {
            if !self.quiet && !written.is_empty() {
                say(written.trim());
            }
            print(&design_json(&outcome)?)?;
        } else {
            show(&design_blocks(&outcome))?;
            fold(&written)?;
        }
        match outcome.met {
            true => Ok(()),
            false => Err(Failure::Reported),
        }
    }
}

/// Two paths.
fn pair(text: &str) -> Result<[String; 2], String> {
    let (across, up) = text
        .split_once(',')
        .ok_or("two paths are meant, as \"strip.width, strip.length\"")?;
    Ok([across.trim().to_owned(), up.trim().to_owned()])
}

/// Two numbers from 1, as places from 0.
fn numbers(text: &str) -> Result<[usize; 2], String> {
    let number = |t: &str| t.parse::<usize>().ok().and_then(|n| n.checked_sub(1));
    let two = pair(text)
        .ok()
        .and_then(|[a, b]| Some([number(&a)?, number(&b)?]));
    two.ok_or_else(|| "two numbers of wants are meant, as \"1, 2\"".to_owned())
}
