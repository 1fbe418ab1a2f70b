//! Force and energy of a blade held at a rise: the landscape in which it rolls.
//!
//! With mode 1 held at an amplitude the other modes rest at the thrust N that the shortening gives.
//! The force against mode 1 is then (π²/(2l)) ((P_1 − N) a_1 − P_1 a0 + EI κ_1), the derivative of
//! the elastic energy: its zeros are the equilibria, stable where it rises. A thrust that would
//! exceed P_2 makes the blade go sideways through mode 2 instead, at N = P_2. Elementary
//! beam-column theory, as in the rest of this module.

use super::SnapBlade;
use std::f64::consts::PI;

impl SnapBlade<'_> {
    /// Thrust with mode 1 held at this amplitude, N; compression is positive.
    #[must_use]
    pub fn thrust_at_rise_n(&self, rise_m: f64) -> f64 {
        let second_n = 4.0 * self.euler_load_n();
        let squared = rise_m * rise_m;
        // a_1² falls with N: from the other modes at rest downwards.
        let excess = |thrust_n: f64| self.first_mode(thrust_n).squared - squared;
        let mut high = second_n * (1.0 - 1e-9);
        if !(excess(high) < 0.0) {
            return second_n;
        }
        let mut stride = self.euler_load_n();
        let mut low = high - stride;
        for _ in 0..200 {
            if excess(low) >= 0.0 {
                break;
            }
            high = low;
            stride *= 2.0;
            low -= stride;
        }
        let mut thrust_n = 0.5 * (low + high);
        for _ in 0..100 {
            let first = self.first_mode(thrust_n);
            let past = first.squared - squared;
            if past >= 0.0 {
                low = thrust_n;
            } else {
                high = thrust_n;
            }
            let newton = thrust_n + past / (2.0 * first.half_fall);
            let next = if newton > low && newton < high {
                newton
            } else {
                0.5 * (low + high)
            };
            let step = (next - thrust_n).abs();
            thrust_n = next;
            if step <= 1e-12 * second_n {
                break;
            }
        }
        thrust_n
    }

    /// Force that holds mode 1 at this amplitude, N: zero in equilibrium, rising with the amplitude
    /// where that is stable.
    ///
    /// ```
    /// use relatch::internals::physics::snap_blade::SnapBlade;
    /// let blade = SnapBlade {
    ///     span_m: 20e-3,
    ///     stiffness_ei_n_m2: 1e-3,
    ///     axial_stiffness_n_per_m: 2e6,
    ///     rise_m: 0.30e-3,
    ///     thrust_n: 0.0,
    ///     curvature_modes_per_m: &[1.0],
    /// };
    /// let standing_m = blade.closed_rise_m().unwrap();
    /// assert!(blade.holding_force_n(standing_m).abs() < 1e-9);
    /// ```
    #[must_use]
    pub fn holding_force_n(&self, rise_m: f64) -> f64 {
        let euler_n = self.euler_load_n();
        let thrust_n = self.thrust_at_rise_n(rise_m);
        PI * PI / (2.0 * self.span_m)
            * ((euler_n - thrust_n) * rise_m + euler_n * (self.thermal_bow_m() - self.rise_m))
    }
}
