//! Proof that an event never comes: the steady state is on the safe side, and the box around it
//! that the state has entered is safe and cannot be left.
//!
//! The heat network is cooperative (a hotter node never cools another), so with `v = -J^-1 1 > 0`
//! the box `|y - y_steady| <= delta v` is invariant: on its faces the flow points inwards.

use crate::device::Plant;
use crate::solve::{Event, ProfileMatrix, SteadyFailure, System, steady_state};

/// Hottest steady state that is looked for, K.
pub(super) const HOTTEST_K: f64 = 20_000.0;

/// Over which slopes of an event are taken, K.
const SLOPE_STEP_K: f64 = 1e-3;

/// What the end of a constant piece tends to.
pub enum Target {
    /// Nothing to prove with.
    None,
    /// The event comes: its value at the steady state is not negative, or there is no steady state.
    Reached,
    /// The event is not reached at the steady state.
    Safe {
        /// Steady state.
        steady: Vec<f64>,
        /// Half-widths of the invariant box.
        box_shape: Vec<f64>,
        /// Unknowns that are temperatures.
        temperatures: usize,
        /// Largest box, as a multiple of its shape, in which the event stays negative.
        largest: f64,
    },
}

impl Target {
    /// Steady state of a plant whose drive is constant, looked for from the present state.
    pub fn of(plant: &Plant<'_>, event: &dyn Event, t: f64, y: &[f64]) -> Target {
        let mut steady = y.to_vec();
        match steady_state(plant, t, &mut steady, 1.0, HOTTEST_K) {
            Err(SteadyFailure::Runaway) => return Target::Reached,
            Err(SteadyFailure::NotSettled) => return Target::None,
            Ok(_) => {}
        }
        let value = event.value(t, &steady);
        if value >= 0.0 {
            return Target::Reached;
        }
        let n = steady.len();
        let mut jacobian = ProfileMatrix::zeros(plant.shape());
        plant.jacobian(t, &steady, &mut jacobian);
        let mut factors = ProfileMatrix::zeros(plant.shape());
        factors.set_shifted_negative(&jacobian, 0.0);
        if !factors.factorise() {
            return Target::None;
        }
        let mut box_shape = vec![1.0; n];
        factors.solve(&mut box_shape);
        let temperatures = plant.model.layout.temperatures();
        if box_shape[..temperatures].iter().any(|v| !(*v > 0.0)) {
            return Target::None;
        }
        // The modes across the layers follow the temperatures and act back on them by an effect of
        // second order only: a box wide enough for all that the temperatures' box can feed into
        // them holds them.
        for i in temperatures..n {
            let fed: f64 = (0..temperatures)
                .map(|j| jacobian.get(i, j).abs() * box_shape[j])
                .sum();
            box_shape[i] = (1.0 + fed) / -jacobian.get(i, i);
        }
        let slope = steepness(event, t, &steady, &box_shape);
        Target::safe(steady, box_shape, temperatures, value, slope)
    }

    /// A steady state on the safe side of the event, whose value there is `value` and which one box
    /// of this shape can move by `slope`.
    pub fn safe(
        steady: Vec<f64>,
        box_shape: Vec<f64>,
        temperatures: usize,
        value: f64,
        slope: f64,
    ) -> Target {
        if box_shape[..temperatures].iter().any(|v| !(*v > 0.0)) {
            return Target::None;
        }
        // Half of the linear room is left for the curvature of the event.
        let largest = if slope > 0.0 {
            -0.5 * value / slope
        } else {
            f64::INFINITY
        };
        Target::Safe {
            steady,
            box_shape,
            temperatures,
            largest,
        }
    }
}

/// Whether the state lies in the safe box.
pub fn hold_proof(target: &Target, y: &[f64]) -> bool {
    match target {
        Target::None | Target::Reached => false,
        Target::Safe {
            steady,
            box_shape,
            temperatures,
            largest,
        } => {
            let size = (0..y.len())
                .map(|i| (y[i] - steady[i]).abs() / box_shape[i])
                .fold(0.0, f64::max);
            // Far from the steady state the linear box says little: ask for 20 K at most.
            let widest = (0..*temperatures)
                .map(|i| (y[i] - steady[i]).abs())
                .fold(0.0, f64::max);
            size < *largest && widest < 20.0
        }
    }
}

/// Most by which an event changes for one step of `along` in any of its signs.
pub fn steepness(event: &dyn Event, t: f64, y: &[f64], along: &[f64]) -> f64 {
    let by_slope = || reach(&gradient(event, t, y, along.len()), along);
    event.steepness(t, y, along).unwrap_or_else(by_slope)
}

/// What a gradient makes of a step in any of its signs.
pub fn reach(gradient: &[f64], along: &[f64]) -> f64 {
    let each = gradient.iter().zip(along).map(|(g, v)| g.abs() * v);
    each.sum()
}

/// Slope of the event along a direction.
pub fn slope_along(event: &dyn Event, t: f64, y: &[f64], along: &[f64]) -> f64 {
    let most = along.iter().fold(0.0f64, |m, v| m.max(v.abs()));
    if !(most > 0.0) {
        return 0.0;
    }
    let step = SLOPE_STEP_K / most;
    let there = |sign: f64| -> Vec<f64> {
        let moved = y.iter().zip(along).map(|(y, a)| y + sign * step * a);
        moved.collect()
    };
    (event.value(t, &there(1.0)) - event.value(t, &there(-1.0))) / (2.0 * step)
}

/// Slope of the event against each of the first `n` unknowns.
fn gradient(event: &dyn Event, t: f64, y: &[f64], n: usize) -> Vec<f64> {
    let mut probe = y.to_vec();
    (0..n)
        .map(|i| {
            let step = 1e-3 * (1.0 + 1e-3 * y[i].abs());
            probe[i] = y[i] + step;
            let up = event.value(t, &probe);
            probe[i] = y[i] - step;
            let down = event.value(t, &probe);
            probe[i] = y[i];
            (up - down) / (2.0 * step)
        })
        .collect()
}
