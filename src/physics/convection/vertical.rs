//! Upright plate, and strip on edge: S. W. Churchill & H. H. S. Chu, Int. J. Heat Mass Transfer 18
//! (1975) 1323.

/// Laminar form, Ra ≤ 1e9: 0.68 + 0.670 Ra^(1/4)/[1 + (0.492/Pr)^(9/16)]^(4/9).
#[must_use]
pub fn churchill_chu_laminar(ra: f64, pr: f64) -> f64 {
    0.68 + 0.670 * ra.sqrt().sqrt() / prandtl_term(pr).powf(4.0 / 9.0)
}

pub(super) fn prandtl_term(pr: f64) -> f64 {
    1.0 + (0.492 / pr).powf(9.0 / 16.0)
}
