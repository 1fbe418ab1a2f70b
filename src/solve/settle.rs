//! Steady states in registers, by pseudo-transient continuation: implicit Euler steps that grow as
//! the state settles and end as Newton's method.

use super::SteadyFailure;
use super::flow::StiffFlow;
use super::implicit5p::Implicit5p;
use super::wide::{Wide, registers, registers_mut, vectorized};
use pulp::Simd;

/// Bring `y` to the steady state at time `t`; `bound` is the largest admissible number, `lowest`
/// the least.
///
/// From below, a cooperative system climbs to its lowest steady state, the one that time would
/// reach. The linearisation of the last step stays in `implicit`. Returns the number of linear
/// solves.
///
/// # Errors
/// A state beyond the bound (runaway), or no settling.
#[allow(clippy::too_many_arguments)]
pub fn settle<S: Simd>(
    simd: S,
    flow: &mut impl StiffFlow<S>,
    implicit: &mut Implicit5p,
    t: f64,
    y: &mut [f64],
    first_step_s: f64,
    lowest: f64,
    bound: f64,
) -> Result<usize, SteadyFailure> {
    vectorized!(simd, {
        let len = flow.len();
        let unknowns = flow.unknowns();
        let (mut residual, mut change) = (vec![0.0; len], vec![0.0; len]);
        let mut dt = first_step_s;
        let mut last = f64::INFINITY;
        for iteration in 1..=300 {
            flow.rates(Wide::splat(simd, t), y, &mut residual);
            implicit.linearise(flow, t, y);
            loop {
                if implicit.solve_shifted(simd, 1.0 / dt, &residual, &mut change)
                    && change
                        .iter()
                        .zip(y.iter())
                        .all(|(c, y)| c.is_finite() && *y + *c >= lowest)
                {
                    break;
                }
                dt *= 0.1;
                if dt < 1e-9 * first_step_s {
                    return Err(SteadyFailure::NotSettled);
                }
            }
            let mut size = 0.0f64;
            for (y, c) in registers_mut::<S>(y)
                .iter_mut()
                .zip(registers::<S>(&change))
            {
                *y = (Wide::of(simd, *y) + Wide::of(simd, *c)).raw();
            }
            for c in &change[..unknowns] {
                size = size.max(c.abs());
            }
            if y[..unknowns].iter().any(|v| *v > bound) {
                return Err(SteadyFailure::Runaway);
            }
            // Only an (almost) undamped Newton step proves that the residual is gone. One so short
            // that does not get shorter either is the rounding of the residual: Newton's method
            // squares what is left.
            let is_rounding = size < 1e-7 && size > 0.5 * last;
            if (size < 1e-9 || is_rounding) && dt > 1e6 * first_step_s {
                return Ok(iteration);
            }
            last = size;
            let growth = if size > 100.0 {
                1.5
            } else if size > 5.0 {
                4.0
            } else {
                100.0
            };
            dt = (dt * growth).min(1e14 * first_step_s);
        }
        Err(SteadyFailure::NotSettled)
    })
}
