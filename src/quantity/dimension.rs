//! The kinds of quantity that files hold, each with its units and an example for messages.

use serde::{Deserialize, Serialize};
use std::fmt;

/// Powers of metre, kilogram, second, ampere, kelvin and mole.
pub(super) type Exponents = [i8; 6];

/// A kind of quantity.
///
/// Two kinds may share their powers of the base units (a temperature and a difference of
/// temperatures do) and still be read differently.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[allow(missing_docs)]
pub enum Dimension {
    Fraction,
    Length,
    Area,
    Curvature,
    Mass,
    Time,
    Temperature,
    TemperatureDifference,
    PerKelvin,
    Current,
    Voltage,
    Resistance,
    Resistivity,
    ResistancePerLength,
    CapacitancePerLength,
    FluxDensity,
    Frequency,
    Force,
    Stiffness,
    Pressure,
    Density,
    Speed,
    Power,
    Energy,
    MolarEnergy,
    HeatCapacity,
    Conductance,
    FilmCoefficient,
    Conductivity,
    SpecificHeat,
}

/// What is known about one kind of quantity.
struct Facts {
    name: &'static str,
    example: &'static str,
    /// Units offered in messages; the printer chooses among them.
    units: &'static [&'static str],
    exponents: Exponents,
}

const fn facts(
    name: &'static str,
    example: &'static str,
    units: &'static [&'static str],
    exponents: Exponents,
) -> Facts {
    Facts {
        name,
        example,
        units,
        exponents,
    }
}

impl Dimension {
    /// Every kind, for searches by unit.
    pub const ALL: [Dimension; 30] = [
        Dimension::Fraction,
        Dimension::Length,
        Dimension::Area,
        Dimension::Curvature,
        Dimension::Mass,
        Dimension::Time,
        Dimension::Temperature,
        Dimension::TemperatureDifference,
        Dimension::PerKelvin,
        Dimension::Current,
        Dimension::Voltage,
        Dimension::Resistance,
        Dimension::Resistivity,
        Dimension::ResistancePerLength,
        Dimension::CapacitancePerLength,
        Dimension::FluxDensity,
        Dimension::Frequency,
        Dimension::Force,
        Dimension::Stiffness,
        Dimension::Pressure,
        Dimension::Density,
        Dimension::Speed,
        Dimension::Power,
        Dimension::Energy,
        Dimension::MolarEnergy,
        Dimension::HeatCapacity,
        Dimension::Conductance,
        Dimension::FilmCoefficient,
        Dimension::Conductivity,
        Dimension::SpecificHeat,
    ];

