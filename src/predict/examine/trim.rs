//! What the nominal unit alone has over itself side by side.

use super::{Finding, Questions};

/// A correction larger than this, relative, is none: something else is the matter.
const MOST_TRIM: f64 = 5e-3;

/// What the nominal unit alone, to a higher accuracy, has over itself side by side. Units are
/// alike, so what the polynomials of the sheets and their grids do to one they do to all: every
/// answer is trimmed by it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Trim {
    pub clearance_m: f64,
    pub trip_points: Vec<f64>,
    pub times: Vec<f64>,
    pub waits: Vec<f64>,
}

impl Trim {
    pub fn none(questions: &Questions) -> Trim {
        Trim {
            clearance_m: 0.0,
            trip_points: vec![1.0; questions.airs.len()],
            times: vec![1.0; questions.carries.len()],
            waits: vec![1.0; questions.carries.len()],
        }
    }

    /// Takes over what the trip points lack; false when the two are too far apart: then these units
    /// are not to be computed side by side.
    pub fn takes_trip_points(&mut self, alone: &Finding, beside: &Finding) -> bool {
        takes(
            &mut self.trip_points,
            &alone.trip_points_a,
            &beside.trip_points_a,
        )
    }

    /// The same of times and waits.
    pub fn takes_times(&mut self, alone: &Finding, beside: &Finding) -> bool {
        takes(&mut self.times, &alone.times_s, &beside.times_s)
            && takes(&mut self.waits, &alone.waits_s, &beside.waits_s)
    }

    pub fn apply(&self, finding: &mut Finding) {
        for (values, factors) in [
            (&mut finding.trip_points_a, &self.trip_points),
            (&mut finding.times_s, &self.times),
            (&mut finding.waits_s, &self.waits),
        ] {
            for (value, factor) in values.iter_mut().zip(factors) {
                *value *= factor;
            }
        }
    }

    /// Largest relative correction.
    pub fn largest(&self) -> f64 {
        let all = self
            .trip_points
            .iter()
            .chain(&self.times)
            .chain(&self.waits);
        all.map(|f| (f - 1.0).abs()).fold(0.0, f64::max)
    }
}

fn takes(factors: &mut [f64], alone: &[f64], beside: &[f64]) -> bool {
    for ((factor, a), b) in factors.iter_mut().zip(alone).zip(beside) {
        // What is NaN is asked alone, unit by unit; two that never come agree.
        if !(a.is_nan() || b.is_nan() || a == b) {
            *factor = a / b;
        }
    }
    factors.iter().all(|f| (f - 1.0).abs() < MOST_TRIM)
}
