//! How far the strip is from release and from relatch: the event functions.

use super::through::Station;
use super::{Bend, Gauge, Model, Plant};
use crate::scenario::Mechanism;
use crate::solve::Event;

impl Plant<'_> {
    /// Signed distance from an event at a time and state, m: negative before it.
    pub fn distance_m(&self, gauge: Gauge, t: f64, y: &[f64]) -> f64 {
        let squared = self.strip_current_squared(t);
        match gauge {
            Gauge::Release { in_hand_m } => self.model.release_excess_m(y, squared) + in_hand_m,
            Gauge::Relatch => self.model.relatch_excess_m(y, squared),
        }
    }

    /// The event as the general way sees it.
    pub fn event(&self, gauge: Gauge) -> PlantEvent<'_> {
        PlantEvent { plant: self, gauge }
    }

    /// The release as the general way sees it.
    pub fn release(&self) -> PlantEvent<'_> {
        self.event(Gauge::Release { in_hand_m: 0.0 })
    }
}

/// An event of a protector under its drive.
pub struct PlantEvent<'a> {
    plant: &'a Plant<'a>,
    gauge: Gauge,
}

impl Event for PlantEvent<'_> {
    fn value(&self, t: f64, y: &[f64]) -> f64 {
        self.plant.distance_m(self.gauge, t, y)
    }
}

impl Model {
    /// Bending at one place, heat across the layers included.
    fn bend(
        &self,
        t_k: f64,
        amplitudes: &[f64],
        second_derivative: f64,
        current_squared: f64,
    ) -> Bend {
        let mut bend = self.device.laws.bend(t_k);
        if let Some(through) = &self.device.through {
            // Loss at the faces and conduction between modes reach the slow modes in the heat
            // equation; in the fast ones they are lost in the noise.
            bend.curvature_per_m += through.curvature_per_m(&Station {
                t_k,
                amplitudes,
                current_squared,
                second_derivative,
                mode_second_derivative: &[],
                face_flux: 0.0,
            });
        }
        bend
    }

    /// Bending at every bending point.
    pub(super) fn bends(&self, y: &[f64], current_squared: f64) -> Vec<Bend> {
        let temperatures = self.bending.values(&self.grid, |j| y[j]);
        let slow = self.slow_modes();
        if slow == 0 {
            return temperatures
                .iter()
                .map(|t| self.device.laws.bend(*t))
                .collect();
        }
        let second = self.second_derivative(y);
        let second = self.bending.values(&self.grid, |j| second[j]);
        let modes: Vec<Vec<f64>> = (0..slow)
            .map(|k| {
                self.bending
                    .values(&self.grid, |j| self.amplitudes(y, j)[k])
            })
            .collect();
        (0..temperatures.len())
            .map(|i| {
                let amplitudes: Vec<f64> = modes.iter().map(|m| m[i]).collect();
                self.bend(temperatures[i], &amplitudes, second[i], current_squared)
            })
            .collect()
    }

    /// Curvature at every node, 1/m.
    pub fn curvature_per_m(&self, y: &[f64], current_squared: f64) -> Vec<f64> {
        let second = self.second_derivative(y);
        (0..self.layout.strip)
            .map(|j| {
                self.bend(y[j], self.amplitudes(y, j), second[j], current_squared)
                    .curvature_per_m
            })
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
        self.bending
            .values(&self.grid, |j| y[j])
            .iter()
            .zip(&self.compliance_weight)
            .map(|(t, w)| w / self.device.laws.bend(*t).stiffness_n_m2)
            .sum()
    }

    /// Force that the strip must overcome to release the latch, N (0 for a snap blade).
    pub fn release_force_n(&self) -> f64 {
        self.device.release.force_n()
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
                self.blade_trip_excess_m(y, current_squared, model)
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
                self.blade_reset_excess_m(y, current_squared, model)
            }
        }
    }
}
