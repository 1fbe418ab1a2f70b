//! A magnetic circuit of iron and working gaps: H. C. Roters, Electromagnetic Devices (1941),
//! second hand.
//!
//! Gaps are in series and close together by x; the iron keeps one permeability up to its limit of
//! flux. The fringe around the pole does not change with the gap, so it carries flux and pulls
//! nothing. Neglected: eddy currents, remanence, leakage elsewhere.

use super::constants::MAGNETIC_CONSTANT_H_PER_M;

/// A magnetic circuit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MagneticCircuit {
    /// Turns of the coil (1: a yoke around the conductor).
    pub turns: f64,
    /// Working gaps in series.
    pub gaps: f64,
    /// Area of a pole, m².
    pub pole_area_m2: f64,
    /// Perimeter of a pole, m.
    pub pole_perimeter_m: f64,
    /// Working gap at rest, m.
    pub gap_m: f64,
    /// Permeance of the fringe over the magnetic constant and the perimeter (0.26: half cylinders).
    pub fringe: f64,
    /// Length of the path in iron, m.
    pub iron_length_m: f64,
    /// Cross-section of the iron, m².
    pub iron_area_m2: f64,
    /// Relative permeability of the iron.
    pub relative_permeability: f64,
    /// Flux density at which the iron is saturated, T.
    pub saturation_t: f64,
}

impl MagneticCircuit {
    /// Pole area and fringe together, A + c p g, m², when the gap has closed by x.
    fn carrying_area_m2(&self, x_m: f64) -> f64 {
        self.pole_area_m2 + self.fringe * self.pole_perimeter_m * (self.gap_m - x_m)
    }

    /// Reluctance l/(μ0 μr A) + n/(μ0 (A/g + c p)), 1/H.
    #[must_use]
    pub fn reluctance_per_h(&self, x_m: f64) -> f64 {
        let iron = self.iron_length_m / (self.relative_permeability * self.iron_area_m2);
        let gaps = self.gaps * (self.gap_m - x_m) / self.carrying_area_m2(x_m);
        (iron + gaps) / MAGNETIC_CONSTANT_H_PER_M
    }

    fn largest_flux_wb(&self) -> f64 {
        self.saturation_t * self.iron_area_m2
    }

    /// Flux, Wb: N|i|/R up to the limit of the iron.
    #[must_use]
    pub fn flux_wb(&self, current_a: f64, x_m: f64) -> f64 {
        (self.turns * current_a.abs() / self.reluctance_per_h(x_m)).min(self.largest_flux_wb())
    }

    /// Pull of all gaps n A Φ²/(2 μ0 (A + c p g)²), N (Maxwell): the derivative of the coenergy
    /// along x.
    #[must_use]
    pub fn pull_n(&self, current_a: f64, x_m: f64) -> f64 {
        self.pull_per_flux_squared(x_m) * self.flux_wb(current_a, x_m).powi(2)
    }

    fn pull_per_flux_squared(&self, x_m: f64) -> f64 {
        self.gaps * self.pole_area_m2
            / (2.0 * MAGNETIC_CONSTANT_H_PER_M * self.carrying_area_m2(x_m).powi(2))
    }

    /// Coenergy, J: (N i)²/(2R), above the limit of the iron N|i| Φ - Φ² R/2.
    #[must_use]
    pub fn coenergy_j(&self, current_a: f64, x_m: f64) -> f64 {
        let flux = self.flux_wb(current_a, x_m);
        self.turns * current_a.abs() * flux - 0.5 * flux * flux * self.reluctance_per_h(x_m)
    }

    /// Smallest current with this pull, A; infinite where the iron forbids it.
    #[must_use]
    pub fn current_for_pull_a(&self, pull_n: f64, x_m: f64) -> f64 {
        let flux = (pull_n.max(0.0) / self.pull_per_flux_squared(x_m)).sqrt();
        if flux > self.largest_flux_wb() {
            return f64::INFINITY;
        }
        flux * self.reluctance_per_h(x_m) / self.turns
    }

    /// Smallest constant current whose pull does this work from rest to x (> 0), A; infinite where
    /// the iron forbids it: W'(i, x) - W'(i, 0) solved for i.
    #[must_use]
    pub fn current_for_work_a(&self, work_j: f64, x_m: f64) -> f64 {
        let (open, closed) = (self.reluctance_per_h(0.0), self.reluctance_per_h(x_m));
        let most = self.largest_flux_wb();
        // Below the limit at x.
        let ampere_turns = (2.0 * work_j / (1.0 / closed - 1.0 / open)).sqrt();
        if ampere_turns <= most * closed {
            return ampere_turns / self.turns;
        }
        // Above it at x, below it at rest: Θ Φ - Φ² R/2 - Θ²/(2 R0) = work, the smaller root.
        let inside = most * most * (1.0 - closed / open) - 2.0 * work_j / open;
        if inside < 0.0 {
            return f64::INFINITY;
        }
        open * (most - inside.sqrt()) / self.turns
    }
}
