//! Where the heat goes, and whether it adds up.

use super::build::winding_resistance;
use super::{Model, Phase, Plant};
use crate::scenario::ShuntNode;

/// Powers at one moment, W.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Powers {
    /// Electrical power made into heat in all modelled parts.
    pub electrical_w: f64,
    /// Heat given to the surroundings.
    pub lost_w: f64,
}

/// Where the heat of the metal parts (strip, winding, terminals, contacts) goes, W.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct HeatFlows {
    /// Electrical power made into heat in these parts.
    pub electrical_w: f64,
    /// Convection from the faces of the strip.
    pub convection_w: f64,
    /// Radiation from the faces of the strip.
    pub radiation_w: f64,
    /// From both terminals into their wires.
    pub terminals_w: f64,
    /// From the moving contact and the winding to the air.
    pub contact_w: f64,
    /// Heat taken up; negative when it is given back.
    pub stored_w: f64,
}

/// Running account of energy.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct EnergyBalance {
    /// Electrical energy, J.
    pub in_j: f64,
    /// Heat given away, J.
    pub out_j: f64,
}

impl Model {
    /// Heat stored above a reference temperature, J.
    pub fn stored_j(&self, y: &[f64], reference_k: f64) -> f64 {
        if let Some(poles) = &self.poles {
            return poles.stored_j(&self.layout, y, reference_k);
        }
        let (d, l) = (&self.device, &self.layout);
        let strip: f64 = (0..l.strip)
            .map(|j| self.grid.weight_m[j] * d.laws.heat_j_per_m(reference_k, y[j]))
            .sum();
        let node = |c: f64, i: usize| c * (y[i] - reference_k);
        let mut sum = strip
            + node(d.clamped.heat_capacity_j_per_k, 0)
            + node(d.moving.heat_capacity_j_per_k, l.moving)
            + node(d.fixed.heat_capacity_j_per_k, l.fixed);
        if let (Some(i), Some(w)) = (l.winding, &d.winding) {
            sum += node(w.heat_capacity_j_per_k, i);
        }
        if let (Some(i), Some(h)) = (l.housing, &d.housing) {
            sum += node(h.heat_capacity_j_per_k, i);
        }
        if let (Some(i), Some((_, _, capacity))) = (l.motor, d.motor()) {
            sum += node(capacity, i);
        }
        sum
    }
}

