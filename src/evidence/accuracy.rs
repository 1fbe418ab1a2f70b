//! What a meter's sheet says of its error, and what that is worth as a standard uncertainty.

use crate::family::Assumed;
use crate::quantity::{Dimension, Quantity};

/// Position of the conductor in the jaw of a clamp meter, relative standard uncertainty. Common
/// practice, no source.
pub const JAW: f64 = 0.01;

/// Last digits leave much open from this share of the reading on: one part in ten to either side.
const MUCH: f64 = 0.05;

/// Largest error of a meter: a share of the reading, a number of last digits, and a fixed part.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Accuracy {
    /// Share of the reading.
    pub share: f64,
    /// Last digits.
    pub digits: f64,
    /// Fixed part, SI.
    pub fixed_si: f64,
}

impl Accuracy {
    /// A clamp meter of which nothing is known: 2 % and five digits, as usual sheets have it.
    pub const CLAMP: Accuracy = Accuracy {
        share: 0.02,
        digits: 5.0,
        fixed_si: 0.0,
    };
    /// A clamp meter of which nothing is known but the last digit of what was written, A. Who writes whole
    /// amperes has rounded what it showed, by half of one at most (common practice, no source).
    pub fn of_a_clamp(digit_a: Option<f64>) -> Accuracy {
        let is_rounded = digit_a.is_some_and(|a| a >= 1.0);
        Accuracy {
            digits: if is_rounded { 0.5 } else { Self::CLAMP.digits },
            ..Self::CLAMP
        }
    }
    /// A voltmeter of which nothing is known: 0.5 % and two digits. Common practice, no source.
    pub const VOLTMETER: Accuracy = Accuracy {
        share: 0.005,
        digits: 2.0,
        fixed_si: 0.0,
    };

    /// Reads `2 % + 5 digits`, `1 %`, `2 % + 0.5 A`.
    ///
    /// # Errors
    /// What was found.
    pub fn read(text: &str, dimension: Dimension) -> Result<Accuracy, String> {
        let text = text
            .trim()
            .trim_start_matches("+-")
            .trim_start_matches("+/-")
            .trim_start_matches('\u{b1}')
            .trim();
        let text = text
            .strip_prefix('(')
            .and_then(|t| t.strip_suffix(')'))
            .unwrap_or(text);
        let mut sum = Accuracy::default();
        for part in text.split('+') {
            let part = part.trim();
            let end = part
                .find(|c: char| !(c.is_ascii_digit() || c == '.'))
                .unwrap_or(part.len());
            let Ok(number) = part[..end].parse::<f64>() else {
                return Err(match part {
                    "" => "empty".into(),
                    _ => "a part that does not begin with a number".into(),
                });
            };
            let unit = part[end..].trim().to_lowercase();
            match unit.as_str() {
                "%" | "% of the reading" | "% of reading" | "% rdg" => sum.share += number / 100.0,
                "digits" | "digit" | "dgt" | "dgts" | "counts" | "count" => sum.digits += number,
                "" => return Err("a number without `%`, `digits` or a unit".into()),
                _ => match Quantity::read(part, dimension) {
                    Ok(q) if q.standard_uncertainty_si.is_none() => sum.fixed_si += q.value_si,
                    _ => return Err(format!("`{}`", part.chars().take(30).collect::<String>())),
                },
            }
        }
        if sum == Accuracy::default() || !(sum.share < 1.0) || !sum.digits.is_finite() {
            return Err("no error that a meter can have".into());
        }
        Ok(sum)
    }

    /// Standard uncertainty of a reading whose last digit is worth `digit_si`. What a sheet states
    /// is a limit: with nothing else known the error lies evenly within it, which has the standard
    /// uncertainty limit / sqrt 3 (ISO/IEC Guide 98-3, 4.3.7).
    pub fn standard_uncertainty(&self, value_si: f64, digit_si: f64) -> f64 {
        (self.share * value_si.abs() + self.digits * digit_si + self.fixed_si) / 3f64.sqrt()
    }

    /// What the digits alone leave open, where that is much of the reading; `uncertainty_a` is all
    /// that is open.
    pub(super) fn coarse_digit(
        &self,
        line: &str,
        current_a: f64,
        digit_a: f64,
        uncertainty_a: f64,
    ) -> Option<Assumed> {
        let digits = Accuracy {
            digits: self.digits,
            ..Accuracy::default()
        };
        let open_a = digits.standard_uncertainty(current_a, digit_a);
        (open_a > MUCH * current_a.abs()).then(|| Assumed::CoarseDigit {
            line: line.to_owned(),
            digit_a,
            within_a: 2.0 * uncertainty_a,
        })
    }

    /// As a sheet has it: `2 % + 5 digits`.
    pub fn describe(&self) -> String {
        use crate::quantity::format_number;
        let mut parts = Vec::new();
        if self.share > 0.0 {
            parts.push(format!("{} %", format_number(100.0 * self.share)));
        }
        if self.digits > 0.0 {
            parts.push(format!("{} digits", format_number(self.digits)));
        }
        parts.join(" + ")
    }
}

/// Size of the last digit of a number as it is written, SI: 0.1 A for `11.3 A`, 1 mA for `850 mA`.
pub fn last_digit(text: &str, dimension: Dimension) -> Option<f64> {
    let text = text.trim();
    let end = text
        .find(|c: char| !(c.is_ascii_digit() || c == '.'))
        .unwrap_or(text.len());
    let decimals = text[..end].split_once('.').map_or(0, |(_, d)| d.len());
    let sign = ["+-", "+/-", "\u{b1}"]
        .iter()
        .filter_map(|s| text.find(s))
        .min()
        .unwrap_or(text.len());
    let unit = text.get(end..sign)?;
    let one = Quantity::read(&format!("1{unit}"), dimension)
        .ok()?
        .value_si;
    let decimals = i32::try_from(decimals).ok()?;
    Some(one * 10f64.powi(-decimals))
}
