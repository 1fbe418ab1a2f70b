//! `relatch explain`: the computation by hand, for teachers and students.

use super::Failure;
use super::failure::say;
use super::job::{Sets, read_all};
use super::output::print;
use super::progress::Progress;
use super::{engine, one_file};
use crate::present::{explanation_html, explanation_markdown};
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Explain {
    /// Scenario file; `-` reads it from standard input
    #[arg(value_name = "SCENARIO")]
    scenario: PathBuf,
    #[command(flatten)]
    sets: Sets,
    /// One self-contained HTML page with formulas, instead of Markdown
    #[arg(long)]
    html: bool,
    /// File to write instead of standard output; its ending .html asks for the page
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// Replace the file given with --out
    #[arg(long, requires = "out")]
    force: bool,
    /// No progress on standard error
    #[arg(long)]
    quiet: bool,
}

impl Explain {
    /// Explains one scenario.
    pub fn execute(self) -> Result<(), Failure> {
        let job = read_all(std::slice::from_ref(&self.scenario), &self.sets)?
            .pop()
            .ok_or_else(|| Failure::Input("error: no scenario".to_owned()))?;
        if let Some(path) = &self.out {
            one_file::check(path, self.force)?;
        }
        let mut progress = Progress::new(job.name.clone(), self.quiet);
        let mut report = |stage: &str, share: f64| progress.update(stage, share);
        let explanation = engine::explain(&job.scenario, &mut report)
            .map_err(|error| Failure::Failed(format!("error: {}: {error}", job.name)))?;
        drop(progress);
        let text = if self.wants_html() {
            explanation_html(&explanation)
        } else {
            explanation_markdown(&explanation)
        };
        match &self.out {
            None => print(&text),
            Some(path) => {
                one_file::write(path, &text, self.force)?;
                if !self.quiet {
                    say(&format!("written: {}", path.display()));
                }
                Ok(())
            }
        }
    }

    fn wants_html(&self) -> bool {
        let ending = self.out.as_ref().and_then(|path| path.extension());
        self.html
            || ending
                .is_some_and(|e| e.eq_ignore_ascii_case("html") || e.eq_ignore_ascii_case("htm"))
    }
}
