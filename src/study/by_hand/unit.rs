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

    /// A number in this unit, SI.
    pub fn si(&self, shown: f64) -> f64 {
        shown * self.factor + self.zero
    }

    /// A unit that counts from zero.
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
/// Millionths.
pub const PPM: Unit = Unit::of("10⁻⁶", 1e-6);
/// Degrees Celsius.
pub const CELSIUS: Unit = Unit {
    symbol: "°C",
    factor: 1.0,
    zero: ZERO_CELSIUS_K,
};

/// The unit in which a quantity is written, by its symbol; numbers of layers and stretches apart.
pub fn unit_of(symbol: &str) -> Unit {
    match symbol {
        "L" | "x_P" | "w" | "h" | "t" | "z" | "g" | "d_relatch" | "d_rel" | "d_h" | "l" | "a_0"
        | "a_f" | "a_r" | "l_c" | "b" => MM,
        "T_h" | "T_flat" | "T_air" | "T_rel" | "T_relatch" => CELSIUS,
        "DeltaT_h" | "DeltaT_W" | "T_s" | "T_a" | "T_film" | "theta" | "theta_0" | "theta_far"
        | "theta_end" => Unit::of("K", 1.0),
        "kappa_0" | "kappa_T" | "kappa_rel" | "kappa_relatch" => Unit::of("1/m", 1.0),
        "eps" | "Deltaeps" => PPM,
        "F" | "alpha_W" => Unit::of("10⁻⁶/K", 1e-6),
        "E" => Unit::of("GPa", 1e9),
        "EI" => Unit::of("N mm²", 1e-6),
        "D" => Unit::of("N m", 1.0),
        "A" | "N" => Unit::of("N/m", 1.0),
        "B" | "M" | "P" | "F_0" | "F_c" | "EA" | "N_0" => Unit::of("N", 1.0),
        "K" | "K_e" | "c_L" => Unit::of("N/mm", 1e3),
        "c_C" => Unit::of("N/mm³", 1e9),
        "S" => Unit::of("mm/N", 1e-3),
        "rho" => Unit::of("µΩ m", 1e-6),
        "R" | "R_20" | "R_W" | "R_h" => Unit::of("mΩ", 1e-3),
        "I" | "I_b" | "I_far" | "I_end" | "I_mid" | "I_rms" => Unit::of("A", 1.0),
        "Q" => Unit::of("W", 1.0),
        "h_c" | "h_r" => Unit::of("W/(m² K)", 1.0),
        "G" | "G_f" | "G_W" | "G_H" | "G_s" | "G_e" | "G_es" => Unit::of("mW/K", 1e-3),
        "kA" => Unit::of("mW mm/K", 1e-6),
        "k" | "k_air" => Unit::of("W/(m K)", 1.0),
        "C" | "C_S" | "C_W" => Unit::of("J/K", 1.0),
        "c" => Unit::of("J/(kg K)", 1.0),
        "rho_m" => Unit::of("kg/m³", 1.0),
        "tau_far" | "tau_end" | "t_far" | "t_end" | "t_0" | "t_w_far" | "t_w_end" => {
            Unit::of("s", 1.0)
        }
        "nu" | "a" => Unit::of("mm²/s", 1e-6),
        "DeltaI_T" => Unit::of("mA/K", 1e-3),
        // The percent is in the formula.
        "DeltaI_P" => Unit::of("mA per %", 1e-3),
        "s_P" => Unit::of("%", 1e-2),
        "g_n" => Unit::of("m/s²", 1.0),
        "V" => Unit::of("m/s", 1.0),
        "sigma" => Unit::of("10⁻⁸ W/(m² K⁴)", 1e-8),
        _ => PLAIN,
    }
}
