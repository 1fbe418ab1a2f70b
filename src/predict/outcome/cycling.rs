//! A part that closes by itself, left alone on its load.

use serde::{Deserialize, Serialize};

/// The last round of on and off that was followed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Cycling {
    /// From closing to open contacts, s.
    pub on_s: f64,
    /// From open contacts to closing, s.
    pub off_s: f64,
    /// Rounds that were followed.
    pub cycles: usize,
    /// Whether the last two rounds were alike.
    pub is_settled: bool,
    /// Closings at the fault current for which the contacts are rated, where that is given.
    pub rated_closings: Option<f64>,
}

impl Cycling {
    /// Closings an hour.
    pub fn operations_per_hour(&self) -> f64 {
        3600.0 / (self.on_s + self.off_s)
    }

    /// Part of the time with closed contacts.
    pub fn duty(&self) -> f64 {
        self.on_s / (self.on_s + self.off_s)
    }

    /// Time until the rated closings are used up, s.
    pub fn rated_for_s(&self) -> Option<f64> {
        Some(self.rated_closings? * (self.on_s + self.off_s))
    }
}
