//! Equilibrium on the closed and on the snapped side, and the drawn shape.

use std::f64::consts::PI;

use super::{Fold, SnapBlade};

/// A stable equilibrium of a blade.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BladeState {
    /// Thrust, N; compression is positive.
    pub thrust_n: f64,
    /// Mode-1 amplitude a_1, m; positive as made, negative when snapped.
    pub first_mode_m: f64,
}

impl SnapBlade<'_> {
    /// Stable equilibrium bowed as made (a_1 > 0); `None` when there is none.
    #[must_use]
    pub fn closed_state(&self) -> Option<BladeState> {
        self.equilibrium(1.0)
    }

    /// Stable equilibrium bowed the other way (a_1 < 0); `None` when there is none.
    #[must_use]
    pub fn snapped_state(&self) -> Option<BladeState> {
        self.equilibrium(-1.0)
    }

    /// Amplitude of mode n ≥ 1 in a state, m.
    #[must_use]
    pub fn mode_m(&self, n: usize, state: &BladeState) -> f64 {
        match n {
            0 => 0.0,
            1 => state.first_mode_m,
            _ => self.higher_mode_m(n, state.thrust_n),
        }
    }

    /// Height of the blade over the line through its hinges, m, at x from 0 to the span.
    #[must_use]
    pub fn height_m(&self, x_m: f64, state: &BladeState) -> f64 {
        (1..=self.curvature_modes_per_m.len().max(1))
            .map(|n| self.mode_m(n, state) * (n as f64 * PI * x_m / self.span_m).sin())
            .sum()
    }

    /// On the side of the given sign, sign × g falls with N from +∞ to its value at the fold, or,
    /// when the blade creeps, at the thrust at which a_1 reaches 0: at most one root.
    fn equilibrium(&self, sign: f64) -> Option<BladeState> {
        let mut high = match self.fold() {
            Fold::Snaps { thrust_n, .. } => thrust_n,
            Fold::Creeps => self.flat_thrust_n()?,
        };
        let ends_below = self.imbalance_n_m(sign, high) <= 0.0;
        if !ends_below {
            return None;
        }
        let mut low = self.bracket(|thrust_n| self.imbalance_n_m(sign, thrust_n) > 0.0, high)?;
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            if middle <= low || middle >= high {
                break;
            }
            if self.imbalance_n_m(sign, middle) > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        let first_mode_m = sign * self.first_mode(low).squared.max(0.0).sqrt();
        Some(BladeState {
            thrust_n: low,
            first_mode_m,
        })
    }

    /// sign × g(N) = |a_1| (P_1 − N) + sign × (EI κ_1 − P_1 a0), N m.
    fn imbalance_n_m(&self, sign: f64, thrust_n: f64) -> f64 {
        let euler_n = self.euler_load_n();
        let amplitude = self.first_mode(thrust_n).squared.max(0.0).sqrt();
        (euler_n - thrust_n) * amplitude + sign * euler_n * (self.thermal_bow_m() - self.rise_m)
    }

    /// Thrust at or below P_1 at which a_1 is 0; a_1² falls with N.
    fn flat_thrust_n(&self) -> Option<f64> {
        let mut high = self.euler_load_n();
        let mut low = self.bracket(|thrust_n| self.first_mode(thrust_n).squared > 0.0, high)?;
        for _ in 0..200 {
            let middle = 0.5 * (low + high);
            if middle <= low || middle >= high {
                break;
            }
            if self.first_mode(middle).squared > 0.0 {
                low = middle;
            } else {
                high = middle;
            }
        }
        Some(high)
    }

    /// Steps down from `high` in growing strides until the condition holds.
    fn bracket(&self, holds: impl Fn(f64) -> bool, high: f64) -> Option<f64> {
        let mut stride = self.euler_load_n();
        for _ in 0..200 {
            if holds(high - stride) {
                return Some(high - stride);
            }
            stride *= 2.0;
        }
        None
    }
}
