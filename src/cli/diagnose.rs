//! `relatch diagnose`: what is known of a protector that keeps tripping, from a case file or a few
//! flags.

use super::Failure;
use super::amount;
use super::ask::{self, Terminal, Told, is_attended};
use super::failure::say;
use super::kind::Kind;
use super::log_answers::LogAnswers;
use super::one_file;
use super::output::{fold, print, show};
use super::prints::Prints;
use super::progress::Progress;
use super::standard_input;
use super::watch::How;
use crate::diagnose::{Diagnosis, diagnose, log_pictures};
use crate::evidence::{
    Case, Flags, Missing, from_flags_with_progress, read_text, read_with_progress,
};
use crate::family::Assumed;
use crate::present::{
    Folder, assumed_words, diagnosis_blocks, diagnosis_figures, diagnosis_full_blocks,
    diagnosis_json, log_findings, work_order, write_all,
};
use clap::{ArgGroup, Args};
use std::path::{Path, PathBuf};

/// Largest case taken from standard input, bytes.
const LARGEST: u64 = 4 * 1024 * 1024;

#[derive(Debug, Args)]
#[command(group(ArgGroup::new("writes").multiple(true).args(["work_order", "figures"])))]
#[command(group(ArgGroup::new("currents").multiple(true).args(["reading", "phase_currents"])))]
pub struct Diagnose {
    /// Case file, with its logs beside it; `-` reads standard input. `relatch new case` prints a
    /// starter. Without a case and without --rating it asks, on a terminal
    #[arg(value_name = "CASE", conflicts_with_all = [
        "rating", "reference_air", "limits", "reading", "meter", "accuracy", "room", "air", "trip", "held",
        "machine_rating", "LogAnswers", "watch", "sign", "marking", "joints", "mended", "start", "supply", "drop", "terminals",
        "setting", "opened_by", "poles", "pole", "instantaneous", "notices_lost_phase", "phases", "phase_currents",
        "hums", "cycles", "load_kind",
        "position",
    ])]
    case: Option<PathBuf>,
    /// Rated current of the protector, e.g. "13 A" (instead of a case file)
    #[arg(long, value_name = "CURRENT", value_parser = amount::rating_text)]
    rating: Option<String>,
    /// Air that the rating is stated for [default: 23 degC]
    #[arg(long, value_name = "TEMPERATURE", value_parser = amount::temperature_text, allow_hyphen_values = true, requires = "rating")]
    reference_air: Option<String>,
    /// Published limits of the protector, e.g. "equipment breaker window"
    #[arg(long, value_name = "NAME", requires = "rating")]
    limits: Option<String>,
    /// Where its dial stands, e.g. "11 A"; --rating is then the largest current of the dial
    #[arg(long, value_name = "CURRENT", value_parser = amount::current_text, requires = "rating")]
    setting: Option<String>,
    /// Which pole all this is of, e.g. "L2"
    #[arg(long, value_name = "NAME", requires = "rating")]
    pole: Option<String>,
    #[command(flatten)]
    kind: Kind,
    /// Currents of all three phases under one load, e.g. "14 A, 13.8 A, 0 A"
    #[arg(long, value_name = "CURRENTS", value_parser = amount::phases_text, requires = "rating")]
    phase_currents: Option<String>,
    /// It closes by itself: how long it is on and off once that repeats, e.g. "on 20 s, off 3 min"
    #[arg(long, value_name = "TIMES", requires = "rating")]
    cycles: Option<String>,
    /// The motor hums and does not start
    #[arg(long, requires = "rating")]
    hums: bool,
    /// What hangs behind it: "motor", "drive", "heater", "dimmed heater", "lamps", "transformer",
    /// "electronics", "direct current"
    #[arg(long, value_name = "KIND", requires = "rating")]
    load_kind: Option<String>,
    /// Where the machine's switch stands when it trips, e.g. "high"; readings of another position
    /// are left out
    #[arg(long, value_name = "NAME", requires = "rating")]
    position: Option<String>,
    /// Reading of the running current, e.g. "11.3 A", or "11.3 A on high" of a machine with a
    /// switch; may be given several times
    #[arg(long, alias = "load", value_name = "CURRENT", value_parser = amount::reading_text, allow_hyphen_values = true, requires = "rating")]
    reading: Vec<String>,
    /// What the meter shows: "true RMS", "average responding" or "unknown"
    #[arg(long, value_name = "KIND", requires = "currents")]
    meter: Option<String>,
    /// Accuracy of the meter from its sheet [default: 2 % + 5 digits]
    #[arg(long, value_name = "ACCURACY", requires = "reading")]
    accuracy: Option<String>,
    /// Air in the room, e.g. "24 degC"
    #[arg(long, value_name = "TEMPERATURE", value_parser = amount::temperature_text, allow_hyphen_values = true, requires = "rating")]
    room: Option<String>,
    /// Air 10 mm to 20 mm from the protector, e.g. "52 degC"
    #[arg(long, value_name = "TEMPERATURE", value_parser = amount::temperature_text, allow_hyphen_values = true, requires = "rating")]
    air: Option<String>,
    /// A trip: "after 8.3 min", "after 8.3 min from cold", "between 10 and 20 min", "not known";
    /// may be given several times
    #[arg(long, value_name = "WHEN", value_parser = amount::event_text, requires = "rating")]
    trip: Vec<String>,
    /// A time without a trip: "1 h", "1 h from cold"; may be given several times
    #[arg(long, value_name = "TIME", value_parser = amount::event_text, requires = "rating")]
    held: Vec<String>,
    /// Rated current of the machine, e.g. "12 A"
    #[arg(long, value_name = "CURRENT", value_parser = amount::current_text, requires = "rating")]
    machine_rating: Option<String>,
    /// A sign of a fault: "smell", "soot", "trips at once cold", "trips without load", "does not
    /// latch cold"; may be given several times
    #[arg(long, value_name = "SIGN", requires = "rating")]
    sign: Vec<String>,
    /// The protector's marking beside the drawing: "agrees" or "differs"
    #[arg(long, value_name = "WORD", requires = "rating")]
    marking: Option<String>,
    /// What a look at both joints, dead, has shown: "no marks", "marks of heat"; "re-made": it has
    /// tripped since
    #[arg(long, value_name = "FOUND", requires = "rating")]
    joints: Option<String>,
    /// What was mended since, and what came of it: "load, then held 2 h", "joints, then tripped after
    /// 9 min"; "protector" (by one of the same type), "load", "air", "supply", "joints", "meter"; may
    /// be given several times, in their order. What was read since ends in "after the mend":
    /// --reading "11.5 A after the mend"
    #[arg(long, value_name = "WHAT", value_parser = amount::event_text, requires = "rating")]
    mended: Vec<String>,
    /// A start that was captured, e.g. "50 A for 0.7 s"
    #[arg(long, value_name = "CURRENT", value_parser = amount::start_text, requires = "rating")]
    start: Option<String>,
    /// Voltage of the supply, e.g. "196 V running of 230 V" or "229 V at rest, 196 V running of 230
    /// V"
    #[arg(long, value_name = "VOLTAGE", value_parser = amount::supply_text, requires = "rating")]
    supply: Option<String>,
    /// Drop across the closed protector, e.g. "123 mV at 13.6 A, sister 72 mV"
    #[arg(long, value_name = "VOLTAGE", value_parser = amount::drop_text, requires = "rating")]
    drop: Option<String>,
    /// Temperatures of both terminals under load, e.g. "58 degC and 31 degC"
    #[arg(long, value_name = "TEMPERATURES", value_parser = amount::terminals_text, allow_hyphen_values = true, requires = "rating")]
    terminals: Option<String>,
    /// What is not at hand, so that no step needs it: "swap", "millivolts", "bench"; may be given
    /// several times
    #[arg(long, value_name = "WHAT", value_parser = Missing::read)]
    cannot: Vec<Missing>,
    /// Follow a log that is being written, e.g. "current.csv", and forecast trip and waits until
    /// Ctrl-C
    #[arg(long, value_name = "LOG", requires = "rating", conflicts_with_all = [
        "reading", "trip", "held", "machine_rating", "LogAnswers",
        "sign", "marking", "joints", "mended", "start", "supply", "drop", "terminals", "load_kind", "position", "cannot",
        "full",
    ])]
    watch: Option<PathBuf>,
    /// With --watch: read to the end of the log and stop there
    #[arg(long, requires = "watch")]
    until_end: bool,
    /// Print everything: every reason, the state of the part, how logs were read, the cautions in
    /// full
    #[arg(long, conflicts_with_all = ["json", "watch"])]
    full: bool,
    /// Print JSON alone on standard output
    #[arg(long)]
    pub json: bool,
    /// Write the work order, one page of HTML that prints, to this file
    #[arg(long, value_name = "FILE")]
    work_order: Option<PathBuf>,
    /// Draw figures into this folder, as SVG and PNG: the readings, and the strip of sound parts
    /// through each log
    #[arg(long, value_name = "DIR", conflicts_with = "watch")]
    figures: Option<PathBuf>,
    #[command(flatten)]
    prints: Prints,
    /// Replace files of --work-order and --figures
    #[arg(long, requires = "writes")]
    force: bool,
    /// Seed of the random numbers; the same seed gives the same answer to the last digit
    #[arg(long, value_name = "NUMBER", default_value_t = 1)]
    seed: u64,
    /// No progress and no warnings on standard error
    #[arg(long)]
    pub quiet: bool,
    #[command(flatten)]
    log: LogAnswers,
}

