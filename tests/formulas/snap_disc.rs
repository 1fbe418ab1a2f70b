//! Two-metal disc that snaps, model of uniform curvature.
//!
//! W. H. Wittrick, D. M. Myers & W. R. Blunden, "Stability of a Bimetallic Disk", Quart. J. Mech.
//! Appl. Math. 6 (1953) 15 (from memory), re-derived from the shallow-shell energy with one
//! curvature in both directions. Free edge. The full shell snaps about 14 % later at a rise of 2.5
//! thicknesses: a teaching model.

/// A shallow disc, cold and free of stress.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SnapDisc {
    /// Radius, m.
    pub radius_m: f64,
    /// Thickness, m.
    pub thickness_m: f64,
    /// Poisson ratio.
    pub poisson: f64,
    /// Rise of the middle over the rim, m.
    pub rise_m: f64,
    /// Flexivity, 1/K.
    pub flexivity_per_k: f64,
}

impl SnapDisc {
    /// Dimensionless initial curvature K0 = (2 H0/R²) s, s = R² √(1 − ν)/(4h).
    #[must_use]
    pub fn initial_curvature(&self) -> f64 {
        2.0 * self.rise_m / self.radius_m.powi(2) * self.scale_m()
    }

    /// Temperature change at which the free disc would be flat, 2 H0 h/(R² F), K: the middle of the
    /// hysteresis.
    #[must_use]
    pub fn flattening_k(&self) -> f64 {
        2.0 * self.rise_m * self.thickness_m / (self.radius_m.powi(2) * self.flexivity_per_k)
    }

    /// Temperature changes of the snap and of the snap back, K; `None` when K0 ≤ 1: it creeps.
    #[must_use]
    pub fn snaps_k(&self) -> Option<(f64, f64)> {
        let k0 = self.initial_curvature();
        let critical = ((k0 * k0 - 1.0) / 3.0).sqrt();
        let per_unit_k = self.thickness_m / (self.flexivity_per_k * self.scale_m());
        let half = 2.0 * critical.powi(3);
        (k0 > 1.0).then_some((per_unit_k * (k0 + half), per_unit_k * (k0 - half)))
    }

    fn scale_m(&self) -> f64 {
        self.radius_m.powi(2) * (1.0 - self.poisson).sqrt() / (4.0 * self.thickness_m)
    }
}
