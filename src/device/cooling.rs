//! Heat that the strip's surface gives to the air: convection by posture, and radiation.

use crate::physics::{air, convection, radiation};
use crate::scenario::{Convection, Cooling, Strip};

/// Flux law of one strip.
#[derive(Debug, Clone, Copy)]
pub struct CoolingLaw {
    convection: Convection,
    emissivity: f64,
    pressure_pa: f64,
    width_m: f64,
    length_m: f64,
    /// Perimeter times uncovered fraction, m.
    pub perimeter_m: f64,
}

impl CoolingLaw {
    /// Law of a scenario's strip.
    pub fn new(cooling: &Cooling, strip: &Strip) -> CoolingLaw {
        let thickness: f64 = strip.layers.iter().map(|l| l.thickness_m).sum();
        CoolingLaw {
            convection: cooling.convection,
            emissivity: cooling.emissivity,
            pressure_pa: air::pressure_at_altitude_pa(cooling.altitude_m),
            width_m: strip.width_m,
            length_m: strip.length_m,
            perimeter_m: 2.0 * (strip.width_m + thickness) * cooling.uncovered_fraction,
        }
    }

    /// Convection coefficient, W/(m^2 K), of a surface in air.
    pub fn coefficient(&self, surface_k: f64, air_k: f64) -> f64 {
        match self.convection {
            Convection::Constant {
                coefficient_w_per_m2_k,
            } => coefficient_w_per_m2_k,
            Convection::EdgeOn => self.natural(
                surface_k,
                air_k,
                self.width_m,
                convection::churchill_chu_laminar,
            ),
            Convection::Upright => self.natural(
                surface_k,
                air_k,
                self.length_m,
                convection::churchill_chu_laminar,
            ),
            Convection::Flat => {
                let scale = self.width_m * self.length_m / (2.0 * (self.width_m + self.length_m));
                self.natural(
                    surface_k,
                    air_k,
                    scale,
                    convection::raithby_hollands_horizontal,
                )
            }
            Convection::Forced {
                speed_m_per_s,
                flow_length_m,
            } => {
                let film = air::Air::at(0.5 * (surface_k + air_k), self.pressure_pa);
                let reynolds = speed_m_per_s * flow_length_m / film.kinematic_viscosity;
                convection::forced_plate_laminar(reynolds, film.prandtl) * film.conductivity
                    / flow_length_m
            }
            Convection::Gap { gap_m } => {
                air::Air::at(0.5 * (surface_k + air_k), self.pressure_pa).conductivity / gap_m
            }
        }
    }

    fn natural(
        &self,
        surface_k: f64,
        air_k: f64,
        scale_m: f64,
        nusselt: fn(f64, f64) -> f64,
    ) -> f64 {
        let (rayleigh, film) = convection::rayleigh(surface_k, air_k, scale_m, self.pressure_pa);
        nusselt(rayleigh, film.prandtl) * film.conductivity / scale_m
    }

    /// Flux to the air, W/m^2: convection and radiation.
    pub fn flux(&self, surface_k: f64, air_k: f64) -> f64 {
        self.coefficient(surface_k, air_k) * (surface_k - air_k)
            + radiation::net_flux(self.emissivity, surface_k, air_k)
    }

    /// Slopes of the flux against surface and air temperature, W/(m^2 K). The coefficient has an
    /// infinite slope where surface and air are equal; the flux has not, so the flux is differenced.
    pub fn flux_slopes(&self, surface_k: f64, air_k: f64) -> (f64, f64) {
        let step = 2e-3;
        let surface = (self.flux(surface_k + step, air_k) - self.flux(surface_k - step, air_k))
            / (2.0 * step);
        let air = (self.flux(surface_k, air_k + step) - self.flux(surface_k, air_k - step))
            / (2.0 * step);
        (surface, air)
    }
}
