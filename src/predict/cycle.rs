//! A repeated load settling into its periodic state.

use super::proof::steepness;
use crate::device::Plant;
use crate::solve::Event;

/// Watches a repeated load settle into its periodic state.
#[derive(Default)]
pub(super) struct Cycle {
    before: Option<Vec<f64>>,
    change: Option<f64>,
}

impl Cycle {
    /// Whether the state at the end of a period proves that no later period can release.
    pub(super) fn settled(
        &mut self,
        plant: &Plant<'_>,
        event: &dyn Event,
        t: f64,
        y: &[f64],
        closest_m: f64,
    ) -> bool {
        let Some(before) = self.before.replace(y.to_vec()) else {
            return false;
        };
        let n = plant.model.layout.temperatures();
        let change = (0..n).map(|i| (y[i] - before[i]).abs()).fold(0.0, f64::max);
        let Some(last) = self.change.replace(change) else {
            return false;
        };
        if change < 1e-9 {
            return true;
        }
        let ratio = change / last;
        if !(ratio < 0.999) {
            return false;
        }
        // A settling period map shrinks geometrically; twice that remainder is allowed for.
        let remaining = 2.0 * change * ratio / (1.0 - ratio);
        let slope = steepness(event, t, y, &vec![1.0; n]);
        closest_m + slope * remaining < 0.0 && remaining < 1.0
    }
}
