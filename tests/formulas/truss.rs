//! The two-bar truss that snaps through: R. von Mises (1923), as in Z. P. Bažant & L. Cedolin,
//! Stability of Structures, Eq. 4.4.4-4.4.5. Linear-elastic bars, no buckling of a bar.

/// A symmetrical two-bar truss loaded down at its top.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Truss {
    /// Half of the span, m.
    pub half_span_m: f64,
    /// Rise of the unloaded top, m.
    pub rise_m: f64,
    /// Axial stiffness of one bar, N.
    pub stiffness_ea_n: f64,
}

impl Truss {
    /// Load at which it snaps, 2 EA (1 − cos^(2/3) α)^(3/2), N; tan α = rise/half-span.
    #[must_use]
    pub fn limit_load_n(&self) -> f64 {
        let cosine = self.half_span_m / self.half_span_m.hypot(self.rise_m);
        2.0 * self.stiffness_ea_n * (1.0 - cosine.cbrt().powi(2)).powf(1.5)
    }

    /// Drop of the top at the limit load, H − L √((1 + H²/L²)^(1/3) − 1), m.
    #[must_use]
    pub fn limit_drop_m(&self) -> f64 {
        let slope = self.rise_m / self.half_span_m;
        self.rise_m - self.half_span_m * ((1.0 + slope * slope).cbrt() - 1.0).sqrt()
    }

    /// Limit load of a shallow truss, (2/(3√3)) EA (H/L0)³, N, with L0 the length of a bar.
    #[must_use]
    pub fn shallow_limit_load_n(&self) -> f64 {
        let bar_m = self.half_span_m.hypot(self.rise_m);
        2.0 / (3.0 * 3.0_f64.sqrt()) * self.stiffness_ea_n * (self.rise_m / bar_m).powi(3)
    }
}