impl Diagnose {
    /// Weighs the case and says what is wrong.
    pub fn execute(self) -> Result<(), Failure> {
        let asks = self.case.is_none() && self.rating.is_none();
        if asks && (self.json || !is_attended()) {
            return Err(Failure::Input(
                "error: nothing says what is to be diagnosed\n  \
                 = help: name a case file (`relatch new case` prints one to begin with)\n  \
                 = help: or say what is printed on the protector: --rating \"10 A\"\n  \
                 = help: or run it on a terminal without anything: it asks"
                    .into(),
            ));
        }
        if self.watched()? {
            return Ok(());
        }
        if let Some(path) = &self.work_order {
            one_file::check(path, self.force)?;
        }
        self.prints.need("--figures DIR", self.figures.is_some())?;
        let figures = self.figures.as_ref().map(|path| Folder::Given {
            path: path.clone(),
            force: self.force,
        });
        if let Some(folder) = &figures {
            folder.check()?;
        }
        let mut weigh = |case: &Case| {
            let case = &Case {
                missing: self.cannot.clone(),
                ..case.clone()
            };
            diagnose(case, self.seed).map_err(|error| Failure::Failed(format!("error: {error}")))
        };
        let (case, diagnosis, told) = if asks {
            let Told {
                text,
                case,
                diagnosis,
            } = ask::ask(&mut Terminal, &mut weigh)?;
            (case, diagnosis, Some(text))
        } else {
            let case = self.case()?;
            let diagnosis = weigh(&case)?;
            (case, diagnosis, None)
        };
        let mut written = String::new();
        if let Some(path) = &self.work_order {
            let page = work_order(&diagnosis, &case);
            one_file::write(path, &page, self.force)?;
            written = format!("Work order in {}\n", path.display());
        }
        if let Some(folder) = &figures {
            written += &self.draw(&diagnosis, &case, folder)?;
        }
        if self.json {
            if !self.quiet && !written.is_empty() {
                say(written.trim_end());
            }
            return print(&diagnosis_json(&diagnosis)?);
        }
        if self.full {
            let imports = case.logs.iter().map(|l| format!("{}\n", log_findings(l)));
            fold(&imports.collect::<String>())?;
            show(&diagnosis_full_blocks(&diagnosis, &case))?;
        } else {
            show(&diagnosis_blocks(&diagnosis, &case))?;
        }
        print(&written)?;
        told.map_or(Ok(()), |text| ask::keep(&mut Terminal, &text))
    }

