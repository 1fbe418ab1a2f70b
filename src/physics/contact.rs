//! Electric contacts: R. Holm, Electric Contacts, 4th ed. (1967).
//!
//! Round spots in plastic contact, no film unless added; the constriction is metallic, so that heat and
//! current share their paths (Wiedemann-Franz).

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

/// Hottest temperature in the contact, K, for the voltage over the constriction and the temperature of
/// either side.
///
/// Between unequal sides T_max² = (T_M² + T_F²)/2 + V²/(4 L0) + L0 (T_M² − T_F²)²/(4 V²) as long as the
/// maximum lies inside, |T_M² − T_F²| < V²/L0; otherwise the hotter side is the hottest place.
///
/// ```
/// use relatch::internals::physics::contact::spot_temperature_k;
/// // 0.1 V between sides at 20 degC makes about 161 degC.
/// assert!((spot_temperature_k(0.1, 293.15, 293.15) - 433.9).abs() < 0.1);
/// ```
#[must_use]
pub fn spot_temperature_k(voltage_v: f64, moving_k: f64, fixed_k: f64) -> f64 {
    let (moving, fixed) = (moving_k * moving_k, fixed_k * fixed_k);
    let difference = (moving - fixed).abs();
    let span = voltage_v * voltage_v / LORENZ_W_OHM_PER_K2;
    if difference < span {
        (0.5 * (moving + fixed) + 0.25 * span + 0.25 * difference * difference / span).sqrt()
    } else {
        moving_k.max(fixed_k)
    }
}
