//! How finely a question is computed, and how wrong the answer may be.
//!
//! Every question is asked twice, the second time with two polynomial orders more and a tenth of the
//! time tolerance. The difference is the stated error of the finer answer. While it exceeds the
//! accuracy asked for, the ladder is climbed.

use super::PredictError;
use crate::device::{Device, Fineness, Model};

/// One rung.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fidelity {
    /// Grid.
    pub fineness: Fineness,
    /// Local tolerance of a time step.
    pub tolerance: f64,
}

/// Divisor of the end elements and local tolerance of each rung.
const LADDER: [(f64, f64); 6] = [
    (1.0, 2e-6),
    (1.25, 2e-7),
    (1.6, 2e-8),
    (2.0, 2e-9),
    (3.0, 2e-10),
    (4.0, 2e-11),
];
/// What the stated error is larger than the last difference: corners in property tables make errors fall
/// irregularly from rung to rung.
const SAFETY: f64 = 6.0;
/// Smallest relative error stated, as a part of the accuracy asked for: two rungs may agree by chance.
const LEAST: f64 = 0.1;
const RUNGS: usize = LADDER.len();

impl Fidelity {
    /// Rung `k` of the ladder for layers of thickness about `end_element_m` in a strip of `length_m`.
    ///
    /// There are always at least three elements: property tables have corners in their curvature, which
    /// spoil the convergence of one high-order element across them.
    pub fn rung(k: usize, end_element_m: f64, length_m: f64) -> Fidelity {
        let (divisor, tolerance) = LADDER[k.min(RUNGS - 1)];
        Fidelity {
            fineness: Fineness {
                order: 6 + 2 * k.min(RUNGS - 1),
                end_element_m: end_element_m.min(0.25 * length_m) / divisor,
            },
            tolerance,
        }
    }

    /// A quick look: right to a few per mille.
    pub fn quick(length_m: f64) -> Fidelity {
        Fidelity {
            fineness: Fineness {
                order: 6,
                end_element_m: length_m / 8.0,
            },
            tolerance: 1e-4,
        }
    }

    /// In words.
    pub fn words(&self, length_m: f64, cut_m: f64) -> String {
        let grid = crate::device::Grid::new(length_m, cut_m, self.fineness);
        format!(
            "{} spectral element{} of order {}, Rodas5P with local tolerance {:.0e}",
            grid.elements.len(),
            if grid.elements.len() == 1 { "" } else { "s" },
            self.fineness.order,
            self.tolerance
        )
    }
}

/// An answer with its error.
#[derive(Debug, Clone)]
pub struct Converged<T> {
    /// The finer answer.
    pub value: T,
    /// Relative difference between the two finest answers; `None` when there is no number.
    pub error_relative: Option<f64>,
    /// How it was computed.
    pub fidelity: Fidelity,
}

/// Ask a question on finer and finer models until its numbers agree to `accuracy`.
pub fn converge<T>(
    device: &Device,
    end_element_m: f64,
    accuracy: f64,
    mut ask: impl FnMut(&Model, f64) -> Result<T, PredictError>,
    numbers: impl Fn(&T) -> Vec<Option<f64>>,
) -> Result<Converged<T>, PredictError> {
    let mut ask_at = |k: usize| {
        let fidelity = Fidelity::rung(k, end_element_m, device.length_m);
        let model = Model::new(device, fidelity.fineness);
        ask(&model, fidelity.tolerance).map(|v| (v, fidelity))
    };
    let mut coarse = ask_at(0)?;
    let mut k = 1;
    loop {
        let fine = ask_at(k)?;
        let error = disagreement(&numbers(&coarse.0), &numbers(&fine.0))
            .map(|e| (SAFETY * e).max(LEAST * accuracy));
        if k + 1 >= RUNGS || error.is_none_or(|e| e <= accuracy) {
            return Ok(Converged {
                value: fine.0,
                error_relative: error,
                fidelity: fine.1,
            });
        }
        coarse = fine;
        k += 1;
    }
}

/// Largest relative difference; infinite when one has a number and the other has none.
fn disagreement(a: &[Option<f64>], b: &[Option<f64>]) -> Option<f64> {
    a.iter()
        .zip(b)
        .filter_map(|(a, b)| match (a, b) {
            (None, None) => None,
            (Some(a), Some(b)) if a == b => Some(0.0),
            (Some(a), Some(b)) => Some((a - b).abs() / b.abs().max(1e-300)),
            _ => Some(f64::INFINITY),
        })
        .reduce(f64::max)
}
