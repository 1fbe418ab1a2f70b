//! The plan of the diagnosis, followed.

use super::looks::{self, seen};
use super::mends::{Done, mended};
use crate::outside::dice::Dice;
use crate::outside::machine::Machine;
use crate::outside::read;
use relatch::internals::diagnose::{
    Action, Diagnosis, Measurement, SURE_ENOUGH, Shows, Step, Then, Verdict, diagnose,
};

/// Diagnoses until somebody gives up.
const ROUNDS: usize = 8;

/// What comes first.
pub enum First {
    Mend(Done),
    /// A measurement, and the value that its results lie on two sides of.
    Look(Measurement, f64),
    Nothing,
}

/// What it took.
pub struct Walk {
    pub minutes: f64,
    pub first: First,
}

/// Somebody who follows what the diagnosis says.
struct Walker<'a> {
    m: &'a Machine,
    dice: &'a Dice,
    toml: String,
    known: Vec<(Measurement, f64)>,
    done: Done,
    minutes: f64,
}

impl Walker<'_> {
    fn mend(&mut self, what: Done) -> bool {
        self.minutes += what.minutes_after(self.done);
        self.done = self.done.and(what);
        let runs = self.done.runs_safely(self.m);
        if !runs && what.has(Done::of([Verdict::ReMakeTheConnection])) {
            self.toml = looks::joints_are("re-made", &self.toml);
        }
        runs
    }

    /// What a measurement shows now; what is known is not measured again.
    fn look(&mut self, measurement: Measurement, minutes: f64) -> f64 {
        let known = self.known.iter().find(|k| k.0 == measurement);
        if let Some((_, value)) = known {
            return *value;
        }
        self.minutes += minutes;
        let seen = seen(&mended(self.m, self.done), measurement, self.dice);
        self.toml = seen.added_to(&self.toml);
        self.known.push((measurement, seen.value));
        seen.value
    }

    /// Whether it runs safely after the steps.
    fn follow(&mut self, steps: &[Step]) -> bool {
        for step in steps {
            match &step.action {
                Action::Mend { mend } => {
                    let minutes = Done::of(mend.iter().copied()).minutes_after(Done::default());
                    assert_eq!(minutes, step.minutes, "{mend:?}");
                    if self.mend(Done::of(mend.iter().copied())) {
                        return true;
                    }
                }
                Action::Measure { measurement } => {
                    let value = self.look(*measurement, step.minutes);
                    let then = step.results.iter().find(|r| match r.shows {
                        Some(Shows::UpTo { value: cut }) => value < cut,
                        Some(Shows::Above { value: cut }) => value >= cut,
                        _ => false,
                    });
                    match then.map(|r| &r.then) {
                        Some(Then::Mend { mend, right }) => {
                            let runs = self.mend(Done::of(mend.iter().copied()));
                            if runs || *right >= SURE_ENOUGH {
                                return runs;
                            }
                        }
                        Some(Then::GoOn) => {}
                        _ => return false,
                    }
                }
                other => panic!("not known: {other:?}"),
            }
        }
        false
    }
}

fn said(found: &Diagnosis) -> Option<Done> {
    match found.verdict {
        Verdict::NotEnoughEvidence => None,
        Verdict::TwoCauses => Some(Done::of(found.mend.iter().copied())),
        one => Some(Done::of([one])),
    }
}

fn first(found: &Diagnosis) -> First {
    if let Some(verdict) = said(found) {
        return First::Mend(verdict);
    }
    match found.plan.first().map(|s| (&s.action, &s.results)) {
        Some((Action::Mend { mend }, _)) => First::Mend(Done::of(mend.iter().copied())),
        Some((Action::Measure { measurement }, results)) => {
            let cut = results.iter().find_map(|r| match r.shows {
                Some(Shows::UpTo { value }) => Some(value),
                _ => None,
            });
            cut.map_or(First::Nothing, |cut| First::Look(*measurement, cut))
        }
        _ => First::Nothing,
    }
}

/// Follows it until the machine runs safely: a verdict is mended, else the plan is followed; a plan
/// that ends without is made anew with what was seen. Where nothing new was seen the rest is mended
/// as it is probable for its cost.
pub fn walked(m: &Machine, toml: &str, k: usize, dice: &Dice) -> Walk {
    let mut walker = Walker {
        m,
        dice,
        toml: toml.to_owned(),
        known: Vec::new(),
        done: Done::default(),
        minutes: 0.0,
    };
    let mut start = None;
    for round in 0..ROUNDS {
        let found = diagnose(&read(k, &walker.toml), 1).expect("a diagnosis");
        start.get_or_insert_with(|| first(&found));
        let seen = walker.known.len();
        let runs = match said(&found) {
            Some(verdict) => walker.mend(verdict),
            None => walker.follow(&found.plan),
        };
        let is_new = walker.known.len() > seen;
        if runs || !is_new || round + 1 == ROUNDS {
            if !runs {
                rest(&mut walker, &found);
            }
            break;
        }
    }
    Walk {
        minutes: walker.minutes,
        first: start.unwrap_or(First::Nothing),
    }
}

fn rest(walker: &mut Walker<'_>, found: &Diagnosis) {
    let worth = |d: &Done| {
        let probable: f64 = found
            .causes
            .iter()
            .filter(|c| d.has(Done::of([c.cause.mended_by()])))
            .map(|c| c.probability)
            .sum();
        probable / d.minutes_after(Done::default())
    };
    let mut all = super::mends::usual_order();
    all.sort_by(|a, b| worth(b).total_cmp(&worth(a)));
    for mend in all {
        if walker.mend(mend) {
            break;
        }
    }
}
