//! `relatch lesson`: sheets for a class, and the teacher's key.

use super::Failure;
use super::job::{Sets, read_all};
use super::output::print;
use super::progress::Progress;
use crate::present::{Folder, Paper, lesson_key_html, lesson_sheets_html, write_all};
use crate::study::lesson::{LessonError, Level, Plan, lesson};
use clap::{Args, ValueEnum};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub struct Lesson {
    /// Scenario file; `-` reads it from standard input
    #[arg(value_name = "SCENARIO")]
    scenario: PathBuf,
    #[command(flatten)]
    sets: Sets,
    /// What it is about
    #[arg(long, value_enum, value_name = "LEVEL", default_value = "curvature")]
    level: About,
    /// How long it lasts: a short one asks for fewer steps and gives the rest
    #[arg(long, value_name = "MINUTES", default_value_t = 45)]
    minutes: u32,
    /// Sheets, each with numbers of its own
    #[arg(long, value_name = "N", default_value_t = 30)]
    variants: usize,
    /// Start of the random numbers: the same seed makes the same sheets
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// Paper that it is printed on
    #[arg(long, value_enum, value_name = "PAPER", default_value = "a4")]
    paper: Sort,
    /// Folder for sheets.html and key.html, new or empty
    #[arg(long, value_name = "FOLDER")]
    out: Option<PathBuf>,
    /// Replace files of the same name in that folder
    #[arg(long, requires = "out")]
    force: bool,
    /// No progress on standard error
    #[arg(long)]
    quiet: bool,
}

/// What a lesson is about.
#[derive(Debug, Clone, Copy, ValueEnum)]
enum About {
    /// From the layers to curvature and deflection (level 1)
    #[value(alias = "1")]
    Curvature,
    /// One temperature, its time constant, when it trips (level 2)
    #[value(alias = "2")]
    Heating,
    /// What the spring holds, and how the trip point drifts (level 3)
    #[value(alias = "3")]
    Preload,
    /// A strip measured on the bench, at extra-low voltage
    Bench,
}

#[derive(Debug, Clone, Copy, ValueEnum)]
enum Sort {
    A4,
    Letter,
}

impl Lesson {
    /// Makes sheets and key, and writes them together.
    pub fn execute(self) -> Result<(), Failure> {
        let job = read_all(std::slice::from_ref(&self.scenario), &self.sets)?
            .pop()
            .ok_or_else(|| Failure::Input("error: no scenario".to_owned()))?;
        let folder = match &self.out {
            Some(path) => Folder::Given {
                path: path.clone(),
                force: self.force,
            },
            None => Folder::New {
                parent: PathBuf::new(),
                stem: format!("lesson-{}", job.stem),
            },
        };
        folder.check()?;
        let plan = Plan {
            level: self.level.into(),
            minutes: self.minutes,
            variants: self.variants,
            seed: self.seed,
        };
        let mut progress = Progress::new(job.name.clone(), self.quiet);
        let mut report = |stage: &str, share: f64| progress.update(stage, share);
        let made = lesson((&job.name, &job.text), &plan, &mut report);
        drop(progress);
        let made = made.map_err(|error| match error {
            LessonError::Minutes(_) => Failure::of_flag("minutes", &error.to_string()),
            LessonError::Variants(_) => Failure::of_flag("variants", &error.to_string()),
            error => Failure::Failed(format!("error: {}: {error}", job.name)),
        })?;
        let paper = match self.paper {
            Sort::A4 => Paper::A4,
            Sort::Letter => Paper::Letter,
        };
        let sheets = lesson_sheets_html(&made, paper);
        let key = lesson_key_html(&made, paper, &job.name);
        let contents = [("sheets.html", sheets), ("key.html", key)]
            .map(|(name, text)| (name.to_owned(), text.into_bytes()));
        let written = write_all(&contents, &folder)?;
        print(&format!(
            "Lesson in {}: sheets.html ({} to print), key.html for the teacher\n",
            written.folder.display(),
            made.sheets.len()
        ))
    }
}

impl From<About> for Level {
    fn from(about: About) -> Self {
        match about {
            About::Curvature => Level::Curvature,
            About::Heating => Level::Heating,
            About::Preload => Level::Preload,
            About::Bench => Level::Bench,
        }
    }
}
