//! The heat equation of a model under its drive: the right-hand side.

use super::build::winding_resistance;
use super::drive::{Ambient, Drive, Phase};
use super::through::{LayerHeat, Station};
use super::{Line, Model};
use crate::scenario::{MachineCase, ShuntNode};
use crate::solve::{ProfileMatrix, Shape, System};

/// Temperature from which Kirchhoff's integral counts, K; only differences matter.
const KIRCHHOFF_FROM_K: f64 = 300.0;

/// A model under a drive.
pub struct Plant<'a> {
    /// The device on its grid.
    pub model: &'a Model,
    /// What drives it.
    pub drive: Drive,
}

/// Terms of the equation at one node of the strip.
#[derive(Clone, Default)]
pub(super) struct NodeTerms {
    pub(super) line: Line,
    pub(super) mass: f64,
    /// Integral of the conduction over temperature, W m.
    pub(super) kirchhoff: f64,
    /// Heat of the layers, where it is resolved.
    pub(super) heat: Option<LayerHeat>,
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

    /// Temperature of what the clamped end (a disc: its rim) sits on, K.
    pub fn seat_k(&self, t: f64, y: &[f64]) -> f64 {
        match (&self.model.device.machine_case, self.model.layout.motor) {
            (_, Some(motor)) => y[motor],
            (Some(MachineCase::Given(points)), _) => Ambient::of(points, t).0.at(t),
            _ => self.drive.ambient_k(t),
        }
    }

    pub(super) fn node_terms(&self, t: f64, y: &[f64], terms: &mut Vec<NodeTerms>) {
        let m = self.model;
        let n = m.layout.strip;
        let squared = self.strip_current_squared(t);
        terms.clear();
        terms.extend((0..n).map(|j| {
            let mut line = m.line(y[j], j);
            let heat = m.device.through.as_ref().map(|through| {
                let heat = through.heat(y[j], m.amplitudes(y, j), squared);
                line.resistance = heat.resistance;
                line.resistance_slope = through.resistance_slope(&heat, None);
                heat
            });
            NodeTerms {
                kirchhoff: m.device.laws.conduction_integral(KIRCHHOFF_FROM_K, y[j]),
                mass: m.grid.weight_m[j] * line.capacity,
                line,
                heat,
            }
        }));
        terms[0].mass += m.device.clamped.heat_capacity_j_per_k;
        terms[m.layout.moving].mass += m.device.moving.heat_capacity_j_per_k;
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
                let mut flux: f64 = row
                    .iter()
                    .zip(&terms[e.first..])
                    .map(|(a, b)| a * b.kirchhoff)
                    .sum();
                if let Some(through) = &d.through {
                    let slow = through.len();
                    for k in 0..slow {
                        let bend: f64 = row
                            .iter()
                            .enumerate()
                            .map(|(c, a)| a * y[l.modes + (e.first + c) * slow + k])
                            .sum();
                        flux += d.laws.width_m * through.axial(k) * bend;
                    }
                }
                let flux = e.weight_m[q] * flux;
                for (f, a) in flow[e.first..e.first + p].iter_mut().zip(row) {
                    *f -= a * flux;
                }
            }
        }
        let shunt = squared * d.current_share * (1.0 - d.current_share) * strip_resistance;
        let seat = d.clamped.conductance_w_per_k * (y[0] - self.seat_k(t, y));
        flow[0] += squared * d.clamped.resistance_ohm - seat;
        if let (Some(im), Some((resistance, conductance, _))) = (l.motor, d.motor()) {
            flow[im] += seat + squared * resistance - conductance * (y[im] - ambient);
        }
        let moving_loss = d.moving.conductance_w_per_k * (y[l.moving] - air);
        flow[l.moving] -= moving_loss;
        to_air += moving_loss;
        let f = l.fixed;
        flow[f] -= d.fixed.conductance_w_per_k * (y[f] - ambient);
        if self.drive.phase == Phase::Closed {
            let half = 0.5 * squared * d.contact.resistance_ohm;
            let (conductance, _) = d.contact.conductance(y[l.moving], y[f]);
            let across = conductance * (y[l.moving] - y[f]);
            flow[l.moving] += half - across;
            flow[f] += half + across;
        }
        if let (Some(iw), Some(w)) = (l.winding, &d.winding) {
            let per_length = w.conductance_to_strip_w_per_k / g.extent_m;
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
            Some(ShuntNode::MovingContact) => flow[l.moving] += shunt,
            Some(ShuntNode::Housing) => {
                if let Some(ih) = l.housing {
                    flow[ih] += shunt;
                }
            }
        }
    }

    /// A terminal holds the layers together.
    pub(super) fn is_end(&self, j: usize) -> bool {
        j == 0 || j + 1 == self.model.layout.strip
    }

    /// A station without its axial curvatures.
    pub(super) fn station<'y>(&self, t: f64, y: &'y [f64], j: usize, air_k: f64) -> Station<'y> {
        let cooling = &self.model.device.cooling;
        Station {
            t_k: y[j],
            amplitudes: self.model.amplitudes(y, j),
            current_squared: self.strip_current_squared(t),
            second_derivative: 0.0,
            mode_second_derivative: &[],
            face_flux: cooling.uncovered() * cooling.flux(y[j], air_k),
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
        } else if Some(i) == l.motor {
            d.motor().map_or(1.0, |(_, _, capacity)| capacity)
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
        if let Some(poles) = &self.model.poles {
            return poles.rhs(self, t, y, dy);
        }
        let l = &self.model.layout;
        let mut terms = Vec::with_capacity(l.strip);
        self.node_terms(t, y, &mut terms);
        self.flows(t, y, &terms, dy);
        for (i, v) in dy.iter_mut().enumerate().take(l.modes) {
            *v /= self.mass(&terms, i);
        }
        if let Some(through) = &self.model.device.through {
            let air = self.air_k(t, y);
            let second = self.model.second_derivative(y);
            let mode_second = self.model.mode_second_derivative(y);
            let slow = through.len();
            for j in 0..l.strip {
                let at = Station {
                    second_derivative: second[j],
                    mode_second_derivative: &mode_second[j * slow..(j + 1) * slow],
                    ..self.station(t, y, j, air)
                };
                for k in 0..slow {
                    let i = l.modes + j * slow + k;
                    dy[i] = -through.rate_per_s(k) * y[i];
                    if let (Some(heat), false) = (&terms[j].heat, self.is_end(j)) {
                        dy[i] += through.source(k, heat, &at);
                    }
                }
            }
        }
    }

    fn jacobian(&self, t: f64, y: &[f64], jacobian: &mut ProfileMatrix) {
        match &self.model.poles {
            Some(poles) => poles.add_jacobian(self, t, y, jacobian),
            None => self.add_jacobian(t, y, jacobian),
        }
    }

    fn time_slope(&self, t: f64, y: &[f64], dfdt: &mut [f64]) {
        self.time_slope_at(t, y, dfdt);
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
