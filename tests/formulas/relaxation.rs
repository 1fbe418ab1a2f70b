//! Springs that relax: what is only asked of the formulas, never by an answer.

use relatch::internals::physics::constants::GAS_CONSTANT_J_PER_MOL_K;
use relatch::internals::physics::relaxation::larson_miller_k;

/// Time at another temperature that does the same as `time_h` at the first, h: equal Larson-Miller
/// parameters.
pub fn equivalent_time_h(time_h: f64, from_k: f64, to_k: f64, constant: f64) -> f64 {
    let parameter_k = larson_miller_k(from_k, time_h, constant);
    10_f64.powf(parameter_k / to_k - constant)
}

/// Exposure at which `logarithmic_loss` reaches a loss, exp(loss/A) − 1.
pub fn exposure_for_loss(coefficient: f64, loss: f64) -> f64 {
    (loss / coefficient).exp_m1()
}

/// Time scale τ0 exp(Q/(R T)), s (S. Arrhenius, Z. phys. Chem. 4 (1889) 226); Q in J/mol.
pub fn arrhenius_time_s(
    time_constant_s: f64,
    activation_j_per_mol: f64,
    temperature_k: f64,
) -> f64 {
    time_constant_s * (activation_j_per_mol / (GAS_CONSTANT_J_PER_MOL_K * temperature_k)).exp()
}
