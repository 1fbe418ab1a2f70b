//! Slopes of the heat equation against the state: exact, so that the implicit steps keep their
//! order.

use super::Plant;
use super::build::winding_resistance;
use super::drive::Phase;
use super::plant::NodeTerms;
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
        self.node_terms(t, y, &mut terms);
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
                for (r, a_r) in row.iter().enumerate() {
                    for (c, a_c) in row.iter().enumerate() {
                        let conduction = terms[e.first + c].line.conduction;
                        a.add(
                            e.first + r,
                            e.first + c,
                            -a_r * e.weight_m[q] * a_c * conduction,
                        );
                    }
                }
            }
        }
        let seat = d.clamped.conductance_w_per_k;
        a.add(0, 0, -seat);
        if let (Some(im), Some((_, conductance, _))) = (l.motor, d.motor()) {
            a.add(0, im, seat);
            a.add(im, 0, seat);
            a.add(im, im, -seat - conductance);
        }
        a.add(l.moving, l.moving, -d.moving.conductance_w_per_k);
        a.add(f, f, -d.fixed.conductance_w_per_k);
        if let Some(ih) = l.housing {
            a.add(l.moving, ih, d.moving.conductance_w_per_k);
            a.add(ih, l.moving, d.moving.conductance_w_per_k);
            a.add(ih, ih, -d.moving.conductance_w_per_k);
        }
        if self.drive.phase == Phase::Closed {
            let (conductance, slope) = d.contact.conductance(y[l.moving], y[f]);
            let lean = slope * (y[l.moving] - y[f]);
            for (row, sign) in [(l.moving, -1.0), (f, 1.0)] {
                a.add(row, l.moving, sign * (conductance + lean));
                a.add(row, f, sign * (lean - conductance));
            }
        }
        if let (Some(iw), Some(w)) = (l.winding, &d.winding) {
            let per_length = w.conductance_to_strip_w_per_k / g.extent_m;
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
        if let Some(through) = &d.through {
            self.mode_columns(through, &terms, strip_squared, a);
        }
        let shunt_row = match d.shunt_heat_to {
            None => None,
            Some(ShuntNode::ClampedTerminal) => Some(0),
            Some(ShuntNode::MovingContact) => Some(l.moving),
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
                if let (Some(through), Some(heat)) = (&d.through, &terms[j].heat) {
                    for k in 0..through.len() {
                        let slope = through.resistance_slope(heat, Some(k));
                        let column = l.modes + j * through.len() + k;
                        a.add(row, column, factor * slope * g.weight_m[j]);
                    }
                }
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
            self.mode_rows(through, &terms, y, air, a);
        }
    }

    /// What the modes do to the mean: the resistance of their layers, and conduction along them.
    fn mode_columns(
        &self,
        through: &ThroughLaw,
        terms: &[NodeTerms],
        strip_squared: f64,
        a: &mut ProfileMatrix,
    ) {
        let m = self.model;
        let (d, l, g) = (&m.device, &m.layout, &m.grid);
        let slow = through.len();
        for (j, term) in terms.iter().enumerate() {
            let Some(heat) = &term.heat else { continue };
            for k in 0..slow {
                let slope = through.resistance_slope(heat, Some(k));
                a.add(
                    j,
                    l.modes + j * slow + k,
                    strip_squared * slope * g.weight_m[j],
                );
            }
        }
        let p = g.order + 1;
        for e in &g.elements {
            for q in 0..p {
                let row = &e.derivative_per_m[q * p..(q + 1) * p];
                for k in 0..slow {
                    let w = e.weight_m[q] * d.laws.width_m * through.axial(k);
                    for (r, a_r) in row.iter().enumerate() {
                        for (c, a_c) in row.iter().enumerate() {
                            a.add(
                                e.first + r,
                                l.modes + (e.first + c) * slow + k,
                                -a_r * w * a_c,
                            );
                        }
                    }
                }
            }
        }
    }

    /// Rows of the modes across the layers.
    fn mode_rows(
        &self,
        through: &ThroughLaw,
        terms: &[NodeTerms],
        y: &[f64],
        air: f64,
        a: &mut ProfileMatrix,
    ) {
        let m = self.model;
        let (d, l, g) = (&m.device, &m.layout, &m.grid);
        let slow = through.len();
        for (j, term) in terms.iter().enumerate() {
            let (surface, against_air) = d.cooling.flux_slopes(y[j], air);
            for k in 0..slow {
                let row = l.modes + j * slow + k;
                a.add(row, row, -through.rate_per_s(k));
                let (Some(heat), false) = (&term.heat, self.is_end(j)) else {
                    continue;
                };
                let per_face = -through.faces(k) * d.cooling.uncovered();
                a.add(
                    row,
                    j,
                    through.joule_slope(heat, k, None) + per_face * surface,
                );
                for other in 0..slow {
                    a.add(
                        row,
                        l.modes + j * slow + other,
                        through.joule_slope(heat, k, Some(other)),
                    );
                }
                if let Some(ih) = l.housing {
                    a.add(row, ih, per_face * against_air);
                }
            }
        }
        let p = g.order + 1;
        for e in &g.elements {
            for r in (0..p).filter(|r| !self.is_end(e.first + r)) {
                let j = e.first + r;
                for c in 0..p {
                    let d = |q: usize, i: usize| e.derivative_per_m[q * p + i];
                    let second: f64 = (0..p)
                        .map(|q| -d(q, r) * e.weight_m[q] * d(q, c))
                        .sum::<f64>()
                        / g.weight_m[j];
                    for k in 0..slow {
                        let row = l.modes + j * slow + k;
                        a.add(row, e.first + c, through.axial(k) * second);
                        for other in 0..slow {
                            let column = l.modes + (e.first + c) * slow + other;
                            a.add(row, column, through.coupling(k, other) * second);
                        }
                    }
                }
            }
        }
    }
}
