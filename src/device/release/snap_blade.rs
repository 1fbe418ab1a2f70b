//! A snap blade on the grid: its modes, its margins and its drawn height.

use super::{AtSnap, Gauge, Outline, ReleaseMechanism, on_the_branch};
use crate::device::{Bend, Device, Grid, Model};
use crate::physics::snap_blade::one_term::OneTermBlade;
use crate::physics::snap_blade::{BladeState, Fold, SnapBlade as Arch};
use crate::scenario::{SnapBlade, SnapModel};
use std::f64::consts::{FRAC_PI_4, PI};

/// Sine modes that are carried; the rest of the series falls as n^-4.
const MODES: usize = 25;
/// Points of a drawn blade.
const DRAWN: usize = 80;

/// Weights of integrals over a span between two hinges; empty where there is none.
#[derive(Debug, Clone, Default)]
pub struct HingedWeights {
    /// `(2/l) integral sin(n pi x/l) f dx`
    modes: Vec<Vec<f64>>,
    /// `(2/l) integral sin^2(pi x/l) f dx`
    stiffness: Vec<f64>,
    /// `integral_0^l f dx`
    span: Vec<f64>,
}

impl ReleaseMechanism for SnapBlade {
    fn distance_m(&self, on: &Model, gauge: Gauge, y: &[f64], current_squared: f64) -> f64 {
        let bends = on.bends(y, current_squared);
        let modes = curvature_modes(on, &bends);
        let arch = self.arch(on, y, &bends, &modes);
        let evenly = FRAC_PI_4 * modes[0];
        match (gauge, self.model) {
            (Gauge::Release { in_hand_m }, SnapModel::Exact) => arch.trip_margin_m() + in_hand_m,
            (Gauge::Release { in_hand_m }, SnapModel::OneTerm) => {
                one_term(&arch).trip_margin_m(evenly) + in_hand_m
            }
            (Gauge::Relatch, SnapModel::Exact) => -arch.reset_margin_m(),
            (Gauge::Relatch, SnapModel::OneTerm) => -one_term(&arch).reset_margin_m(evenly),
        }
    }

    fn hinged(&self, points: &Grid) -> HingedWeights {
        let l = self.span_m;
        HingedWeights {
            modes: (1..=MODES)
                .map(|n| points.functional(l, |x| 2.0 / l * (n as f64 * PI * x / l).sin()))
                .collect(),
            stiffness: points.functional(l, |x| 2.0 / l * (PI * x / l).sin().powi(2)),
            span: points.functional(l, |_| 1.0),
        }
    }

    fn release_deflection_m(&self, _compliance_m_per_n: f64, _preload_loss: f64) -> f64 {
        self.rise_m
    }

    /// Where the bow is just taken away: a flat blade is halfway through.
    fn release_curvature_per_m(&self, _device: &Device, _stiffness_n_m2: f64) -> f64 {
        8.0 * self.rise_m / self.span_m.powi(2)
    }

    fn seen_m(&self, on: &Model, y: &[f64], current_squared: f64, closed: bool) -> f64 {
        // Past the snap the branch it leaves is gone; it lies on the other one.
        let rise = |y: &[f64], closed| self.standing_rise_m(on, y, current_squared, closed);
        on_the_branch(on, y, closed, |y| rise(y, closed))
            .or_else(|| rise(y, !closed))
            .unwrap_or(0.0)
    }

    fn outline(&self, on: &Model, y: &[f64], current_squared: f64, closed: bool) -> Outline {
        let drawn = 0..=DRAWN;
        let x_m: Vec<f64> = drawn
            .map(|k| self.span_m * k as f64 / DRAWN as f64)
            .collect();
        Outline {
            along_m: x_m.clone(),
            y_m: self.heights_m(on, y, current_squared, closed, &x_m),
            x_m,
        }
    }

    /// At the hinges, as made or in this state, whichever is steeper.
    fn rotation_rad(&self, on: &Model, y: &[f64], current_squared: f64) -> f64 {
        let step_m = 1e-3 * self.span_m;
        let ends = [step_m, self.span_m - step_m];
        let heights = self.heights_m(on, y, current_squared, true, &ends);
        let slopes = heights.iter().map(|height| (height / step_m).abs());
        slopes.fold(PI * self.rise_m / self.span_m, f64::max)
    }

    fn at_snap(&self, on: &Model, y: &[f64], current_squared: f64, x_m: &[f64]) -> Option<AtSnap> {
        let bends = on.bends(y, current_squared);
        let modes = curvature_modes(on, &bends);
        let arch = self.arch(on, y, &bends, &modes);
        let Fold::Snaps {
            thrust_n,
            amplitude_m,
            ..
        } = arch.fold()
        else {
            return None;
        };
        // Next to the second Euler load mode 2 would be a division by nothing.
        let state = BladeState {
            thrust_n: thrust_n.min(4.0 * arch.euler_load_n() * (1.0 - 1e-6)),
            first_mode_m: amplitude_m,
        };
        Some(AtSnap {
            thrust_n,
            heights_m: x_m.iter().map(|x| arch.height_m(*x, &state)).collect(),
        })
    }
}

