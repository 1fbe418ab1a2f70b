//! How finely a question is computed, and how wrong the answer may be.
//!
//! Every question is asked twice, the second time on a finer grid and with a tighter time
//! tolerance, ten times as good in all. The difference is the stated error of the finer answer.
//! While it exceeds the accuracy asked for, the ladder is climbed.

use super::PredictError;
use super::outcome::ComputedWith;
use crate::device::{Device, Fineness, Model};

/// One rung.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fidelity {
    /// Grid.
    pub fineness: Fineness,
    /// Local tolerance of a time step.
    pub tolerance: f64,
}

/// Divisor of the end elements and local tolerance of each rung on graded elements.
const GRADED: [(f64, f64); RUNGS] = [
    (1.0, 1e-3),
    (1.25, 1e-4),
    (1.6, 1e-5),
    (2.0, 1e-6),
    (3.0, 1e-8),
    (4.0, 1e-10),
];
/// Highest order of one element; events so soon that they ask for more are marched on graded
/// elements.
const HIGHEST_ORDER: usize = 40;
/// What the stated error is larger than the last difference: corners in property tables make errors
/// fall irregularly from rung to rung.
const SAFETY: f64 = 6.0;
/// The same where the laws are smooth and each rung is ten times as good as the one below it.
const SAFETY_SMOOTH: f64 = 1.5;
/// Smallest relative error stated, as a part of the accuracy asked for: two rungs may agree by
/// chance.
const LEAST: f64 = 0.3;
const RUNGS: usize = 6;
/// By how many decades the lowest rung of a march is better than the accuracy asked for.
const HEAD_START: f64 = 0.4;
/// Rungs that a march must be able to climb.
const CLIMBS: f64 = 3.0;

/// The grids and tolerances on which a question is asked in turn.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ladder {
    end_element_m: f64,
    length_m: f64,
    kind: Kind,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Kind {
    /// Elements graded towards the ends.
    Graded,
    /// One element of the order that the event's time asks for.
    March {
        /// Whether the laws have no corners.
        smooth: bool,
        /// Diffusion length at the event, as a part of the length.
        diffused: f64,
        /// Decades of accuracy aimed at by the lowest rung.
        decades: f64,
    },
}

impl Ladder {
    /// Ladder for a device and an event that comes a time after a sudden change (infinite for a
    /// steady state), when an accuracy is asked for.
    pub fn new(device: &Device, time_s: f64, accuracy: f64) -> Ladder {
        let diffused = (diffused_m(device, time_s) / device.length_m).clamp(1e-3, 1.0);
        let decades = -accuracy.clamp(1e-9, 1e-2).log10() + HEAD_START;
        let kind = if march_order(diffused, decades + CLIMBS) <= HIGHEST_ORDER {
            Kind::March {
                smooth: device.fit.pieces() == 1 && device.goes_fast(),
                diffused,
                decades,
            }
        } else {
            Kind::Graded
        };
        Ladder {
            end_element_m: end_element_m(device, time_s),
            length_m: device.length_m,
            kind,
        }
    }

    /// Rung `k`.
    pub fn rung(&self, k: usize) -> Fidelity {
        let k = k.min(RUNGS - 1);
        match self.kind {
            Kind::Graded => self.graded(k, GRADED[k]),
            Kind::March {
                diffused, decades, ..
            } => {
                let decades = decades + k as f64;
                Fidelity {
                    fineness: Fineness {
                        // The last rungs differ in their tolerance, and in at least one order.
                        order: march_order(diffused, decades).min(HIGHEST_ORDER + k),
                        end_element_m: self.length_m,
                    },
                    tolerance: tolerance_of(decades),
                }
            }
        }
    }

    /// Elements graded towards the ends.
    fn graded(&self, k: usize, (divisor, tolerance): (f64, f64)) -> Fidelity {
        let end = self.end_element_m.min(0.25 * self.length_m);
        Fidelity {
            fineness: Fineness {
                order: 6 + 2 * k,
                end_element_m: end / divisor,
            },
            tolerance,
        }
    }

    fn safety(&self) -> f64 {
        match self.kind {
            Kind::March { smooth: true, .. } => SAFETY_SMOOTH,
            Kind::March { .. } | Kind::Graded => SAFETY,
        }
    }
}

/// Local tolerance of a march that gives so many decades.
fn tolerance_of(decades: f64) -> f64 {
    10f64.powf(3.0 - 1.3 * decades)
}

/// Accuracy that a march of a local tolerance gives.
pub(super) fn accuracy_of(tolerance: f64) -> f64 {
    10f64.powf((tolerance.log10() - 3.0) / 1.3)
}

/// Order of one element that gives as many decades when heat has diffused over a part of the
/// length.
///
/// Nodes of an element crowd towards its ends as the square of the order, so that the thin layers
/// there are resolved when the order times the root of their relative width is large enough;
/// measured on the worked strip, cold and hot, from 10 A to 150 A, a decade costs 0.6 in that
/// product. A settled profile asks for a least order.
fn march_order(diffused: f64, decades: f64) -> usize {
    let layers = (0.6 * decades - 0.27) / diffused.sqrt();
    let settled = 2.0 * decades - 1.0;
    (layers.max(settled).ceil() as usize).max(6)
}

/// About three diffusion lengths, within a sixtieth of the length and the length; in steps of a
/// factor of two below a quarter of the length, so that grids can be kept and used again.
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

    /// Grid and tolerance, for the record.
    pub fn computed_with(&self, length_m: f64) -> ComputedWith {
        let grid = crate::device::Grid::new(length_m, self.fineness);
        ComputedWith {
            elements: grid.elements.len(),
            order: self.fineness.order,
            tolerance: self.tolerance,
        }
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

/// Ask a question on finer and finer models until its numbers agree to `accuracy`. `first`: the
/// answer of the lowest rung, where it is already known.
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
            .map(|e| (ladder.safety() * e).max(LEAST * accuracy));
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
