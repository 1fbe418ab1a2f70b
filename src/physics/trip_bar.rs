//! A rigid bar that several springy strips push: where it stands against a force.
//!
//! Strip j would come to u_j by itself and gives S_j for every newton. The bar at y takes
//! max(0, (u_j − y)/S_j) from each; those behind it push nothing. Elementary statics, derived here.

/// Position y of the bar at which the strips together push with a force, m: sum_j max(0, (u_j −
/// y)/S_j) = F. Each strip is a free position, m, and a compliance (> 0), m/N. Without force the
/// foremost strip's own.
///
/// ```
/// use relatch::internals::physics::trip_bar::bar_position_m;
/// // Two strips of 1 mm/N share half a newton: each gives a quarter of a millimetre.
/// let y = bar_position_m(&[(1.0e-3, 1.0e-3), (1.0e-3, 1.0e-3)], 0.5);
/// assert!((y - 0.75e-3).abs() < 1e-15);
/// ```
#[must_use]
pub fn bar_position_m(strips: &[(f64, f64)], force_n: f64) -> f64 {
    let mut foremost: Vec<(f64, f64)> = strips.to_vec();
    foremost.sort_by(|a, b| b.0.total_cmp(&a.0));
    let (mut pushed, mut stiffness, mut furthest) = (-force_n, 0.0, f64::NEG_INFINITY);
    for (free_m, compliance_m_per_n) in foremost {
        pushed += free_m / compliance_m_per_n;
        stiffness += 1.0 / compliance_m_per_n;
        furthest = f64::max(furthest, pushed / stiffness);
    }
    furthest
}
