//! What is asked of every unit of a population, answered for many units side by side or for one
//! alone.
//!
//! A unit's calibration, trip points and trips follow one another on the same register, so that its
//! laws are made polynomials once. What cannot be answered side by side is NaN here and is asked of
//! the unit alone ([`examine_alone`]), which is also the reference that the answers side by side
//! are held against. Units of a kind that has no form side by side are asked one by one, each
//! question once ([`Once`]).

mod alone;
mod asked;
mod beside;
mod once;
mod stage;
mod trim;

pub use alone::examine_alone;
pub use asked::{Air, Amperes, Carry, Finding, Member, Questions, Setting};
pub use once::Once;

use super::Halt;
use super::case::Case;
use crate::scenario::{Before, Scenario};
use crate::solve::wide::{MOST_LANES, dispatch};
use beside::Register;
use stage::{Stage, Start};
use trim::Trim;

/// Least clearance that a setting screw can leave, m.
pub const LEAST_CLEARANCE_M: f64 = 1e-6;

/// Relative accuracy of units side by side: far below any scatter of parts.
pub const ACCURACY: f64 = 1e-4;

/// What units side by side are held to in the tests, relative.
pub const BESIDE_ACCURACY: f64 = 1e-3;

/// Asks the questions of many units side by side.
pub struct Examiner {
    questions: Questions,
    /// The first stage serves the trip points and the setting.
    stages: Vec<Stage>,
    /// The nominal unit at its trip point in every air.
    start: Vec<Start>,
    trim: Trim,
}

impl Examiner {
    /// Largest relative correction by which answers were trimmed to the nominal unit alone.
    pub fn largest_trim(&self) -> f64 {
        self.trim.largest()
    }

    /// Answers of some units, in order, on the calling thread.
    pub fn examine(&self, members: &[Member]) -> Vec<Finding> {
        let mut findings = Vec::with_capacity(members.len());
        dispatch(Register {
            examiner: self,
            members,
            findings: &mut findings,
        });
        findings
    }

    /// Units that fit a register.
    pub fn width() -> usize {
        MOST_LANES
    }
}

/// The scenario's own surroundings and start.
fn own_case(s: &Scenario) -> Case {
    Case {
        ambient: s.surroundings.ambient.clone(),
        before: s.before,
        rated_current_a: s.protector.rated_current_a,
        accuracy: ACCURACY,
        longest_s: s.ask.longest_s,
        halt: Halt::default(),
    }
}

/// Constant air, cold or hot from a current.
fn case_of(s: &Scenario, air_k: f64, before_a: f64) -> Case {
    let before = if before_a > 0.0 {
        Before::Hot {
            fraction_of_rated: before_a / s.protector.rated_current_a,
        }
    } else {
        Before::Cold
    };
    Case {
        longest_s: 1e9,
        ..own_case(s).at_ambient(air_k).from(before)
    }
}