    /// Draws the figures and says where they are.
    fn draw(&self, diagnosis: &Diagnosis, case: &Case, folder: &Folder) -> Result<String, Failure> {
        let pictures =
            log_pictures(case).map_err(|error| Failure::Failed(format!("error: {error}")))?;
        let files = diagnosis_figures(diagnosis, case, &pictures, &self.prints.print())?;
        if files.is_empty() {
            return Ok("No figures: nothing was timed or recorded\n".to_owned());
        }
        let written = write_all(&files, folder)?;
        let names = written.names.join(", ");
        Ok(format!(
            "Figures in {}: {names}\n",
            written.folder.display()
        ))
    }

    /// The case that the file or the flags hold; what was assumed of it goes to standard error.
    pub fn case(&self) -> Result<Case, Failure> {
        let case = match &self.case {
            Some(path) if path == Path::new("-") => from_standard_input()?,
            Some(path) => {
                let mut progress = Progress::new(path.display().to_string(), self.quiet);
                read_with_progress(path, &mut |log, share| progress.update(log, share))
                    .map_err(|e| Failure::Input(e.to_string()))?
            }
            None => {
                let mut progress = Progress::new("the flags".to_owned(), self.quiet);
                from_flags_with_progress(&self.flags(), &mut |log, share| {
                    progress.update(log, share)
                })
                .map_err(|problems| {
                    let lines: Vec<String> =
                        problems.iter().map(|p| format!("error: {p}")).collect();
                    Failure::Input(lines.join("\n"))
                })?
            }
        };
        // The screen has no room for it; what an entry was taken for, or that it was not, is said
        // all the same.
        let is_told = |assumed: &&Assumed| self.json || self.full || assumed.is_of_an_entry();
        if !self.quiet {
            for assumed in case.all_assumed().filter(is_told) {
                say(&format!("assumed: {}", assumed_words(assumed)));
            }
        }
        Ok(case)
    }

