//! One unit of a population: the numbers in which units of one design differ.

use crate::device::Device;
use crate::device::contact_pair::resistance_ohm;
use crate::scenario::{
    ClampedTerminal, Convection, FixedContact, Housing, MovingContact, Release, Scenario, Winding,
};

/// Most layers a unit of a population may have (written out as a number in [`Unit`]: the compiler
/// stumbles over a constant there when a closure takes a unit apart).
pub const MOST_LAYERS: usize = 6;

/// A layer of one unit: its thickness, and factors on the laws of its alloy.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LayerUnit {
    /// m.
    pub thickness_m: f64,
    /// Factor on the resistivity.
    pub resistivity: f64,
    /// Factor on the heat capacity.
    pub heat_capacity: f64,
    /// Factor on the conductivity.
    pub conductivity: f64,
    /// Factor on Young's modulus.
    pub modulus: f64,
    /// Factor on the thermal strain.
    pub expansion: f64,
}

impl Default for LayerUnit {
    /// The laws of the alloy as they are, and no thickness yet.
    fn default() -> LayerUnit {
        LayerUnit {
            thickness_m: 0.0,
            resistivity: 1.0,
            heat_capacity: 1.0,
            conductivity: 1.0,
            modulus: 1.0,
            expansion: 1.0,
        }
    }
}

/// The heater winding of one unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WindingUnit {
    /// Resistance at 20 degC, ohm.
    pub resistance_ohm: f64,
    /// 1/K.
    pub temperature_coefficient_per_k: f64,
    /// J/K.
    pub heat_capacity_j_per_k: f64,
    /// To the strip, W/K.
    pub to_strip_w_per_k: f64,
    /// To the air, W/K.
    pub to_air_w_per_k: f64,
}

/// One unit. SI units.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Unit {
    /// Free length, m.
    pub length_m: f64,
    /// Push point as a part of the length.
    pub push_part: f64,
    /// m.
    pub width_m: f64,
    /// Layers; those beyond the device's own are ignored.
    pub layers: [LayerUnit; 6],
    /// Curvature of the stress-free strip, 1/m.
    pub initial_curvature_per_m: f64,
    /// Emissivity.
    pub emissivity: f64,
    /// Share of the surface not covered by a winding.
    pub uncovered: f64,
    /// Factor on the convection coefficient.
    pub convection: f64,
    /// Share of the current in the strip.
    pub current_share: f64,
    /// Clamped terminal: J/K, ohm, W/K.
    pub clamped: [f64; 3],
    /// Moving contact: J/K, W/K.
    pub moving: [f64; 2],
    /// Fixed contact: J/K, W/K.
    pub fixed: [f64; 2],
    /// Contact resistance, ohm.
    pub contact_ohm: f64,
    /// Heat conductance of the closed contact, W/K, where it is given (0: by Wiedemann and Franz).
    pub contact_w_per_k: f64,
    /// Winding.
    pub winding: Option<WindingUnit>,
    /// Housing: J/K, W/K.
    pub housing: Option<[f64; 2]>,
    /// Release travel, m.
    pub release_travel_m: f64,
    /// Relatch travel, m.
    pub relatch_travel_m: f64,
    /// Force that the strip must overcome, N.
    pub release_force_n: f64,
}

impl Unit {
    /// The numbers of a device; `None` when it is of a kind that cannot be computed side by side: a
    /// snap blade, heat across the layers resolved, shunt heat that is counted, a flat posture.
    pub fn of(device: &Device) -> Option<Unit> {
        if !device.goes_fast() || device.shunt_heat_to.is_some() {
            return None;
        }
        let laws = &device.laws;
        let strip = Unit {
            length_m: device.length_m,
            push_part: device.push_point_m / device.length_m,
            width_m: laws.width_m,
            initial_curvature_per_m: laws.initial_curvature_per_m,
            emissivity: device.cooling.emissivity(),
            uncovered: device.cooling.uncovered(),
            current_share: device.current_share,
            contact_ohm: device.contact.resistance_ohm,
            contact_w_per_k: device.contact.given_conductance_w_per_k().unwrap_or(0.0),
            convection: 1.0,
            ..Unit::default()
        };
        strip
            .layered(laws.layers.iter().map(|l| l.thickness_m), laws.coil)?
            .between(&device.clamped, &device.moving, &device.fixed)
            .heated(device.winding, device.housing)
            .released(&device.release)
    }