impl Plant<'_> {
    /// Powers at a time and state.
    pub fn powers(&self, t: f64, y: &[f64]) -> Powers {
        let m = self.model;
        if let Some(poles) = &m.poles {
            return poles.powers(self, t, y);
        }
        let (d, l, g) = (&m.device, &m.layout, &m.grid);
        let n = l.strip;
        let (i, _) = self.drive.current(t);
        let squared = i * i;
        let ambient = self.drive.ambient_k(t);
        let air = l.housing.map_or(ambient, |h| y[h]);
        let strip: f64 = (0..n)
            .map(|j| m.resistance_per_m(y, j) * g.weight_m[j])
            .sum();
        // A shunt whose heat is not counted makes no heat in the modelled parts.
        let strip_share = if d.shunt_heat_to.is_some() {
            d.current_share
        } else {
            d.current_share.powi(2)
        };
        let mut resistance = strip * strip_share + d.clamped.resistance_ohm;
        if self.drive.phase == Phase::Closed {
            resistance += d.contact.resistance_ohm;
        }
        let mut to_air: f64 = (0..n)
            .map(|j| d.cooling.flux(y[j], air) * d.cooling.perimeter_m * g.weight_m[j])
            .sum();
        to_air += d.moving.conductance_w_per_k * (y[l.moving] - air);
        if let (Some(iw), Some(w)) = (l.winding, &d.winding) {
            resistance += winding_resistance(w, y[iw]).0;
            to_air += w.conductance_to_air_w_per_k * (y[iw] - air);
        }
        let mut lost = match (l.motor, d.motor()) {
            (Some(i), Some((motor, conductance, _))) => {
                resistance += motor;
                conductance * (y[i] - ambient)
            }
            _ => d.clamped.conductance_w_per_k * (y[0] - self.seat_k(t, y)),
        };
        lost += d.fixed.conductance_w_per_k * (y[l.fixed] - ambient);
        lost += match (l.housing, &d.housing) {
            (Some(ih), Some(h)) => h.conductance_w_per_k * (y[ih] - ambient),
            _ => to_air,
        };
        Powers {
            electrical_w: squared * resistance,
            lost_w: lost,
        }
    }

    /// Electrical power made into heat in the protector alone, without a motor on whose case it
    /// sits, W.
    pub fn own_power_w(&self, t: f64, y: &[f64]) -> f64 {
        let motor_ohm = self.model.device.motor().map_or(0.0, |(ohm, ..)| ohm);
        self.powers(t, y).electrical_w - self.drive.current(t).0.powi(2) * motor_ohm
    }

    /// Millivolt drop of the pole that drops most, V: what a meter across one pole shows. `None`
    /// where no current flows.
    pub fn drop_v(&self, t: f64, y: &[f64]) -> Option<f64> {
        if let Some(poles) = &self.model.poles {
            return poles.largest_drop_v(self, t, y);
        }
        let current_a = self.drive.current(t).0;
        (current_a > 0.0).then(|| self.own_power_w(t, y) / current_a)
    }

    /// Where the heat goes at a time and state. What is stored comes from the right-hand side of
    /// the heat equation, not from the other terms: that they add up is a check of both.
    pub fn heat_flows(&self, t: f64, y: &[f64]) -> HeatFlows {
        let m = self.model;
        if let Some(poles) = &m.poles {
            return poles.heat_flows(self, t, y);
        }
        let (d, l, g) = (&m.device, &m.layout, &m.grid);
        let n = l.strip;
        let (ambient, air) = (self.drive.ambient_k(t), self.air_k(t, y));
        let (mut convection_w, mut radiation_w) = (0.0, 0.0);
        for j in 0..n {
            let area = d.cooling.perimeter_m * g.weight_m[j];
            let radiated = d.cooling.radiated(y[j], air);
            radiation_w += radiated * area;
            convection_w += (d.cooling.flux(y[j], air) - radiated) * area;
        }
        let mut contact_w = d.moving.conductance_w_per_k * (y[l.moving] - air);
        if let (Some(i), Some(w)) = (l.winding, &d.winding) {
            contact_w += w.conductance_to_air_w_per_k * (y[i] - air);
        }
        let terminals_w = d.clamped.conductance_w_per_k * (y[0] - self.seat_k(t, y))
            + d.fixed.conductance_w_per_k * (y[l.fixed] - ambient);
        let mut terms = Vec::with_capacity(n);
        self.node_terms(t, y, &mut terms);
        let mut flow = vec![0.0; l.modes];
        self.flows(t, y, &terms, &mut flow);
        let outside = |i: usize| Some(i) == l.housing || Some(i) == l.motor;
        let in_metal = |(i, w): (usize, &f64)| if outside(i) { 0.0 } else { *w };
        let stored_w = flow.iter().enumerate().map(in_metal).sum();
        // Heat of a shunt that goes straight into the housing air never enters the metal.
        let past_metal = match d.shunt_heat_to {
            Some(ShuntNode::Housing) => {
                let strip: f64 = (0..n)
                    .map(|j| terms[j].line.resistance * g.weight_m[j])
                    .sum();
                let squared = self.drive.current(t).0.powi(2);
                squared * d.current_share * (1.0 - d.current_share) * strip
            }
            _ => 0.0,
        };
        HeatFlows {
            electrical_w: self.own_power_w(t, y) - past_metal,
            convection_w,
            radiation_w,
            terminals_w,
            contact_w,
            stored_w,
        }
    }
}
