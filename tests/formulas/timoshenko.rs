//! The two-layer strip in closed form: S. Timoshenko, "Analysis of Bi-Metal Thermostats", J. Opt.
//! Soc. Am. & Rev. Sci. Instrum. 11 (1925) 233-255.
//!
//! Layer 1 is the low-expansion, first-listed side; m = t1/t2, n = E1/E2. Narrow strip, small
//! strain, one temperature. `relatch::internals::physics::layered_section` gives the same for two
//! layers.

/// Curvature times total thickness over free strain difference, κh/(ΔαΔT). Its maximum over m is
/// 1.5.
#[must_use]
pub fn dimensionless_curvature(thickness_ratio: f64, modulus_ratio: f64) -> f64 {
    let (m, n) = (thickness_ratio, modulus_ratio);
    let sum = (1.0 + m) * (1.0 + m);
    6.0 * sum / (3.0 * sum + (1.0 + m * n) * (m * m + 1.0 / (m * n)))
}

/// Curvature of the free strip, 1/m: 6 Δε (1+m)² / {h [3(1+m)² + (1+mn)(m² + 1/(mn))]}, with the
/// strain difference Δε = (α2 − α1) ΔT of the two layers.
#[must_use]
pub fn curvature_per_m(
    thickness_ratio: f64,
    modulus_ratio: f64,
    total_thickness_m: f64,
    strain_difference: f64,
) -> f64 {
    dimensionless_curvature(thickness_ratio, modulus_ratio) * strain_difference / total_thickness_m
}

/// Thickness ratio that bends most for a modulus ratio: m = 1/√n.
#[must_use]
pub fn best_thickness_ratio(modulus_ratio: f64) -> f64 {
    1.0 / modulus_ratio.sqrt()
}

/// Thickness and Young's modulus of one of the two layers.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Layer {
    /// Thickness, m.
    pub thickness_m: f64,
    /// Young's modulus, Pa.
    pub modulus_pa: f64,
}

impl Layer {
    fn own_stiffness_n_m(self) -> f64 {
        self.modulus_pa * self.thickness_m.powi(3) / 12.0
    }

    fn stretch_n_per_m(self) -> f64 {
        self.modulus_pa * self.thickness_m
    }
}

/// Force per unit width with which each layer holds the other, N/m:
/// P = (2κ/h)(E1 t1³/12 + E2 t2³/12); tension in layer 1, compression in layer 2.
#[must_use]
pub fn interface_force_n_per_m(low: Layer, high: Layer, curvature_per_m: f64) -> f64 {
    2.0 * curvature_per_m / (low.thickness_m + high.thickness_m)
        * (low.own_stiffness_n_m() + high.own_stiffness_n_m())
}

/// Bending stiffness of the bonded pair per unit width, N m.
#[must_use]
pub fn bending_stiffness_n_m(low: Layer, high: Layer) -> f64 {
    let arm_m = 0.5 * (low.thickness_m + high.thickness_m);
    let (a1, a2) = (low.stretch_n_per_m(), high.stretch_n_per_m());
    low.own_stiffness_n_m() + high.own_stiffness_n_m() + a1 * a2 / (a1 + a2) * arm_m * arm_m
}

/// Stresses of the free two-layer strip, Pa, tension positive.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FaceStresses {
    /// Outer face of layer 1.
    pub low_outer_pa: f64,
    /// Layer 1 at the interface: P/t1 + E1 t1 κ/2.
    pub low_interface_pa: f64,
    /// Layer 2 at the interface: −P/t2 − E2 t2 κ/2.
    pub high_interface_pa: f64,
    /// Outer face of layer 2.
    pub high_outer_pa: f64,
}

/// Stresses at the outer faces and at the interface of the free strip of the given thermal
/// curvature.
#[must_use]
pub fn stresses_pa(low: Layer, high: Layer, curvature_per_m: f64) -> FaceStresses {
    let force = interface_force_n_per_m(low, high, curvature_per_m);
    let bend = |layer: Layer| 0.5 * layer.stretch_n_per_m() * curvature_per_m;
    let (mean1, mean2) = (force / low.thickness_m, -force / high.thickness_m);
    FaceStresses {
        low_outer_pa: mean1 - bend(low),
        low_interface_pa: mean1 + bend(low),
        high_interface_pa: mean2 - bend(high),
        high_outer_pa: mean2 + bend(high),
    }
}
