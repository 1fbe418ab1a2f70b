//! Where the heat goes, and whether it adds up.

use super::build::winding_resistance;
use super::{Model, Phase, Plant};

/// Powers at one moment, W.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Powers {
    /// Electrical power made into heat in all modelled parts.
    pub electrical_w: f64,
    /// Heat given to the surroundings.
    pub lost_w: f64,
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
        let (d, l) = (&self.device, &self.layout);
        let strip: f64 = (0..l.strip)
            .map(|j| self.grid.weight_m[j] * d.laws.heat_j_per_m(reference_k, y[j]))
            .sum();
        let node = |c: f64, i: usize| c * (y[i] - reference_k);
        let mut sum = strip
            + node(d.clamped.heat_capacity_j_per_k, 0)
            + node(d.moving.heat_capacity_j_per_k, l.strip - 1)
            + node(d.fixed.heat_capacity_j_per_k, l.fixed);
        if let (Some(i), Some(w)) = (l.winding, &d.winding) {
            sum += node(w.heat_capacity_j_per_k, i);
        }
        if let (Some(i), Some(h)) = (l.housing, &d.housing) {
            sum += node(h.heat_capacity_j_per_k, i);
        }
        sum
    }
}

impl Plant<'_> {
    /// Powers at a time and state.
    pub fn powers(&self, t: f64, y: &[f64]) -> Powers {
        let m = self.model;
        let (d, l, g) = (&m.device, &m.layout, &m.grid);
        let n = l.strip;
        let (i, _) = self.drive.current(t);
        let squared = i * i;
        let ambient = self.drive.ambient_k(t);
        let air = l.housing.map_or(ambient, |h| y[h]);
        let strip: f64 = (0..n)
            .map(|j| d.laws.line(y[j]).resistance * g.weight_m[j])
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
        to_air += d.moving.conductance_w_per_k * (y[n - 1] - air);
        if let (Some(iw), Some(w)) = (l.winding, &d.winding) {
            resistance += winding_resistance(w, y[iw]).0;
            to_air += w.conductance_to_air_w_per_k * (y[iw] - air);
        }
        let mut lost = d.clamped.conductance_w_per_k * (y[0] - ambient)
            + d.fixed.conductance_w_per_k * (y[l.fixed] - ambient);
        lost += match (l.housing, &d.housing) {
            (Some(ih), Some(h)) => h.conductance_w_per_k * (y[ih] - ambient),
            _ => to_air,
        };
        Powers {
            electrical_w: squared * resistance,
            lost_w: lost,
        }
    }
}
