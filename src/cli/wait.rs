//! `relatch wait`: how long to wait, from a nameplate alone.

use super::Failure;
use super::amount;
use super::ask::{self, Talk};
use super::countdown::count_down;
use super::kind::Kind;
use super::output::{print, show};
use crate::evidence::{is_other, said_apart};
use crate::family::{Nameplate, Said, Sits, Timed, Told, WaitQuestion, wait};
use crate::load::Programme;
use crate::present::{wait_blocks, wait_full_blocks, wait_json, words};
use crate::standards::LIMITS;
use clap::{Args, ValueEnum};

#[derive(Debug, Clone, Copy, ValueEnum)]
enum On {
    /// On or in a motor, pump or compressor
    #[value(aliases = ["pump", "compressor"])]
    Motor,
    /// In a box of its own
    Box,
}

#[derive(Debug, Args)]
pub struct Wait {
    /// Rated current of the protector, e.g. "10 A"
    #[arg(long, value_name = "CURRENT", value_parser = rating)]
    rating: f64,
    /// Current that tripped it, or under which it ran, e.g. "24 A" [default: that of --tripped]
    #[arg(long, alias = "reading", value_name = "CURRENT", value_parser = current, allow_hyphen_values = true,
        required_unless_present = "tripped")]
    load: Option<f64>,
    /// Air at the protector [default: 25 degC]
    #[arg(long, alias = "ambient", value_name = "TEMPERATURE", value_parser = temperature,
        allow_hyphen_values = true)]
    air: Option<f64>,
    /// What the machine draws when it starts again, e.g. "60 A for 0.6 s" or "60 A for 0.6 s, 9 A"
    #[arg(long, value_name = "START", value_parser = start)]
    start: Option<Programme>,
    /// Where the protector sits
    #[arg(long, value_name = "PLACE")]
    on: Option<On>,
    /// A trip from cold that was timed, e.g. "after 9 s at 24 A"
    #[arg(long, alias = "trip", value_name = "WHEN", value_parser = trip)]
    tripped: Option<(f64, f64)>,
    /// A wait after that trip at which the reset held, e.g. "after 40 s"; may be given several
    /// times
    #[arg(long, value_name = "WAIT", value_parser = after)]
    reset_held: Vec<f64>,
    /// A wait after that trip at which the reset did not hold yet; may be given several times
    #[arg(long, value_name = "WAIT", value_parser = after)]
    reset_refused: Vec<f64>,
    /// Air that the rating is stated for [default: that of --limits, else 23 degC]
    #[arg(long, value_name = "TEMPERATURE", value_parser = temperature, allow_hyphen_values = true)]
    reference_air: Option<f64>,
    /// Published limits of the protector, e.g. "equipment breaker window"
    #[arg(long, value_name = "NAME", value_parser = limits)]
    limits: Option<String>,
    /// The protector cancels the temperature of the air
    #[arg(long)]
    compensated: bool,
    #[command(flatten)]
    kind: Kind,
    /// It closes again by itself, as the discs in motors do
    #[arg(long)]
    resets_itself: bool,
    /// Print everything: waits of few and of nearly all parts, a reset too early, what was assumed
    #[arg(long, conflicts_with = "json")]
    full: bool,
    /// Then count the wait down, until Ctrl-C
    #[arg(long, conflicts_with = "json")]
    watch: bool,
    /// Print JSON alone on standard output
    #[arg(long)]
    json: bool,
}

impl Wait {
    /// Answers.
    pub fn execute(mut self) -> Result<(), Failure> {
        let (as_json, full, watch) = (self.json, self.full, self.watch);
        if self.on.is_none() && !as_json && ask::is_attended() {
            self.on = sits(&mut ask::Terminal)?;
        }
        let question = self.question()?;
        let answer = wait(&question).map_err(|error| Failure::Failed(format!("error: {error}")))?;
        if as_json {
            return print(&wait_json(&answer)?);
        }
        show(&match full {
            true => wait_full_blocks(&answer),
            false => wait_blocks(&answer),
        })?;
        if !watch {
            return Ok(());
        }
        match words::countdown(&answer) {
            Ok(targets) => count_down(&targets),
            Err(why) => print(&format!("{why}\n")),
        }
    }

    fn question(self) -> Result<WaitQuestion, Failure> {
        let mut nameplate = Nameplate::of_rating(self.rating);
        if let Some(name) = &self.limits {
            nameplate = nameplate
                .held_to(name)
                .map_err(|why| Failure::Input(format!("error: {why}")))?;
        }
        if let Some(k) = self.reference_air {
            nameplate = nameplate.at_reference(k);
        }
        nameplate.compensated = self.compensated;
        nameplate.resets_itself = self.resets_itself;
        nameplate.instantaneous = self.kind.instantaneous;
        let Kind {
            poles,
            phases,
            notices_lost_phase,
            ..
        } = self.kind;
        let nameplate = nameplate.with_poles(poles, phases, notices_lost_phase);
        let told = Told {
            nameplate,
            load_a: self.load,
            ambient_k: self.air,
            start: self.start,
            sits: self.on.map(|on| match on {
                On::Motor => Sits::OnTheMachine,
                On::Box => Sits::InABox,
            }),
            timed: Timed {
                trip: self.tripped,
                held_s: self.reset_held,
                refused_s: self.reset_refused,
            },
        };
        Ok(told.question())
    }
}

/// Asks where the protector sits; `None`: not known.
fn sits(talk: &mut dyn Talk) -> Result<Option<On>, Failure> {
    talk.say(words::sits())?;
    while let Some(said) = talk.answer()? {
        let said = said.trim().to_lowercase();
        match said.as_str() {
            "" | "?" | "don't know" => break,
            "motor" | "pump" | "compressor" => return Ok(Some(On::Motor)),
            "box" => return Ok(Some(On::Box)),
            _ => talk.say("  Not understood: answer \"motor\" or \"box\".\n> ")?,
        }
    }
    Ok(None)
}

/// What was understood is said aloud.
const SAID: Said = Said(amount::read);

fn rating(text: &str) -> Result<f64, String> {
    let refused = is_other(text).or_else(|| said_apart(text));
    refused.map_or_else(|| SAID.current(text), Err)
}

fn current(text: &str) -> Result<f64, String> {
    SAID.current(text)
}

fn temperature(text: &str) -> Result<f64, String> {
    SAID.temperature(text)
}

fn after(text: &str) -> Result<f64, String> {
    SAID.after(text)
}

fn trip(text: &str) -> Result<(f64, f64), String> {
    SAID.trip(text)
}

fn start(text: &str) -> Result<Programme, String> {
    SAID.start(text)
}

fn limits(name: &str) -> Result<String, String> {
    Nameplate::limits_named(name)
        .map(|l| l.name.to_owned())
        .ok_or_else(|| {
            let names: Vec<&str> = LIMITS.iter().map(|l| l.name).collect();
            format!("known limits are: {}", names.join("; "))
        })
}
