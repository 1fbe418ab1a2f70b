//! Why a text is not the quantity that was asked for.

use super::Dimension;
use std::fmt;
use std::ops::Range;

/// What is wrong with a quantity.
#[derive(Debug, Clone, PartialEq)]
pub enum Fault {
    /// Nothing but spaces.
    Empty,
    /// The text does not begin with a number.
    NoNumber,
    /// `1,5` where `1.5` is meant.
    DecimalComma,
    /// `13,2,1`: two numbers, or a slip.
    TwoCommas,
    /// `1 000` where `1000` is meant.
    SpaceInNumber,
    /// `nan`, `inf`, or digits beyond every float.
    NotFinite,
    /// A number without a unit.
    NoUnit,
    /// A symbol that is not known, and the known one most like it.
    UnknownUnit {
        /// As written.
        found: String,
        /// Most like it.
        nearest: Option<String>,
    },
    /// A known unit of another kind of quantity.
    WrongUnit {
        /// As written.
        found: String,
        /// What such a unit measures, where it has a name.
        measures: Option<Dimension>,
        /// The unit that was probably meant.
        meant: Option<String>,
    },
    /// A unit that cannot be read.
    MalformedUnit(String),
    /// Degrees in a compound unit or as a tolerance.
    DegreesForKelvin,
    /// The tolerance is negative.
    NegativeTolerance,
    /// A percentage of a temperature.
    RelativeTemperature,
    /// A bare percentage beside a percentage: of it, or points? The number.
    AmbiguousTolerance(f64),
}

/// A [`Fault`], where it is, and what was expected.
#[derive(Debug, Clone, PartialEq)]
pub struct QuantityError {
    /// What is wrong.
    pub fault: Fault,
    /// What was asked for.
    pub expected: Dimension,
    /// Power of kelvin by which it is divided (coefficients of polynomials).
    pub per_kelvin: u8,
    /// Where in the text, bytes.
    pub span: Range<usize>,
}

impl QuantityError {
    /// What was found, short enough for a label.
    pub fn found(&self) -> String {
        match &self.fault {
            Fault::Empty => "empty".into(),
            Fault::NoNumber => "does not begin with a number".into(),
            Fault::DecimalComma => "a comma in a number".into(),
            Fault::TwoCommas => "two commas in a number".into(),
            Fault::SpaceInNumber => "a space in a number".into(),
            Fault::NotFinite => "not a finite number".into(),
            Fault::NoUnit => "the unit is missing".into(),
            Fault::UnknownUnit { found, .. } => format!("unknown unit `{}`", short(found)),
            Fault::WrongUnit {
                found,
                measures: Some(d),
                ..
            } => format!("`{found}` is a unit of {}", bare(*d)),
            Fault::WrongUnit { found, .. } => format!("`{found}` does not fit"),
            Fault::MalformedUnit(found) => format!("`{}` is not a unit", short(found)),
            Fault::DegreesForKelvin => "degrees, where a difference in K belongs".into(),
            Fault::NegativeTolerance => "a negative tolerance".into(),
            Fault::RelativeTemperature => "a percentage of a temperature has no meaning".into(),
            Fault::AmbiguousTolerance(_) => "of the value, or percentage points?".into(),
        }
    }

    /// What to write instead.
    pub fn help(&self) -> String {
        match &self.fault {
            Fault::DecimalComma => "write a decimal point: `1.5`, not `1,5`".into(),
            Fault::TwoCommas => "write one number, with a point or a comma for its decimals".into(),
            Fault::SpaceInNumber => "write the digits without spaces: `1000`, not `1 000`".into(),
            Fault::UnknownUnit {
                nearest: Some(unit),
                ..
            }
            | Fault::WrongUnit {
                meant: Some(unit), ..
            } => format!("did you mean `{unit}`? {}", self.allowed()),
            Fault::DegreesForKelvin => {
                "write K for a difference: `25 degC +- 2 K`, `W/(m K)`".into()
            }
            Fault::NegativeTolerance => {
                "a tolerance is a standard uncertainty, zero or above: `0.20 mm +- 2 %`".into()
            }
            Fault::RelativeTemperature => "give the tolerance in kelvin: `25 degC +- 2 K`".into(),
            Fault::AmbiguousTolerance(n) => {
                format!("write `+- {n} points`, or `+- {n} % of it` for a part of the value")
            }
            _ => self.allowed(),
        }
    }

    fn allowed(&self) -> String {
        let name = bare(self.expected);
        if self.per_kelvin > 0 {
            let power = match self.per_kelvin {
                1 => "kelvin".to_owned(),
                n => format!("kelvin to the power {n}"),
            };
            return format!("here stands a unit of {name} divided by {power}");
        }
        format!(
            "units of {name}: {} (for example `{}`)",
            self.expected.units().join(", "),
            self.expected.example()
        )
    }
}

/// A word of the file, cut if it is very long.
fn short(word: &str) -> String {
    const LONGEST: usize = 30;
    match word.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{}...", &word[..end]),
        None => word.to_owned(),
    }
}

/// `a length` without its article.
fn bare(d: Dimension) -> &'static str {
    let name = d.name();
    name.split_once(' ').map_or(name, |(_, rest)| rest)
}

impl fmt::Display for QuantityError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(
            f,
            "expected {}: {}; {}",
            self.expected,
            self.found(),
            self.help()
        )
    }
}

impl std::error::Error for QuantityError {}
