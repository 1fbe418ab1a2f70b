//! `relatch vary`: a population of units from the tolerances of a scenario.

use super::Failure;
use super::failure::say;
use super::job::{Sets, read_all};
use super::output::{fold, print, show};
use super::prints::Prints;
use super::progress::Progress;
use crate::present::{serialised, single_blocks, vary_blocks, vary_json, words, write_population};
use crate::scenario::Scenario;
use crate::study::population::{
    Design, Found, Ledger, Plan, Settings, Shard, VaryError, VaryOutcome, single,
};
use clap::Args;
use std::path::{Path, PathBuf};
use std::time::Instant;

#[derive(Debug, Args)]
pub struct Vary {
    /// Scenario file; the numbers that carry a tolerance differ from unit to unit
    #[arg(value_name = "SCENARIO")]
    scenario: PathBuf,
    #[command(flatten)]
    sets: Sets,
    /// Number of units
    #[arg(long, value_name = "N", default_value_t = 8192)]
    units: u64,
    /// Start of every random number
    #[arg(long, value_name = "N", default_value_t = 1)]
    seed: u64,
    /// How inputs are chosen
    #[arg(long, value_enum, default_value_t = DesignName::Sobol)]
    design: DesignName,
    /// Rows of the sensitivity analysis, each as many units as there are inputs and two more; 0
    /// leaves it out
    #[arg(long, value_name = "N", default_value_t = 1024)]
    sensitivity_rows: u64,
    /// Answer for units by polynomials in the engine's place, where a bound measured on fresh units
    /// allows it; units near a limit or their trip point are asked of the engine all the same
    #[arg(long, conflicts_with = "unit")]
    surrogate: bool,
    /// Compute this part of the run only, e.g. 3/16; `relatch merge` joins the parts
    #[arg(long, value_name = "PART/OF", value_parser = shard, conflicts_with = "unit")]
    shard: Option<Shard>,
    /// Leave out the table with every unit
    #[arg(long)]
    no_table: bool,
    /// Show one unit in full, by its number from 0, and write nothing
    #[arg(long, value_name = "NUMBER", conflicts_with = "out")]
    unit: Option<u64>,
    /// Print JSON alone on standard output
    #[arg(long)]
    json: bool,
    /// Folder of the run: new, empty, or that of the same run, which is then continued [default:
    /// relatch-vary-SCENARIO]
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
    #[command(flatten)]
    prints: Prints,
    /// No progress and no warnings on standard error
    #[arg(long)]
    quiet: bool,
}

/// Names of the designs on the command line.
#[derive(Debug, Clone, Copy, clap::ValueEnum)]
enum DesignName {
    /// Scrambled Sobol sequence, most even at powers of two
    Sobol,
    /// Latin hypercube, even at any number
    Latin,
    /// Independent draws
    Random,
}

impl Vary {
    /// Computes what is left of the run, writes and prints.
    pub fn execute(self) -> Result<(), Failure> {
        let (name, scenario, text) = read(&self.scenario, &self.sets)?;
        let design = match self.design {
            DesignName::Sobol => Design::Sobol,
            DesignName::Latin => Design::Latin,
            DesignName::Random => Design::Random,
        };
        let settings = Settings::new(
            self.units,
            self.seed,
            design,
            self.sensitivity_rows,
            !self.no_table,
            self.shard,
        )
        .map_err(|e| failure(&name, &e))?
        .by_surrogate(self.surrogate);
        let plan = Plan::new(&scenario, &settings).map_err(|e| match e.idle(&name, &text) {
            Some(report) => Failure::Input(report.to_string()),
            None => failure(&name, &e),
        })?;
        if let Some(unit) = self.unit {
            let (record, _) = single(&plan, unit).map_err(|e| failure(&name, &e))?;
            if !self.json {
                return show(&single_blocks(&record));
            }
            return print(&serialised(&record)?);
        }
        let stem = self
            .scenario
            .file_stem()
            .map_or("scenario".into(), |s| s.to_string_lossy().into_owned());
        let (ledger, found) =
            open(self.out.as_deref(), &stem, &settings, &text).map_err(|e| failure(&name, &e))?;
        if found != Found::Finished {
            self.run(&name, &plan, &ledger, found)?;
        }
        if let Some(shard) = self.shard {
            return self.say_shard(shard, &ledger, &settings);
        }
        let outcome = if found == Found::Finished {
            finished(&plan, &ledger).map_err(|e| failure(&name, &e))?
        } else {
            let (tally, outcome) = ledger
                .tally(&plan)
                .and_then(|tally| Ok((VaryOutcome::new(&plan, &tally)?, tally)))
                .map(|(outcome, tally)| (tally, outcome))
                .map_err(|e| failure(&name, &e))?;
            ledger.write_table(&plan).map_err(|e| failure(&name, &e))?;
            write_population(ledger.folder(), &outcome, &tally, &self.prints.print())?;
            ledger.clear();
            outcome
        };
        deliver(&outcome, ledger.folder(), self.json, self.quiet)
    }

