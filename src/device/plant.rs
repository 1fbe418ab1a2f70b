//! The heat equation of a model under its drive: right-hand side and exact Jacobian.

use super::build::winding_resistance;
use super::through::{Station, ThroughLaw};
use super::{Line, Model};
use crate::load::Piece;
use crate::scenario::ShuntNode;
use crate::solve::{ProfileMatrix, Shape, System};

/// Contacts closed or open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Phase {
    /// Current flows and the contact conducts heat.
    Closed,
    /// No current, no contact.
    Open,
}

/// A straight piece of the ambient temperature against absolute time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ambient {
    /// Time of reference, s.
    pub at_s: f64,
    /// Temperature there, K.
    pub value_k: f64,
    /// Slope, K/s.
    pub slope_k_per_s: f64,
}

impl Ambient {
    /// The same temperature for ever.
    pub fn constant(value_k: f64) -> Ambient {
        Ambient {
            at_s: 0.0,
            value_k,
            slope_k_per_s: 0.0,
        }
    }

    fn at(&self, t: f64) -> f64 {
        if self.slope_k_per_s == 0.0 {
            self.value_k
        } else {
            self.value_k + self.slope_k_per_s * (t - self.at_s)
        }
    }
}

/// What drives the protector over one smooth piece of time.
#[derive(Debug, Clone, Copy)]
pub struct Drive {
    /// Closed or open.
    pub phase: Phase,
    /// Current in programme time.
    pub current: Piece,
    /// Absolute time at which the programme started, s.
    pub programme_start_s: f64,
    /// Ambient in absolute time.
    pub ambient: Ambient,
}

impl Drive {
    /// A constant current at a constant ambient.
    pub fn constant(current_a: f64, ambient_k: f64) -> Drive {
        Drive {
            phase: Phase::Closed,
            current: Piece::constant(current_a),
            programme_start_s: 0.0,
            ambient: Ambient::constant(ambient_k),
        }
    }

    /// Open contacts at a constant ambient.
    pub fn open(ambient_k: f64) -> Drive {
        Drive {
            phase: Phase::Open,
            ..Drive::constant(0.0, ambient_k)
        }
    }

    /// Current, A, and its slope, A/s, at absolute time `t`.
    pub fn current(&self, t: f64) -> (f64, f64) {
        match self.phase {
            Phase::Closed => self.current.at(t - self.programme_start_s),
            Phase::Open => (0.0, 0.0),
        }
    }

    /// Ambient, K, at absolute time `t`.
    pub fn ambient_k(&self, t: f64) -> f64 {
        self.ambient.at(t)
    }
}

/// A model under a drive.
pub struct Plant<'a> {
    /// The device on its grid.
    pub model: &'a Model,
    /// What drives it.
    pub drive: Drive,
}

/// Terms of the equation at one node of the strip.
#[derive(Clone, Copy, Default)]
struct NodeTerms {
    line: Line,
    mass: f64,
}

