//! The heat equation of a model under its drive: the right-hand side.

use super::build::winding_resistance;
use super::drive::{Drive, Phase};
use super::through::Station;
use super::{Line, Model};
use crate::scenario::ShuntNode;
use crate::solve::{ProfileMatrix, Shape, System};

/// A model under a drive.
pub struct Plant<'a> {
    /// The device on its grid.
    pub model: &'a Model,
    /// What drives it.
    pub drive: Drive,
}

/// Terms of the equation at one node of the strip.
#[derive(Clone, Copy, Default)]
pub(super) struct NodeTerms {
    pub(super) line: Line,
    pub(super) mass: f64,
}

impl Plant<'_> {
    /// Square of the current in the strip itself, A^2.
    pub fn strip_current_squared(&self, t: f64) -> f64 {
        let (i, _) = self.drive.current(t);
        (self.model.device.current_share * i).powi(2)
    }

    pub(super) fn air_k(&self, t: f64, y: &[f64]) -> f64 {
        self.model
            .layout
            .housing
            .map_or_else(|| self.drive.ambient_k(t), |h| y[h])
    }

    pub(super) fn node_terms(&self, y: &[f64], terms: &mut Vec<NodeTerms>) {
        let m = self.model;
        let n = m.layout.strip;
        terms.clear();
        terms.extend((0..n).map(|j| {
            let line = m.device.laws.line(y[j]);
            NodeTerms {
                line,
                mass: m.grid.weight_m[j] * line.capacity,
            }
        }));
        terms[0].mass += m.device.clamped.heat_capacity_j_per_k;
        terms[n - 1].mass += m.device.moving.heat_capacity_j_per_k;
    }

    /// Heat flows into every node, W (modes excluded).
    pub(super) fn flows(&self, t: f64, y: &[f64], terms: &[NodeTerms], flow: &mut [f64]) {
        let m = self.model;
        let (d, l, g) = (&m.device, &m.layout, &m.grid);
        let n = l.strip;
        let (i, _) = self.drive.current(t);
        let squared = i * i;
        let strip_squared = squared * d.current_share * d.current_share;
        let ambient = self.drive.ambient_k(t);
        let air = self.air_k(t, y);
        flow.fill(0.0);
        let mut to_air = 0.0;
        let mut strip_resistance = 0.0;
        for j in 0..n {
            let w = g.weight_m[j];
            let loss = d.cooling.flux(y[j], air) * d.cooling.perimeter_m * w;
            to_air += loss;
            strip_resistance += terms[j].line.resistance * w;
            flow[j] += strip_squared * terms[j].line.resistance * w - loss;
        }
        for e in &g.elements {
            let p = g.order + 1;
            for q in 0..p {
                let row = &e.derivative_per_m[q * p..(q + 1) * p];
                let slope: f64 = row.iter().zip(&y[e.first..]).map(|(a, b)| a * b).sum();
                let flux = e.weight_m[q] * terms[e.first + q].line.conduction * slope;
                for (f, a) in flow[e.first..e.first + p].iter_mut().zip(row) {
                    *f -= a * flux;
                }
            }
        }
        let shunt = squared * d.current_share * (1.0 - d.current_share) * strip_resistance;
        flow[0] +=
            squared * d.clamped.resistance_ohm - d.clamped.conductance_w_per_k * (y[0] - ambient);
        let moving_loss = d.moving.conductance_w_per_k * (y[n - 1] - air);
        flow[n - 1] -= moving_loss;
        to_air += moving_loss;
        let f = l.fixed;
        flow[f] -= d.fixed.conductance_w_per_k * (y[f] - ambient);
        if self.drive.phase == Phase::Closed {
            let half = 0.5 * squared * d.contact.resistance_ohm;
            let (conductance, _) = d.contact.conductance(y[n - 1], y[f]);
            let across = conductance * (y[n - 1] - y[f]);
            flow[n - 1] += half - across;
            flow[f] += half + across;
        }
        if let (Some(iw), Some(w)) = (l.winding, &d.winding) {
            let per_length = w.conductance_to_strip_w_per_k / d.length_m;
            let mut to_strip = 0.0;
            for j in 0..n {
                let q = per_length * g.weight_m[j] * (y[iw] - y[j]);
                flow[j] += q;
                to_strip += q;
            }
            let winding_loss = w.conductance_to_air_w_per_k * (y[iw] - air);
            to_air += winding_loss;
            flow[iw] += squared * winding_resistance(w, y[iw]).0 - to_strip - winding_loss;
        }
        if let (Some(ih), Some(h)) = (l.housing, &d.housing) {
            flow[ih] += to_air - h.conductance_w_per_k * (y[ih] - ambient);
        }
        match d.shunt_heat_to {
            None => {}
            Some(ShuntNode::ClampedTerminal) => flow[0] += shunt,
            Some(ShuntNode::MovingContact) => flow[n - 1] += shunt,
            Some(ShuntNode::Housing) => {
                if let Some(ih) = l.housing {
                    flow[ih] += shunt;
                }
            }
        }
    }

    pub(super) fn station(
        &self,
        y: &[f64],
        j: usize,
        current_squared: f64,
        air_k: f64,
        second_derivative: f64,
    ) -> Station {
        let cooling = &self.model.device.cooling;
        let face_flux = cooling.uncovered() * cooling.flux(y[j], air_k);
        Station {
            t_k: y[j],
            current_squared,
            second_derivative,
            face_flux,
        }
    }

    pub(super) fn mass(&self, terms: &[NodeTerms], i: usize) -> f64 {
        let (d, l) = (&self.model.device, &self.model.layout);
        if i < l.strip {
            terms[i].mass
        } else if i == l.fixed {
            d.fixed.heat_capacity_j_per_k
        } else if Some(i) == l.winding {
            d.winding.map_or(1.0, |w| w.heat_capacity_j_per_k)
        } else {
            d.housing.map_or(1.0, |h| h.heat_capacity_j_per_k)
        }
    }
}

