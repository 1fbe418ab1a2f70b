//! A scenario on the command line: where it comes from, what it is called, what it predicts.

use super::Failure;
use super::amount;
use super::engine;
use super::failure::say;
use super::output::show;
use super::prints::endings;
use super::progress::Progress;
use super::standard_input;
use crate::predict::Outcome;
use crate::present::block::Block;
use crate::present::{Folder, Look, Written, report_html, words, write};
use crate::scenario::Scenario;
use std::path::{Path, PathBuf};

/// Largest scenario taken from standard input, bytes.
const LARGEST: u64 = 10_000_000;

/// A scenario that has been read.
pub struct Job {
    /// Name of its file as the user wrote it.
    pub name: String,
    /// Stem of that name, for output folders.
    pub stem: String,
    /// Its text, with what was set in it.
    pub text: String,
    /// The scenario.
    pub scenario: Scenario,
}

/// Numbers and words of a scenario given on the command line.
#[derive(Debug, Clone, Default, clap::Args)]
pub struct Sets {
    /// Set a number or a word of the scenario, by its path in the file, e.g. strip.length="38 mm";
    /// may be given several times
    #[arg(long, value_name = "PATH=VALUE", value_parser = setting)]
    set: Vec<(String, String)>,
}

impl Sets {
    /// Whether nothing is set.
    pub fn is_empty(&self) -> bool {
        self.set.is_empty()
    }

    /// One more.
    pub fn and(mut self, path: &str, value: Option<String>) -> Sets {
        self.set.extend(value.map(|value| (path.to_owned(), value)));
        self
    }
}

/// Other air than that of the scenario.
#[derive(Debug, Clone, Default, clap::Args)]
pub struct Air {
    /// Air at the protector instead of the scenario's, e.g. "40 degC"
    #[arg(long, value_name = "TEMPERATURE", value_parser = amount::temperature_text, allow_hyphen_values = true)]
    air: Option<String>,
}

impl Air {
    /// What is set, with this air.
    pub fn in_place(&self, sets: &Sets) -> Sets {
        sets.clone().and("surroundings.ambient", self.air.clone())
    }
}

fn setting(text: &str) -> Result<(String, String), String> {
    let (path, value) = text
        .split_once('=')
        .ok_or("write path and value, as strip.length=\"38 mm\"")?;
    Ok((path.trim().to_owned(), value.trim().to_owned()))
}

/// Reads every scenario before anything is computed; all reports come together.
pub fn read_all(paths: &[PathBuf], sets: &Sets) -> Result<Vec<Job>, Failure> {
    let mut jobs = Vec::with_capacity(paths.len());
    let mut reports = Vec::new();
    for path in paths {
        match read(path, sets) {
            Ok((text, scenario)) => {
                let stem = unused_stem(path, &jobs);
                jobs.push(Job {
                    name: path.display().to_string(),
                    stem,
                    text,
                    scenario,
                });
            }
            Err(report) => reports.push(report.trim_end().to_owned()),
        }
    }
    if reports.is_empty() {
        Ok(jobs)
    } else {
        Err(Failure::Input(reports.join("\n\n")))
    }
}

/// The file, or standard input for `-`, with what is set in it.
fn read(path: &Path, sets: &Sets) -> Result<(String, Scenario), String> {
    let (name, text) = if path == Path::new("-") {
        let text = standard_input::read(LARGEST, "scenario")?;
        ("standard input".to_owned(), text)
    } else {
        let text = engine::file_text(path).map_err(|e| e.to_string())?;
        (path.display().to_string(), text)
    };
    let values: Vec<(&str, &str)> = sets
        .set
        .iter()
        .map(|(p, v)| (p.as_str(), v.as_str()))
        .collect();
    engine::set((&name, &text), "--set", &values).map_err(|e| e.to_string())
}

fn unused_stem(path: &Path, jobs: &[Job]) -> String {
    let stem = match path.file_stem() {
        Some(stem) if path != Path::new("-") => stem.to_string_lossy().into_owned(),
        _ => "standard-input".to_owned(),
    };
    let is_free = |candidate: &String| jobs.iter().all(|job| &job.stem != candidate);
    let numbered = (2_u64..).map(|n| format!("{stem}-{n}"));
    std::iter::once(stem.clone())
        .chain(numbered)
        .find(is_free)
        .unwrap_or(stem)
}

impl Job {
    /// Predicts, with progress on standard error.
    pub fn predict(&self, options: &engine::Options, is_quiet: bool) -> Result<Outcome, Failure> {
        let mut progress = Progress::new(self.name.clone(), is_quiet);
        let mut report = |stage: &str, share: f64| progress.update(stage, share);
        engine::predict(&self.scenario, options, &mut report)
            .map_err(|error| Failure::Failed(format!("error: {}: {error}", self.name)))
    }

    /// Where its files go: the given folder (one inside it for each of several scenarios), or a
    /// new folder here.
    pub fn folder(&self, out: Option<&Path>, force: bool, is_one_of_several: bool) -> Folder {
        match out {
            Some(path) => {
                let path = if is_one_of_several {
                    path.join(&self.stem)
                } else {
                    path.to_owned()
                };
                Folder::Given { path, force }
            }
            None => Folder::New {
                parent: PathBuf::new(),
                stem: self.stem.clone(),
            },
        }
    }
}

/// How an outcome is handed over.
pub struct Delivery {
    /// How its files are drawn.
    pub look: Look,
    /// Whether there is a report among them.
    pub report: bool,
    /// No warnings on standard error.
    pub quiet: bool,
    /// What is printed; nothing where standard output holds JSON alone.
    pub blocks: Option<fn(&Outcome) -> Vec<Block>>,
}

impl Delivery {
    /// Files first: they are kept even when nobody reads the text.
    pub fn of(&self, job: &Job, outcome: &Outcome, folder: Option<Folder>) -> Result<(), Failure> {
        let files = folder
            .map(|folder| self.write(job, outcome, &folder))
            .transpose()?;
        if let Some(blocks) = self.blocks {
            let mut blocks = blocks(outcome);
            if let Some(line) = files {
                blocks.extend([Block::heading("Files"), Block::sentence(line)]);
            }
            return show(&blocks);
        }
        if !self.quiet {
            for warning in &outcome.warnings {
                say(&format!(
                    "warning: {}: {} [{}]",
                    job.name,
                    words::warning(warning),
                    warning.code()
                ));
            }
            if let Some(line) = files {
                say(&line);
            }
        }
        Ok(())
    }

    /// Writes the files and says in a line which.
    fn write(&self, job: &Job, outcome: &Outcome, folder: &Folder) -> Result<String, Failure> {
        let mut further = Vec::new();
        if self.report {
            let html = report_html(outcome, &job.scenario);
            further.push(("report.html".to_owned(), html.into_bytes()));
        }
        let Written { folder, names } = write(outcome, folder, &self.look, further)?;
        let count = |ending: &str| names.iter().filter(|name| name.ends_with(ending)).count();
        let moving = match count(".gif") {
            0 => String::new(),
            1 => ", a moving picture (.gif and .svg)".to_owned(),
            many => format!(", {many} moving pictures (.gif and .svg)"),
        };
        Ok(format!(
            "Files in {}: result.json, {} tables (.csv), {} figures ({}){moving}{}",
            folder.display(),
            count(".csv"),
            count(".png"),
            endings(&self.look.print),
            if self.report { ", report.html" } else { "" },
        ))
    }
}
