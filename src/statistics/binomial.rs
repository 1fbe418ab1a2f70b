//! How many of n units have a property that each has with the same chance.

use super::beta;
use super::error::{StatisticsError, require};

/// Probability that at most `k` of `n` have it, each with chance `p`: I₁₋ₚ(n − k, k + 1)
/// (Abramowitz & Stegun (1964) 26.5.24); n to 10¹⁵.
///
/// # Errors
///
/// `p` outside [0, 1], or more units than 10¹⁵.
///
/// ```
/// use relatch::internals::statistics::binomial::cdf;
/// assert!((cdf(1, 5, 0.3)? - 0.52822).abs() < 1e-14);
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
/// ```
pub fn cdf(k: u64, n: u64, p: f64) -> Result<f64, StatisticsError> {
    require((0.0..=1.0).contains(&p), "the chance", p, "from 0 to 1")?;
    if k >= n {
        return Ok(1.0);
    }
    // Asked for the upper tail instead where 1 − p would have lost the digits of a small p.
    if p < 0.5 {
        beta::cdf((k + 1) as f64, (n - k) as f64, p).map(|above| 1.0 - above)
    } else {
        beta::cdf((n - k) as f64, (k + 1) as f64, 1.0 - p)
    }
}

/// Probability that at least `k` of `n` have it: I_p(k, n − k + 1).
///
/// # Errors
///
/// As [`cdf`].
pub fn at_least(k: u64, n: u64, p: f64) -> Result<f64, StatisticsError> {
    require((0.0..=1.0).contains(&p), "the chance", p, "from 0 to 1")?;
    if k == 0 {
        return Ok(1.0);
    }
    if k > n {
        return Ok(0.0);
    }
    beta::cdf(k as f64, (n - k + 1) as f64, p)
}
