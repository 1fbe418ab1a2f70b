//! Reads `number unit [+- tolerance]`.

use super::dimension::Exponents;
use super::error::{Fault, QuantityError};
use super::{Dimension, Unit, UnitFault, number, symbol};
use std::ops::Range;

/// A number in SI with the tolerance written beside it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// Value, SI (kelvin for temperatures).
    pub value_si: f64,
    /// Standard uncertainty, SI, where a tolerance is written.
    pub standard_uncertainty_si: Option<f64>,
}

impl Quantity {
    /// Reads a quantity of the given kind. A fraction may stand without a unit.
    ///
    /// # Errors
    /// What was found, where, and what is allowed.
    pub fn read(text: &str, expected: Dimension) -> Result<Quantity, QuantityError> {
        Self::read_per_kelvin(text, expected, 0)
    }

    /// Reads a quantity divided by a power of kelvin: the coefficients of a polynomial in
    /// temperature.
    ///
    /// # Errors
    /// As [`Quantity::read`].
    pub fn read_per_kelvin(
        text: &str,
        expected: Dimension,
        power: u8,
    ) -> Result<Quantity, QuantityError> {
        let reader = Reader {
            text,
            expected,
            power,
        };
        reader.read()
    }
}

struct Reader<'t> {
    text: &'t str,
    expected: Dimension,
    power: u8,
}

type Read<T> = Result<T, QuantityError>;

