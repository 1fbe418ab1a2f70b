//! How far the strip is from release and from relatch: the event functions.

use super::through::Station;
use super::{Bend, Model, Plant};
use crate::physics::snap_blade::one_term::OneTermBlade;
use crate::physics::snap_blade::{Fold, SnapBlade};
use crate::scenario::{Mechanism, SnapModel};
use crate::solve::Event;
use std::f64::consts::FRAC_PI_4;

/// Zero when the strip releases; the value is minus the deflection left, m.
pub struct ReleaseEvent<'a> {
    /// The protector under its drive.
    pub plant: &'a Plant<'a>,
    /// Deflection that must stay in hand, m (0 for the release itself).
    pub in_hand_m: f64,
}

impl Event for ReleaseEvent<'_> {
    fn value(&self, t: f64, y: &[f64]) -> f64 {
        self.plant
            .model
            .release_excess_m(y, self.plant.strip_current_squared(t))
            + self.in_hand_m
    }
}

/// Zero when the strip relatches.
pub struct RelatchEvent<'a> {
    /// The protector under its drive.
    pub plant: &'a Plant<'a>,
}

impl Event for RelatchEvent<'_> {
    fn value(&self, t: f64, y: &[f64]) -> f64 {
        self.plant
            .model
            .relatch_excess_m(y, self.plant.strip_current_squared(t))
    }
}

impl Model {
    /// Bending at every node, heat across the layers included.
    fn bends(&self, y: &[f64], current_squared: f64) -> Vec<Bend> {
        let laws = &self.device.laws;
        let mut bends: Vec<Bend> = y[..self.layout.strip]
            .iter()
            .map(|t| laws.bend(*t))
            .collect();
        if let Some(through) = &self.device.through {
            let second = self.second_derivative(y);
            let slow = through.len();
            for (j, bend) in bends.iter_mut().enumerate() {
                let first = self.layout.modes + j * slow;
                // The faces' loss reaches the slow modes in the heat equation; in the fast ones it is lost
                // in the noise.
                let at = Station {
                    t_k: y[j],
                    current_squared,
                    second_derivative: second[j],
                    face_flux: 0.0,
                };
                bend.curvature_per_m +=
                    through.curvature_per_m(y[first..first + slow].iter().copied(), at);
            }
        }
        bends
    }

    /// Curvature at every node, 1/m.
    pub fn curvature_per_m(&self, y: &[f64], current_squared: f64) -> Vec<f64> {
        self.bends(y, current_squared)
            .iter()
            .map(|b| b.curvature_per_m)
            .collect()
    }

    /// Free deflection at the push point, m.
    pub fn free_deflection_m(&self, y: &[f64], current_squared: f64) -> f64 {
        self.bends(y, current_squared)
            .iter()
            .zip(&self.deflection_weight)
            .map(|(b, w)| w * b.curvature_per_m)
            .sum()
    }

    /// Compliance at the push point, m/N.
    pub fn compliance_m_per_n(&self, y: &[f64]) -> f64 {
        y[..self.layout.strip]
            .iter()
            .zip(&self.compliance_weight)
            .map(|(t, w)| w / self.device.laws.bend(*t).stiffness_n_m2)
            .sum()
    }

    /// Force that the strip must overcome to release the latch, N (0 for a snap blade).
    pub fn release_force_n(&self) -> f64 {
        match self.device.release.mechanism {
            Mechanism::Latch {
                preload_n,
                lever_ratio,
                release_force_factor,
                constant_force_n,
                ..
            } => {
                release_force_factor
                    * lever_ratio
                    * preload_n
                    * (1.0 - self.device.release.preload_loss)
                    + constant_force_n
            }
            Mechanism::SnapBlade { .. } => 0.0,
        }
    }

    /// Deflection at which the latch releases, m: clearance plus the push against the preload.
    pub fn release_deflection_m(&self, y: &[f64]) -> f64 {
        match self.device.release.mechanism {
            Mechanism::Latch {
                release_travel_m, ..
            } => release_travel_m + self.compliance_m_per_n(y) * self.release_force_n(),
            Mechanism::SnapBlade { rise_m, .. } => rise_m,
        }
    }

    /// Deflection beyond release, m; negative while it holds.
    pub fn release_excess_m(&self, y: &[f64], current_squared: f64) -> f64 {
        match self.device.release.mechanism {
            Mechanism::Latch {
                release_travel_m, ..
            } => {
                let force = self.release_force_n();
                let mut excess = -release_travel_m;
                for ((bend, d), s) in self
                    .bends(y, current_squared)
                    .iter()
                    .zip(&self.deflection_weight)
                    .zip(&self.compliance_weight)
                {
                    excess += d * bend.curvature_per_m - force * s / bend.stiffness_n_m2;
                }
                excess
            }
            Mechanism::SnapBlade { model, .. } => {
                let modes = self.curvature_modes(y, current_squared);
                let blade = self.snap_blade(y, &modes);
                match model {
                    SnapModel::Exact => blade.trip_margin_m(),
                    SnapModel::OneTerm => one_term(&blade).trip_margin_m(FRAC_PI_4 * modes[0]),
                }
            }
        }
    }

    /// How far below the relatch line, m; positive when it can be reset.
    pub fn relatch_excess_m(&self, y: &[f64], current_squared: f64) -> f64 {
        match self.device.release.mechanism {
            Mechanism::Latch {
                relatch_travel_m, ..
            } => relatch_travel_m - self.free_deflection_m(y, current_squared),
            Mechanism::SnapBlade { model, .. } => {
                let modes = self.curvature_modes(y, current_squared);
                let blade = self.snap_blade(y, &modes);
                match model {
                    SnapModel::Exact => -blade.reset_margin_m(),
                    SnapModel::OneTerm => -one_term(&blade).reset_margin_m(FRAC_PI_4 * modes[0]),
                }
            }
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

    fn curvature_modes(&self, y: &[f64], current_squared: f64) -> Vec<f64> {
        let curvature = self.curvature_per_m(y, current_squared);
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
        for (j, t) in y[..self.layout.strip].iter().enumerate() {
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