impl SnapBlade {
    /// Rise at mid span on the closed or the snapped branch, m; `None` where that branch is gone.
    pub fn standing_rise_m(
        &self,
        on: &Model,
        y: &[f64],
        current_squared: f64,
        closed: bool,
    ) -> Option<f64> {
        let bends = on.bends(y, current_squared);
        let modes = curvature_modes(on, &bends);
        let arch = self.arch(on, y, &bends, &modes);
        if closed {
            arch.closed_rise_m()
        } else {
            arch.snapped_rise_m()
        }
    }

    /// Whether it creeps at this state instead of snapping.
    pub fn creeps(&self, on: &Model, y: &[f64]) -> bool {
        let bends = on.bends(y, 0.0);
        let modes = curvature_modes(on, &bends);
        self.arch(on, y, &bends, &modes).fold() == Fold::Creeps
    }

    /// Hands `f` the force that holds it at a rise, N against m, at these temperatures without
    /// current.
    pub fn with_holding_force<R>(
        &self,
        on: &Model,
        y: &[f64],
        f: impl FnOnce(&dyn Fn(f64) -> f64) -> R,
    ) -> R {
        let bends = on.bends(y, 0.0);
        let modes = curvature_modes(on, &bends);
        let arch = self.arch(on, y, &bends, &modes);
        match self.model {
            SnapModel::Exact => f(&|rise_m| arch.holding_force_n(rise_m)),
            SnapModel::OneTerm => {
                let (one, curvature) = (one_term(&arch), FRAC_PI_4 * modes[0]);
                f(&|rise_m| one.imbalance_n(rise_m, curvature))
            }
        }
    }

    /// Height over the line through the hinges at positions along the span, m.
    fn heights_m(
        &self,
        on: &Model,
        y: &[f64],
        current_squared: f64,
        closed: bool,
        x_m: &[f64],
    ) -> Vec<f64> {
        let heights = |y: &[f64], closed: bool| -> Option<Vec<f64>> {
            let bends = on.bends(y, current_squared);
            let modes = curvature_modes(on, &bends);
            let arch = self.arch(on, y, &bends, &modes);
            let state = match closed {
                true => arch.closed_state(),
                false => arch.snapped_state(),
            }?;
            Some(x_m.iter().map(|x| arch.height_m(*x, &state)).collect())
        };
        // Past a snap the branch asked for is gone; the blade lies on the other one.
        on_the_branch(on, y, closed, |y| heights(y, closed))
            .or_else(|| heights(y, !closed))
            .unwrap_or_else(|| vec![0.0; x_m.len()])
    }

    /// The shallow arch that it is at these temperatures.
    fn arch<'m>(&self, on: &Model, y: &[f64], bends: &[Bend], modes: &'m [f64]) -> Arch<'m> {
        let weights = &on.hinged;
        let (mut stiffness, mut flexibility, mut elongation) = (0.0, 0.0, 0.0);
        for (j, bend) in bends.iter().enumerate() {
            stiffness += weights.stiffness[j] * bend.stiffness_n_m2;
            flexibility += weights.span[j] / bend.axial_stiffness_n;
            elongation += weights.span[j] * bend.axial_strain;
        }
        let axial = 1.0 / (1.0 / self.axial_stiffness_n_per_m + flexibility);
        let expansion = match self.frame {
            // A frame that is not described follows the blade: only bending works.
            None => 0.0,
            Some(f) => {
                let frame_k = if f.at_ambient {
                    y[on.layout.fixed]
                } else {
                    y[0]
                };
                elongation - self.span_m * f.per_k * (frame_k - on.device.laws.flat_temperature_k)
            }
        };
        Arch {
            span_m: self.span_m,
            stiffness_ei_n_m2: stiffness,
            axial_stiffness_n_per_m: axial,
            rise_m: self.rise_m,
            thrust_n: self.preload_thrust_n * (1.0 - on.device.release.preload_loss)
                + axial * expansion,
            curvature_modes_per_m: modes,
        }
    }
}

fn curvature_modes(on: &Model, bends: &[Bend]) -> Vec<f64> {
    let curvature: Vec<f64> = bends.iter().map(|b| b.curvature_per_m).collect();
    let weights = on.hinged.modes.iter();
    weights
        .map(|w| w.iter().zip(&curvature).map(|(w, k)| w * k).sum())
        .collect()
}

/// The one-term form of a blade.
fn one_term(arch: &Arch<'_>) -> OneTermBlade {
    OneTermBlade {
        span_m: arch.span_m,
        stiffness_ei_n_m2: arch.stiffness_ei_n_m2,
        axial_stiffness_n_per_m: arch.axial_stiffness_n_per_m,
        rise_m: arch.rise_m,
        thrust_n: arch.thrust_n,
    }
}
