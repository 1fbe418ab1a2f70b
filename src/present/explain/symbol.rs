//! Symbols and numbers as people write them.

use crate::present::significant;
use crate::study::by_hand::unit::Unit;

/// Digits of every number of a worked example.
const DIGITS: usize = 4;

/// Letters that are written by name.
const LETTERS: &[(&str, &str)] = &[
    ("alpha", "α"),
    ("eps", "ε"),
    ("kappa", "κ"),
    ("lambda", "λ"),
    ("nu", "ν"),
    ("phi", "φ"),
    ("pi", "π"),
    ("rho", "ρ"),
    ("sigma", "σ"),
    ("tau", "τ"),
    ("theta", "θ"),
];

/// Letter and index of a symbol: `kappa_T` is κ and T, `rho_m_1` is ρ and m,1.
pub(super) fn letter_and_index(symbol: &str) -> (String, Option<String>) {
    let (name, index) = match symbol.split_once('_') {
        Some((name, index)) => (name, Some(index.replace('_', ","))),
        None => (symbol, None),
    };
    let (difference, name) = match name.strip_prefix("Delta") {
        Some(rest) => ("Δ", rest),
        None => ("", name),
    };
    let letter = LETTERS
        .iter()
        .find(|(written, _)| *written == name)
        .map_or(name, |(_, letter)| letter);
    (format!("{difference}{letter}"), index)
}

/// A symbol in one line of text: κ_T, t₁.
pub(in crate::present) fn in_a_line(symbol: &str) -> String {
    match letter_and_index(symbol) {
        (letter, None) => letter,
        (letter, Some(index)) if index.chars().all(|c| c.is_ascii_digit()) => {
            format!("{letter}{}", index.chars().map(lowered).collect::<String>())
        }
        (letter, Some(index)) => format!("{letter}_{index}"),
    }
}

fn lowered(digit: char) -> char {
    let value = digit.to_digit(10).unwrap_or(0);
    char::from_u32(0x2080 + value).unwrap_or(digit)
}

/// A digit, a minus sign or a stroke raised.
pub(super) fn raised(text: &str) -> String {
    text.chars()
        .map(|c| match c {
            '-' => '⁻',
            '1' => '¹',
            '2' => '²',
            '3' => '³',
            other => other
                .to_digit(10)
                .and_then(|d| char::from_u32(0x2070 + d))
                .unwrap_or(other),
        })
        .collect()
}

/// A number as mantissa and, where it has one, power of ten; a true minus sign.
pub(super) fn number(value: f64, keeps_zeros: bool) -> (String, Option<String>) {
    let text = significant(value, DIGITS);
    let (mantissa, exponent) = match text.split_once('e') {
        Some((mantissa, exponent)) => (mantissa, Some(exponent.to_owned())),
        None => (text.as_str(), None),
    };
    let mantissa = if !keeps_zeros && mantissa.contains('.') {
        mantissa.trim_end_matches('0').trim_end_matches('.')
    } else {
        mantissa
    };
    (mantissa.replace('-', "−"), exponent)
}

/// A value with its unit in one line of text.
pub(in crate::present) fn value(value_si: f64, unit: Unit, keeps_zeros: bool) -> String {
    let (mantissa, exponent) = number(unit.shown(value_si), keeps_zeros);
    let mut text = mantissa;
    if let Some(exponent) = exponent {
        text += &format!("·10{}", raised(&exponent));
    }
    match unit.symbol {
        "" => text,
        // A power of ten belongs to the number.
        symbol if symbol.starts_with("10") => format!("{text}·{symbol}"),
        symbol => format!("{text} {symbol}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::by_hand::unit::{CELSIUS, MM, PLAIN, PPM};

    #[test]
    fn symbols_read_as_in_a_textbook() {
        assert_eq!(in_a_line("kappa_T"), "κ_T");
        assert_eq!(in_a_line("t_1"), "t₁");
        assert_eq!(in_a_line("Deltaeps"), "Δε");
        assert_eq!(in_a_line("rho_m_12"), "ρ_m,12");
        assert_eq!(in_a_line("EI"), "EI");
    }

    #[test]
    fn values_carry_their_unit_and_no_needless_zeros() {
        assert_eq!(value(0.38e-3, MM, false), "0.38 mm");
        assert_eq!(value(0.38e-3, MM, true), "0.3800 mm");
        assert_eq!(value(393.15, CELSIUS, false), "120 °C");
        assert_eq!(value(1.788e-3, PPM, false), "1788·10⁻⁶");
        assert_eq!(value(-1.5e-7, PLAIN, false), "−1.5·10⁻⁷");
    }
}