    #[rustfmt::skip]
    const fn facts(self) -> Facts {
        use Dimension as D;
        match self {
            D::Fraction => facts("a fraction", "80 %", &["%"], [0, 0, 0, 0, 0, 0]),
            D::Length => facts("a length", "22 mm", &["um", "mm", "cm", "m", "in"], [1, 0, 0, 0, 0, 0]),
            D::Area => facts("an area", "2.5 mm2", &["mm2", "cm2", "m2"], [2, 0, 0, 0, 0, 0]),
            D::Curvature => facts("a curvature", "1.5 1/m", &["1/m", "1/mm"], [-1, 0, 0, 0, 0, 0]),
            D::Mass => facts("a mass", "3 g", &["mg", "g", "kg"], [0, 1, 0, 0, 0, 0]),
            D::Time => facts("a time", "90 s", &["ms", "s", "min", "h"], [0, 0, 1, 0, 0, 0]),
            D::Temperature => facts("a temperature", "25 degC", &["degC", "K", "degF"], [0, 0, 0, 0, 1, 0]),
            D::TemperatureDifference => facts("a difference of temperature", "5 K", &["K"], [0, 0, 0, 0, 1, 0]),
            D::PerKelvin => facts("a coefficient per kelvin", "1.2e-6 1/K", &["1/K"], [0, 0, 0, 0, -1, 0]),
            D::Current => facts("a current", "10 A", &["mA", "A", "kA"], [0, 0, 0, 1, 0, 0]),
            D::Voltage => facts("a voltage", "90 mV", &["mV", "V"], [2, 1, -3, -1, 0, 0]),
            D::Resistance => facts("a resistance", "1.0 mohm", &["uohm", "mohm", "ohm"], [2, 1, -3, -2, 0, 0]),
            D::Resistivity => facts("a resistivity", "0.80 uohm m", &["uohm m", "uohm cm", "ohm mm2/m"], [3, 1, -3, -2, 0, 0]),
            D::ResistancePerLength => facts("a resistance per length", "7.4 mohm/m", &["mohm/m", "ohm/m"], [1, 1, -3, -2, 0, 0]),
            D::CapacitancePerLength => facts("a capacitance per length", "100 pF/m", &["pF/m", "nF/m"], [-3, -1, 4, 2, 0, 0]),
            D::FluxDensity => facts("a flux density", "1.6 T", &["mT", "T"], [0, 1, -2, -1, 0, 0]),
            D::Frequency => facts("a frequency", "50 Hz", &["Hz", "kHz"], [0, 0, -1, 0, 0, 0]),
            D::Force => facts("a force", "1.5 N", &["mN", "N", "kN"], [1, 1, -2, 0, 0, 0]),
            D::Stiffness => facts("a stiffness", "400 N/mm", &["N/m", "N/mm"], [0, 1, -2, 0, 0, 0]),
            D::Pressure => facts("a stress or modulus", "145 GPa", &["MPa", "GPa", "Pa"], [-1, 1, -2, 0, 0, 0]),
            D::Density => facts("a density", "8.1 g/cm3", &["g/cm3", "kg/m3"], [-3, 1, 0, 0, 0, 0]),
            D::Speed => facts("a speed", "2 m/s", &["mm/s", "m/s"], [1, 0, -1, 0, 0, 0]),
            D::Power => facts("a power", "1.2 W", &["mW", "W", "kW"], [2, 1, -3, 0, 0, 0]),
            D::Energy => facts("an energy", "20 J", &["mJ", "J", "kJ"], [2, 1, -2, 0, 0, 0]),
            D::MolarEnergy => facts("an energy per mole", "90 kJ/mol", &["kJ/mol"], [2, 1, -2, 0, 0, -1]),
            D::HeatCapacity => facts("a heat capacity", "2.0 J/K", &["J/K", "mJ/K"], [2, 1, -2, 0, -1, 0]),
            D::Conductance => facts("a heat conductance", "0.060 W/K", &["W/K", "mW/K"], [2, 1, -3, 0, -1, 0]),
            D::FilmCoefficient => facts("a heat-transfer coefficient", "10 W/(m2 K)", &["W/(m2 K)"], [0, 1, -3, 0, -1, 0]),
            D::Conductivity => facts("a heat conductivity", "10.5 W/(m K)", &["W/(m K)"], [1, 1, -3, 0, -1, 0]),
            D::SpecificHeat => facts("a specific heat", "500 J/(kg K)", &["J/(kg K)", "J/(g K)"], [2, 0, -2, 0, -1, 0]),
        }
    }

    /// Name with its article, for sentences: `a length`.
    pub const fn name(self) -> &'static str {
        self.facts().name
    }

    /// A value as it may be written in a file: `22 mm`.
    pub const fn example(self) -> &'static str {
        self.facts().example
    }

    /// Units offered in messages.
    pub const fn units(self) -> &'static [&'static str] {
        self.facts().units
    }

    pub(super) const fn exponents(self) -> Exponents {
        self.facts().exponents
    }

    /// Powers after division by a power of kelvin (coefficients of polynomials).
    pub(super) const fn exponents_per_kelvin(self, power: u8) -> Exponents {
        let mut e = self.exponents();
        e[4] -= power as i8;
        e
    }

    /// The first kind with these powers.
    pub(super) fn from_exponents(e: Exponents) -> Option<Dimension> {
        Self::ALL.into_iter().find(|d| d.exponents() == e)
    }
}

impl fmt::Display for Dimension {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}
