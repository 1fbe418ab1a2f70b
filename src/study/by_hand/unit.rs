//! Units in which a step is written down.

use crate::physics::constants::ZERO_CELSIUS_K;
use serde::Serialize;

/// A unit: what is written, and the SI value of one of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Unit {
    /// As it is written; empty for a plain number.
    pub symbol: &'static str,
    /// SI value of one.
    pub factor: f64,
    /// SI value of zero (degrees Celsius).
    pub zero: f64,
}

impl Unit {
    /// An SI number in this unit.
    pub fn shown(&self, value_si: f64) -> f64 {
        (value_si - self.zero) / self.factor
    }

    /// A factor without unit.
    pub const fn of(symbol: &'static str, factor: f64) -> Unit {
        Unit {
            symbol,
            factor,
            zero: 0.0,
        }
    }
}

/// No unit.
pub const PLAIN: Unit = Unit::of("", 1.0);
/// Millimetres.
pub const MM: Unit = Unit::of("mm", 1e-3);
/// Curvature.
pub const PER_M: Unit = Unit::of("1/m", 1.0);
/// Millionths per kelvin.
pub const PPM_PER_K: Unit = Unit::of("10⁻⁶/K", 1e-6);
/// Millionths.
pub const PPM: Unit = Unit::of("10⁻⁶", 1e-6);
/// Modulus.
pub const GPA: Unit = Unit::of("GPa", 1e9);
/// Degrees Celsius.
pub const CELSIUS: Unit = Unit {
    symbol: "°C",
    factor: 1.0,
    zero: ZERO_CELSIUS_K,
};
/// Kelvin, of a difference or from absolute zero.
pub const KELVIN: Unit = Unit::of("K", 1.0);
/// Newton.
pub const NEWTON: Unit = Unit::of("N", 1.0);
/// Bending stiffness.
pub const N_MM2: Unit = Unit::of("N mm²", 1e-6);
/// Bending stiffness a width.
pub const N_M: Unit = Unit::of("N m", 1.0);
/// Stretching stiffness a width.
pub const N_PER_M: Unit = Unit::of("N/m", 1.0);
/// Stiffness of a support.
pub const N_PER_MM: Unit = Unit::of("N/mm", 1e3);
/// Cubic stiffness.
pub const N_PER_MM3: Unit = Unit::of("N/mm³", 1e9);
/// Compliance.
pub const MM_PER_N: Unit = Unit::of("mm/N", 1e-3);
/// Resistivity.
pub const MICRO_OHM_M: Unit = Unit::of("µΩ m", 1e-6);
/// Resistance.
pub const MILLI_OHM: Unit = Unit::of("mΩ", 1e-3);
/// Current.
pub const AMPERE: Unit = Unit::of("A", 1.0);
/// Power.
pub const WATT: Unit = Unit::of("W", 1.0);
/// Surface coefficient.
pub const W_PER_M2_K: Unit = Unit::of("W/(m² K)", 1.0);
/// Conductance.
pub const MW_PER_K: Unit = Unit::of("mW/K", 1e-3);
/// Conductivity.
pub const W_PER_M_K: Unit = Unit::of("W/(m K)", 1.0);
/// Conductivity times area.
pub const MW_MM_PER_K: Unit = Unit::of("mW mm/K", 1e-6);
/// Heat capacity.
pub const J_PER_K: Unit = Unit::of("J/K", 1.0);
/// Specific heat.
pub const J_PER_KG_K: Unit = Unit::of("J/(kg K)", 1.0);
/// Density.
pub const KG_PER_M3: Unit = Unit::of("kg/m³", 1.0);
/// Time.
pub const SECOND: Unit = Unit::of("s", 1.0);
/// Viscosity and diffusivity.
pub const MM2_PER_S: Unit = Unit::of("mm²/s", 1e-6);
/// Change of the current for each kelvin.
pub const MA_PER_K: Unit = Unit::of("mA/K", 1e-3);
/// Change of the current for each percent (the percent is in the formula).
pub const MA_PER_PERCENT: Unit = Unit::of("mA per %", 1e-3);
/// Percent.
pub const PERCENT: Unit = Unit::of("%", 1e-2);
/// Acceleration.
pub const M_PER_S2: Unit = Unit::of("m/s²", 1.0);
/// Speed.
pub const M_PER_S: Unit = Unit::of("m/s", 1.0);
/// Stefan's constant.
pub const STEFAN: Unit = Unit::of("10⁻⁸ W/(m² K⁴)", 1e-8);
