//! What the fast steppers ask of a problem.

use super::wide::Wide;
use pulp::Simd;

/// An initial-value problem whose unknowns lie in registers, padded to full ones.
pub trait Flow<S: Simd> {
    /// Numbers in a state, padding included.
    fn len(&self) -> usize;
    /// Whether there is no unknown.
    fn is_empty(&self) -> bool {
        self.len() == 0
    }
    /// Unknowns in a state.
    fn unknowns(&self) -> usize;
    /// `dy/dt` at time `t`.
    fn rates(&mut self, t: Wide<S>, y: &[f64], dy: &mut [f64]);
    /// Sizes against which errors are judged are `1 + |y - reference|`.
    fn reference(&self) -> Wide<S>;
    /// Fastest rate at which the solution relaxes, 1/s.
    fn fastest_per_s(&self) -> f64;
}

/// The same with its slopes, for implicit steps.
pub trait StiffFlow<S: Simd>: Flow<S> {
    /// Remaining time, in units of the fastest rate, beyond which implicit steps are cheaper than
    /// explicit ones.
    fn implicit_from(&self) -> f64 {
        60.0
    }
    /// `df/dy` by columns: column `c` is the `c`-th row of `len` numbers.
    fn jacobian_columns(&mut self, t: f64, y: &[f64], columns: &mut [f64]);
    /// `partial f / partial t` at fixed state; `false` when it is zero.
    fn time_slope(&mut self, t: f64, y: &[f64], dfdt: &mut [f64]) -> bool;
}

/// Many problems side by side, one a lane: every operation acts on each lane by itself.
pub trait LaneFlow<S: Simd>: Flow<S> {
    /// Fastest rate of each lane, 1/s.
    fn fastest_lanes(&self) -> Wide<S>;
    /// Signed distance of each lane from its event and its rate when the state changes at `dy`.
    fn distance(&self, y: &[f64], dy: &[f64]) -> (Wide<S>, Wide<S>);
    /// Smallest and largest of the unknowns of each lane that must stay in range.
    fn extremes(&self, y: &[f64]) -> (Wide<S>, Wide<S>);
    /// The range they must stay in.
    fn range(&self) -> (f64, f64);
    /// First unknown that each unknown's rate depends on; what depends on an unknown is what that
    /// depends on, too.
    fn first_columns(&self) -> Vec<usize>;
    /// `df/dy` of each lane at a state whose rates are known: register `i * unknowns + j` is the
    /// slope of rate `i` against unknown `j`.
    fn jacobian(&mut self, y: &[f64], rates: &[f64], rows: &mut [f64]);
}

/// A signed distance from an event: negative before it, zero at it.
pub trait Distance {
    /// Value, and its rate of change when the state changes at `dy`.
    fn value_and_rate(&mut self, t: f64, y: &[f64], dy: &[f64]) -> (f64, f64);
}