impl System for Plant<'_> {
    fn shape(&self) -> Shape {
        self.model.shape()
    }

    fn rhs(&self, t: f64, y: &[f64], dy: &mut [f64]) {
        let l = &self.model.layout;
        let mut terms = Vec::with_capacity(l.strip);
        self.node_terms(y, &mut terms);
        self.flows(t, y, &terms, dy);
        for (i, v) in dy.iter_mut().enumerate().take(l.modes) {
            *v /= self.mass(&terms, i);
        }
        if let Some(through) = &self.model.device.through {
            let (squared, air) = (self.strip_current_squared(t), self.air_k(t, y));
            let second = self.model.second_derivative(y);
            let slow = through.len();
            for j in 0..l.strip {
                let first = l.modes + j * slow;
                through.sources(
                    self.station(y, j, squared, air, second[j]),
                    &mut dy[first..first + slow],
                );
                for k in 0..slow {
                    dy[first + k] -= through.rate_per_s(k) * y[first + k];
                }
            }
        }
    }

    fn jacobian(&self, t: f64, y: &[f64], jacobian: &mut ProfileMatrix) {
        self.add_jacobian(t, y, jacobian);
    }

    fn time_slope(&self, t: f64, y: &[f64], dfdt: &mut [f64]) {
        self.add_time_slope(t, y, dfdt);
    }

    fn lowest(&self, i: usize) -> f64 {
        if i < self.model.layout.modes {
            1.0
        } else {
            f64::NEG_INFINITY
        }
    }

    fn scale(&self, y: &[f64], i: usize) -> f64 {
        let l = &self.model.layout;
        if i < l.modes {
            1.0 + (y[i] - self.drive.ambient.value_k).abs()
        } else {
            // An amplitude that is worth ten kelvin somewhere in the section.
            10.0 * self.model.device.laws.capacity_per_area(350.0).sqrt() + y[i].abs()
        }
    }
}
