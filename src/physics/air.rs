//! Dry air between about 200 and 700 K at the pressures people work in.

use super::constants::{AIR_GAS_CONSTANT_J_PER_KG_K, STANDARD_PRESSURE_PA, ZERO_CELSIUS_K};

/// Properties of air at one temperature and pressure, SI.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Air {
    /// Density, kg/m³.
    pub density: f64,
    /// Dynamic viscosity, Pa s.
    pub viscosity: f64,
    /// Thermal conductivity, W/(m K).
    pub conductivity: f64,
    /// Specific heat at constant pressure, J/(kg K).
    pub specific_heat: f64,
    /// Prandtl number.
    pub prandtl: f64,
    /// Kinematic viscosity, m²/s.
    pub kinematic_viscosity: f64,
    /// Thermal diffusivity, m²/s.
    pub diffusivity: f64,
}

impl Air {
    /// Ideal gas; viscosity and conductivity by Sutherland's law (W. Sutherland, Phil. Mag. 36
    /// (1893) 507) with customary coefficients; constant specific heat 1006 J/(kg K).
    ///
    /// Against reference air at 1 atm every property is within 1 % from 25 to 75 °C. Beyond:
    /// conductivity 1.1 % low at 0 °C; at 200 °C viscosity 1.3 %, specific heat 1.9 % and Prandtl
    /// number 3.7 % low. Convection coefficients follow within 1.5 % up to there.
    ///
    /// ```
    /// use relatch::internals::physics::air::Air;
    /// assert!((Air::at(298.15, 101_325.0).density - 1.184).abs() < 0.001);
    /// ```
    #[must_use]
    pub fn at(temperature_k: f64, pressure_pa: f64) -> Self {
        let ratio = temperature_k / ZERO_CELSIUS_K;
        let ratio_1_5 = ratio * ratio.sqrt();
        let density = pressure_pa / (AIR_GAS_CONSTANT_J_PER_KG_K * temperature_k);
        let viscosity = 1.716e-5 * ratio_1_5 * 383.55 / (temperature_k + 110.4);
        let conductivity = 0.0241 * ratio_1_5 * 467.15 / (temperature_k + 194.0);
        let specific_heat = 1006.0;
        Self {
            density,
            viscosity,
            conductivity,
            specific_heat,
            prandtl: viscosity * specific_heat / conductivity,
            kinematic_viscosity: viscosity / density,
            diffusivity: conductivity / (density * specific_heat),
        }
    }
}

/// Air pressure at an altitude above sea level, Pa: the standard atmosphere below 11 km (ICAO Doc
/// 7488), 101325 (1 − 2.25577e-5 z)^5.25588.
#[must_use]
pub fn pressure_at_altitude_pa(altitude_m: f64) -> f64 {
    STANDARD_PRESSURE_PA * (1.0 - 2.255_77e-5 * altitude_m).powf(5.255_88)
}
