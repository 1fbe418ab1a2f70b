//! Slope of the heat equation against time at a fixed state: a current that decays, an ambient that
//! drifts.

use super::{Ambient, Drive, Plant};
use crate::scenario::MachineCase;
use crate::solve::System;

/// Change of the square of the current from which the slope against it is taken, as a part of it
/// (and of 1 A^2).
const SQUARE_PART: f64 = 1e-3;
/// Half the change of ambient from which its slope is taken, K.
const AMBIENT_STEP_K: f64 = 1e-2;

/// Slope against time of rates under a drive; `rates` writes them for a square of the current, A^2,
/// and an ambient, K. False (and zeros) where nothing changes.
///
/// The rates are linear in the square of the current, but for what the heat across the layers makes
/// of it: one small difference is as good as exact. In the ambient they are smooth.
pub(super) fn time_slope(
    drive: &Drive,
    t: f64,
    dfdt: &mut [f64],
    mut rates: impl FnMut(f64, f64, &mut [f64]),
) -> bool {
    dfdt.fill(0.0);
    let (current, slope) = drive.current(t);
    let (squared, by_square) = (current * current, 2.0 * current * slope);
    let (ambient_k, by_ambient) = (drive.ambient_k(t), drive.ambient.slope_k_per_s);
    let change = SQUARE_PART * (squared + 1.0);
    let step = AMBIENT_STEP_K;
    let mut there = vec![0.0; dfdt.len()];
    for (square, ambient_k, factor) in [
        (squared + change, ambient_k, by_square / change),
        (squared, ambient_k, -by_square / change),
        (squared, ambient_k + step, by_ambient / (2.0 * step)),
        (squared, ambient_k - step, -by_ambient / (2.0 * step)),
    ] {
        if factor != 0.0 {
            rates(square, ambient_k, &mut there);
            for (d, r) in dfdt.iter_mut().zip(&there) {
                *d += factor * r;
            }
        }
    }
    by_square != 0.0 || by_ambient != 0.0
}

impl Plant<'_> {
    /// Slope of the right-hand side against time at a fixed state.
    pub(super) fn time_slope_at(&self, t: f64, y: &[f64], dfdt: &mut [f64]) {
        time_slope(&self.drive, t, dfdt, |squared, ambient_k, dy| {
            let drive = Drive {
                phase: self.drive.phase,
                ..Drive::constant(squared.sqrt(), ambient_k)
            };
            let there = Plant {
                model: self.model,
                drive,
            };
            there.rhs(t, y, dy);
        });
        if let Some(MachineCase::Given(points)) = &self.model.device.machine_case {
            let slope_k_per_s = Ambient::of(points, t).0.slope_k_per_s;
            let mut terms = Vec::new();
            self.node_terms(t, y, &mut terms);
            dfdt[0] += self.model.device.clamped.conductance_w_per_k * slope_k_per_s
                / self.mass(&terms, 0);
        }
    }
}
