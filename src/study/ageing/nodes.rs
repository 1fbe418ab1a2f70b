//! Interpolation between Chebyshev points of the second kind in barycentric form (J.-P. Berrut & L.
//! N. Trefethen, SIAM Review 46 (2004) 501, equation 5.4; from memory).

use std::f64::consts::PI;

/// Points on an interval.
#[derive(Debug, Clone, PartialEq)]
pub struct Nodes {
    points: Vec<f64>,
}

impl Nodes {
    /// `count` points on an interval, ends included, from low to high; one point where the interval
    /// is empty.
    #[must_use]
    pub fn chebyshev(low: f64, high: f64, count: usize) -> Nodes {
        let empty = (high - low).abs() <= 1e-12 * high.abs().max(low.abs());
        if count < 2 || empty {
            return Nodes { points: vec![low] };
        }
        let last = (count - 1) as f64;
        let points = (0..count)
            .map(|k| {
                // Symmetric, so that the middle of an odd number of points is the middle of the
                // interval.
                let x = -(PI * (k as f64 / last - 0.5)).sin();
                0.5 * (low + high) - 0.5 * (high - low) * x
            })
            .collect();
        Nodes { points }
    }

    /// The points.
    #[must_use]
    pub fn points(&self) -> &[f64] {
        &self.points
    }

    /// Number of points.
    #[must_use]
    pub fn len(&self) -> usize {
        self.points.len()
    }

    /// Never: there is at least one point.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.points.is_empty()
    }

    /// Highest point.
    #[must_use]
    pub fn highest(&self) -> f64 {
        self.points[self.points.len() - 1]
    }

    /// Weight of every point's value in the value at `x`; beyond the ends the polynomial goes on.
    pub fn weights(&self, x: f64, weights: &mut [f64]) {
        let n = self.points.len();
        let (mut sum, mut sign) = (0.0, 1.0);
        for (k, p) in self.points.iter().enumerate() {
            let distance = x - p;
            if distance == 0.0 || n == 1 {
                weights[..n].fill(0.0);
                weights[k] = 1.0;
                return;
            }
            let half = if k == 0 || k + 1 == n { 0.5 } else { 1.0 };
            weights[k] = sign * half / distance;
            sum += weights[k];
            sign = -sign;
        }
        for w in &mut weights[..n] {
            *w /= sum;
        }
    }

    /// Value at `x` of the polynomial through these values.
    #[must_use]
    pub fn value(&self, values: &[f64], x: f64) -> f64 {
        let mut weights = [0.0; 16];
        self.weights(x, &mut weights);
        weights.iter().zip(values).map(|(w, v)| w * v).sum()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn polynomials_are_met_exactly_and_smooth_functions_closely() {
        let nodes = Nodes::chebyshev(1.0, 4.0, 5);
        assert_eq!((nodes.points()[0], nodes.highest()), (1.0, 4.0));
        let quartic = |x: f64| 1.0 - x + 0.5 * x.powi(4);
        let values: Vec<f64> = nodes.points().iter().map(|x| quartic(*x)).collect();
        for x in [0.9, 1.0, 1.7, 2.5, 3.99, 4.2] {
            let apart = nodes.value(&values, x) - quartic(x);
            assert!(apart.abs() < 1e-11, "{x}: {apart}");
        }
        let values: Vec<f64> = nodes.points().iter().map(|x| x.sqrt()).collect();
        assert!((nodes.value(&values, 2.2) - 2.2f64.sqrt()).abs() < 2e-3);
    }

    #[test]
    fn an_empty_interval_is_one_point() {
        let nodes = Nodes::chebyshev(2.0, 2.0, 5);
        assert_eq!((nodes.len(), nodes.value(&[7.0], 3.0)), (1, 7.0));
    }
}
