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

/// Divisor of the end elements and local tolerance of each rung, for devices that go the general way.
const GENERAL: [(f64, f64); RUNGS] = [
    (1.0, 2e-6),
    (1.25, 2e-7),
    (1.6, 2e-8),
    (2.0, 2e-9),
    (3.0, 2e-10),
    (4.0, 2e-11),
];
/// The same for marches in registers, whose event is aimed at: a looser tolerance gives the same accuracy.
const FAST: [(f64, f64); RUNGS] = [
    (1.0, 1e-3),
    (1.25, 1e-4),
    (1.6, 1e-5),
    (2.0, 1e-6),
    (3.0, 1e-8),
    (4.0, 1e-10),
];
/// What the stated error is larger than the last difference: corners in property tables make errors fall
/// irregularly from rung to rung.
const SAFETY: f64 = 6.0;
/// Smallest relative error stated, as a part of the accuracy asked for: two rungs may agree by chance.
const LEAST: f64 = 0.1;
const RUNGS: usize = 6;
/// One element serves while heat has diffused this part of the length since the last change.
const ONE_ELEMENT: f64 = 0.085;

/// The grids and tolerances on which a question is asked in turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ladder {
    end_element_m: f64,
    length_m: f64,
    fast: bool,
    one_element: bool,
}

impl Ladder {
    /// Ladder for a device and an event that comes a time after a sudden change; infinite for a steady state.
    pub fn new(device: &Device, time_s: f64) -> Ladder {
        let smooth = device.fit.pieces() == 1;
        let diffused = diffused_m(device, time_s) / device.length_m;
        let one_element = smooth && diffused > ONE_ELEMENT;
        Ladder {
            end_element_m: end_element_m(device, time_s),
            length_m: device.length_m,
            fast: device.goes_fast(),
            one_element,
        }
    }

    /// Rung `k`.
    ///
    /// Property tables have corners in their curvature, which spoil the convergence of one high-order element
    /// across them: such devices always get at least three elements.
    pub fn rung(&self, k: usize) -> Fidelity {
        let k = k.min(RUNGS - 1);
        let (divisor, tolerance) = if self.fast { FAST[k] } else { GENERAL[k] };
        let (order, end_element_m) = if self.one_element && self.fast {
            (7 + 2 * k, self.length_m)
        } else {
            let end = self.end_element_m.min(0.25 * self.length_m);
            (6 + 2 * k, end / divisor)
        };
        Fidelity {
            fineness: Fineness {
                order,
                end_element_m,
            },
            tolerance,
        }
    }
}

/// About three diffusion lengths, within a sixtieth of the length and the length; in steps of a factor of two
/// below a quarter of the length, so that grids can be kept and used again.
fn end_element_m(device: &Device, time_s: f64) -> f64 {
    let part = (3.0 * diffused_m(device, time_s) / device.length_m).clamp(1.0 / 60.0, 1.0);
    let halvings = (0.25 / part).log2().max(0.0).round();
    device.length_m * 0.25 * 0.5f64.powf(halvings)
}

/// Diffusion length after a time, m.
fn diffused_m(device: &Device, time_s: f64) -> f64 {
    let line = device.laws.line(330.0);
    (line.conduction / line.capacity * time_s.max(0.0)).sqrt()
}

impl Fidelity {
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
    pub fn words(&self, length_m: f64) -> String {
        let grid = crate::device::Grid::new(length_m, self.fineness);
        format!(
            "{} spectral element{} of order {}, local tolerance {:.0e}",
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

/// Ask a question on finer and finer models until its numbers agree to `accuracy`. `first`: the answer of the
/// lowest rung, where it is already known.
pub fn converge<T>(
    device: &Device,
    ladder: Ladder,
    accuracy: f64,
    first: Option<T>,
    mut ask: impl FnMut(&Model, f64) -> Result<T, PredictError>,
    numbers: impl Fn(&T) -> Vec<Option<f64>>,
) -> Result<Converged<T>, PredictError> {
    let mut ask_at = |k: usize| {
        let fidelity = ladder.rung(k);
        let model = device.on(fidelity.fineness);
        ask(&model, fidelity.tolerance).map(|v| (v, fidelity))
    };
    let mut coarse = match first {
        Some(answer) => (answer, ladder.rung(0)),
        None => ask_at(0)?,
    };
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
