//! Chebyshev fit of a smooth function on an interval, with its slope.

use std::f64::consts::PI;

/// A fitted function.
#[derive(Debug, Clone)]
pub struct Chebyshev {
    middle: f64,
    half: f64,
    coefficients: Vec<f64>,
}

impl Chebyshev {
    /// Fit `f` on `[low, high]` so that the last coefficients fall below `relative` of the largest.
    pub fn fit(low: f64, high: f64, relative: f64, f: impl Fn(f64) -> f64) -> Chebyshev {
        let (middle, half) = (0.5 * (low + high), 0.5 * (high - low));
        let n = 64;
        let samples: Vec<f64> = (0..n)
            .map(|k| f(middle + half * (PI * (k as f64 + 0.5) / n as f64).cos()))
            .collect();
        let mut coefficients: Vec<f64> = (0..n)
            .map(|j| {
                let sum: f64 = samples
                    .iter()
                    .enumerate()
                    .map(|(k, s)| s * (PI * j as f64 * (k as f64 + 0.5) / n as f64).cos())
                    .sum();
                sum * if j == 0 { 1.0 } else { 2.0 } / n as f64
            })
            .collect();
        let largest = coefficients.iter().fold(0.0f64, |m, c| m.max(c.abs()));
        while coefficients.len() > 2
            && coefficients
                .last()
                .is_some_and(|c| c.abs() < relative * largest)
        {
            coefficients.pop();
        }
        Chebyshev {
            middle,
            half,
            coefficients,
        }
    }

    /// Value and slope.
    pub fn at_with_slope(&self, x: f64) -> (f64, f64) {
        let z = (x - self.middle) / self.half;
        // Clenshaw for the value and, differentiated, for the slope.
        let (mut b1, mut b2, mut d1, mut d2) = (0.0, 0.0, 0.0, 0.0);
        for c in self.coefficients.iter().skip(1).rev() {
            let b = c + 2.0 * z * b1 - b2;
            let d = 2.0 * b1 + 2.0 * z * d1 - d2;
            (b2, b1, d2, d1) = (b1, b, d1, d);
        }
        (
            self.coefficients[0] + z * b1 - b2,
            (b1 + z * d1 - d2) / self.half,
        )
    }

    /// Value.
    pub fn at(&self, x: f64) -> f64 {
        let z = (x - self.middle) / self.half;
        let (mut b1, mut b2) = (0.0, 0.0);
        for c in self.coefficients.iter().skip(1).rev() {
            (b2, b1) = (b1, c + 2.0 * z * b1 - b2);
        }
        self.coefficients[0] + z * b1 - b2
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn fits_value_and_slope_of_a_smooth_function() {
        let fit = Chebyshev::fit(200.0, 700.0, 1e-14, |t| (t / 300.0f64).powf(1.7));
        for k in 0..50 {
            let t = 200.0 + 10.0 * f64::from(k);
            let (value, slope) = fit.at_with_slope(t);
            assert!((value / (t / 300.0f64).powf(1.7) - 1.0).abs() < 1e-12);
            assert!((slope / (1.7 / 300.0 * (t / 300.0f64).powf(0.7)) - 1.0).abs() < 1e-9);
            assert_eq!(fit.at(t).to_bits(), fit.at(t).to_bits());
        }
    }
}
