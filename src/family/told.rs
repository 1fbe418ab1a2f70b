//! A wait as a person asks for it: texts read, and what is not said assumed.

use super::assumed::Assumed;
use super::nameplate::Nameplate;
use super::timed::Timed;
use super::wait::{Sits, WaitQuestion};
use crate::load::{Current, Programme, Repeat, Segment};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::quantity::Dimension;

/// Running current taken after a start when none is given, over the rated current.
const USUAL_RUN: f64 = 0.8;

/// What somebody says of a wait; the rest is assumed, and said so.
#[derive(Debug, Clone)]
pub struct Told {
    /// What is printed on the protector.
    pub nameplate: Nameplate,
    /// Current that tripped it, A; else that of a timed trip, else the rated one.
    pub load_a: Option<f64>,
    /// Air at the protector, K.
    pub ambient_k: Option<f64>,
    /// What the machine draws when it starts again.
    pub start: Option<Programme>,
    /// Where it sits.
    pub sits: Option<Sits>,
    /// What was timed.
    pub timed: Timed,
}

impl Told {
    /// The question.
    pub fn question(self) -> WaitQuestion {
        let rated_a = self.nameplate.rated_current_a;
        let load_a = self
            .load_a
            .or(self.timed.trip.map(|t| t.1))
            .unwrap_or(rated_a);
        let mut question = WaitQuestion::new(self.nameplate, load_a);
        let assumed = &mut question.nameplate.assumed;
        match self.ambient_k {
            Some(k) => question.ambient_k = k,
            None => assumed.push(Assumed::AirAtThePart {
                air_c: question.ambient_k - ZERO_CELSIUS_K,
            }),
        }
        question.sits = self.sits;
        if question.sits.is_none() {
            assumed.push(Assumed::InABoxOfItsOwn);
        }
        question.start = self.start.map(|mut start| {
            let ends = |s: &Segment| s.duration_s.is_finite();
            if start.segments.last().is_some_and(ends) {
                // A load that is carried is what it runs at; one that trips it is not.
                let current_a = load_a.min(USUAL_RUN * rated_a);
                assumed.push(Assumed::RunAfterStart { current_a });
                start.segments.push(Segment {
                    duration_s: f64::INFINITY,
                    current: Current::Constant(current_a),
                });
            }
            start
        });
        question.timed = self.timed;
        question
    }
}

/// Reads what is said of a wait, each amount by the function it holds.
#[derive(Debug, Clone, Copy)]
pub struct Said(pub fn(&str, Dimension) -> Result<f64, String>);

impl Said {
    /// A current, A.
    ///
    /// # Errors
    /// It cannot be understood, or is none of a protector's; as everywhere here.
    pub fn current(self, text: &str) -> Result<f64, String> {
        let a = (self.0)(text, Dimension::Current)?;
        if Nameplate::RATINGS_A.contains(&a) {
            Ok(a)
        } else {
            Err("a current from 0.05 A to 10 kA is meant, for example \"10 A\"".into())
        }
    }

    /// A temperature of the air, K.
    ///
    /// # Errors
    /// As [`Said::current`].
    pub fn temperature(self, text: &str) -> Result<f64, String> {
        let k = (self.0)(text, Dimension::Temperature)?;
        if (223.15..=373.15).contains(&k) {
            Ok(k)
        } else {
            Err("air between -50 degC and 100 degC is meant, for example \"35 degC\"".into())
        }
    }

    /// "after 40 s", or the time alone, s.
    ///
    /// # Errors
    /// As [`Said::current`].
    pub fn after(self, text: &str) -> Result<f64, String> {
        let text = text.trim();
        let s = (self.0)(text.strip_prefix("after ").unwrap_or(text), Dimension::Time)?;
        if (0.001..=1e5).contains(&s) {
            Ok(s)
        } else {
            Err("a time from 1 ms to a day is meant, for example \"after 40 s\"".into())
        }
    }

    /// "after 9 s at 24 A": time, s, and current, A.
    ///
    /// # Errors
    /// As [`Said::current`].
    pub fn trip(self, text: &str) -> Result<(f64, f64), String> {
        let (time, amperes) = text
            .split_once(" at ")
            .ok_or("time and current are meant, for example \"after 9 s at 24 A\"")?;
        Ok((self.after(time)?, self.current(amperes)?))
    }

    /// Stretches of current: all but the last with a time.
    ///
    /// # Errors
    /// As [`Said::current`].
    pub fn start(self, text: &str) -> Result<Programme, String> {
        let parts: Vec<&str> = text.split(',').map(str::trim).collect();
        let mut segments = Vec::new();
        for (k, part) in parts.iter().enumerate() {
            let (amperes, duration_s) = match part.split_once(" for ") {
                Some((a, t)) => (a, (self.0)(t, Dimension::Time)?),
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
                current: Current::Constant(self.current(amperes)?),
            });
        }
        Ok(Programme {
            segments,
            repeat: Repeat::Once,
        })
    }
}
