//! What a scenario says, checked and in SI units. Everything below this module may rely on the
//! ranges stated here; nothing below it reads a file.
//!
//! Temperatures are kelvin, angles radians, everything else the SI unit named in the field.

use super::{Mechanism, Population};
use crate::load::Programme;
use crate::material::{Alloy, ContactMetal};
use crate::standards::{self, PublishedLimits};
use std::sync::Arc;

/// One protector, its surroundings, its load and what is asked of it.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Scenario {
    /// Short name, used as a title.
    pub title: String,
    /// The story and what it shows, in the author's words.
    pub shows: String,
    /// Whether equipment depends on it.
    pub used_for: UsedFor,
    /// What was set since it was written, as `path = value`.
    pub changed: Vec<String>,
    /// Rating and reference air.
    pub protector: Protector,
    /// The layered strip.
    pub strip: Strip,
    /// How the strip gives heat to the air.
    pub cooling: Cooling,
    /// The clamped terminal B.
    pub clamped_terminal: ClampedTerminal,
    /// The moving contact M at the free end.
    pub moving_contact: MovingContact,
    /// The fixed contact F.
    pub fixed_contact: FixedContact,
    /// The contact pair between M and F.
    pub contact: Contact,
    /// A heater winding around the strip, if there is one.
    pub winding: Option<Winding>,
    /// A closed housing with its own air, if there is one.
    pub housing: Option<Housing>,
    /// An instantaneous element beside the strip, if there is one.
    pub magnetic: Option<super::Magnetic>,
    /// How the current begins that it sees; always there with it.
    pub closing: Option<super::Closing>,
    /// Supply and cable with a fault at the far end.
    pub cable: Option<super::Cable>,
    /// Several poles on one trip bar; `None`: one strip alone.
    pub poles: Option<super::Poles>,
    /// A dial by which its rated current is set; `None`: it has one rating.
    pub dial: Option<super::Dial>,
    /// The case of the machine on which the rim of a disc sits; `None`: it gives its heat to the
    /// surroundings.
    pub machine_case: Option<super::MachineCase>,
    /// How it releases and relatches.
    pub release: Release,
    /// Air around the protector.
    pub surroundings: Surroundings,
    /// State before the load starts.
    pub before: Before,
    /// The current after time zero.
    pub load: Programme,
    /// Start-up profile for the ready wait; `None` when the scenario has none.
    pub start_up: Option<StartUp>,
    /// A history of events (run, wait, reset); empty for a plain run.
    pub history: Vec<HistoryStep>,
    /// Its wear over the years and the duty behind it, if the scenario says.
    pub ageing: Option<super::ageing::Ageing>,
    /// What to compute and how finely.
    pub ask: Ask,
    /// How units of this design differ.
    pub population: Population,
    /// Tolerances written beside numbers, by the dotted path of the number.
    pub tolerances: Vec<Tolerance>,
    /// Source keys of every property and limit the scenario uses.
    pub sources: Vec<String>,
}

impl Scenario {
    /// The title; of one in which something was set since it was written, that it is changed.
    pub fn name(&self) -> String {
        match self.changed.is_empty() {
            true => self.title.clone(),
            false => format!("{}, changed", self.title),
        }
    }

    /// The published limits that it names, as they hold for parts like it.
    pub fn limits(&self) -> Option<&'static PublishedLimits> {
        self.limits_of(self.protector.limits.as_deref()?)
    }

    /// The published limits of a name, as they hold for parts like it.
    pub fn limits_of(&self, name: &str) -> Option<&'static PublishedLimits> {
        let latch = self.release.mechanism.latch();
        match latch.and_then(|l| l.compensating_m) {
            Some(_) => standards::find_compensated(name),
            None => standards::find(name),
        }
    }
}

/// Rating and reference air of the protector.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Protector {
    /// Rated current, A (> 0).
    pub rated_current_a: f64,
    /// Air temperature the rating is stated for, K.
    pub reference_ambient_k: f64,
    /// Name of the published limits its characteristic is held against, if any
    /// (see `predict::limits`).
    pub limits: Option<String>,
}

