//! The trip point in one air against contact resistance and hold, for bands over many units.

use super::nodes::Nodes;
use super::question::set_hold_of;
use crate::device::{Device, Model};
use crate::predict::{Ladder, PredictError, parallel, trip_point_on};

/// A table of trip points.
pub struct TripSurface {
    resistances: Nodes,
    holds: Nodes,
    current_a: Vec<f64>,
}

impl TripSurface {
    /// Asks the engine. `Ok(None)`: somewhere there is no trip point.
    ///
    /// # Errors
    /// A failure of the engine.
    pub fn ask(
        device: &Device,
        ambient_k: f64,
        guess_a: f64,
        ohm: (f64, f64),
        hold: (f64, f64),
    ) -> Result<Option<TripSurface>, PredictError> {
        let resistances = Nodes::chebyshev(ohm.0, ohm.1, 3);
        let holds = Nodes::chebyshev(hold.0, hold.1, 5);
        let mut points = Vec::new();
        for r in resistances.points() {
            for h in holds.points() {
                points.push((*r, *h));
            }
        }
        let answers = parallel::map(
            &points,
            |(ohm, hold)| {
                let mut part = device.with_contact_ohm(*ohm);
                set_hold_of(&mut part, device, *hold);
                let fineness = Ladder::new(&part, f64::INFINITY, 1e-5).rung(1).fineness;
                let model = Model::new(&part, fineness);
                Ok(trip_point_on(&model, ambient_k, guess_a)?.current_a())
            },
            &mut |_| {},
        );
        let found: Result<Vec<Option<f64>>, PredictError> = answers.into_iter().collect();
        let all: Option<Vec<f64>> = found?.into_iter().collect();
        Ok(all.map(|current_a| TripSurface {
            resistances,
            holds,
            current_a,
        }))
    }

    /// Trip point, A.
    pub fn at(&self, ohm: f64, hold: f64) -> f64 {
        let (mut by_ohm, mut by_hold) = ([0.0; 16], [0.0; 16]);
        self.resistances.weights(ohm, &mut by_ohm);
        self.holds.weights(hold, &mut by_hold);
        let width = self.holds.len();
        let mut sum = 0.0;
        for (r, w) in by_ohm.iter().enumerate().take(self.resistances.len()) {
            for (h, v) in by_hold.iter().enumerate().take(width) {
                sum += w * v * self.current_a[r * width + h];
            }
        }
        sum
    }
}
