//! What the solver asks of a problem.

use super::{ProfileMatrix, Shape};

/// An initial-value problem `dy/dt = f(t, y)` with its exact Jacobian.
pub trait System {
    /// Which entries of the Jacobian can be non-zero.
    fn shape(&self) -> Shape;
    /// `dy = f(t, y)`.
    fn rhs(&self, t: f64, y: &[f64], dy: &mut [f64]);
    /// `jacobian = df/dy`; the matrix arrives zeroed.
    fn jacobian(&self, t: f64, y: &[f64], jacobian: &mut ProfileMatrix);
    /// `dfdt = partial f / partial t`; zeroed unless the problem depends on time.
    fn time_slope(&self, t: f64, y: &[f64], dfdt: &mut [f64]);
    /// Lowest value that unknown `i` can physically take.
    fn lowest(&self, _i: usize) -> f64 {
        f64::NEG_INFINITY
    }
    /// Size against which an error in unknown `i` is judged.
    fn scale(&self, y: &[f64], i: usize) -> f64;
}
