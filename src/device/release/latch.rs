//! A latch on the grid: pushed by the free tip of a clamped strip.

use super::{Gauge, Outline, Push, ReleaseMechanism};
use crate::device::{Device, Model};
use crate::scenario::Latch;

/// Points of a drawn strip.
const DRAWN: usize = 80;

impl ReleaseMechanism for Latch {
    fn distance_m(&self, on: &Model, gauge: Gauge, y: &[f64], current_squared: f64) -> f64 {
        let push = push(self, gauge, on.device.release.preload_loss);
        let mut sum = push.constant_m;
        for ((bend, d), s) in on
            .bends(y, current_squared)
            .iter()
            .zip(&on.deflection_weight)
            .zip(&on.compliance_weight)
        {
            sum += push.deflection * d * bend.curvature_per_m
                + push.compliance_n * s / bend.stiffness_n_m2;
        }
        let followed_m = self.followed_m(on, y);
        match gauge {
            Gauge::Release { .. } => sum - followed_m,
            Gauge::Relatch => sum + followed_m,
        }
    }

    fn push(&self, gauge: Gauge, preload_loss: f64) -> Option<Push> {
        (self.compensating_m.is_none()).then(|| push(self, gauge, preload_loss))
    }

    fn is_straight_in_preload(&self) -> bool {
        true
    }

    fn release_deflection_m(&self, compliance_m_per_n: f64, preload_loss: f64) -> f64 {
        self.release_travel_m + compliance_m_per_n * self.force_n(preload_loss)
    }

    fn preload_share(&self, compliance_m_per_n: f64, preload_loss: f64) -> Option<f64> {
        let held = compliance_m_per_n * self.preload_force_n(preload_loss);
        Some(held / self.release_deflection_m(compliance_m_per_n, preload_loss))
    }

    fn release_curvature_per_m(&self, device: &Device, stiffness_n_m2: f64) -> f64 {
        let arm = device.push_point_m;
        let give = arm.powi(3) / (3.0 * stiffness_n_m2);
        let travel = self.release_deflection_m(give, device.release.preload_loss);
        2.0 * travel / arm.powi(2) - device.laws.initial_curvature_per_m
    }

    /// Against the latch: less what a compensating strip has moved it along.
    fn seen_m(&self, on: &Model, y: &[f64], current_squared: f64, _closed: bool) -> f64 {
        on.free_deflection_m(y, current_squared) - self.followed_m(on, y)
    }

    /// The rotation is integrated exactly from the curvature.
    fn outline(&self, on: &Model, y: &[f64], current_squared: f64, _closed: bool) -> Outline {
        let curvature = on.curvature_per_m(y, current_squared);
        let grid = &on.grid;
        let step = on.device.length_m / DRAWN as f64;
        let (mut x, mut height, mut rotation) = (0.0, 0.0, 0.0);
        let mut drawn = Outline {
            along_m: vec![0.0],
            x_m: vec![0.0],
            y_m: vec![0.0],
        };
        for k in 0..DRAWN {
            let (a, b) = (step * k as f64, step * (k + 1) as f64);
            let (ka, km, kb) = (
                grid.interpolate(&curvature, a),
                grid.interpolate(&curvature, 0.5 * (a + b)),
                grid.interpolate(&curvature, b),
            );
            let half = rotation + step * (5.0 * ka + 8.0 * km - kb) / 24.0;
            let next = rotation + step * (ka + 4.0 * km + kb) / 6.0;
            height += step * (f64::sin(rotation) + 4.0 * half.sin() + next.sin()) / 6.0;
            x += step * (f64::cos(rotation) + 4.0 * half.cos() + next.cos()) / 6.0;
            rotation = next;
            drawn.along_m.push(b);
            drawn.x_m.push(x);
            drawn.y_m.push(height);
        }
        drawn
    }

    /// At the free end.
    fn rotation_rad(&self, on: &Model, y: &[f64], current_squared: f64) -> f64 {
        let curvature = on.curvature_per_m(y, current_squared);
        let weights = on.grid.weight_m.iter();
        weights.zip(&curvature).map(|(w, k)| w * k).sum()
    }
}

impl Latch {
    /// What a compensating strip has moved the latch along with the strip, m. It takes no time: the
    /// strip is thin, and the air around it changes slowly.
    pub(super) fn followed_m(&self, on: &Model, y: &[f64]) -> f64 {
        let (Some(length_m), Some(air)) = (self.compensating_m, on.layout.housing) else {
            return 0.0;
        };
        let laws = &on.device.laws;
        let curvature = laws.bend(y[air]).curvature_per_m - laws.initial_curvature_per_m;
        0.5 * curvature * length_m * length_m
    }
}

/// Released once the free deflection exceeds the clearance and the push against the spring; caught
/// again below the relatch line, where nothing is pushed.
fn push(latch: &Latch, gauge: Gauge, preload_loss: f64) -> Push {
    match gauge {
        Gauge::Release { in_hand_m } => Push {
            deflection: 1.0,
            compliance_n: -latch.force_n(preload_loss),
            constant_m: in_hand_m - latch.release_travel_m,
        },
        Gauge::Relatch => Push {
            deflection: -1.0,
            compliance_n: 0.0,
            constant_m: latch.relatch_travel_m,
        },
    }
}