impl Plant<'_> {
    /// Square of the current in the strip itself, A^2.
    pub fn strip_current_squared(&self, t: f64) -> f64 {
        let (i, _) = self.drive.current(t);
        (self.model.device.current_share * i).powi(2)
    }

    fn air_k(&self, t: f64, y: &[f64]) -> f64 {
        self.model
            .layout
            .housing
            .map_or_else(|| self.drive.ambient_k(t), |h| y[h])
    }

    fn node_terms(&self, y: &[f64], terms: &mut Vec<NodeTerms>) {
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
    fn flows(&self, t: f64, y: &[f64], terms: &[NodeTerms], flow: &mut [f64]) {
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

    fn station(
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

    /// Rows of the through-thickness modes.
    fn through_jacobian(
        &self,
        through: &ThroughLaw,
        y: &[f64],
        strip_squared: f64,
        air: f64,
        a: &mut ProfileMatrix,
    ) {
        let m = self.model;
        let (d, l, g) = (&m.device, &m.layout, &m.grid);
        let slow = through.len();
        for j in 0..l.strip {
            let at = self.station(y, j, strip_squared, air, 0.0);
            let (surface, against_air) = d.cooling.flux_slopes(y[j], air);
            for k in 0..slow {
                let row = l.modes + j * slow + k;
                let (joule, _, per_face) = through.source_slopes(k, at);
                let per_face = per_face * d.cooling.uncovered();
                a.add(row, row, -through.rate_per_s(k));
                a.add(row, j, joule + per_face * surface);
                if let Some(ih) = l.housing {
                    a.add(row, ih, per_face * against_air);
                }
            }
        }
        let p = g.order + 1;
        for (number, e) in g.elements.iter().enumerate() {
            for q in 0..p {
                let j = e.first + q;
                let share = m.shared(number, q);
                let at = self.station(y, j, 0.0, air, 0.0);
                for c in 0..p {
                    let second: f64 = (0..p)
                        .map(|r| e.derivative_per_m[q * p + r] * e.derivative_per_m[r * p + c])
                        .sum();
                    for k in 0..slow {
                        let (_, axial, _) = through.source_slopes(k, at);
                        a.add(l.modes + j * slow + k, e.first + c, share * axial * second);
                    }
                }
            }
        }
    }

    fn mass(&self, terms: &[NodeTerms], i: usize) -> f64 {
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

    fn jacobian(&self, t: f64, y: &[f64], a: &mut ProfileMatrix) {
        let m = self.model;
        let (d, l, g) = (&m.device, &m.layout, &m.grid);
        let n = l.strip;
        let mut terms = Vec::with_capacity(n);
        self.node_terms(y, &mut terms);
        let mut flow = vec![0.0; l.len];
        self.flows(t, y, &terms, &mut flow);
        let (i, _) = self.drive.current(t);
        let squared = i * i;
        let strip_squared = squared * d.current_share * d.current_share;
        let air = self.air_k(t, y);
        let f = l.fixed;
        for j in 0..n {
            let w = g.weight_m[j];
            let (surface, against_air) = d.cooling.flux_slopes(y[j], air);
            let area = d.cooling.perimeter_m * w;
            a.add(
                j,
                j,
                strip_squared * terms[j].line.resistance_slope * w - surface * area,
            );
            if let Some(ih) = l.housing {
                a.add(j, ih, -against_air * area);
                a.add(ih, j, surface * area);
                a.add(ih, ih, against_air * area);
            }
        }
        for e in &g.elements {
            let p = g.order + 1;
            for q in 0..p {
                let row = &e.derivative_per_m[q * p..(q + 1) * p];
                let line = terms[e.first + q].line;
                let slope: f64 = row.iter().zip(&y[e.first..]).map(|(a, b)| a * b).sum();
                let (w, own) = (
                    e.weight_m[q] * line.conduction,
                    e.weight_m[q] * line.conduction_slope * slope,
                );
                for (r, a_r) in row.iter().enumerate() {
                    for (c, a_c) in row.iter().enumerate() {
                        a.add(e.first + r, e.first + c, -a_r * w * a_c);
                    }
                    a.add(e.first + r, e.first + q, -a_r * own);
                }
            }
        }
        a.add(0, 0, -d.clamped.conductance_w_per_k);
        a.add(n - 1, n - 1, -d.moving.conductance_w_per_k);
        a.add(f, f, -d.fixed.conductance_w_per_k);
        if let Some(ih) = l.housing {
            a.add(n - 1, ih, d.moving.conductance_w_per_k);
            a.add(ih, n - 1, d.moving.conductance_w_per_k);
            a.add(ih, ih, -d.moving.conductance_w_per_k);
        }
        if self.drive.phase == Phase::Closed {
            let (conductance, slope) = d.contact.conductance(y[n - 1], y[f]);
            let lean = slope * (y[n - 1] - y[f]);
            for (row, sign) in [(n - 1, -1.0), (f, 1.0)] {
                a.add(row, n - 1, sign * (conductance + lean));
                a.add(row, f, sign * (lean - conductance));
            }
        }
        if let (Some(iw), Some(w)) = (l.winding, &d.winding) {
            let per_length = w.conductance_to_strip_w_per_k / d.length_m;
            for j in 0..n {
                let q = per_length * g.weight_m[j];
                a.add(j, iw, q);
                a.add(j, j, -q);
                a.add(iw, j, q);
                a.add(iw, iw, -q);
            }
            a.add(
                iw,
                iw,
                squared * winding_resistance(w, y[iw]).1 - w.conductance_to_air_w_per_k,
            );
            if let Some(ih) = l.housing {
                a.add(iw, ih, w.conductance_to_air_w_per_k);
                a.add(ih, iw, w.conductance_to_air_w_per_k);
                a.add(ih, ih, -w.conductance_to_air_w_per_k);
            }
        }
        if let (Some(ih), Some(h)) = (l.housing, &d.housing) {
            a.add(ih, ih, -h.conductance_w_per_k);
        }
        let shunt_row = match d.shunt_heat_to {
            None => None,
            Some(ShuntNode::ClampedTerminal) => Some(0),
            Some(ShuntNode::MovingContact) => Some(n - 1),
            Some(ShuntNode::Housing) => l.housing,
        };
        if let Some(row) = shunt_row {
            let factor = squared * d.current_share * (1.0 - d.current_share);
            for j in 0..n {
                a.add(
                    row,
                    j,
                    factor * terms[j].line.resistance_slope * g.weight_m[j],
                );
            }
        }
        for row in 0..l.modes {
            let mass = self.mass(&terms, row);
            a.scale_row(row, 1.0 / mass);
            if row < n {
                // The heat capacity depends on temperature: d(flow/mass) = ... - flow/mass^2 dmass.
                a.add(
                    row,
                    row,
                    -flow[row] / (mass * mass) * g.weight_m[row] * terms[row].line.capacity_slope,
                );
            }
        }
        if let Some(through) = &d.through {
            self.through_jacobian(through, y, strip_squared, air, a);
        }
    }

    fn time_slope(&self, t: f64, y: &[f64], dfdt: &mut [f64]) {
        let m = self.model;
        let (d, l, g) = (&m.device, &m.layout, &m.grid);
        let (i, slope) = self.drive.current(t);
        let ambient_slope = self.drive.ambient.slope_k_per_s;
        if slope == 0.0 && ambient_slope == 0.0 {
            return;
        }
        let n = l.strip;
        let mut terms = Vec::with_capacity(n);
        self.node_terms(y, &mut terms);
        let squared = 2.0 * i * slope;
        let strip_squared = squared * d.current_share * d.current_share;
        let mut strip_resistance = 0.0;
        for j in 0..n {
            dfdt[j] += strip_squared * terms[j].line.resistance * g.weight_m[j];
            strip_resistance += terms[j].line.resistance * g.weight_m[j];
        }
        dfdt[0] +=
            squared * d.clamped.resistance_ohm + d.clamped.conductance_w_per_k * ambient_slope;
        dfdt[l.fixed] += d.fixed.conductance_w_per_k * ambient_slope;
        if self.drive.phase == Phase::Closed {
            let half = 0.5 * squared * d.contact.resistance_ohm;
            dfdt[n - 1] += half;
            dfdt[l.fixed] += half;
        }
        if let (Some(iw), Some(w)) = (l.winding, &d.winding) {
            dfdt[iw] += squared * winding_resistance(w, y[iw]).0;
        }
        let shunt = squared * d.current_share * (1.0 - d.current_share) * strip_resistance;
        match d.shunt_heat_to {
            None => {}
            Some(ShuntNode::ClampedTerminal) => dfdt[0] += shunt,
            Some(ShuntNode::MovingContact) => dfdt[n - 1] += shunt,
            Some(ShuntNode::Housing) => {
                if let Some(ih) = l.housing {
                    dfdt[ih] += shunt;
                }
            }
        }
        if ambient_slope != 0.0 {
            match (l.housing, &d.housing) {
                (Some(ih), Some(h)) => dfdt[ih] += h.conductance_w_per_k * ambient_slope,
                _ => {
                    let air = self.drive.ambient_k(t);
                    for j in 0..n {
                        let (_, against_air) = d.cooling.flux_slopes(y[j], air);
                        dfdt[j] -=
                            against_air * d.cooling.perimeter_m * g.weight_m[j] * ambient_slope;
                    }
                    dfdt[n - 1] += d.moving.conductance_w_per_k * ambient_slope;
                    if let (Some(iw), Some(w)) = (l.winding, &d.winding) {
                        dfdt[iw] += w.conductance_to_air_w_per_k * ambient_slope;
                    }
                }
            }
        }
        for (row, v) in dfdt.iter_mut().enumerate().take(l.modes) {
            *v /= self.mass(&terms, row);
        }
        if let Some(through) = &d.through {
            // Joule sources go with the square of the current; the air's slope moves the faces' loss.
            let slow = through.len();
            let air = self.air_k(t, y);
            let air_slope = if l.housing.is_some() {
                0.0
            } else {
                ambient_slope
            };
            let mut per_square = vec![0.0; slow];
            for j in 0..n {
                let at = self.station(y, j, 1.0, air, 0.0);
                through.sources(
                    Station {
                        face_flux: 0.0,
                        ..at
                    },
                    &mut per_square,
                );
                let (_, against_air) = d.cooling.flux_slopes(y[j], air);
                for (k, per) in per_square.iter().enumerate() {
                    let (_, _, per_face) = through.source_slopes(k, at);
                    dfdt[l.modes + j * slow + k] = strip_squared * per
                        + per_face * d.cooling.uncovered() * against_air * air_slope;
                }
            }
        }
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
