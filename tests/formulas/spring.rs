//! Springs that preload a latch or a contact: R. G. Budynas & J. K. Nisbett, Shigley's Mechanical
//! Engineering Design, chapters on springs and fatigue (from memory). Linear-elastic, small
//! deflections.

use std::f64::consts::PI;

/// Tensile strength of spring wire, A/d^m, Pa; A is the strength at 1 mm (Pa), d in m. Constants
/// are fitted per alloy over the diameters that are drawn: 0.1 to 6.5 mm for music wire.
#[must_use]
pub fn wire_strength_pa(strength_at_1_mm_pa: f64, exponent: f64, wire_m: f64) -> f64 {
    strength_at_1_mm_pa / (wire_m / 1e-3).powf(exponent)
}

/// Rate of a helical spring, G d⁴/(8 D³ N), N/m; D the mean coil diameter, N the active turns.
#[must_use]
pub fn helical_rate_n_per_m(
    shear_modulus_pa: f64,
    wire_m: f64,
    coil_m: f64,
    active_turns: f64,
) -> f64 {
    shear_modulus_pa * wire_m.powi(4) / (8.0 * coil_m.powi(3) * active_turns)
}

/// Wahl's factor for curvature and direct shear, (4C − 1)/(4C − 4) + 0.615/C, C = D/d (A. M. Wahl,
/// 1929); springs are wound with C of 4 to 12.
#[must_use]
pub fn wahl_factor(spring_index: f64) -> f64 {
    let c = spring_index;
    (4.0 * c - 1.0) / (4.0 * c - 4.0) + 0.615 / c
}

/// Largest shear stress of a helical spring with Wahl's factor, K 8 F D/(π d³), Pa.
#[must_use]
pub fn helical_stress_pa(force_n: f64, wire_m: f64, coil_m: f64) -> f64 {
    wahl_factor(coil_m / wire_m) * 8.0 * force_n * coil_m / (PI * wire_m.powi(3))
}

/// Rate of a clamped leaf pushed at its tip, E w t³/(4 L³), N/m; deflections below a tenth of its
/// length.
#[must_use]
pub fn leaf_rate_n_per_m(modulus_pa: f64, width_m: f64, thickness_m: f64, length_m: f64) -> f64 {
    modulus_pa * width_m * (thickness_m / length_m).powi(3) / 4.0
}

/// Bending stress of such a leaf at its clamp, 6 F L/(w t²), Pa.
#[must_use]
pub fn leaf_stress_pa(force_n: f64, width_m: f64, thickness_m: f64, length_m: f64) -> f64 {
    6.0 * force_n * length_m / (width_m * thickness_m * thickness_m)
}

/// Straight line of stress against life in logarithms, σ = a N^b (O. H. Basquin, 1910).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BasquinLine {
    /// a, Pa.
    pub coefficient_pa: f64,
    /// b (negative).
    pub exponent: f64,
}

impl BasquinLine {
    /// Through 0.9 S_ut at 10³ cycles and the endurance limit S_e at 10⁶.
    #[must_use]
    pub fn through(ultimate_pa: f64, endurance_pa: f64) -> Self {
        let start_pa = 0.9 * ultimate_pa;
        Self {
            coefficient_pa: start_pa * start_pa / endurance_pa,
            exponent: -(start_pa / endurance_pa).log10() / 3.0,
        }
    }

    /// Cycles borne at a stress amplitude; between 10³ and 10⁶.
    #[must_use]
    pub fn cycles(&self, amplitude_pa: f64) -> f64 {
        (amplitude_pa / self.coefficient_pa).powf(1.0 / self.exponent)
    }
}
