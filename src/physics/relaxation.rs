//! Loss of spring preload with time and temperature.

/// Larson-Miller parameter T (C + log10 t), K, with t in hours; C is 20 to 25. F. R. Larson & J.
/// Miller, Trans. ASME 74 (1952) 765.
#[must_use]
pub fn larson_miller_k(temperature_k: f64, time_h: f64, constant: f64) -> f64 {
    temperature_k * (constant + time_h.log10())
}

/// Loss of preload A ln(1 + ξ) after a relative exposure ξ = ∫ dt/τ: logarithmic creep, fast first
/// and slower later. ξ ≥ 0.
#[must_use]
pub fn logarithmic_loss(coefficient: f64, exposure: f64) -> f64 {
    coefficient * exposure.ln_1p()
}

/// Loss of preload k ξ^p: the power law, 0 < p < 1.
#[must_use]
pub fn power_law_loss(coefficient: f64, exponent: f64, exposure: f64) -> f64 {
    coefficient * exposure.powf(exponent)
}
