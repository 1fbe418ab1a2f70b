//! How the strip bends: curvature, free deflection and compliance.

use super::through::Station;
use super::{Bend, Model};

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
}
