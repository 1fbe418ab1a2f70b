//! Flat plate or strip lying level.

use super::vertical::prandtl_term;

/// Length scale of a level rectangle, area over perimeter w L/(2 (w + L)), m.
#[must_use]
pub fn horizontal_length_m(width_m: f64, length_m: f64) -> f64 {
    width_m * length_m / (2.0 * (width_m + length_m))
}

/// Hot side up, laminar: 1.4/ln(1 + 1.4/(0.835 c Ra^(1/4))), c = 0.671/[1 + (0.492/Pr)^(9/16)]^(4/9).
/// G. D. Raithby & K. G. T. Hollands, "Natural convection", Handbook of Heat Transfer, 3rd ed. (1998).
/// Zero at Ra = 0.
#[must_use]
pub fn raithby_hollands_upper(ra: f64, pr: f64) -> f64 {
    let c = 0.671 / prandtl_term(pr).powf(4.0 / 9.0);
    thick_layer(1.4, 0.835 * c * ra.sqrt().sqrt())
}

/// Hot side down: 2.5/ln(1 + 2.5/u), u = 0.527 Ra^(1/5)/[1 + (1.9/Pr)^0.9]^(2/9). Source as
/// [`raithby_hollands_upper`]. Zero at Ra = 0.
#[must_use]
pub fn raithby_hollands_lower(ra: f64, pr: f64) -> f64 {
    let u = 0.527 * ra.powf(0.2) / (1.0 + (1.9 / pr).powf(0.9)).powf(2.0 / 9.0);
    thick_layer(2.5, u)
}

/// Both sides of a level strip: mean of [`raithby_hollands_upper`] and [`raithby_hollands_lower`].
#[must_use]
pub fn raithby_hollands_horizontal(ra: f64, pr: f64) -> f64 {
    0.5 * (raithby_hollands_upper(ra, pr) + raithby_hollands_lower(ra, pr))
}

/// Correction of a thin-layer Nusselt number for a layer as thick as the plate is wide. At zero the
/// quotient is infinite, its logarithm too, and the result 0.
fn thick_layer(constant: f64, thin_layer: f64) -> f64 {
    constant / (constant / thin_layer).ln_1p()
}

/// Hot side up: 0.54 Ra^(1/4) for 1e4 < Ra < 1e7, 0.15 Ra^(1/3) up to 1e11. W. H. McAdams, Heat
/// Transmission, 3rd ed. (1954), with the length scale of J. R. Lloyd & W. R. Moran, J. Heat Transfer 96
/// (1974) 443. Small strips lie below its range: for comparison only.
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