/// A layered strip, clamped at x = 0.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Strip {
    /// Free length from the clamp, m.
    pub length_m: f64,
    /// Width, m.
    pub width_m: f64,
    /// Where the strip pushes the release, measured from the clamp, m (length unless given).
    pub push_point_m: f64,
    /// Layers from the low-expansion to the high-expansion side (at least one).
    pub layers: Vec<Layer>,
    /// Temperature at which the free strip is stress-free with its initial curvature, K.
    pub flat_temperature_k: f64,
    /// Curvature at the flat temperature, 1/m (0 unless given).
    pub initial_curvature_per_m: f64,
    /// Thermal strains of all layers over those of the alloys' data: the coil's own flexivity.
    pub flexivity_factor: f64,
    /// Resistivities of all layers over those of the alloys' data.
    pub resistivity_factor: f64,
    /// How the width bends.
    pub section: SectionKind,
    /// Share of the current that flows through the strip (1 unless shunted), 0 < share <= 1.
    pub current_share: f64,
    /// Node that receives the heat of the shunt, if it is to be counted.
    pub shunt_heat_to: Option<ShuntNode>,
    /// Whether temperature may vary through the thickness.
    pub through_thickness: ThroughThickness,
    /// Whether properties may be used outside their stated range.
    pub allow_extrapolation: bool,
}

/// One layer of the strip.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Layer {
    /// Its alloy.
    pub alloy: Arc<Alloy>,
    /// Its thickness, m (>= 0).
    pub thickness_m: f64,
}

/// How the section carries stress across the width.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum SectionKind {
    /// A narrow beam (default).
    Narrow,
    /// Wide and free to bow both ways: curvature from E/(1 - nu), force compliance from E/(1 -
    /// nu^2).
    WideFree,
    /// Held flat across the width: E/(1 - nu^2) and thermal strain (1 + nu) in both.
    HeldFlat,
}

/// Where the heat of a shunt goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum ShuntNode {
    /// The clamped terminal.
    ClampedTerminal,
    /// The moving contact.
    MovingContact,
    /// The air of the housing (needs a housing).
    Housing,
}

/// Whether the temperature may vary through the thickness.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum ThroughThickness {
    /// Resolve it when it matters (default).
    Auto,
    /// One temperature per section.
    Uniform,
    /// Resolve it.
    Resolved,
}

/// How the strip loses heat.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct Cooling {
    /// Posture or law of convection.
    pub convection: Convection,
    /// Emissivity of the strip, 0..=1.
    pub emissivity: f64,
    /// Share of the perimeter not covered by a winding, 0..=1 (1 unless given).
    pub uncovered_fraction: f64,
    /// Altitude above sea level, m.
    pub altitude_m: f64,
}

/// Posture or law of convection.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Convection {
    /// Strip on edge, air flowing along the width.
    EdgeOn,
    /// Strip upright, air flowing along the length.
    Upright,
    /// Strip lying flat.
    Flat,
    /// Constant coefficient.
    Constant {
        /// W/(m^2 K).
        coefficient_w_per_m2_k: f64,
    },
    /// Forced flow along a plate.
    Forced {
        /// Air speed, m/s.
        speed_m_per_s: f64,
        /// Flow length, m.
        flow_length_m: f64,
    },
    /// Conduction across a narrow air gap.
    Gap {
        /// Gap, m.
        gap_m: f64,
    },
}

/// Clamped terminal B.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct ClampedTerminal {
    /// J/K (> 0).
    pub heat_capacity_j_per_k: f64,
    /// Ohm (>= 0).
    pub resistance_ohm: f64,
    /// To the surroundings, W/K (>= 0).
    pub conductance_w_per_k: f64,
}

/// Moving contact M.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct MovingContact {
    /// J/K (> 0).
    pub heat_capacity_j_per_k: f64,
    /// To the air, W/K (>= 0).
    pub conductance_w_per_k: f64,
}

/// Fixed contact F.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct FixedContact {
    /// J/K (> 0).
    pub heat_capacity_j_per_k: f64,
    /// To the surroundings, W/K (>= 0).
    pub conductance_w_per_k: f64,
}

/// Contact pair.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Contact {
    /// Constant or Holm.
    pub resistance: ContactResistance,
    /// Contact metal, for softening and the Holm resistance.
    pub metal: Option<Arc<ContactMetal>>,
    /// Thermal conductance of the closed pair through the film, W/K; `None`: Wiedemann-Franz
    /// of the whole resistance.
    pub film_conductance_w_per_k: Option<f64>,
}

/// Resistance of the closed contact.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum ContactResistance {
    /// Constant, ohm.
    Constant(f64),
    /// Holm: film + constriction at the contact force.
    Holm {
        /// Film resistance, ohm.
        film_ohm: f64,
        /// Contact force as new, N.
        force_n: f64,
    },
}

/// A heater winding in series with the strip.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct Winding {
    /// Resistance at 20 degC, ohm.
    pub resistance_ohm: f64,
    /// Temperature coefficient about 20 degC, 1/K.
    pub temperature_coefficient_per_k: f64,
    /// J/K (> 0).
    pub heat_capacity_j_per_k: f64,
    /// Winding to strip, W/K.
    pub conductance_to_strip_w_per_k: f64,
    /// Winding to air, W/K.
    pub conductance_to_air_w_per_k: f64,
    /// Highest temperature its insulation stands, K.
    pub limit_k: Option<f64>,
}

