//! `relatch wait`: how long to wait, from a nameplate alone.

use super::Failure;
use super::output::print;
use crate::family::{Nameplate, WaitQuestion, wait};
use crate::load::{Current, Programme, Repeat, Segment};
use crate::present::{serialised, wait_text};
use crate::quantity::{Dimension, Quantity};
use crate::standards::LIMITS;
use clap::Args;

/// Running current taken after a start when none is given, over the rated current.
const USUAL_RUN: f64 = 0.8;

#[derive(Debug, Args)]
pub struct Wait {
    /// Rated current of the protector, e.g. "10 A"
    #[arg(long, value_name = "CURRENT", value_parser = current)]
    rating: f64,
    /// Current that tripped it, e.g. "24 A"
    #[arg(long, value_name = "CURRENT", value_parser = current)]
    load: f64,
    /// Air at the protector [default: 25 degC]
    #[arg(long, value_name = "TEMPERATURE", value_parser = temperature)]
    ambient: Option<f64>,
    /// What the machine draws when it starts again, e.g. "60 A for 0.6 s" or "60 A for 0.6 s, 9 A"
    #[arg(long, value_name = "START", value_parser = start)]
    start: Option<Programme>,
    /// Air that the rating is stated for [default: 23 degC]
    #[arg(long, value_name = "TEMPERATURE", value_parser = temperature)]
    reference_air: Option<f64>,
    /// Published limits of the protector, e.g. "equipment breaker window"
    #[arg(long, value_name = "NAME", value_parser = limits)]
    limits: Option<String>,
    /// The protector cancels the temperature of the air
    #[arg(long)]
    compensated: bool,
    /// Print JSON alone on standard output
    #[arg(long)]
    json: bool,
}

impl Wait {
    /// Answers.
    pub fn execute(self) -> Result<(), Failure> {
        let mut nameplate = Nameplate::of_rating(self.rating);
        if let Some(k) = self.reference_air {
            nameplate = nameplate.at_reference(k);
        }
        if let Some(table) = self.limits.as_deref().and_then(Nameplate::limits_named) {
            nameplate = nameplate.with_limits(table);
        }
        nameplate.compensated = self.compensated;
        if self.ambient.is_none() {
            nameplate.assumed.push("air at the protector 25 °C".into());
        }
        let start = self.start.map(|mut start| {
            let last = start.segments.last().map_or(0.0, |s| s.duration_s);
            if last.is_finite() {
                nameplate.assumed.push(format!(
                    "after the start it runs at {:.0} % of the rated current",
                    100.0 * USUAL_RUN
                ));
                start.segments.push(Segment {
                    duration_s: f64::INFINITY,
                    current: Current::Constant(USUAL_RUN * self.rating),
                });
            }
            start
        });
        let answer = wait(&WaitQuestion {
            nameplate,
            load_a: self.load,
            ambient_k: self.ambient.unwrap_or(298.15),
            start,
        })
        .map_err(|error| Failure::Failed(format!("error: {error}")))?;
        if self.json {
            return print(
                &serialised(&answer)
                    .map_err(|e| Failure::Failed(format!("error: cannot write JSON: {e}")))?,
            );
        }
        print(&wait_text(&answer))
    }
}

fn current(text: &str) -> Result<f64, String> {
    let a = number(text, Dimension::Current)?;
    if a > 0.0 && a <= 10_000.0 {
        Ok(a)
    } else {
        Err("a current above zero and up to 10 kA is meant, for example \"10 A\"".into())
    }
}

fn temperature(text: &str) -> Result<f64, String> {
    let k = number(text, Dimension::Temperature)?;
    if (223.15..=373.15).contains(&k) {
        Ok(k)
    } else {
        Err("air between -50 degC and 100 degC is meant, for example \"35 degC\"".into())
    }
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
            Some((a, t)) => (a, number(t, Dimension::Time)?),
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

fn number(text: &str, dimension: Dimension) -> Result<f64, String> {
    Quantity::read(text.trim(), dimension)
        .map(|q| q.value_si)
        .map_err(|e| e.to_string())
}
