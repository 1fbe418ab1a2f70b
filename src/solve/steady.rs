//! Steady states `f(y) = 0` by pseudo-transient continuation: implicit Euler steps that grow as the
//! residual falls and end as Newton's method. From below, a monotone system climbs to its lowest
//! steady state, the one that time would reach.

use super::{ProfileMatrix, System};

/// Why no steady state was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SteadyFailure {
    /// The state grew beyond the bound: there is no steady state below it (runaway).
    Runaway,
    /// The iteration did not settle.
    NotSettled,
}

/// Bring `y` to the steady state at time `t`; `bound` is the largest admissible unknown.
/// Returns the number of linear solves.
pub fn steady_state(
    system: &impl System,
    t: f64,
    y: &mut [f64],
    first_step_s: f64,
    bound: f64,
) -> Result<usize, SteadyFailure> {
    let n = y.len();
    let shape = system.shape();
    let mut jacobian = ProfileMatrix::zeros(shape);
    let mut factors = ProfileMatrix::zeros(shape);
    let mut residual = vec![0.0; n];
    let mut trial = vec![0.0; n];
    let mut change = vec![0.0; n];
    let mut dt = first_step_s;
    let mut last = f64::INFINITY;
    system.rhs(t, y, &mut residual);
    for iteration in 1..=400 {
        jacobian.clear();
        system.jacobian(t, y, &mut jacobian);
        let accepted = loop {
            factors.set_shifted_negative(&jacobian, 1.0 / dt);
            change.copy_from_slice(&residual);
            if factors.factorise() {
                factors.solve(&mut change);
                for i in 0..n {
                    trial[i] = y[i] + change[i];
                }
                if trial
                    .iter()
                    .enumerate()
                    .all(|(i, v)| v.is_finite() && *v >= system.lowest(i))
                {
                    break true;
                }
            }
            dt *= 0.1;
            if dt < 1e-9 * first_step_s {
                break false;
            }
        };
        if !accepted {
            return Err(SteadyFailure::NotSettled);
        }
        let size = (0..n)
            .map(|i| (change[i] / system.scale(y, i)).abs())
            .fold(0.0, f64::max);
        y.copy_from_slice(&trial);
        if y.iter().any(|v| *v > bound) {
            return Err(SteadyFailure::Runaway);
        }
        system.rhs(t, y, &mut residual);
        // Only an (almost) undamped Newton step proves that the residual is gone. One so short that
        // does not get shorter either is the rounding of the residual: Newton's method squares what
        // is left.
        let is_rounding = size < 1e-9 && size > 0.5 * last;
        if (size < 1e-11 || is_rounding) && dt > 1e6 * first_step_s {
            return Ok(iteration);
        }
        last = size;
        dt = if size > 5.0 {
            (dt * 1.5).min(1e14 * first_step_s)
        } else {
            (dt * 8.0).min(1e14 * first_step_s)
        };
    }
    Err(SteadyFailure::NotSettled)
}
