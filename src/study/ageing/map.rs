//! What the engine says about a part whose contact and spring change, gathered once: temperature of
//! the spring and distance from release in every state of the duty and at every published limit.
//!
//! Two numbers tell how worn a part is: the resistance of its closed contact, which alone of all
//! that wears changes the temperatures, and what is left of the hold of its spring, which alone
//! changes when they release. So the engine is asked for steady states and timed states at a few
//! contact resistances (and currents); the margin of each is a straight line in the hold of a
//! latch, and a smooth curve in the thrust of a blade.

use super::duty::DutyState;
use super::nodes::Nodes;

/// Which side of a published limit a margin belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Side {
    /// Must hold so long: a release is too early.
    Early,
    /// Must have released by then: to hold is too late.
    Late,
}

/// One state of the duty: spring temperature, K, and margin, m, on all nodes.
#[derive(Debug, Clone)]
pub struct StateField {
    /// The state.
    pub state: DutyState,
    /// Factors on the current.
    pub factors: Nodes,
    /// Resistance by factor.
    pub spring_k: Vec<f64>,
    /// Resistance by factor by hold.
    pub margin_m: Vec<f64>,
}

/// One side of one row of published limits.
#[derive(Debug, Clone)]
pub struct LimitField {
    /// Number of the row.
    pub row: usize,
    /// Side.
    pub side: Side,
    /// Resistance by hold, m.
    pub margin_m: Vec<f64>,
}

/// Everything the engine was asked.
#[derive(Debug, Clone)]
pub struct Map {
    /// Contact resistances, ohm.
    pub resistances: Nodes,
    /// Holds.
    pub holds: Nodes,
    /// States of the duty.
    pub states: Vec<StateField>,
    /// Published limits.
    pub limits: Vec<LimitField>,
    /// Whether the hold is the force of a latch (else the thrust of a blade).
    pub is_straight: bool,
    /// Whether there is no steady state beyond the highest resistance.
    pub ends_in_runaway: bool,
    /// Largest difference between the table and the engine at a point between its nodes, K and m.
    pub between: (f64, f64),
}

/// What one contact resistance gives.
pub struct AtResistance {
    /// State by factor.
    pub spring_k: Vec<Vec<f64>>,
    /// State by factor and hold.
    pub margin_m: Vec<Vec<f64>>,
    /// Limit by hold.
    pub limit_m: Vec<Vec<f64>>,
}

impl Map {
    /// Every number that the engine was asked for, list by list.
    pub fn lists(&mut self) -> impl Iterator<Item = &mut Vec<f64>> {
        let states = self.states.iter_mut();
        let states = states.flat_map(|s| [&mut s.spring_k, &mut s.margin_m]);
        states.chain(self.limits.iter_mut().map(|l| &mut l.margin_m))
    }

    /// Whether the table is within these differences from the engine, K and m.
    pub fn is_close(&self, kelvin: f64, metres: f64) -> bool {
        self.between.0 <= kelvin && self.between.1 <= metres
    }

    /// Temperature of the spring in a state, at the current as it is, K; with no contact worse than
    /// was asked for.
    pub fn spring_k(&self, field: &StateField, contact_ohm: f64) -> f64 {
        let count = field.factors.len();
        let middle: Vec<f64> = field
            .spring_k
            .chunks(count)
            .map(|row| field.factors.value(row, 1.0))
            .collect();
        let ohm = contact_ohm.min(self.resistances.highest());
        self.resistances.value(&middle, ohm)
    }

    /// Largest differences from a column that was asked for between the nodes.
    pub fn apart(&self, r: f64, column: &AtResistance) -> (f64, f64) {
        let mut weights = [0.0; 16];
        self.resistances.weights(r, &mut weights);
        let rows = self.resistances.len();
        let at = |values: &[f64], entry: usize| -> f64 {
            let width = values.len() / rows;
            (0..rows)
                .map(|k| weights[k] * values[k * width + entry])
                .sum()
        };
        let worst = |values: &[f64], exact: &[f64]| -> f64 {
            let each = exact.iter().enumerate();
            each.map(|(n, v)| (at(values, n) - v).abs())
                .fold(0.0, f64::max)
        };
        let (mut kelvin, mut metres) = (0.0f64, 0.0f64);
        for (k, field) in self.states.iter().enumerate() {
            kelvin = kelvin.max(worst(&field.spring_k, &column.spring_k[k]));
            metres = metres.max(worst(&field.margin_m, &column.margin_m[k]));
        }
        for (k, field) in self.limits.iter().enumerate() {
            metres = metres.max(worst(&field.margin_m, &column.limit_m[k]));
        }
        (kelvin, metres)
    }
}
