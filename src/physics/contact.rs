//! Electric contacts: R. Holm, Electric Contacts, 4th ed. (1967).
//!
//! Round spots in plastic contact, no film unless added; the constriction is metallic, so that heat
//! and current share their paths (Wiedemann-Franz).

use std::f64::consts::PI;

pub use super::constants::LORENZ_W_OHM_PER_K2;

/// Constriction resistance of one contact, (ρ/2) √(π H/F), Ω; H the hardness, F the force (> 0).
#[must_use]
pub fn constriction_ohm(resistivity_ohm_m: f64, hardness_pa: f64, force_n: f64) -> f64 {
    0.5 * resistivity_ohm_m * (PI * hardness_pa / force_n).sqrt()
}

/// Heat conductance of a closed contact, L0 T/R, W/K; T the mean temperature of the two sides.
#[must_use]
pub fn wiedemann_franz_conductance_w_per_k(resistance_ohm: f64, mean_k: f64) -> f64 {
    LORENZ_W_OHM_PER_K2 * mean_k / resistance_ohm
}