impl Reader<'_> {
    fn fault<T>(&self, fault: Fault, span: Range<usize>) -> Read<T> {
        Err(QuantityError {
            fault,
            expected: self.expected,
            per_kelvin: self.power,
            span,
        })
    }

    fn exponents(&self) -> Exponents {
        self.expected.exponents_per_kelvin(self.power)
    }

    fn read(&self) -> Read<Quantity> {
        if self.text.trim().is_empty() {
            return self.fault(Fault::Empty, 0..self.text.len());
        }
        let Some((sign, width)) = ["+-", "+/-", "\u{b1}"]
            .iter()
            .filter_map(|s| self.text.find(s).map(|at| (at, s.len())))
            .min()
        else {
            let value_si = self.part(0..self.text.len())?;
            return Ok(Quantity {
                value_si,
                standard_uncertainty_si: None,
            });
        };
        let value_si = self.part(0..sign)?;
        let is_percentage = self.text[..sign].contains('%');
        let part = sign + width..self.text.len();
        let uncertainty = self.tolerance(value_si, is_percentage, part)?;
        Ok(Quantity {
            value_si,
            standard_uncertainty_si: Some(uncertainty),
        })
    }

    /// Number at the start of a part of the text: value, and the range of what follows it.
    fn number(&self, part: Range<usize>) -> Read<(f64, Range<usize>)> {
        let slice = &self.text[part.clone()];
        let start = part.start + (slice.len() - slice.trim_start().len());
        let end = part.start + slice.trim_end().len();
        let all = start..end.max(start);
        let body = &self.text[all.clone()];
        let unsigned = body.trim_start_matches(['+', '-']).to_ascii_lowercase();
        if ["nan", "inf"].iter().any(|w| unsigned.starts_with(w)) {
            return self.fault(Fault::NotFinite, all);
        }
        let length = number::length(body);
        if length == 0 {
            return self.fault(Fault::NoNumber, all);
        }
        let rest = start + length..end;
        let tail = &self.text[rest.clone()];
        if tail.starts_with(',') && tail[1..].starts_with(|c: char| c.is_ascii_digit()) {
            let comma = rest.start..rest.start + 1;
            let more = tail[1..].trim_start_matches(|c: char| c.is_ascii_digit());
            let fault = match more.starts_with(',') {
                true => Fault::TwoCommas,
                false => Fault::DecimalComma,
            };
            return self.fault(fault, comma);
        }
        let next = tail.trim_start();
        if next.starts_with(|c: char| c.is_ascii_digit()) && !next.starts_with("1/") {
            return self.fault(Fault::SpaceInNumber, rest);
        }
        match number::value(&body[..length]) {
            Some(v) if v.is_finite() => Ok((v, rest)),
            _ => self.fault(Fault::NotFinite, start..start + length),
        }
    }

    fn unit(&self, part: Range<usize>) -> Read<Unit> {
        let text = &self.text[part.clone()];
        Unit::read(text).or_else(|(fault, at)| {
            let span = part.start + at.start..part.start + at.end;
            match fault {
                UnitFault::UnknownSymbol(found) => {
                    let nearest = symbol::nearest(&found, self.expected.units());
                    self.fault(Fault::UnknownUnit { found, nearest }, span)
                }
                UnitFault::DegreesInCompound => self.fault(Fault::DegreesForKelvin, span),
                UnitFault::Malformed => self.fault(Fault::MalformedUnit(text.trim().into()), part),
            }
        })
    }

    /// Range of a text without the spaces around it.
    fn trimmed(&self, part: Range<usize>) -> Range<usize> {
        let slice = &self.text[part.clone()];
        let start = part.start + (slice.len() - slice.trim_start().len());
        start..start + slice.trim().len()
    }

    fn wrong_unit<T>(&self, part: Range<usize>, unit: Unit) -> Read<T> {
        let part = self.trimmed(part);
        let found = self.text[part.clone()].to_owned();
        let fault = Fault::WrongUnit {
            measures: Dimension::from_exponents(unit.exponents),
            meant: self.bracketed(&found),
            found,
        };
        self.fault(fault, part)
    }

    /// `W/m K` is often written where `W/(m K)` is meant.
    fn bracketed(&self, unit: &str) -> Option<String> {
        let (top, bottom) = unit.split_once('/')?;
        let meant = format!("{top}/({bottom})");
        let read = Unit::read(&meant).ok()?;
        (read.exponents == self.exponents()).then_some(meant)
    }

    fn part(&self, part: Range<usize>) -> Read<f64> {
        let whole = self.trimmed(part.clone());
        let (number, rest) = self.number(part)?;
        if rest.is_empty() {
            if self.exponents() == [0; 6] {
                return Ok(number);
            }
            return self.fault(Fault::NoUnit, whole);
        }
        let unit = self.unit(rest.clone())?;
        let degrees_fit = self.expected == Dimension::Temperature && self.power == 0;
        if unit.zero_k.is_some() && !degrees_fit && self.exponents() == unit.exponents {
            return self.fault(Fault::DegreesForKelvin, self.trimmed(rest));
        }
        if unit.exponents != self.exponents() {
            return self.wrong_unit(rest, unit);
        }
        self.finite(unit.to_si(number), whole)
    }

    /// Standard uncertainty: relative in %, or absolute in the unit of the value. Of a percentage
    /// either could be meant, so `points` or `% of it` must be said.
    fn tolerance(&self, value_si: f64, is_percentage: bool, part: Range<usize>) -> Read<f64> {
        let whole = self.trimmed(part.clone());
        let (number, rest) = self.number(part)?;
        if number < 0.0 {
            return self.fault(Fault::NegativeTolerance, whole);
        }
        let words = self.text[rest.clone()].trim();
        if matches!(words, "point" | "points") && self.exponents() == [0; 6] {
            return self.finite(0.01 * number, whole);
        }
        let of_it = words.strip_suffix("of it").map(str::trim) == Some("%");
        if is_percentage && words == "%" && self.exponents() == [0; 6] {
            return self.fault(Fault::AmbiguousTolerance(number), whole);
        }
        let rest = match of_it {
            true => rest.start..rest.end - "of it".len(),
            false => rest,
        };
        if rest.is_empty() {
            if self.exponents() == [0; 6] {
                return Ok(number);
            }
            return self.fault(Fault::NoUnit, whole);
        }
        let unit = self.unit(rest.clone())?;
        if unit.zero_k.is_some() {
            return self.fault(Fault::DegreesForKelvin, self.trimmed(rest));
        }
        if unit.exponents == [0; 6] {
            if self.expected == Dimension::Temperature && self.power == 0 {
                return self.fault(Fault::RelativeTemperature, whole);
            }
            return self.finite(value_si.abs() * number * unit.scale, whole);
        }
        if unit.exponents != self.exponents() {
            return self.wrong_unit(rest, unit);
        }
        self.finite(number * unit.scale, whole)
    }

    fn finite(&self, value: f64, span: Range<usize>) -> Read<f64> {
        if value.is_finite() {
            Ok(value)
        } else {
            self.fault(Fault::NotFinite, span)
        }
    }
}
