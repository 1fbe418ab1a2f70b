//! A device from a checked scenario.

use super::cooling::{FilmFit, HOT_FILM_K};
use super::fast::fit::{HOT_K, StripFit, USUAL_K};
use super::{ContactPair, CoolingLaw, Fineness, Model, StripLaws, ThroughLaw};
use crate::scenario::{
    Bar, ClampedTerminal, Disc, FixedContact, Housing, Latch, MachineCase, Mechanism,
    MovingContact, Poles, Release, Scenario, ShuntNode, ThroughThickness, Winding,
};
use std::fmt;
use std::sync::{Arc, Mutex};

/// Grids kept for a device.
const KEPT_MODELS: usize = 24;

/// A protector ready to be discretised. Plain SI numbers.
#[derive(Debug, Clone)]
pub struct Device {
    /// Layer laws.
    pub laws: StripLaws,
    /// Surface losses.
    pub cooling: CoolingLaw,
    /// Free length, m.
    pub length_m: f64,
    /// Push point from the clamp, m.
    pub push_point_m: f64,
    /// Share of the current in the strip.
    pub current_share: f64,
    /// Where the shunt's heat goes.
    pub shunt_heat_to: Option<ShuntNode>,
    /// Clamped terminal.
    pub clamped: ClampedTerminal,
    /// Moving contact.
    pub moving: MovingContact,
    /// Fixed contact.
    pub fixed: FixedContact,
    /// Contact pair with its present force.
    pub contact: ContactPair,
    /// Heater winding.
    pub winding: Option<Winding>,
    /// Housing.
    pub housing: Option<Housing>,
    /// Poles beside one another; `None`: one strip alone.
    pub poles: Option<Poles>,
    /// The case of the machine on which the rim of a disc sits.
    pub machine_case: Option<MachineCase>,
    /// Release with its present loss.
    pub release: Release,
    /// Heat across the layers, when it is resolved.
    pub through: Option<ThroughLaw>,
    /// Square of the strip's current, A^2, from which on heat across the layers matters.
    pub across_from_a2: f64,
    /// The strip's laws in polynomials.
    pub fit: Arc<StripFit>,
    /// The surface's law in polynomials, where it has that form.
    pub film: Option<FilmFit>,
    contact_as_new: crate::scenario::Contact,
    models: Models,
}

/// Grids a device has been put on; what is computed from the device starts empty in a changed one.
#[derive(Debug, Default)]
struct Models(Mutex<Vec<(Fineness, Arc<Model>)>>);

impl Clone for Models {
    fn clone(&self) -> Models {
        Models::default()
    }
}

/// Why a device cannot be built.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum DeviceError {
    /// The preload loss is out of range.
    Loss(f64),
}

impl fmt::Display for DeviceError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            DeviceError::Loss(loss) => write!(
                f,
                "a preload loss of {:.1} % is outside 0 % to 95 %: beyond that the contact hardly \
                 closes and the model does not hold",
                100.0 * loss
            ),
        }
    }
}

impl std::error::Error for DeviceError {}

impl Device {
    /// Build the device of a scenario.
    pub fn new(scenario: &Scenario) -> Result<Device, DeviceError> {
        let mut r = scenario.release;
        if let (Some(poles), Some(latch)) = (&scenario.poles, r.mechanism.latch()) {
            r.mechanism = Mechanism::Bar(Bar::new(*latch, poles));
        }
        for loss in [r.preload_loss, r.contact_loss] {
            if !(0.0..0.95).contains(&loss) {
                return Err(DeviceError::Loss(loss));
            }
        }
        let mut laws = StripLaws::new(&scenario.strip);
        let disc = r.mechanism.disc().copied();
        if let Some(disc) = &disc {
            laws.width_m = disc.width_m();
        }
        let through = (scenario.strip.through_thickness == ThroughThickness::Resolved)
            .then(|| ThroughLaw::new(&laws));
        let cooling = match &disc {
            Some(disc) => CoolingLaw::of_disc(&scenario.cooling, disc),
            None => CoolingLaw::new(&scenario.cooling, &scenario.strip),
        };
        let length_m = disc.map_or(scenario.strip.length_m, |d| d.length_m());
        Ok(Device {
            fit: Arc::new(StripFit::new(&laws, USUAL_K)),
            film: cooling.film_fit(),
            cooling,
            length_m,
            push_point_m: disc.map_or(scenario.strip.push_point_m, |_| length_m),
            current_share: scenario.strip.current_share,
            shunt_heat_to: scenario.strip.shunt_heat_to,
            clamped: scenario.clamped_terminal,
            moving: scenario.moving_contact,
            fixed: scenario.fixed_contact,
            contact: ContactPair::new(&scenario.contact, r.contact_loss),
            winding: scenario.winding,
            housing: scenario.housing,
            poles: scenario.poles.clone(),
            machine_case: scenario.machine_case.clone(),
            release: r,
            through,
            across_from_a2: 0.0,
            contact_as_new: scenario.contact.clone(),
            models: Models::default(),
            laws,
        })
    }

    /// Whether marches in registers serve this device; otherwise it goes the general way.
    pub fn goes_fast(&self) -> bool {
        let follows_air = |l: &Latch| l.compensating_m.is_some();
        self.through.is_none()
            && self.poles.is_none()
            && self.disc().is_none()
            && !self.release.mechanism.latch().is_some_and(follows_air)
    }

