//! The two small terms that are left of a binomial or beta density when Stirling's large ones have
//! cancelled.
//!
//! C. Loader, "Fast and Accurate Computation of Binomial Probabilities" (2000). Written with
//! logarithms of gamma functions, the density of n = 10⁶ loses nine digits; in this form it loses
//! none.

const HALF_LN_2PI: f64 = 0.918_938_533_204_672_8;

/// Error of Stirling's formula, ln Γ(x+1) − [ (x+½) ln x − x + ½ ln 2π ], for x > 0.
///
/// From 15 on by the asymptotic series (next term below 1e-17), below by its definition (1e-14
/// absolute).
pub(super) fn stirling_error(x: f64) -> f64 {
    if x >= 15.0 {
        let y = 1.0 / (x * x);
        const C: [f64; 7] = [
            1.0 / 12.0,
            -1.0 / 360.0,
            1.0 / 1260.0,
            -1.0 / 1680.0,
            1.0 / 1188.0,
            -691.0 / 360_360.0,
            1.0 / 156.0,
        ];
        return C.iter().rev().fold(0.0, |sum, c| sum * y + c) / x;
    }
    libm::lgamma(x + 1.0) - ((x + 0.5) * libm::log(x) - x + HALF_LN_2PI)
}

/// x ln(x/m) + m − x for x, m > 0, without cancellation where x is near m.
pub(super) fn deviance(x: f64, m: f64) -> f64 {
    if (x - m).abs() < 0.1 * (x + m) {
        // 2x artanh(v) − (x − m) with v = (x − m)/(x + m), whose first terms cancel by hand.
        let v = (x - m) / (x + m);
        let mut sum = (x - m) * v;
        let mut power = 2.0 * x * v;
        for odd in (3..200).step_by(2) {
            power *= v * v;
            let next = sum + power / f64::from(odd);
            if next == sum {
                break;
            }
            sum = next;
        }
        return sum;
    }
    x * libm::log(x / m) + m - x
}

/// Γ(a+b)/(Γ(a)Γ(b)) x^a y^b for y = 1 − x, 0 < x < 1, a, b > 0: the density of a beta distribution
/// times xy.
pub fn beta_weight(a: f64, b: f64, x: f64, y: f64) -> f64 {
    let n = a + b;
    let corrections = stirling_error(n) - stirling_error(a) - stirling_error(b);
    let exponent = corrections - deviance(a, n * x) - deviance(b, n * y);
    // The binomial probability is √(n/(2π a b)) e^…; the weight is a·b/n times that.
    libm::exp(exponent) * libm::sqrt(a / n * b / std::f64::consts::TAU)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn weight_of_small_numbers_by_hand() {
        // Γ(5)/(Γ(2)Γ(3)) = 12.
        let (x, y) = (0.3_f64, 0.7_f64);
        let expected = 12.0 * x.powi(2) * y.powi(3);
        assert!((beta_weight(2.0, 3.0, x, y) / expected - 1.0).abs() < 1e-14);
    }

    #[test]
    fn series_and_definition_meet() {
        let below = stirling_error(15.0 - 1e-12);
        assert!((below - stirling_error(15.0)).abs() < 2e-14);
    }

    #[test]
    fn deviance_is_continuous_where_its_form_changes() {
        let (low, high) = (deviance(1.0, 1.0 / 1.2222), deviance(1.0, 1.0 / 1.2223));
        assert!((low - high).abs() < 3e-5 && low < high);
        assert_eq!(deviance(7.0, 7.0), 0.0);
    }
}
