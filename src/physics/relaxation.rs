//! Loss of spring preload with time and temperature.

use super::constants::GAS_CONSTANT_J_PER_MOL_K;

/// Larson-Miller parameter T (C + log10 t), K, with t in hours; C is 20 to 25. F. R. Larson & J. Miller,
/// Trans. ASME 74 (1952) 765.
#[must_use]
pub fn larson_miller_k(temperature_k: f64, time_h: f64, constant: f64) -> f64 {
    temperature_k * (constant + time_h.log10())
}

/// Time at another temperature that does the same as `time_h` at the first, h: equal Larson-Miller
/// parameters.
///
/// ```
/// use relatch::internals::physics::relaxation::equivalent_time_h;
/// // 1000 h at 100 degC do what 1.9 h at 150 degC do.
/// assert!((equivalent_time_h(1000.0, 373.15, 423.15, 20.0) - 1.9155).abs() < 1e-4);
/// ```
#[must_use]
pub fn equivalent_time_h(time_h: f64, from_k: f64, to_k: f64, constant: f64) -> f64 {
    let parameter_k = larson_miller_k(from_k, time_h, constant);
    10_f64.powf(parameter_k / to_k - constant)
}

/// Loss of preload A ln(1 + ξ) after a relative exposure ξ = ∫ dt/τ: logarithmic creep, fast first and
/// slower later. ξ ≥ 0.
#[must_use]
pub fn logarithmic_loss(coefficient: f64, exposure: f64) -> f64 {
    coefficient * exposure.ln_1p()
}

/// Exposure at which [`logarithmic_loss`] reaches a loss, exp(loss/A) − 1.
#[must_use]
pub fn exposure_for_loss(coefficient: f64, loss: f64) -> f64 {
    (loss / coefficient).exp_m1()
}

/// Loss of preload k ξ^p: the power law, 0 < p < 1.
#[must_use]
pub fn power_law_loss(coefficient: f64, exponent: f64, exposure: f64) -> f64 {
    coefficient * exposure.powf(exponent)
}

/// Time scale τ0 exp(Q/(R T)), s (S. Arrhenius, Z. phys. Chem. 4 (1889) 226); Q in J/mol.
#[must_use]
pub fn arrhenius_time_s(
    time_constant_s: f64,
    activation_j_per_mol: f64,
    temperature_k: f64,
) -> f64 {
    time_constant_s * (activation_j_per_mol / (GAS_CONSTANT_J_PER_MOL_K * temperature_k)).exp()
}

/// Preload left after all losses, F0 (1 − loss), N.
#[must_use]
pub fn remaining_force_n(preload_n: f64, loss: f64) -> f64 {
    preload_n * (1.0 - loss)
}