    fn run(&self, name: &str, plan: &Plan, ledger: &Ledger, found: Found) -> Result<(), Failure> {
        if let (Found::Started(chunks), false) = (found, self.quiet) {
            let all = plan.settings.own_chunks().len();
            say(&format!(
                "{name}: goes on in {}, {chunks} of {all} chunks are there",
                ledger.folder().display()
            ));
        }
        let mut progress = Progress::new(name.to_owned(), self.quiet);
        let started = Instant::now();
        let mut first = None;
        let mut report = |done: u64, total: u64| {
            let before = *first.get_or_insert(done);
            let elapsed = started.elapsed().as_secs_f64();
            let left = if done > before {
                let rate = (done - before) as f64 / elapsed.max(1e-9);
                format!(", {} left", time_words((total - done) as f64 / rate))
            } else {
                String::new()
            };
            let share = done as f64 / total.max(1) as f64;
            progress.update(&format!("{done} of {total} units{left}"), share);
        };
        ledger.run(plan, &mut report).map_err(|e| failure(name, &e))
    }

    fn say_shard(&self, shard: Shard, ledger: &Ledger, settings: &Settings) -> Result<(), Failure> {
        let units: u64 = settings
            .own_chunks()
            .iter()
            .map(|c| settings.units_of(*c))
            .map(|u| u.end - u.start)
            .sum();
        let folder = ledger.folder().display();
        if self.json {
            let record = serde_json::json!({
                "shard": format!("{}/{}", shard.part, shard.of),
                "units": units,
                "folder": folder.to_string(),
            });
            return print(&format!("{record}\n"));
        }
        print(&format!(
            "Shard {}/{} is finished: {units} of {} units, in {folder}.\n\
             When all are, join them: relatch merge FOLDER... --out DIR\n",
            shard.part, shard.of, settings.units
        ))
    }
}

/// The scenario, its name and its text, which is kept with the run.
fn read(path: &Path, sets: &Sets) -> Result<(String, Scenario, String), Failure> {
    if path == Path::new("-") {
        return Err(Failure::Input(
            "error: a population needs a scenario file, so that its run can be continued: not `-`"
                .into(),
        ));
    }
    let jobs = read_all(&[path.to_owned()], sets)?;
    let Some(job) = jobs.into_iter().next() else {
        return Err(Failure::Input("error: no scenario".into()));
    };
    Ok((job.name, job.scenario, job.text))
}

/// The folder of the run; see [`first_free`].
fn open(
    out: Option<&Path>,
    stem: &str,
    settings: &Settings,
    text: &str,
) -> Result<(Ledger, Found), VaryError> {
    let shard = settings
        .shard
        .map_or(String::new(), |s| format!("-shard-{}-of-{}", s.part, s.of));
    first_free(out, &format!("relatch-vary-{stem}{shard}"), |folder| {
        Ledger::open(folder, settings, text)
    })
}

