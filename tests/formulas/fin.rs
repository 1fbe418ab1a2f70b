//! A strip between two ends that makes and gives off heat, in closed form: the fin with generation
//! (any heat transfer textbook; H. S. Carslaw & J. C. Jaeger, Conduction of Heat in Solids, 2nd
//! ed., §4.10-4.14).
//!
//! k A T'' + q' − h P (T − T_air) = 0, all constant. Checks for the engine, and a first estimate by
//! hand. One temperature per cross section: h t/k far below 1.

use std::f64::consts::PI;

/// A strip of constant properties.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fin {
    /// Length L, m.
    pub length_m: f64,
    /// Conductivity times section k A, W m/K.
    pub conduction_w_m_per_k: f64,
    /// Coefficient times perimeter h P, W/(m K).
    pub loss_w_per_m_k: f64,
    /// Heat made per length q', W/m.
    pub generation_w_per_m: f64,
    /// Temperature of the surroundings, K.
    pub air_k: f64,
}

impl Fin {
    /// Fin parameter m = √(hP/(kA)), 1/m.
    #[must_use]
    pub fn parameter_per_m(&self) -> f64 {
        (self.loss_w_per_m_k / self.conduction_w_m_per_k).sqrt()
    }

    /// Temperature far from the ends, T_air + q'/(hP), K.
    #[must_use]
    pub fn far_k(&self) -> f64 {
        self.air_k + self.generation_w_per_m / self.loss_w_per_m_k
    }

    /// Temperature at x with both ends held, K; hP > 0:
    /// T_g + [(T0 − T_g) sinh m(L − x) + (T1 − T_g) sinh mx]/sinh mL.
    #[must_use]
    pub fn held_ends_k(&self, x_m: f64, start_k: f64, end_k: f64) -> f64 {
        let (m, l, far_k) = (self.parameter_per_m(), self.length_m, self.far_k());
        let ends = (start_k - far_k) * (m * (l - x_m)).sinh() + (end_k - far_k) * (m * x_m).sinh();
        far_k + ends / (m * l).sinh()
    }

    /// Mean temperature with both ends held, K.
    #[must_use]
    pub fn held_ends_mean_k(&self, start_k: f64, end_k: f64) -> f64 {
        let ml = self.parameter_per_m() * self.length_m;
        let far_k = self.far_k();
        far_k + (start_k + end_k - 2.0 * far_k) * (0.5 * ml).tanh() / ml
    }

    /// Heat that leaves through the held ends (start, end), W.
    #[must_use]
    pub fn held_ends_heat_w(&self, start_k: f64, end_k: f64) -> (f64, f64) {
        let (m, far_k) = (self.parameter_per_m(), self.far_k());
        let ml = m * self.length_m;
        let scale = self.conduction_w_m_per_k * m / ml.sinh();
        let (start, end) = (start_k - far_k, end_k - far_k);
        (
            scale * (end - start * ml.cosh()),
            scale * (start - end * ml.cosh()),
        )
    }

    /// Place of the highest temperature with both ends held, m from the start; `None` when it is an
    /// end.
    #[must_use]
    pub fn held_ends_hottest_m(&self, start_k: f64, end_k: f64) -> Option<f64> {
        let (m, far_k) = (self.parameter_per_m(), self.far_k());
        let ml = m * self.length_m;
        let (start, end) = (start_k - far_k, end_k - far_k);
        // T' = 0 where tanh(mx) = (start cosh mL − end)/(start sinh mL).
        let x_m = ((start * ml.cosh() - end) / (start * ml.sinh())).atanh() / m;
        (x_m > 0.0 && x_m < self.length_m && self.generation_w_per_m > 0.0).then_some(x_m)
    }

    /// Temperature at x with the start held and the end insulated, K.
    #[must_use]
    pub fn insulated_end_k(&self, x_m: f64, start_k: f64) -> f64 {
        let (m, far_k) = (self.parameter_per_m(), self.far_k());
        far_k + (start_k - far_k) * (m * (self.length_m - x_m)).cosh() / (m * self.length_m).cosh()
    }

    /// Mean temperature with the start held and the end insulated, K.
    #[must_use]
    pub fn insulated_end_mean_k(&self, start_k: f64) -> f64 {
        let ml = self.parameter_per_m() * self.length_m;
        self.far_k() + (start_k - self.far_k()) * ml.tanh() / ml
    }

    /// Heat that a very long rod without generation takes from its held start, √(hP kA) (T0 −
    /// T_air), W.
    #[must_use]
    pub fn endless_rod_heat_w(&self, start_k: f64) -> f64 {
        (self.loss_w_per_m_k * self.conduction_w_m_per_k).sqrt() * (start_k - self.air_k)
    }

    /// Rise of the middle a time after switch-on with both ends held at the air temperature, K:
    /// Σ_{n odd} (4/(nπ)) sin(nπ/2) (q'/C') (1 − e^(−λ_n t))/λ_n, λ_n = (kA (nπ/L)² + hP)/C', C'
    /// the heat capacity per length. hP may be 0.
    #[must_use]
    pub fn switch_on_middle_rise_k(&self, heat_capacity_j_per_m_k: f64, time_s: f64) -> f64 {
        let drive = self.generation_w_per_m / heat_capacity_j_per_m_k;
        let mut transient_k = 0.0;
        for index in 0..SERIES_TERMS {
            let n = (2 * index + 1) as f64;
            let rate = self.mode_rate_per_s(n, heat_capacity_j_per_m_k);
            let sign = if index % 2 == 0 { 1.0 } else { -1.0 };
            transient_k += sign * 4.0 / (n * PI) * drive / rate * (-rate * time_s).exp();
        }
        self.steady_middle_rise_k() - transient_k
    }

    /// Time constant of the slowest mode with both ends held, s.
    #[must_use]
    pub fn first_time_constant_s(&self, heat_capacity_j_per_m_k: f64) -> f64 {
        1.0 / self.mode_rate_per_s(1.0, heat_capacity_j_per_m_k)
    }

    /// Rise of the middle after a very long time with both ends at the air temperature, K: q' L²/(8
    /// kA) without loss, (q'/hP)(1 − 1/cosh(mL/2)) with.
    #[must_use]
    pub fn steady_middle_rise_k(&self) -> f64 {
        let half = 0.5 * self.parameter_per_m() * self.length_m;
        if half < 1e-4 {
            let l = self.length_m;
            return self.generation_w_per_m * l * l / (8.0 * self.conduction_w_m_per_k);
        }
        self.generation_w_per_m / self.loss_w_per_m_k * (1.0 - 1.0 / half.cosh())
    }

    fn mode_rate_per_s(&self, n: f64, heat_capacity_j_per_m_k: f64) -> f64 {
        let wave_per_m = n * PI / self.length_m;
        (self.conduction_w_m_per_k * wave_per_m * wave_per_m + self.loss_w_per_m_k)
            / heat_capacity_j_per_m_k
    }
}

/// Terms of the switch-on series. They fall as n⁻³ with alternating sign even at t = 0: error below
/// 1e-8.
const SERIES_TERMS: usize = 400;
