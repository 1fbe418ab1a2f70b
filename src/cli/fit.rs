//! `relatch fit`: a published characteristic as the parts that may stand behind it.

use super::Failure;
use super::engine::{self, Effort};
use super::failure::say;
use super::one_file;
use super::output::{fold, print, show};
use super::prints::Prints;
use super::progress::Progress;
use super::standard_input;
use crate::evidence::Datasheet;
use crate::family::FitAnswer;
use crate::present::plot::fit_figure;
use crate::present::{fit_blocks, fit_json};
use clap::Args;
use std::path::{Path, PathBuf};

/// Largest datasheet taken from standard input, bytes.
const LARGEST: u64 = 4 * 1024 * 1024;

#[derive(Debug, Args)]
pub struct Fit {
    /// Datasheet; `-` reads standard input. `relatch new datasheet` prints a starter
    #[arg(value_name = "DATASHEET")]
    datasheet: PathBuf,
    /// Write the best part as a scenario for `relatch run`, and the fit as a figure beside it
    /// (FILE-fit.svg and FILE-fit.png, without the ending of FILE)
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    #[command(flatten)]
    prints: Prints,
    /// Replace the files named by --out
    #[arg(long, requires = "out")]
    force: bool,
    /// Designs that are tried
    #[arg(long, value_name = "NUMBER", default_value_t = 400, value_parser = clap::value_parser!(u32).range(8..=20_000))]
    designs: u32,
    /// Seed of the draws
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    seed: u64,
    /// Print JSON alone on standard output
    #[arg(long)]
    json: bool,
    /// No progress and no warnings on standard error
    #[arg(long)]
    quiet: bool,
}

impl Fit {
    /// Reads, fits, writes and prints.
    pub fn execute(self) -> Result<(), Failure> {
        self.prints.need("--out FILE", self.out.is_some())?;
        if let Some(path) = &self.out {
            for path in [path, &figure_path(path, "svg"), &figure_path(path, "png")] {
                one_file::check(path, self.force)?;
            }
        }
        let sheet = self.read()?;
        let mut progress = Progress::new(self.datasheet.display().to_string(), self.quiet);
        let effort = Effort {
            designs: self.designs as usize,
            ..Effort::default()
        };
        let mut answer =
            engine::fit_with(&sheet.nameplate, self.seed, effort, &mut |what, share| {
                progress.update(what, share);
            })
            .map_err(|e| Failure::Failed(format!("error: {}: {e}", self.datasheet.display())))?;
        drop(progress);
        answer.title = sheet.title;
        let written = match &self.out {
            Some(path) => Some(self.write(path, &answer)?),
            None => None,
        };
        if self.json {
            if let (Some(line), false) = (&written, self.quiet) {
                say(line.trim());
            }
            return print(&fit_json(&answer)?);
        }
        show(&fit_blocks(&answer))?;
        fold(&written.unwrap_or_default())
    }

    /// Writes figure and scenario; returns what to say of them.
    fn write(&self, path: &Path, answer: &FitAnswer) -> Result<String, Failure> {
        let Some(scenario) = &answer.scenario else {
            return Err(Failure::Failed(format!(
                "error: the best part is no scenario: at {} A neither strip nor winding has the \
                 resistance it needs, and nothing is written; without --out the fit is shown",
                answer.rated_current_a
            )));
        };
        let figure = fit_figure(answer).map(|f| (f, "-fit"));
        let figures = figure.into_iter().collect();
        let seen = one_file::with_figures((path, scenario), figures, &self.prints, self.force)?;
        Ok(format!(
            "{seen}\nThe best part, one of many that follow, is in {}; next: relatch run {}\n",
            path.display(),
            path.display()
        ))
    }

    fn read(&self) -> Result<Datasheet, Failure> {
        if self.datasheet != Path::new("-") {
            return engine::read_datasheet(&self.datasheet)
                .map_err(|e| Failure::Input(e.to_string()));
        }
        let text = standard_input::read(LARGEST, "datasheet").map_err(Failure::Input)?;
        engine::read_datasheet_text("standard input", &text)
            .map_err(|e| Failure::Input(e.to_string()))
    }
}

fn figure_path(scenario: &Path, ending: &str) -> PathBuf {
    one_file::beside(scenario, &format!("-fit.{ending}"))
}
