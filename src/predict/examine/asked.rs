//! What is asked of every unit, and what is found of one.

use super::LEAST_CLEARANCE_M;
use crate::device::Unit;
use crate::standards::Limit;

/// The air of a question.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Air {
    /// The unit's own ambient.
    Own,
    /// This, K.
    At(f64),
}

/// The current of a question.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amperes {
    /// The unit's own load.
    Own,
    /// This, A.
    Of(f64),
}

/// A current carried until the unit trips.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Carry {
    /// Current.
    pub current: Amperes,
    /// Number of the air in [`Questions::airs`].
    pub air: usize,
    /// Current of the steady state it starts from, A; 0: cold.
    pub before_a: f64,
    /// Whether the wait to relatch is asked, too.
    pub cool: bool,
    /// The row of published limits that it is asked for, where its poles carry different currents.
    pub unequal: Option<Limit>,
}

/// Factory setting: each unit's clearance is set so that it trips at this current after this time,
/// from cold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setting {
    /// A.
    pub current_a: f64,
    /// s.
    pub time_s: f64,
    /// K.
    pub ambient_k: f64,
}

/// What is asked of every unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Questions {
    /// Factory setting, if the units get one.
    pub setting: Option<Setting>,
    /// Airs at which the trip point is asked.
    pub airs: Vec<Air>,
    /// Currents to be carried.
    pub carries: Vec<Carry>,
    /// Time from release to open contacts, s.
    pub opening_s: f64,
}

/// One unit and what is its own in the questions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Member {
    /// The unit.
    pub unit: Unit,
    /// Its load, A.
    pub current_a: f64,
    /// Its ambient, K.
    pub ambient_k: f64,
    /// Factor on the time of the factory setting: how well it was set.
    pub set_factor: f64,
}

/// Answers of one unit. NaN: to be asked alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Clearance, m: as given, or as set; infinite for a part without one. Not above [`LEAST_CLEARANCE_M`]: it cannot be set, and there are no answers.
    pub clearance_m: f64,
    /// Trip point at every air, A: 0 when it stays open without any current, infinite when no
    /// current releases it.
    pub trip_points_a: Vec<f64>,
    /// Trip time of every carry, s: infinite when it is held for ever, 0 when the state before is
    /// beyond release.
    pub times_s: Vec<f64>,
    /// Wait from open contacts to relatch after every carry, s: infinite when it never comes; NaN
    /// also when not asked, or when there was no trip.
    pub waits_s: Vec<f64>,
}

impl Finding {
    pub(super) fn unknown(questions: &Questions, clearance_m: f64) -> Finding {
        Finding {
            clearance_m,
            trip_points_a: vec![f64::NAN; questions.airs.len()],
            times_s: vec![f64::NAN; questions.carries.len()],
            waits_s: vec![f64::NAN; questions.carries.len()],
        }
    }

    /// Whether the factory setting was possible.
    pub fn is_set(&self) -> bool {
        self.clearance_m > LEAST_CLEARANCE_M || self.clearance_m.is_nan()
    }

    /// Whether every question has its answer.
    pub fn is_whole(&self, questions: &Questions) -> bool {
        if !self.is_set() {
            return true;
        }
        let waits = questions.carries.iter().zip(&self.times_s);
        !self.clearance_m.is_nan()
            && self.trip_points_a.iter().all(|a| !a.is_nan())
            && self.times_s.iter().all(|t| !t.is_nan())
            && waits
                .zip(&self.waits_s)
                .all(|((c, t), w)| !c.cool || !t.is_finite() || !w.is_nan())
    }
}