    /// Resistance, ohm, conductance, W/K, and heat capacity, J/K, of the motor on whose case a disc
    /// sits.
    pub fn motor(&self) -> Option<(f64, f64, f64)> {
        match self.machine_case {
            Some(MachineCase::Motor {
                heat_capacity_j_per_k,
                conductance_w_per_k,
                resistance_ohm,
            }) => Some((resistance_ohm, conductance_w_per_k, heat_capacity_j_per_k)),
            _ => None,
        }
    }

    /// The disc that it is, where it is one.
    pub fn disc(&self) -> Option<&Disc> {
        self.release.mechanism.disc()
    }

    /// The device on a grid, built once.
    pub fn on(&self, fineness: Fineness) -> Arc<Model> {
        let mut models = match self.models.0.lock() {
            Ok(guard) => guard,
            Err(poisoned) => poisoned.into_inner(),
        };
        if let Some((_, model)) = models.iter().find(|(f, _)| *f == fineness) {
            return model.clone();
        }
        let model = Arc::new(Model::new(self, fineness));
        // A study may change the grid without end; the latest are kept.
        if models.len() >= KEPT_MODELS {
            models.remove(0);
        }
        models.push((fineness, model.clone()));
        model
    }

    /// The same device with another loss of preload (latch or thrust, and contact force).
    pub fn with_loss(&self, loss: f64) -> Result<Device, DeviceError> {
        if !(0.0..0.95).contains(&loss) {
            return Err(DeviceError::Loss(loss));
        }
        let mut device = self.clone();
        device.release = self.release.with_loss(loss);
        device.contact = ContactPair::new(&self.contact_as_new, device.release.contact_loss);
        Ok(device)
    }

    /// Wears the release: `loss` of the preload as new is gone, and a sticking latch takes a
    /// multiple of its force.
    pub fn wear(&mut self, loss: f64, stuck_factor: f64) {
        self.release.preload_loss = loss;
        if let Some(latch) = self.release.mechanism.latch_mut() {
            latch.release_force_factor *= stuck_factor;
        }
        // Grids that were built before know the release as it was.
        self.models = Models::default();
    }

    /// The same device with another resistance of its closed contact.
    pub fn with_contact_ohm(&self, resistance_ohm: f64) -> Device {
        let mut device = self.clone();
        device.contact.resistance_ohm = resistance_ohm;
        device
    }

    /// Resistance of the contact as a sum: film, and constriction at the force as new, ohm.
    pub fn contact_as_new_ohm(&self) -> (f64, f64) {
        let new = ContactPair::new(&self.contact_as_new, 0.0);
        match self.contact_as_new.resistance {
            crate::scenario::ContactResistance::Constant(_) => (new.resistance_ohm, 0.0),
            crate::scenario::ContactResistance::Holm { .. } => {
                (new.film_ohm, new.resistance_ohm - new.film_ohm)
            }
        }
    }

    /// The same device with its release travel (or the rise of its blade) multiplied.
    pub fn with_travel_factor(&self, factor: f64) -> Device {
        let mut device = self.clone();
        *device.release.mechanism.travel_m() *= factor;
        device
    }

    /// The same device with heat across the layers resolved where the square of the strip's
    /// current, A^2, is large enough for it to matter.
    pub fn resolved(&self, from_a2: f64) -> Device {
        Device {
            through: Some(ThroughLaw::new(&self.laws)),
            across_from_a2: from_a2,
            ..self.clone()
        }
    }

    /// The same device with one temperature a section; `None` when it is that.
    pub(super) fn uniform(&self) -> Option<Device> {
        self.through.as_ref()?;
        Some(Device {
            through: None,
            ..self.clone()
        })
    }

    /// The same device with laws in polynomials that go on to where metals soften; `None` when it
    /// has no use for them or has them already.
    pub(super) fn with_hot_fits(&self) -> Option<Device> {
        let served = self.poles.is_none() && self.disc().is_none();
        (served && self.fit.high_k < HOT_K.1).then(|| Device {
            fit: Arc::new(StripFit::new(&self.laws, HOT_K)),
            film: self.cooling.film_fit_over(HOT_FILM_K),
            through: self.through.as_ref().map(|t| t.fitted_over(HOT_K)),
            ..self.clone()
        })
    }

    /// Resistance of everything in series at one temperature, closed, ohm.
    pub fn resistance_ohm(&self, t_k: f64) -> f64 {
        let bridge_ohm = self.disc().and_then(|d| d.bridge_ohm);
        // The shunt shares the strip's voltage, so the parallel pair is share times the strip.
        let along_m = match self.disc() {
            None => self.length_m,
            Some(disc) => disc.radius_m * (disc.radius_m / disc.contact_radius_m).ln(),
        };
        let strip = self.laws.line(t_k).resistance * along_m * self.current_share;
        let strip = bridge_ohm.unwrap_or(strip);
        let winding = self.winding.map_or(0.0, |w| winding_resistance(&w, t_k).0);
        strip + winding + self.clamped.resistance_ohm + self.contact.resistance_ohm
    }
}

/// Resistance of a heater winding and its slope, never below a tenth of its value at 20 degC.
pub fn winding_resistance(winding: &Winding, t_k: f64) -> (f64, f64) {
    let factor = 1.0 + winding.temperature_coefficient_per_k * (t_k - 293.15);
    if factor < 0.1 {
        return (0.1 * winding.resistance_ohm, 0.0);
    }
    (
        winding.resistance_ohm * factor,
        winding.resistance_ohm * winding.temperature_coefficient_per_k,
    )
}
