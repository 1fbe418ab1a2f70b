//! `relatch wait`: how long to wait, from a nameplate alone.

use super::Failure;
use super::amount;
use super::ask::{self, Talk};
use super::countdown::count_down;
use super::output::{print, show};
use crate::family::{Assumed, Nameplate, Sits, Timed, WaitQuestion, wait};
use crate::load::{Current, Programme, Repeat, Segment};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::{wait_blocks, wait_full_blocks, wait_json, words};
use crate::quantity::Dimension;
use crate::standards::LIMITS;
use clap::{Args, ValueEnum};

/// Running current taken after a start when none is given, over the rated current.
const USUAL_RUN: f64 = 0.8;

#[derive(Debug, Clone, Copy, ValueEnum)]
enum On {
    /// On or in a motor, pump or compressor
    Motor,
    /// In a box of its own
    Box,
}

#[derive(Debug, Args)]
pub struct Wait {
    /// Rated current of the protector, e.g. "10 A"
    #[arg(long, value_name = "CURRENT", value_parser = current)]
    rating: f64,
    /// Current that tripped it, or under which it ran, e.g. "24 A" [default: that of --tripped]
    #[arg(long, value_name = "CURRENT", value_parser = current, required_unless_present = "tripped")]
    load: Option<f64>,
    /// Air at the protector [default: 25 degC]
    #[arg(long, value_name = "TEMPERATURE", value_parser = temperature, allow_hyphen_values = true)]
    ambient: Option<f64>,
    /// What the machine draws when it starts again, e.g. "60 A for 0.6 s" or "60 A for 0.6 s, 9 A"
    #[arg(long, value_name = "START", value_parser = start)]
    start: Option<Programme>,
    /// Where the protector sits
    #[arg(long, value_name = "PLACE")]
    on: Option<On>,
    /// A trip from cold that was timed, e.g. "after 9 s at 24 A"
    #[arg(long, value_name = "WHEN", value_parser = trip)]
    tripped: Option<(f64, f64)>,
    /// A wait after that trip at which the reset held, e.g. "after 40 s"; may be given several times
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
        if let Some(table) = self.limits.as_deref().and_then(Nameplate::limits_named) {
            if self.rating > table.up_to_a {
                return Err(Failure::Input(format!(
                    "error: the limits \"{}\" have no source above {} A; without --limits usual windows are taken",
                    table.name, table.up_to_a
                )));
            }
            nameplate = nameplate.with_limits(table).at_air_of(table);
        }
        if let Some(k) = self.reference_air {
            nameplate = nameplate.at_reference(k);
        }
        nameplate.compensated = self.compensated;
        let load_a = self
            .load
            .or(self.tripped.map(|t| t.1))
            .unwrap_or(self.rating);
        let mut question = WaitQuestion::new(nameplate, load_a);
        let assumed = &mut question.nameplate.assumed;
        match self.ambient {
            Some(k) => question.ambient_k = k,
            None => assumed.push(Assumed::AirAtThePart {
                air_c: question.ambient_k - ZERO_CELSIUS_K,
            }),
        }
        question.sits = self.on.map(|on| match on {
            On::Motor => Sits::OnTheMachine,
            On::Box => Sits::InABox,
        });
        if question.sits.is_none() {
            assumed.push(Assumed::InABoxOfItsOwn);
        }
        question.start = self.start.map(|mut start| {
            if start
                .segments
                .last()
                .is_some_and(|s| s.duration_s.is_finite())
            {
                // A load that is carried is what it runs at; one that trips it is not.
                let current_a = load_a.min(USUAL_RUN * self.rating);
                assumed.push(Assumed::RunAfterStart { current_a });
                start.segments.push(Segment {
                    duration_s: f64::INFINITY,
                    current: Current::Constant(current_a),
                });
            }
            start
        });
        question.timed = Timed {
            trip: self.tripped,
            held_s: self.reset_held,
            refused_s: self.reset_refused,
        };
        Ok(question)
    }
}

/// Asks where the protector sits; `None`: not known.
fn sits(talk: &mut dyn Talk) -> Result<Option<On>, Failure> {
    talk.say(words::SITS)?;
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

fn current(text: &str) -> Result<f64, String> {
    let a = amount::read(text, Dimension::Current)?;
    if Nameplate::RATINGS_A.contains(&a) {
        Ok(a)
    } else {
        Err("a current from 0.05 A to 10 kA is meant, for example \"10 A\"".into())
    }
}

fn temperature(text: &str) -> Result<f64, String> {
    let k = amount::read(text, Dimension::Temperature)?;
    if (223.15..=373.15).contains(&k) {
        Ok(k)
    } else {
        Err("air between -50 degC and 100 degC is meant, for example \"35 degC\"".into())
    }
}

/// "after 40 s", or the time alone.
fn after(text: &str) -> Result<f64, String> {
    let text = text.trim();
    let s = amount::read(text.strip_prefix("after ").unwrap_or(text), Dimension::Time)?;
    if (0.05..=1e5).contains(&s) {
        Ok(s)
    } else {
        Err("a time from 0.05 s to a day is meant, for example \"after 40 s\"".into())
    }
}

/// "after 9 s at 24 A": time, s, and current, A.
fn trip(text: &str) -> Result<(f64, f64), String> {
    let (time, amperes) = text
        .split_once(" at ")
        .ok_or("time and current are meant, for example \"after 9 s at 24 A\"")?;
    Ok((after(time)?, current(amperes)?))
}

fn limits(name: &str) -> Result<String, String> {
    Nameplate::limits_named(name)
        .map(|l| l.name.to_owned())
        .ok_or_else(|| {
            let names: Vec<&str> = LIMITS.iter().map(|l| l.name).collect();
            format!("known limits are: {}", names.join("; "))
        })
}

/// Stretches of current: all but the last with a time.
fn start(text: &str) -> Result<Programme, String> {
    let parts: Vec<&str> = text.split(',').map(str::trim).collect();
    let mut segments = Vec::new();
    for (k, part) in parts.iter().enumerate() {
        let (amperes, duration_s) = match part.split_once(" for ") {
            Some((a, t)) => (a, amount::read(t, Dimension::Time)?),
            None if k + 1 == parts.len() && k > 0 => (*part, f64::INFINITY),
            None => {
                return Err(format!(
                    "\"{part}\" lacks its time, for example \"60 A for 0.6 s\""
                ));
            }
        };
        if !(duration_s > 0.0) {
            return Err(format!("\"{part}\" has no time above zero"));
        }
        segments.push(Segment {
            duration_s,
            current: Current::Constant(current(amperes)?),
        });
    }
    Ok(Programme {
        segments,
        repeat: Repeat::Once,
    })
}