/// The folder given; else the first of `STEM`, `STEM-2`, ... that is free or holds this run.
pub(super) fn first_free<T>(
    out: Option<&Path>,
    stem: &str,
    open: impl Fn(&Path) -> Result<T, VaryError>,
) -> Result<T, VaryError> {
    if let Some(folder) = out {
        return open(folder);
    }
    for number in 1_u32.. {
        let folder = match number {
            1 => stem.to_owned(),
            number => format!("{stem}-{number}"),
        };
        match open(Path::new(&folder)) {
            Err(VaryError::Folder { .. }) => {}
            other => return other,
        }
    }
    Err(VaryError::Missing("no free folder name".into()))
}

/// The record of a run whose results are written already.
fn finished(plan: &Plan, ledger: &Ledger) -> Result<VaryOutcome, VaryError> {
    VaryOutcome::new(plan, &ledger.kept_tally()?)
}

/// A table once more, as Parquet.
#[cfg(feature = "parquet")]
pub(super) fn parquet_beside(folder: &Path, stem: &str, words: &[&str]) -> Result<(), Failure> {
    let file = |ending: &str| folder.join(format!("{stem}.{ending}"));
    let (table, path) = (file("csv"), file("parquet"));
    if !table.exists() || path.exists() {
        return Ok(());
    }
    let temporary = folder.join(format!(".relatch-{stem}.parquet"));
    let failed = |e: &dyn std::fmt::Display| Failure::Failed(format!("error: {e}"));
    let written = std::fs::File::open(&table)
        .and_then(|from| Ok((from, std::fs::File::create(&temporary)?)))
        .map_err(|e| failed(&e))
        .and_then(|(from, out)| {
            crate::present::units_parquet(from, words, out).map_err(|e| failed(&e))
        })
        .and_then(|()| std::fs::rename(&temporary, &path).map_err(|e| failed(&e)));
    if written.is_err() {
        // Nothing half written stays; what went wrong is said.
        let _ = std::fs::remove_file(&temporary);
    }
    written
}

/// Text and where the files are, or JSON alone.
pub(super) fn deliver(
    outcome: &VaryOutcome,
    folder: &Path,
    json: bool,
    quiet: bool,
) -> Result<(), Failure> {
    #[cfg(feature = "parquet")]
    parquet_beside(folder, "units", &[])?;
    if json {
        if !quiet {
            for warning in &outcome.warnings {
                say(&format!("warning: {}", words::vary_warning(warning)));
            }
        }
        return print(&vary_json(outcome)?);
    }
    show(&vary_blocks(outcome))?;
    fold(&format!(
        "\nFiles in {}: result.json, units.csv unless left out, figures\n",
        folder.display()
    ))
}

/// Wrong input ends with 2, an impossible computation with 1.
pub(super) fn failure(name: &str, error: &VaryError) -> Failure {
    if let VaryError::Option { option, what } = error {
        return Failure::of_flag(option, what);
    }
    let message = format!("error: {name}: {error}");
    if error.is_input() {
        Failure::Input(message)
    } else {
        Failure::Failed(message)
    }
}

/// "3/16".
fn shard(text: &str) -> Result<Shard, String> {
    let help = "write the part and of how many, counted from 1, as 3/16";
    let (part, of) = text.split_once('/').ok_or(help)?;
    let number = |t: &str| t.trim().parse::<u32>().map_err(|_| help.to_owned());
    let shard = Shard {
        part: number(part)?,
        of: number(of)?,
    };
    if (1..=shard.of).contains(&shard.part) {
        Ok(shard)
    } else {
        Err(help.to_owned())
    }
}

fn time_words(seconds: f64) -> String {
    if seconds < 100.0 {
        format!("{seconds:.0} s")
    } else if seconds < 6000.0 {
        format!("{:.0} min", seconds / 60.0)
    } else {
        format!("{:.1} h", seconds / 3600.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shards_are_a_part_of_a_number() {
        assert_eq!(shard("3/16"), Ok(Shard { part: 3, of: 16 }));
        for wrong in ["", "3", "0/4", "5/4", "a/b", "1/0", "-1/3", "1/2/3"] {
            assert!(shard(wrong).is_err(), "{wrong}");
        }
    }
}
