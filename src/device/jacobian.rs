//! Slopes of the heat equation against the state: exact, so that the implicit steps keep their order.

use super::Plant;
use super::build::winding_resistance;
use super::drive::Phase;
use super::through::ThroughLaw;
use crate::scenario::ShuntNode;
use crate::solve::ProfileMatrix;

impl Plant<'_> {
    /// Add the slopes of the right-hand side against every unknown.
    pub(super) fn add_jacobian(&self, t: f64, y: &[f64], a: &mut ProfileMatrix) {
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
}
