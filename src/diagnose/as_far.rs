//! What a particle makes of the evidence by superposition, as far as it matters.
//!
//! What it costs is the events. A particle that is far off is known to be so from what was read, or after
//! the first of them: what is left can make it no more probable than the most that each item ever gives.

use super::brought::brings;
use super::hypothesis::{Hypothesis, Trips};
use super::latent::Particle;
use super::outcome::{Noise, most_likely};
use super::readings::{Weighed, most_of_terminals};
use super::scales::Scales;
use crate::evidence::{Event, Unit};

/// Sums of logarithms are off by less than this.
const ROUNDED: f64 = 1e-9;

/// The likelihood under one hypothesis.
pub struct AsFar<'a> {
    scales: &'a Scales<'a>,
    hypothesis: &'a Hypothesis,
    /// The most that the terminals and the events from each one on can give.
    rest: Vec<f64>,
}

impl<'a> AsFar<'a> {
    /// Of a hypothesis of a case.
    pub fn of(scales: &'a Scales<'a>, hypothesis: &'a Hypothesis) -> AsFar<'a> {
        let mut most = Weighed::read(&[]);
        let mut before = vec![most.under(hypothesis)];
        for event in &scales.case.events {
            let noise = Noise::of(event, 1.0);
            let strip = most_likely(&event.outcome, noise);
            let log = match is_weighed(hypothesis, event) {
                true if scales.has_element() => strip.max(0.0),
                true => strip,
                false => 0.0,
            };
            most.event(event, log);
            before.push(most.under(hypothesis));
        }
        let terminals = (scales.case.terminals.as_ref()).map_or(0.0, most_of_terminals);
        let all = most.under(hypothesis) + terminals;
        AsFar {
            scales,
            hypothesis,
            rest: before.iter().map(|b| all - b).collect(),
        }
    }

    /// Logarithm of the likelihood of a particle, and of that its machine is brought; `None` as soon as it
    /// is sure to be less than `least`.
    pub fn log(&self, particle: &Particle, least: f64, items: &mut Vec<f64>) -> Option<f64> {
        let (scales, hypothesis) = (self.scales, self.hypothesis);
        items.clear();
        scales.readings(particle, items);
        let mut sum = Weighed::read(items);
        let may_be = |sum: &Weighed, rest: f64| {
            sum.under(hypothesis) + rest >= least - ROUNDED || least == f64::NEG_INFINITY
        };
        if !may_be(&sum, self.rest[0]) {
            return None;
        }
        let brought = brings(scales, hypothesis, particle).ln();
        for (k, event) in scales.case.events.iter().enumerate() {
            if !may_be(&sum, self.rest[k] + brought) {
                return None;
            }
            let log = match is_weighed(hypothesis, event) {
                true => scales.quick_log(particle, k),
                false => 0.0,
            };
            sum.event(event, log);
        }
        if let Some(log) = scales.quick_terminals_log(particle) {
            sum.add(log);
        }
        Some(sum.under(hypothesis) + brought)
    }
}

/// Whether what an event says of the machine as it runs counts under a hypothesis.
fn is_weighed(hypothesis: &Hypothesis, event: &Event) -> bool {
    let in_service = event.is_in_service() && event.is_trip();
    match hypothesis.trips {
        Trips::AsItRuns => true,
        Trips::Once => !(in_service && event.unit == Unit::ThisPart),
        Trips::InMidRun => !in_service,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::diagnose::brought::drawn;
    use crate::diagnose::hypothesis::HYPOTHESES;
    use crate::diagnose::latent::prior;
    use crate::evidence;
    use crate::family::Family;
    use crate::statistics::stream::{Purpose, Stream};

    const CASE: &str = r#"
format = 1
kind = "case"
title = "A mixer"

[protector]
rating = "10 A"

[[reading]]
current = "12 A"
meter = "true RMS"

[terminals]
hotter = "60 degC"
other = "48 degC"

[[trip]]
after = "100 s"
from = "cold"

[[held]]
for = "1 h"
from = "cold"
air = "5 degC"

[[trip]]
after = "25 s"
from = "cold"
on = "bench"
current = "20 A +- 2 %"
"#;

    #[test]
    fn what_is_given_up_is_less_than_what_was_asked_for() {
        let case = evidence::read_text("case", CASE).unwrap_or_else(|e| panic!("{e}"));
        let family = Family::new(&case.nameplate, 24).expect("a family");
        let scales = Scales::new(&case, &family);
        let mut items = Vec::new();
        let (mut all, mut given_up) = (0, 0);
        for (h, hypothesis) in HYPOTHESES.iter().enumerate() {
            let Some(prior) = prior(&case, hypothesis) else {
                continue;
            };
            let as_far = AsFar::of(&scales, hypothesis);
            let mut best = f64::NEG_INFINITY;
            for k in 0..60 {
                let stream = Stream::new(5, Purpose::other(47), (h * 100 + k) as u64);
                let particle = drawn(&scales, &prior, &stream).expect("a draw");
                let whole = scales.surrogate(&particle, &mut items).under(hypothesis)
                    + brings(&scales, hypothesis, &particle).ln();
                let log = as_far.log(&particle, f64::NEG_INFINITY, &mut items);
                assert_eq!(log, Some(whole), "{hypothesis:?}");
                // A hair below what it is, it is followed to the end; where a better one is known,
                // many are not.
                let below = as_far.log(&particle, whole - 1e-6, &mut items);
                assert_eq!(below, log, "{hypothesis:?}");
                let better = as_far.log(&particle, best, &mut items);
                assert!(better.is_some() || whole < best, "{hypothesis:?}");
                all += 1;
                given_up += usize::from(better.is_none());
                best = best.max(whole);
            }
        }
        assert!(5 * given_up > all, "{given_up} of {all}");
    }
}
