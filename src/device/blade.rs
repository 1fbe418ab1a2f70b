//! The snap blade on the grid: its modes, its margins and its drawn height.

use super::Model;
use crate::physics::snap_blade::one_term::OneTermBlade;
use crate::physics::snap_blade::{BladeState, Fold, SnapBlade};
use crate::scenario::{Mechanism, SnapModel};
use std::f64::consts::FRAC_PI_4;

impl Model {
    /// Distance of mode 1 beyond the snap through, m; negative while the blade holds.
    pub(super) fn blade_trip_excess_m(
        &self,
        y: &[f64],
        current_squared: f64,
        model: SnapModel,
    ) -> f64 {
        let modes = self.curvature_modes(y, current_squared);
        let blade = self.snap_blade(y, &modes);
        match model {
            SnapModel::Exact => blade.trip_margin_m(),
            SnapModel::OneTerm => one_term(&blade).trip_margin_m(FRAC_PI_4 * modes[0]),
        }
    }

    /// Distance of mode 1 beyond the snap back, m; negative while the blade stays snapped.
    pub(super) fn blade_reset_excess_m(
        &self,
        y: &[f64],
        current_squared: f64,
        model: SnapModel,
    ) -> f64 {
        let modes = self.curvature_modes(y, current_squared);
        let blade = self.snap_blade(y, &modes);
        match model {
            SnapModel::Exact => -blade.reset_margin_m(),
            SnapModel::OneTerm => -one_term(&blade).reset_margin_m(FRAC_PI_4 * modes[0]),
        }
    }

    /// Rise of a snap blade at mid span on its closed or its snapped branch, m.
    pub fn blade_rise_m(&self, y: &[f64], current_squared: f64, closed: bool) -> Option<f64> {
        let modes = self.curvature_modes(y, current_squared);
        let blade = self.snap_blade(y, &modes);
        if closed {
            blade.closed_rise_m()
        } else {
            blade.snapped_rise_m()
        }
    }

    /// Height of a snap blade over the line through its hinges at positions along the span, m.
    pub fn blade_heights_m(
        &self,
        y: &[f64],
        current_squared: f64,
        closed: bool,
        x_m: &[f64],
    ) -> Vec<f64> {
        let modes = self.curvature_modes(y, current_squared);
        let blade = self.snap_blade(y, &modes);
        // Just past a snap the branch asked for is gone; the blade lies on the other one.
        let state = if closed {
            blade.closed_state().or_else(|| blade.snapped_state())
        } else {
            blade.snapped_state().or_else(|| blade.closed_state())
        };
        x_m.iter()
            .map(|x| state.as_ref().map_or(0.0, |s| blade.height_m(*x, s)))
            .collect()
    }

    /// Whether a snap blade creeps at this state instead of snapping.
    pub fn blade_creeps(&self, y: &[f64]) -> bool {
        let modes = self.curvature_modes(y, 0.0);
        self.snap_blade(y, &modes).fold() == Fold::Creeps
    }

    /// Hands `f` the force that holds the blade at a rise, N against m, at these temperatures without
    /// current. A latch has no such force.
    pub fn with_holding_force<R>(
        &self,
        y: &[f64],
        f: impl FnOnce(&dyn Fn(f64) -> f64) -> R,
    ) -> Option<R> {
        let Mechanism::SnapBlade { model, .. } = self.device.release.mechanism else {
            return None;
        };
        let modes = self.curvature_modes(y, 0.0);
        let blade = self.snap_blade(y, &modes);
        Some(match model {
            SnapModel::Exact => f(&|rise_m| blade.holding_force_n(rise_m)),
            SnapModel::OneTerm => {
                let (one, curvature) = (one_term(&blade), FRAC_PI_4 * modes[0]);
                f(&|rise_m| one.imbalance_n(rise_m, curvature))
            }
        })
    }

    /// Thrust of a snap blade at the moment it snaps through, N, and its heights at positions along the
    /// span, m; `None` for a latch or a blade that creeps.
    pub fn blade_at_snap(
        &self,
        y: &[f64],
        current_squared: f64,
        x_m: &[f64],
    ) -> Option<(f64, Vec<f64>)> {
        let Mechanism::SnapBlade { .. } = self.device.release.mechanism else {
            return None;
        };
        let modes = self.curvature_modes(y, current_squared);
        let blade = self.snap_blade(y, &modes);
        let Fold::Snaps {
            thrust_n,
            amplitude_m,
            ..
        } = blade.fold()
        else {
            return None;
        };
        // Next to the second Euler load mode 2 would be a division by nothing.
        let state = BladeState {
            thrust_n: thrust_n.min(4.0 * blade.euler_load_n() * (1.0 - 1e-6)),
            first_mode_m: amplitude_m,
        };
        Some((
            thrust_n,
            x_m.iter().map(|x| blade.height_m(*x, &state)).collect(),
        ))
    }

    fn curvature_modes(&self, y: &[f64], current_squared: f64) -> Vec<f64> {
        let curvature: Vec<f64> = self
            .bends(y, current_squared)
            .iter()
            .map(|b| b.curvature_per_m)
            .collect();
        self.mode_weight
            .iter()
            .map(|w| w.iter().zip(&curvature).map(|(w, k)| w * k).sum())
            .collect()
    }

    fn snap_blade<'m>(&self, y: &[f64], modes: &'m [f64]) -> SnapBlade<'m> {
        let Mechanism::SnapBlade {
            span_m,
            rise_m,
            axial_stiffness_n_per_m,
            preload_thrust_n,
            frame,
            ..
        } = self.device.release.mechanism
        else {
            // Only reached for a snap blade; a latch has no modes.
            return SnapBlade {
                span_m: 1.0,
                stiffness_ei_n_m2: 1.0,
                axial_stiffness_n_per_m: 1.0,
                rise_m: 0.0,
                thrust_n: 0.0,
                curvature_modes_per_m: modes,
            };
        };
        let (mut stiffness, mut flexibility, mut elongation) = (0.0, 0.0, 0.0);
        for (j, t) in self.bending.values(&self.grid, |j| y[j]).iter().enumerate() {
            let bend = self.device.laws.bend(*t);
            stiffness += self.stiffness_weight[j] * bend.stiffness_n_m2;
            flexibility += self.span_weight[j] / bend.axial_stiffness_n;
            elongation += self.span_weight[j] * bend.axial_strain;
        }
        let axial = 1.0 / (1.0 / axial_stiffness_n_per_m + flexibility);
        let expansion = match frame {
            // A frame that is not described follows the blade: only bending works.
            None => 0.0,
            Some(f) => {
                let frame_k = if f.at_ambient {
                    y[self.layout.fixed]
                } else {
                    y[0]
                };
                elongation - span_m * f.per_k * (frame_k - self.device.laws.flat_temperature_k)
            }
        };
        SnapBlade {
            span_m,
            stiffness_ei_n_m2: stiffness,
            axial_stiffness_n_per_m: axial,
            rise_m,
            thrust_n: preload_thrust_n * (1.0 - self.device.release.preload_loss)
                + axial * expansion,
            curvature_modes_per_m: modes,
        }
    }
}

/// The one-term form of a blade.
fn one_term(blade: &SnapBlade<'_>) -> OneTermBlade {
    OneTermBlade {
        span_m: blade.span_m,
        stiffness_ei_n_m2: blade.stiffness_ei_n_m2,
        axial_stiffness_n_per_m: blade.axial_stiffness_n_per_m,
        rise_m: blade.rise_m,
        thrust_n: blade.thrust_n,
    }
}