    /// The numbers of a scenario, without building its device: for scenarios that differ from one
    /// whose device is known to be served only in numbers that units carry. `None` for a snap blade
    /// or too many layers.
    pub fn of_scenario(s: &Scenario) -> Option<Unit> {
        let strip = Unit {
            length_m: s.strip.length_m,
            push_part: s.strip.push_point_m / s.strip.length_m,
            width_m: s.strip.width_m,
            initial_curvature_per_m: s.strip.initial_curvature_per_m,
            emissivity: s.cooling.emissivity,
            uncovered: s.cooling.uncovered_fraction,
            current_share: s.strip.current_share,
            contact_ohm: resistance_ohm(&s.contact, s.release.contact_loss).1,
            contact_w_per_k: s.contact.film_conductance_w_per_k.unwrap_or(0.0),
            convection: 1.0,
            ..Unit::default()
        };
        strip
            .layered(
                s.strip.layers.iter().map(|l| l.thickness_m),
                [s.strip.flexivity_factor, s.strip.resistivity_factor],
            )?
            .between(&s.clamped_terminal, &s.moving_contact, &s.fixed_contact)
            .heated(s.winding, s.housing)
            .released(&s.release)
    }

    fn layered(
        mut self,
        thicknesses_m: impl ExactSizeIterator<Item = f64>,
        [flexivity, resistivity]: [f64; 2],
    ) -> Option<Unit> {
        if thicknesses_m.len() > MOST_LAYERS {
            return None;
        }
        for (layer, thickness_m) in self.layers.iter_mut().zip(thicknesses_m) {
            layer.thickness_m = thickness_m;
            (layer.expansion, layer.resistivity) = (flexivity, resistivity);
        }
        Some(self)
    }

    fn between(
        self,
        clamped: &ClampedTerminal,
        moving: &MovingContact,
        fixed: &FixedContact,
    ) -> Unit {
        Unit {
            clamped: [
                clamped.heat_capacity_j_per_k,
                clamped.resistance_ohm,
                clamped.conductance_w_per_k,
            ],
            moving: [moving.heat_capacity_j_per_k, moving.conductance_w_per_k],
            fixed: [fixed.heat_capacity_j_per_k, fixed.conductance_w_per_k],
            ..self
        }
    }

    fn heated(self, winding: Option<Winding>, housing: Option<Housing>) -> Unit {
        Unit {
            winding: winding.map(|w| WindingUnit {
                resistance_ohm: w.resistance_ohm,
                temperature_coefficient_per_k: w.temperature_coefficient_per_k,
                heat_capacity_j_per_k: w.heat_capacity_j_per_k,
                to_strip_w_per_k: w.conductance_to_strip_w_per_k,
                to_air_w_per_k: w.conductance_to_air_w_per_k,
            }),
            housing: housing.map(|h| [h.heat_capacity_j_per_k, h.conductance_w_per_k]),
            ..self
        }
    }

    fn released(self, release: &Release) -> Option<Unit> {
        let latch = release.mechanism.latch()?;
        Some(Unit {
            release_travel_m: latch.release_travel_m,
            relatch_travel_m: latch.relatch_travel_m,
            release_force_n: release.force_n(),
            ..self
        })
    }
}

/// How the convection coefficient goes with the size of the strip: its length scale, m, where the
/// posture has one of the strip's own.
pub(in crate::device) fn convection_scale_m(convection: Convection, unit: &Unit) -> Option<f64> {
    match convection {
        Convection::EdgeOn => Some(unit.width_m),
        Convection::Upright => Some(unit.length_m),
        Convection::Flat
        | Convection::Constant { .. }
        | Convection::Forced { .. }
        | Convection::Gap { .. } => None,
    }
}
