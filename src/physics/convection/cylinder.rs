//! Level wire or rod.

/// Nu of a level cylinder by its diameter, Ra ≤ 1e12:
/// {0.60 + 0.387 Ra^(1/6)/[1 + (0.559/Pr)^(9/16)]^(8/27)}². S. W. Churchill & H. H. S. Chu, Int. J. Heat
/// Mass Transfer 18 (1975) 1049.
#[must_use]
pub fn churchill_chu_cylinder(ra: f64, pr: f64) -> f64 {
    let prandtl_term = 1.0 + (0.559 / pr).powf(9.0 / 16.0);
    (0.60 + 0.387 * ra.powf(1.0 / 6.0) / prandtl_term.powf(8.0 / 27.0)).powi(2)
}
