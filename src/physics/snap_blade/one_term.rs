//! One sine mode only: a named approximation for teaching. It snaps too late, the more the higher
//! the rise.
//!
//! K_e π⁴ a³/(8 l²) + c1 a − EI π⁴ a0/(2 l³) + 2 π EI κ/l = 0 with
//! c1 = EI π⁴/(2 l³) − (π²/(2l)) (N + K_e π² a0²/(4l)); κ = (π/4) κ_1 is the uniform curvature
//! with the same first mode. S. Timoshenko, J. Appl. Mech. 2 (1935) A17 (from memory), here by
//! sine projection.

use std::f64::consts::PI;

/// A snap blade in one term.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct OneTermBlade {
    /// Distance between the hinges l, m.
    pub span_m: f64,
    /// Bending stiffness EI, N m².
    pub stiffness_ei_n_m2: f64,
    /// Axial stiffness K_e, N/m.
    pub axial_stiffness_n_per_m: f64,
    /// Stress-free rise a0, m.
    pub rise_m: f64,
    /// Thrust at the stress-free rise, N.
    pub thrust_n: f64,
}

impl OneTermBlade {
    /// Coefficients (c3, c1) of a³ and a, N/m³ and N/m.
    #[must_use]
    pub fn cubic(&self) -> (f64, f64) {
        let (l, k, a0) = (self.span_m, self.axial_stiffness_n_per_m, self.rise_m);
        let thrust = self.thrust_n + k * PI * PI * a0 * a0 / (4.0 * l);
        (
            k * PI.powi(4) / (8.0 * l * l),
            self.bow_stiffness_n_per_m() - PI * PI / (2.0 * l) * thrust,
        )
    }

    /// Out-of-balance force at an amplitude and a uniform curvature, N: zero in equilibrium, rising
    /// with a where it is stable.
    #[must_use]
    pub fn imbalance_n(&self, amplitude_m: f64, curvature_per_m: f64) -> f64 {
        let (c3, c1) = self.cubic();
        (c3 * amplitude_m * amplitude_m + c1) * amplitude_m
            - self.bow_stiffness_n_per_m() * self.rise_m
            + self.force_per_curvature_n_m() * curvature_per_m
    }

    /// Amplitude √(−c1/(3 c3)) at which either side ends, m; `None` when the blade creeps.
    #[must_use]
    pub fn fold_rise_m(&self) -> Option<f64> {
        let (c3, c1) = self.cubic();
        (c1 < 0.0).then(|| (-c1 / (3.0 * c3)).sqrt())
    }

    /// Uniform curvatures at which it snaps through and snaps back, 1/m; equal when the blade
    /// creeps.
    #[must_use]
    pub fn snap_curvatures_per_m(&self) -> (f64, f64) {
        let fold_m = self.fold_rise_m().unwrap_or(0.0);
        let at = |amplitude_m| -self.imbalance_n(amplitude_m, 0.0) / self.force_per_curvature_n_m();
        (at(fold_m), at(-fold_m))
    }

    /// As [`SnapBlade::trip_margin_m`](super::SnapBlade::trip_margin_m), m.
    #[must_use]
    pub fn trip_margin_m(&self, curvature_per_m: f64) -> f64 {
        self.margin_m(curvature_per_m - self.snap_curvatures_per_m().0)
    }

    /// As [`SnapBlade::reset_margin_m`](super::SnapBlade::reset_margin_m), m.
    #[must_use]
    pub fn reset_margin_m(&self, curvature_per_m: f64) -> f64 {
        self.margin_m(curvature_per_m - self.snap_curvatures_per_m().1)
    }

    fn margin_m(&self, past_per_m: f64) -> f64 {
        self.force_per_curvature_n_m() / self.bow_stiffness_n_per_m() * past_per_m
    }

    /// EI π⁴/(2 l³), N/m.
    fn bow_stiffness_n_per_m(&self) -> f64 {
        self.stiffness_ei_n_m2 * PI.powi(4) / (2.0 * self.span_m.powi(3))
    }

    /// 2 π EI/l, N m.
    fn force_per_curvature_n_m(&self) -> f64 {
        2.0 * PI * self.stiffness_ei_n_m2 / self.span_m
    }
}
