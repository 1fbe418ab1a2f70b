//! Interpolation between Chebyshev points of the second kind in barycentric form (J.-P. Berrut & L.
//! N. Trefethen, SIAM Review 46 (2004) 501, equation 5.4; from memory).

use std::f64::consts::PI;

/// Points on an interval.
#[derive(Debug, Clone, PartialEq)]
pub struct Nodes {
    points: Vec<f64>,
    /// Where the points are on the scale on which the polynomial is one.
    places: Vec<f64>,
    /// The scale is the logarithm of the point and this; `None`: the point itself.
    from: Option<f64>,
}

/// Part of the highest point from which on a logarithm is taken of an interval that begins at zero.
const NEAR_ZERO: f64 = 1e-3;

impl Nodes {
    /// `count` points on an interval, ends included, from low to high; one point where the interval
    /// is empty.
    #[must_use]
    pub fn chebyshev(low: f64, high: f64, count: usize) -> Nodes {
        let empty = (high - low).abs() <= 1e-12 * high.abs().max(low.abs());
        if count < 2 || empty {
            return Nodes {
                points: vec![low],
                places: vec![low],
                from: None,
            };
        }
        let last = (count - 1) as f64;
        let points: Vec<f64> = (0..count)
            .map(|k| {
                // Symmetric, so that the middle of an odd number of points is the middle of the
                // interval.
                let x = -(PI * (k as f64 / last - 0.5)).sin();
                0.5 * (low + high) - 0.5 * (high - low) * x
            })
            .collect();
        Nodes {
            places: points.clone(),
            points,
            from: None,
        }
    }

    /// The same on a scale of logarithms, for numbers from zero up: what saturates on either side of
    /// something, as heat does across a contact of any resistance, is a smooth curve there, however
    /// far the interval reaches.
    #[must_use]
    pub fn in_ratios(low: f64, high: f64, count: usize) -> Nodes {
        if !(high > low * (1.0 + 1e-12)) {
            return Nodes::chebyshev(low, low, 1);
        }
        let from = (NEAR_ZERO * high - low).max(0.0);
        let mut nodes = Nodes::chebyshev((low + from).ln(), (high + from).ln(), count);
        nodes.points = nodes.places.iter().map(|u| u.exp() - from).collect();
        // The ends are the ends, to the last bit.
        let last = nodes.len() - 1;
        (nodes.points[0], nodes.points[last]) = (low, high);
        nodes.from = Some(from);
        nodes
    }

    /// A number on the scale of the polynomial.
    fn place(&self, x: f64) -> f64 {
        self.from.map_or(x, |from| (x + from).ln())
    }

    /// The middle between two neighbouring points, on the scale of the polynomial.
    #[must_use]
    pub fn between(&self, k: usize) -> Option<f64> {
        let middle = 0.5 * (self.places.get(k)? + self.places.get(k + 1)?);
        Some(self.from.map_or(middle, |from| middle.exp() - from))
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
        let place = self.place(x);
        for (k, p) in self.places.iter().enumerate() {
            let distance = place - p;
            if distance == 0.0 || x == self.points[k] || n == 1 {
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

    /// What a contact lets through, of any resistance from a fiftieth of another to fifty of it: on a
    /// scale of logarithms a hundred times closer than on the plain one.
    #[test]
    fn saturation_on_both_sides_is_met_in_ratios() {
        let through = |ohm: f64| ohm / (ohm + 1.0);
        let worst = |nodes: Nodes| {
            let values: Vec<f64> = nodes.points().iter().map(|x| through(*x)).collect();
            let at = (0..200).map(|k| 0.02 * 2500f64.powf(f64::from(k) / 199.0));
            at.map(|x| (nodes.value(&values, x) - through(x)).abs())
                .fold(0.0, f64::max)
        };
        let plain = worst(Nodes::chebyshev(0.02, 50.0, 15));
        let ratios = worst(Nodes::in_ratios(0.02, 50.0, 15));
        assert!(ratios < 1e-4 && ratios < 0.01 * plain, "{ratios}, {plain}");
        let from_zero = Nodes::in_ratios(0.0, 2.0, 5);
        assert_eq!((from_zero.points()[0], from_zero.highest()), (0.0, 2.0));
        assert_eq!(Nodes::in_ratios(2.0, 2.0, 5), Nodes::chebyshev(2.0, 2.0, 5));
    }

    #[test]
    fn an_empty_interval_is_one_point() {
        let nodes = Nodes::chebyshev(2.0, 2.0, 5);
        assert_eq!((nodes.len(), nodes.value(&[7.0], 3.0)), (1, 7.0));
    }
}