    /// Follows the log of `--watch`, if there is one; whether there was.
    pub fn watched(&self) -> Result<bool, Failure> {
        let Some(log) = &self.watch else {
            return Ok(false);
        };
        let how = How {
            until_end: self.until_end,
            json: self.json,
            quiet: self.quiet,
        };
        super::watch::from_flags(log, &self.flags(), how).map(|()| true)
    }

    fn flags(&self) -> Flags {
        Flags {
            rating: self.rating.clone().unwrap_or_default(),
            reference_air: self.reference_air.clone(),
            limits: self.limits.clone(),
            readings: self.reading.clone(),
            meter: self.meter.clone(),
            accuracy: self.accuracy.clone(),
            room: self.room.clone(),
            air: self.air.clone(),
            trips: self.trip.clone(),
            held: self.held.clone(),
            machine_rating: self.machine_rating.clone(),
            log: self.log.named(),
            signs: self.sign.clone(),
            marking: self.marking.clone(),
            joints: self.joints.clone(),
            mended: self.mended.clone(),
            start: self.start.clone(),
            supply: self.supply.clone(),
            drop: self.drop.clone(),
            terminals: self.terminals.clone(),
            setting: self.setting.clone(),
            poles: self.kind.poles,
            instantaneous: self.kind.instantaneous,
            notices_lost_phase: self.kind.notices_lost_phase,
            phases: self.kind.phases,
            phase_currents: self.phase_currents.clone(),
            hums: self.hums,
            cycles: self.cycles.clone(),
            pole: self.pole.clone(),
            load: self.load_kind.clone(),
            position: self.position.clone(),
        }
    }
}

fn from_standard_input() -> Result<Case, Failure> {
    let text = standard_input::read(LARGEST, "case").map_err(Failure::Input)?;
    read_text("standard input", &text).map_err(|e| Failure::Input(e.to_string()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::Parser;

    #[derive(Debug, Parser)]
    struct Line {
        #[command(flatten)]
        diagnose: Diagnose,
    }

    fn case(words: &[&str]) -> Result<Case, Failure> {
        let line = Line::try_parse_from(std::iter::once(&"relatch").chain(words))
            .map_err(|e| Failure::Input(e.to_string()))?;
        line.diagnose.case()
    }

    #[test]
    fn flags_make_a_case() {
        let case = case(&[
            "--quiet",
            "--rating",
            "13 A",
            "--reading",
            "11.3 A",
            "--meter",
            "average responding",
            "--trip",
            "after 8.3 min from cold",
            "--trip",
            "7.8 min",
            "--room",
            "75 degF",
        ])
        .expect("a case");
        assert_eq!(case.nameplate.rated_current_a, 13.0);
        assert_eq!(case.events.len(), 2);
        assert_eq!(case.air.len(), 1);
    }

    #[test]
    fn a_watch_needs_a_rating_and_a_log() {
        for words in [
            &["--watch", "log.csv"][..],
            &["--watch", "log.csv", "--rating", "soon"],
            &["--watch", "no such log.csv", "--rating", "13 A"],
            &[
                "--watch",
                "log.csv",
                "--rating",
                "13 A",
                "--trip",
                "not known",
            ],
            &["--until-end", "--rating", "13 A"],
        ] {
            let all = std::iter::once(&"relatch").chain(words);
            let done = Line::try_parse_from(all)
                .map_err(|e| Failure::Input(e.to_string()))
                .and_then(|line| line.diagnose.watched());
            assert!(
                matches!(done, Err(Failure::Input(_))),
                "{words:?}: {done:?}"
            );
        }
    }

    #[test]
    fn a_case_and_flags_do_not_mix() {
        for words in [
            &["case.toml", "--rating", "13 A"][..],
            &["--reading", "11.3 A"],
            &["--rating", "13 A", "--meter", "true RMS"],
            &["case.toml", "--log", "current.csv"],
            &["case.toml", "--log-from", "cold"],
            &["--rating", "13 A", "--held", "1 h", "--log-from", "cold"],
            &["--rating", "13 A", "--trip", "soon"],
            &[],
        ] {
            assert!(matches!(case(words), Err(Failure::Input(_))), "{words:?}");
        }
    }
}
