//! The part in a few numbers.

use crate::scenario::{MechanismKind, Reset};
use serde::{Deserialize, Serialize};

/// How the temperature across the layers was treated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "across", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Across {
    /// One temperature a section.
    OneTemperature,
    /// Resolved.
    Resolved {
        /// Modes kept.
        modes: usize,
    },
}

/// What is a disc's own.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct DiscPart {
    /// Diameter, mm.
    pub diameter_mm: f64,
    /// Rise as made, mm.
    pub rise_mm: f64,
    /// Whether it creeps instead of snapping.
    pub creeps: bool,
    /// What the one-term form makes of the warming at which it trips, against the full shell,
    /// relative; `None`: one of the two creeps.
    pub one_term_relative: Option<f64>,
}

/// The part in a few numbers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Part {
    /// Rated current, A.
    pub rated_current_a: f64,
    /// Reference air, degC.
    pub reference_ambient_c: f64,
    /// Air in the scenario at time zero, degC.
    pub ambient_c: f64,
    /// Coldest and hottest air in the scenario, degC, where it changes; answers beside the run are those
    /// of its first moment.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ambient_range_c: Option<[f64; 2]>,
    /// What the strip releases.
    pub mechanism: MechanismKind,
    /// Who closes it again.
    pub reset: Reset,
    /// Alloy of each layer, low-expansion side first.
    pub layer_alloys: Vec<String>,
    /// Thickness of each layer, mm.
    pub layer_thicknesses_mm: Vec<f64>,
    /// Total thickness, mm.
    pub thickness_mm: f64,
    /// Free length, mm; a disc: its diameter.
    pub length_mm: f64,
    /// Distance of the push point from the clamp, mm.
    pub push_point_mm: f64,
    /// Width, mm; a disc: its diameter.
    pub width_mm: f64,
    /// Flexivity kappa h / dT between the flat temperature and the trip temperature, 1/K.
    pub flexivity_per_k: f64,
    /// Resistance from terminal to terminal of a pole at the reference air, ohm.
    pub resistance_ohm: f64,
    /// Heat made at rated current in the steady state, of all poles, W (`None` if it trips below its
    /// rating).
    pub power_at_rated_w: Option<f64>,
    /// Millivolt drop at rated current in the steady state, across the pole that drops most, mV.
    pub drop_at_rated_mv: Option<f64>,
    /// Share of the release travel that the preload holds (latch), 0..1.
    pub preload_share: Option<f64>,
    /// Preload lost, 0..1.
    pub preload_loss: f64,
    /// Release deflection with no force (clearance), mm; a snap blade: rise of the cold blade.
    pub release_travel_mm: f64,
    /// Deflection at release including the push against the preload, mm.
    pub release_deflection_mm: f64,
    /// Relatch deflection, mm.
    pub relatch_travel_mm: Option<f64>,
    /// Uniform temperature that releases it without current, degC.
    pub trip_temperature_c: Option<f64>,
    /// Uniform temperature at or below which it relatches, degC.
    pub relatch_temperature_c: Option<f64>,
    /// Time constant of the strip to its surroundings near the trip, s.
    pub time_constant_s: Option<f64>,
    /// Contact resistance as new, ohm.
    pub contact_resistance_new_ohm: f64,
    /// Contact resistance as it is, ohm.
    pub contact_resistance_ohm: f64,
    /// Bending stiffness of the section at the flat temperature, N m^2.
    pub section_stiffness_n_m2: f64,
    /// Deflection of the push point per force at release (or at the trip point), mm/N.
    pub compliance_mm_per_n: f64,
    /// Thrust of a snap blade as it snaps through, N (`None`: a latch, or no snap).
    pub blade_thrust_n: Option<f64>,
    /// What is a disc's own; `None`: no disc.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub disc: Option<DiscPart>,
    /// Whether the temperature through the thickness was resolved.
    pub through_thickness: Across,
}

impl Part {
    /// Whether it closes by itself.
    pub fn resets_itself(&self) -> bool {
        self.reset == Reset::Automatic
    }
}
