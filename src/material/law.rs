//! How a property depends on temperature.

use super::Pchip;

/// A property against temperature (kelvin).
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Law {
    /// The same at every temperature.
    Constant(f64),
    /// `sum c_i (T - reference)^i`.
    Polynomial {
        /// Temperature about which the polynomial is written, K.
        reference_k: f64,
        /// Coefficients from the constant term up.
        coefficients: Vec<f64>,
    },
    /// Monotone cubic through tabulated points, abscissa in K.
    Table(Pchip),
}

impl Law {
    /// The same law with its values multiplied.
    pub(super) fn scaled(&self, factor: f64) -> Law {
        match self {
            Law::Constant(v) => Law::Constant(factor * v),
            Law::Polynomial {
                reference_k,
                coefficients,
            } => Law::Polynomial {
                reference_k: *reference_k,
                coefficients: coefficients.iter().map(|c| factor * c).collect(),
            },
            Law::Table(curve) => Law::Table(curve.scaled(factor)),
        }
    }

    /// Value at a temperature.
    pub fn at(&self, t_k: f64) -> f64 {
        self.at_with_slope(t_k).0
    }

    /// Value and slope (per kelvin) at a temperature.
    pub fn at_with_slope(&self, t_k: f64) -> (f64, f64) {
        match self {
            Law::Constant(v) => (*v, 0.0),
            Law::Polynomial {
                reference_k,
                coefficients,
            } => {
                let u = t_k - reference_k;
                coefficients
                    .iter()
                    .rev()
                    .fold((0.0, 0.0), |(v, d), c| (v * u + c, d * u + v))
            }
            Law::Table(curve) => curve.at_with_slope(t_k),
        }
    }

    /// Exact integral between two temperatures.
    pub fn integral(&self, from_k: f64, to_k: f64) -> f64 {
        match self {
            Law::Constant(v) => v * (to_k - from_k),
            Law::Polynomial {
                reference_k,
                coefficients,
            } => {
                let antiderivative = |u: f64| {
                    coefficients
                        .iter()
                        .enumerate()
                        .rev()
                        .fold(0.0, |s, (i, c)| s * u + c / (i as f64 + 1.0))
                        * u
                };
                antiderivative(to_k - reference_k) - antiderivative(from_k - reference_k)
            }
            Law::Table(curve) => curve.integral(from_k, to_k),
        }
    }
}
