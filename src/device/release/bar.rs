//! A trip bar on the grid: pushed by the strips of several poles.
//!
//! What is seen and drawn is the strip of the first pole.

use super::{Gauge, Outline, ReleaseMechanism};
use crate::device::{Device, Model};
use crate::physics::trip_bar::bar_position_m;
use crate::scenario::{Bar, BarKind};

/// Part of the given step over which slopes are taken.
const STEP: f64 = 1e-4;

impl ReleaseMechanism for Bar {
    fn distance_m(&self, on: &Model, gauge: Gauge, y: &[f64], _current_squared: f64) -> f64 {
        let strips = on.pole_strips(y);
        let force_n = self.latch.force_n(on.device.release.preload_loss);
        let mut latch = self.latch;
        latch.widen(self.followed_m(on, y));
        let foremost = |clearance_m: f64, force_n: f64| {
            let free = strips.iter().zip(&self.own_travel_m);
            let free: Vec<(f64, f64)> = free
                .map(|((d, s), own)| (d - clearance_m - own, *s))
                .collect();
            bar_position_m(&free, force_n)
        };
        match (self.kind, gauge) {
            (BarKind::Sum, Gauge::Release { in_hand_m }) => {
                foremost(latch.release_travel_m, force_n) + in_hand_m
            }
            (BarKind::Any, Gauge::Release { in_hand_m }) => {
                let free = strips.iter().zip(&self.own_travel_m);
                let beyond = free.map(|((d, s), own)| d - own - s * force_n);
                beyond.fold(f64::NEG_INFINITY, f64::max) - latch.release_travel_m + in_hand_m
            }
            (BarKind::Sum | BarKind::Any, Gauge::Relatch) => {
                let bent = strips.iter().map(|(d, _)| *d);
                latch.relatch_travel_m - bent.fold(f64::NEG_INFINITY, f64::max)
            }
            (BarKind::Differential, _) => {
                let arm = self.lever;
                let led = |force_n: f64| {
                    let held: Vec<(f64, f64)> = strips
                        .iter()
                        .map(|(d, s)| (-d - self.slot_play_m, *s))
                        .collect();
                    let back = -bar_position_m(&held, arm * force_n);
                    (1.0 + arm) * foremost(0.0, (1.0 + arm) * force_n) - arm * back
                };
                match gauge {
                    Gauge::Release { in_hand_m } => {
                        led(force_n) - latch.release_travel_m + in_hand_m
                    }
                    Gauge::Relatch => latch.relatch_travel_m - led(0.0),
                }
            }
        }
    }

    /// A bar moves no further than the strip that moves most, and by what that strip gives more
    /// under the force; which strips push may change on the way.
    fn steepness(&self, on: &Model, y: &[f64], along: &[f64]) -> Option<f64> {
        let force_n = (1.0 + self.lever) * self.latch.force_n(on.device.release.preload_loss);
        let there = |sign: f64| -> Vec<f64> {
            let moved = y.iter().zip(along).map(|(y, a)| y + sign * STEP * a);
            moved.collect()
        };
        let strips = |sign: f64| on.pole_strips(&there(sign));
        let (up, down) = (strips(1.0), strips(-1.0));
        let moves = up.iter().zip(&down).map(|(up, down)| {
            ((up.0 - down.0).abs() + force_n * (up.1 - down.1).abs()) / (2.0 * STEP)
        });
        let furthest = moves.fold(0.0, f64::max);
        let followed = self.followed_m(on, &there(1.0)) - self.followed_m(on, &there(-1.0));
        Some((1.0 + 2.0 * self.lever) * furthest + followed.abs() / (2.0 * STEP))
    }

    /// While the same strips push, which all of them do from about a third of the force on; a latch
    /// that sticks needs more than it did as new.
    fn is_straight_in_preload(&self) -> bool {
        true
    }

    /// With all strips bent alike.
    fn release_deflection_m(&self, compliance_m_per_n: f64, preload_loss: f64) -> f64 {
        self.balanced_m(compliance_m_per_n * self.latch.force_n(preload_loss))
    }

    fn preload_share(&self, compliance_m_per_n: f64, preload_loss: f64) -> Option<f64> {
        let without_m = self.balanced_m(compliance_m_per_n * self.latch.constant_force_n);
        let whole_m = self.release_deflection_m(compliance_m_per_n, preload_loss);
        Some((whole_m - without_m) / whole_m)
    }

    fn release_curvature_per_m(&self, device: &Device, stiffness_n_m2: f64) -> f64 {
        let arm = device.push_point_m;
        let give = arm.powi(3) / (3.0 * stiffness_n_m2);
        let travel = self.release_deflection_m(give, device.release.preload_loss);
        2.0 * travel / arm.powi(2) - device.laws.initial_curvature_per_m
    }

    fn seen_m(&self, on: &Model, y: &[f64], current_squared: f64, closed: bool) -> f64 {
        self.latch.seen_m(on, y, current_squared, closed)
    }

    fn outline(&self, on: &Model, y: &[f64], current_squared: f64, closed: bool) -> Outline {
        self.latch.outline(on, y, current_squared, closed)
    }

    fn rotation_rad(&self, on: &Model, y: &[f64], current_squared: f64) -> f64 {
        self.latch.rotation_rad(on, y, current_squared)
    }
}

impl Bar {
    /// What a compensating strip in the air between the poles has moved the latch along, m.
    fn followed_m(&self, on: &Model, y: &[f64]) -> f64 {
        if self.latch.compensating_m.is_none() {
            return 0.0;
        }
        let mut sum_m = 0.0;
        match &on.poles {
            Some(net) => net.each(&on.layout, y, |_, _, model, y| {
                sum_m += self.latch.followed_m(model, y);
            }),
            None => sum_m = self.latch.followed_m(on, y),
        }
        sum_m / self.count as f64
    }

    /// Deflection of every strip at which a part released by strips bent alike lets go, m; `give_m`
    /// is what the latch force takes from one strip alone.
    fn balanced_m(&self, give_m: f64) -> f64 {
        let travel_m = self.latch.release_travel_m;
        let share_m = give_m / self.count as f64;
        match self.kind {
            BarKind::Sum => travel_m + share_m,
            BarKind::Any => travel_m + give_m,
            // The foremost bar feels (1 + a) of the force, the hindmost a of it.
            BarKind::Differential => {
                let arm = self.lever;
                let lever = (1.0 + arm).powi(2) + arm.powi(2);
                travel_m + arm * self.slot_play_m + lever * share_m
            }
        }
    }
}

impl Model {
    /// Free deflection, m, and compliance, m/N, of the strip of every pole.
    fn pole_strips(&self, y: &[f64]) -> Vec<(f64, f64)> {
        let mut strips = Vec::new();
        let mut push = |model: &Model, y: &[f64]| {
            let bends = model.bends(y, 0.0);
            let (mut free_m, mut give) = (0.0, 0.0);
            for ((bend, d), s) in bends
                .iter()
                .zip(&model.deflection_weight)
                .zip(&model.compliance_weight)
            {
                free_m += d * bend.curvature_per_m;
                give += s / bend.stiffness_n_m2;
            }
            strips.push((free_m, give));
        };
        match &self.poles {
            Some(net) => net.each(&self.layout, y, |_, _, model, y| push(model, y)),
            None => push(self, y),
        }
        strips
    }
}
