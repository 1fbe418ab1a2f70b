//! Convection beside what the engine uses: other shapes, and other laws for the same ones.

use relatch::internals::physics::air::Air;

/// Nu of a level cylinder by its diameter, Ra ≤ 1e12: {0.60 + 0.387 Ra^(1/6)/[1 +
/// (0.559/Pr)^(9/16)]^(8/27)}². S. W. Churchill & H. H. S. Chu, Int. J. Heat Mass Transfer 18
/// (1975) 1049.
#[must_use]
pub fn churchill_chu_cylinder(ra: f64, pr: f64) -> f64 {
    let prandtl_term = 1.0 + (0.559 / pr).powf(9.0 / 16.0);
    (0.60 + 0.387 * ra.powf(1.0 / 6.0) / prandtl_term.powf(8.0 / 27.0)).powi(2)
}

/// Upright plate: form for all Rayleigh numbers up to 1e12: {0.825 + 0.387 Ra^(1/6)/[1 +
/// (0.492/Pr)^(9/16)]^(8/27)}².
#[must_use]
pub fn churchill_chu_full(ra: f64, pr: f64) -> f64 {
    (0.825 + 0.387 * ra.powf(1.0 / 6.0) / (1.0 + (0.492 / pr).powf(9.0 / 16.0)).powf(8.0 / 27.0))
        .powi(2)
}

/// Hot side up: 0.54 Ra^(1/4) for 1e4 < Ra < 1e7, 0.15 Ra^(1/3) up to 1e11. W. H. McAdams, Heat
/// Transmission, 3rd ed. (1954), with the length scale of J. R. Lloyd & W. R. Moran, J. Heat
/// Transfer 96 (1974) 443. Small strips lie below its range: for comparison only.
#[must_use]
pub fn mcadams_upper(ra: f64) -> f64 {
    if ra < 1e7 {
        0.54 * ra.sqrt().sqrt()
    } else {
        0.15 * ra.cbrt()
    }
}

/// Hot side down: 0.27 Ra^(1/4), 1e5 < Ra < 1e10. Source as [`mcadams_upper`].
#[must_use]
pub fn mcadams_lower(ra: f64) -> f64 {
    0.27 * ra.sqrt().sqrt()
}

/// Hot side up at small Rayleigh numbers: 0.96 Ra^(1/6) for 1-200, 0.59 Ra^(1/4) for 200-1e4. R. J.
/// Goldstein, E. M. Sparrow & D. C. Jones, Int. J. Heat Mass Transfer 16 (1973) 1025.
#[must_use]
pub fn goldstein_sparrow_jones(ra: f64) -> f64 {
    if ra < 200.0 {
        0.96 * ra.powf(1.0 / 6.0)
    } else {
        0.59 * ra.sqrt().sqrt()
    }
}

/// Mean Nu = 0.6774 Re^(1/2) Pr^(1/3)/[1 + (0.0468/Pr)^(2/3)]^(1/4), any Pr. S. W. Churchill & H.
/// Ozoe, J. Heat Transfer 95 (1973) 416. For comparison.
#[must_use]
pub fn churchill_ozoe(re: f64, pr: f64) -> f64 {
    0.6774 * re.sqrt() * pr.cbrt() / (1.0 + (0.0468 / pr).powf(2.0 / 3.0)).sqrt().sqrt()
}

/// Coefficient h = Nu k/L, W/(m² K).
#[must_use]
pub fn coefficient_w_per_m2_k(nusselt: f64, air: &Air, length_m: f64) -> f64 {
    nusselt * air.conductivity / length_m
}
