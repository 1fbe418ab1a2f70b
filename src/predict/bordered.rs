//! Steady states and the trip point in registers.
//!
//! At the trip point the state is steady and the release margin zero: as many equations as unknowns
//! and the current together. Newton's method on all of them converges in a few steps from a steady
//! state nearby.

use super::proof::HOTTEST_K;
use crate::device::{Along, Drive, Gauge, Model};
use crate::solve::wide::{Wide, dispatch};
use crate::solve::{Distance, Flow, Implicit5p, SteadyFailure, settle};
use pulp::Simd;

/// Newton steps before the bracketed search has to help.
const MOST_STEPS: usize = 20;

/// Trip point of a model by Newton's method; `None` when it has no fast form, leaves the fits, or
/// does not converge to a stable state below which the margin is negative.
pub fn trip_point(model: &Model, ambient_k: f64, guess_a: f64) -> Option<(f64, Vec<f64>)> {
    model.fast()?;
    dispatch(TripPoint {
        model,
        ambient_k,
        guess_a,
    })
}

/// Steady closed state at a constant current, from a state below it; `None` when it has to be
/// looked for the general way.
pub fn closed_steady(
    model: &Model,
    current_a: f64,
    ambient_k: f64,
    from: &[f64],
) -> Option<Vec<f64>> {
    model.fast()?;
    dispatch(Steady {
        model,
        current_a,
        ambient_k,
        from,
    })
}

struct Steady<'a> {
    model: &'a Model,
    current_a: f64,
    ambient_k: f64,
    from: &'a [f64],
}

impl pulp::WithSimd for Steady<'_> {
    type Output = Option<Vec<f64>>;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Self::Output {
        let drive = Drive::constant(self.current_a, self.ambient_k);
        let mut along = Along::new(simd, self.model, drive)?;
        let mut implicit = Implicit5p::new(along.unknowns(), along.len());
        let mut y = self.from.to_vec();
        y.resize(along.len(), self.ambient_k);
        steady(simd, &mut along, &mut implicit, &mut y)?;
        y.truncate(along.unknowns());
        Some(y)
    }
}

/// Settle inside the fits.
fn steady<S: Simd>(
    simd: S,
    along: &mut Along<'_, S>,
    implicit: &mut Implicit5p,
    y: &mut [f64],
) -> Option<()> {
    match settle(simd, along, implicit, 0.0, y, 1.0, 1.0, HOTTEST_K) {
        Ok(_) => along
            .model
            .within_fits(along.drive.ambient.value_k, y)
            .then_some(()),
        // Far from the fits the general way decides.
        Err(SteadyFailure::Runaway | SteadyFailure::NotSettled) => None,
    }
}

struct TripPoint<'a> {
    model: &'a Model,
    ambient_k: f64,
    guess_a: f64,
}

impl pulp::WithSimd for TripPoint<'_> {
    type Output = Option<(f64, Vec<f64>)>;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Self::Output {
        let mut current = self.guess_a;
        let mut along = Along::new(simd, self.model, Drive::constant(current, self.ambient_k))?;
        let mut distance = along.distance(Gauge::RELEASE);
        let (unknowns, len) = (along.unknowns(), along.len());
        let mut implicit = Implicit5p::new(unknowns, len);
        let mut y = vec![self.ambient_k; len];
        steady(simd, &mut along, &mut implicit, &mut y)?;
        let zero = vec![0.0; len];
        let (mut rates, mut more) = (zero.clone(), zero.clone());
        let (mut settle_by, mut per_square) = (zero.clone(), zero);
        for _ in 0..MOST_STEPS {
            // Rates are linear in the square of the current: their slope against it is a
            // difference.
            let squared = current * current;
            along.drive = Drive::constant((2.0 * squared).sqrt(), self.ambient_k);
            along.rates(Wide::splat(simd, 0.0), &y, &mut more);
            along.drive = Drive::constant(current, self.ambient_k);
            along.rates(Wide::splat(simd, 0.0), &y, &mut rates);
            for (m, r) in more.iter_mut().zip(&rates) {
                *m = (*m - r) / squared;
            }
            implicit.linearise(&mut along, 0.0, &y);
            if !(implicit.solve_shifted(simd, 0.0, &rates, &mut settle_by)
                && implicit.solve_shifted(simd, 0.0, &more, &mut per_square))
            {
                return None;
            }
            let (value, along_settle) = distance.value_and_rate(0.0, &y, &settle_by);
            let (_, along_square) = distance.value_and_rate(0.0, &y, &per_square);
            let change = -(value + along_settle) / along_square;
            // At most a quarter of the square at a time.
            let change = change.clamp(-0.25 * squared, 0.5 * squared);
            if !change.is_finite() {
                return None;
            }
            let mut largest = 0.0f64;
            for i in 0..unknowns {
                let step = settle_by[i] + change * per_square[i];
                y[i] += step;
                largest = largest.max(step.abs());
            }
            let next = (squared + change).sqrt();
            let settled = (next - current).abs() < 1e-12 * current && largest < 1e-8;
            current = next;
            if !self.model.within_fits(self.ambient_k, &y) {
                return None;
            }
            if settled {
                // Stable, and on the branch that time climbs to: a hotter current warms every node.
                let stable = per_square[..unknowns].iter().all(|v| *v > 0.0);
                y.truncate(unknowns);
                return stable.then_some((current, y));
            }
        }
        None
    }
}