/// Closed housing.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct Housing {
    /// J/K (> 0).
    pub heat_capacity_j_per_k: f64,
    /// To the surroundings, W/K (>= 0).
    pub conductance_w_per_k: f64,
}

/// How the protector releases.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct Release {
    /// Latch or snap blade.
    pub mechanism: Mechanism,
    /// Time from release to open contacts, s.
    pub opening_time_s: f64,
    /// By hand or by itself.
    pub reset: Reset,
    /// Part of the latch or thrust preload already lost, 0 <= loss < 0.95.
    pub preload_loss: f64,
    /// Part of the contact force already lost; equals `preload_loss` unless given.
    pub contact_loss: f64,
}

impl Release {
    /// Force that the strip must overcome to release it, N (0 where nothing is pushed).
    pub fn force_n(&self) -> f64 {
        self.mechanism.force_n(self.preload_loss)
    }

    /// The same release as it left the factory: nothing lost, no friction.
    pub fn as_new(&self) -> Release {
        let mut new = Release {
            preload_loss: 0.0,
            contact_loss: 0.0,
            ..*self
        };
        if let Some(latch) = new.mechanism.latch_mut() {
            latch.release_force_factor = 1.0;
        }
        new
    }

    /// The same release with a part of its preload lost; the contact loses as much of its force,
    /// unless what it has lost was given by itself.
    pub fn with_loss(&self, loss: f64) -> Release {
        Release {
            preload_loss: loss,
            contact_loss: if self.contact_loss == self.preload_loss {
                loss
            } else {
                self.contact_loss
            },
            ..*self
        }
    }
}

/// What a part is used for: another place has other cautions.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum UsedFor {
    /// It protects equipment.
    #[default]
    Equipment,
    /// It is shown on a bench or to a class.
    Teaching,
}

impl UsedFor {
    /// Whether it protects equipment.
    pub fn is_equipment(&self) -> bool {
        *self == UsedFor::Equipment
    }
}

/// Reset by hand or automatic.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Reset {
    /// A person resets it, after relatch.
    ByHand,
    /// It closes by itself at relatch.
    Automatic,
}

/// Air around the protector.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Surroundings {
    /// Ambient temperature against time: (s, K), linear between points, constant outside.
    pub ambient: Vec<(f64, f64)>,
}

/// State before time zero.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Before {
    /// Everything at the ambient.
    Cold,
    /// Steady with the contacts closed at this fraction of the rated current.
    Hot {
        /// Fraction of rated current.
        fraction_of_rated: f64,
    },
}

/// Start-up of the equipment after a reset.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct StartUp {
    /// Current after the reset.
    pub profile: Programme,
    /// Time over which it must not trip, s.
    pub horizon_s: f64,
    /// Deflection that must stay in hand, m.
    pub margin_m: f64,
}

/// One event of a history.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub enum HistoryStep {
    /// Carry the programme from its beginning until a trip, or for this long.
    Run {
        /// Current.
        programme: Programme,
        /// Longest time, s (infinite: until trip or proof that it never trips).
        longest_s: f64,
    },
    /// No current, for this long.
    Wait {
        /// s
        duration_s: f64,
    },
    /// No current until it relatches (and this much longer).
    WaitForRelatch {
        /// s
        and_then_s: f64,
    },
    /// Reset by hand; refused before relatch.
    Reset,
}

/// What to compute.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Ask {
    /// Times at which the state is reported, s.
    pub states_at_s: Vec<f64>,
    /// Preload losses for the preload-shift table.
    pub losses: Vec<f64>,
    /// Ambients for the correction table, K.
    pub ambients_k: Vec<f64>,
    /// Waits for the premature-reset table, s; empty: chosen from the relatch wait.
    pub waits_s: Vec<f64>,
    /// Relative accuracy asked of times and currents (default 1e-5).
    pub accuracy: f64,
    /// Longest load time simulated before the proof of 'never trips' takes over, s.
    pub longest_s: f64,
}

/// A tolerance written beside a number.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Tolerance {
    /// Dotted path, e.g. `strip.layer[1].thickness`.
    pub path: String,
    /// Value in SI.
    pub value: f64,
    /// Standard uncertainty in SI.
    pub standard_uncertainty: f64,
    /// Where it stands, bytes of the text.
    pub span: std::ops::Range<usize>,
}
