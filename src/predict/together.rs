//! Steady state and trip point together, the general way: Newton's method on both, as `bordered`
//! does in registers.

use super::proof::{HOTTEST_K, slope_along};
use crate::device::{Drive, Model, Plant};
use crate::solve::{Event, ProfileMatrix, System};

/// Newton steps before the bracketed search has to help.
const MOST_STEPS: usize = 20;
/// Relative step of the current, and step of a temperature, K, after which there is none: Newton's
/// method squares what is left.
const SETTLED: (f64, f64) = (1e-8, 1e-5);

/// Trip point of a model and the steady state there, from a state and a current nearby; `None` where
/// it does not converge to a stable state.
pub fn trip_point_near(
    model: &Model,
    ambient_k: f64,
    near_a: f64,
    near: &[f64],
) -> Option<(f64, Vec<f64>)> {
    let mut y = near.to_vec();
    let mut squared = near_a * near_a;
    let temperatures = model.layout.temperatures();
    let plant = |squared: f64| Plant {
        model,
        drive: Drive::constant(squared.sqrt(), ambient_k),
    };
    let (mut settle, mut per_square) = (vec![0.0; y.len()], vec![0.0; y.len()]);
    let mut jacobian = ProfileMatrix::zeros(model.shape());
    let mut factors = ProfileMatrix::zeros(model.shape());
    for _ in 0..MOST_STEPS {
        // Rates are linear in the square of the current: their slope against it is a difference.
        let (here, twice) = (plant(squared), plant(2.0 * squared));
        here.rhs(0.0, &y, &mut settle);
        twice.rhs(0.0, &y, &mut per_square);
        for (more, rate) in per_square.iter_mut().zip(&settle) {
            *more = (*more - rate) / squared;
        }
        jacobian.clear();
        here.jacobian(0.0, &y, &mut jacobian);
        factors.set_shifted_negative(&jacobian, 0.0);
        if !factors.factorise() {
            return None;
        }
        factors.solve(&mut settle);
        factors.solve(&mut per_square);
        let (event, more) = (here.release(), twice.release());
        let value = event.value(0.0, &y);
        let by_square =
            slope_along(&event, 0.0, &y, &per_square) + (more.value(0.0, &y) - value) / squared;
        let change = -(value + slope_along(&event, 0.0, &y, &settle)) / by_square;
        // At most a quarter of the square at a time.
        let change = change.clamp(-0.25 * squared, 0.5 * squared);
        let mut largest_k = 0.0f64;
        for (i, y) in y.iter_mut().enumerate() {
            let step = settle[i] + change * per_square[i];
            *y += step;
            if i < temperatures {
                largest_k = largest_k.max(step.abs());
            }
        }
        let within = |t: &f64| (1.0..HOTTEST_K).contains(t);
        if !change.is_finite() || !y[..temperatures].iter().all(within) {
            return None;
        }
        squared += change;
        if change.abs() < 2.0 * SETTLED.0 * squared && largest_k < SETTLED.1 {
            // Stable, and on the branch that time climbs to: more current cools no node (it warms
            // none of an idle pole that stands apart).
            let most = per_square.iter().fold(0.0f64, |m, v| m.max(*v));
            let stable = per_square[..temperatures].iter().all(|v| *v > -1e-9 * most);
            return stable.then(|| (squared.sqrt(), y));
        }
    }
    None
}
