//! Reads a unit: `W/(m2 K)`, `uohm m`, `g/cm3`, `degC`.

use super::dimension::Exponents;
use super::symbol;
use std::ops::Range;

/// A unit: powers of the base units and the way to SI.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Unit {
    pub(super) exponents: Exponents,
    pub(super) scale: f64,
    /// Kelvin at zero degrees; `None` for everything but degrees.
    pub(super) zero_k: Option<f64>,
}

/// Why a unit could not be read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum UnitFault {
    /// A symbol that is not known.
    UnknownSymbol(String),
    /// A degree symbol inside a compound unit, where a kelvin belongs.
    DegreesInCompound,
    /// Anything else that does not follow the form of a unit.
    Malformed,
}

/// A unit longer than this is no unit; it also bounds the depth of brackets.
const LONGEST: usize = 60;

impl Unit {
    /// SI value of a number of this unit.
    pub(super) fn to_si(self, number: f64) -> f64 {
        number * self.scale + self.zero_k.unwrap_or(0.0)
    }

    /// Reads a unit. Products are written with a space, `*` or a middle dot, powers as `m2`,
    /// `m^2`, `K^-1` or superscripts; a slash divides by the one factor or bracket after it.
    ///
    /// # Errors
    /// What is wrong and where in `text` (bytes).
    pub fn read(text: &str) -> Result<Unit, (UnitFault, Range<usize>)> {
        let trimmed = text.trim();
        if let Some((scale, zero)) = symbol::degrees(trimmed) {
            return Ok(Unit {
                exponents: [0, 0, 0, 0, 1, 0],
                scale,
                zero_k: Some(zero),
            });
        }
        if trimmed.is_empty() || text.len() > LONGEST {
            return Err((UnitFault::Malformed, 0..text.len()));
        }
        let mut reader = UnitReader { text, at: 0 };
        let unit = reader.product()?;
        reader.skip_space();
        if reader.at < text.len() {
            return Err((UnitFault::Malformed, reader.at..text.len()));
        }
        Ok(unit)
    }
}

struct UnitReader<'t> {
    text: &'t str,
    at: usize,
}

type Step<T> = Result<T, (UnitFault, Range<usize>)>;

impl UnitReader<'_> {
    fn peek(&self) -> Option<char> {
        self.text[self.at..].chars().next()
    }

    fn take(&mut self, wanted: impl Fn(char) -> bool) -> bool {
        match self.peek() {
            Some(c) if wanted(c) => {
                self.at += c.len_utf8();
                true
            }
            _ => false,
        }
    }

    fn skip_space(&mut self) {
        while self.take(char::is_whitespace) {}
    }

    fn malformed<T>(&self) -> Step<T> {
        let end = self.peek().map_or(self.at, |c| self.at + c.len_utf8());
        Err((UnitFault::Malformed, self.at..end))
    }

    fn product(&mut self) -> Step<Unit> {
        let mut unit = self.factor()?;
        loop {
            self.skip_space();
            let sign = match self.peek() {
                None | Some(')') => return Ok(unit),
                Some('/') => -1,
                _ => 1,
            };
            self.take(|c| matches!(c, '/' | '*' | '\u{b7}' | '\u{22c5}' | '\u{d7}'));
            let start = self.at;
            let factor = self.factor()?;
            unit = power(factor, sign)
                .and_then(|f| times(unit, f))
                .ok_or((UnitFault::Malformed, start..self.at))?;
        }
    }

    fn factor(&mut self) -> Step<Unit> {
        self.skip_space();
        let start = self.at;
        let base = if self.take(|c| c == '(') {
            let inner = self.product()?;
            if !self.take(|c| c == ')') {
                return self.malformed();
            }
            inner
        } else if self.take(|c| c == '1') {
            Unit {
                exponents: [0; 6],
                scale: 1.0,
                zero_k: None,
            }
        } else {
            self.symbol()?
        };
        let exponent = self.exponent()?;
        power(base, exponent).ok_or((UnitFault::Malformed, start..self.at))
    }

    fn symbol(&mut self) -> Step<Unit> {
        let start = self.at;
        while self.take(|c| c.is_alphabetic() || matches!(c, '%' | '\u{b0}')) {}
        let text = &self.text[start..self.at];
        if text.is_empty() {
            return self.malformed();
        }
        if let Some((exponents, scale)) = symbol::find(text) {
            return Ok(Unit {
                exponents,
                scale,
                zero_k: None,
            });
        }
        let fault = match symbol::degrees(text) {
            Some(_) => UnitFault::DegreesInCompound,
            None => UnitFault::UnknownSymbol(text.to_owned()),
        };
        Err((fault, start..self.at))
    }

    /// `2`, `^2`, `^-1`, superscripts; 1 when there is none.
    fn exponent(&mut self) -> Step<i8> {
        let caret = self.take(|c| c == '^');
        let negative = (caret && self.take(|c| c == '-')) || self.take(|c| c == '\u{207b}');
        let digit = self.peek().and_then(|c| {
            "\u{2070}\u{b9}\u{b2}\u{b3}\u{2074}"
                .chars()
                .position(|s| s == c)
                .map(|p| p as u32)
                .or(c.to_digit(10))
        });
        match digit {
            Some(d @ 1..=9) => {
                self.take(|_| true);
                if self.peek().is_some_and(|c| c.is_ascii_digit()) {
                    return self.malformed();
                }
                Ok(if negative { -(d as i8) } else { d as i8 })
            }
            None if !caret && !negative => Ok(1),
            _ => self.malformed(),
        }
    }
}

fn power(unit: Unit, by: i8) -> Option<Unit> {
    let mut exponents = [0; 6];
    for (to, from) in exponents.iter_mut().zip(unit.exponents) {
        *to = from.checked_mul(by)?;
    }
    Some(Unit {
        exponents,
        scale: unit.scale.powi(by.into()),
        zero_k: None,
    })
}

fn times(a: Unit, b: Unit) -> Option<Unit> {
    let mut exponents = [0; 6];
    for (to, (x, y)) in exponents
        .iter_mut()
        .zip(a.exponents.into_iter().zip(b.exponents))
    {
        *to = x.checked_add(y)?;
    }
    Some(Unit {
        exponents,
        scale: a.scale * b.scale,
        zero_k: None,
    })
}
