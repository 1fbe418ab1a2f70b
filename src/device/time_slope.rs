//! Slope of the heat equation against time: a current that decays, an ambient that drifts.

use super::Plant;
use super::build::winding_resistance;
use super::drive::Phase;
use super::through::Station;
use crate::scenario::ShuntNode;

impl Plant<'_> {
    /// Add the slope of the right-hand side against time at fixed state.
    pub(super) fn add_time_slope(&self, t: f64, y: &[f64], dfdt: &mut [f64]) {
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
}
