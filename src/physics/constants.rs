//! Physical constants, SI. Exact values are those of the 2019 SI.

/// Standard acceleration of free fall, m/s² (CGPM 1901).
pub const GRAVITY_M_PER_S2: f64 = 9.806_65;
/// Specific gas constant of dry air, J/(kg K) (ICAO standard atmosphere, Doc 7488).
pub const AIR_GAS_CONSTANT_J_PER_KG_K: f64 = 287.052_87;
/// Stefan-Boltzmann constant, W/(m² K⁴) (CODATA 2018).
pub const STEFAN_BOLTZMANN_W_PER_M2_K4: f64 = 5.670_374_419e-8;
/// Boltzmann constant, J/K (exact).
pub const BOLTZMANN_J_PER_K: f64 = 1.380_649e-23;
/// Elementary charge, C (exact).
pub const ELEMENTARY_CHARGE_C: f64 = 1.602_176_634e-19;
/// Molar gas constant, J/(mol K) (exact to the digits shown).
pub const GAS_CONSTANT_J_PER_MOL_K: f64 = 8.314_462_618;
/// Lorenz number (π²/3)(k_B/e)², W Ω/K² (Sommerfeld 1928).
pub const LORENZ_W_OHM_PER_K2: f64 = {
    let ratio = BOLTZMANN_J_PER_K / ELEMENTARY_CHARGE_C;
    std::f64::consts::PI * std::f64::consts::PI / 3.0 * ratio * ratio
};
/// 0 °C, K.
pub const ZERO_CELSIUS_K: f64 = 273.15;
/// Standard atmosphere, Pa.
pub const STANDARD_PRESSURE_PA: f64 = 101_325.0;
/// Magnetic constant, H/m (4π·10⁻⁷, which CODATA 2018 meets to 6e-10).
pub const MAGNETIC_CONSTANT_H_PER_M: f64 = 4e-7 * std::f64::consts::PI;
