//! Unit symbols and SI prefixes.

use super::dimension::Exponents;
use crate::physics::constants::ZERO_CELSIUS_K;

/// A unit symbol: powers of the base units, factor to SI, and whether SI prefixes go before it.
pub(super) struct Symbol {
    pub text: &'static str,
    pub exponents: Exponents,
    pub scale: f64,
    prefixes: bool,
}

const fn si(text: &'static str, exponents: Exponents, scale: f64) -> Symbol {
    Symbol {
        text,
        exponents,
        scale,
        prefixes: true,
    }
}

const fn plain(text: &'static str, exponents: Exponents, scale: f64) -> Symbol {
    Symbol {
        text,
        exponents,
        scale,
        prefixes: false,
    }
}

const OHM: Exponents = [2, 1, -3, -2, 0, 0];
const FARAD: Exponents = [-2, -1, 4, 2, 0, 0];

/// Every symbol. Inch, foot, pound-force and psi are exact by the 1959 international yard and
/// pound and the standard acceleration of gravity.
#[rustfmt::skip]
pub(super) const SYMBOLS: &[Symbol] = &[
    si("m", [1, 0, 0, 0, 0, 0], 1.0),
    si("g", [0, 1, 0, 0, 0, 0], 1e-3),
    si("s", [0, 0, 1, 0, 0, 0], 1.0),
    si("A", [0, 0, 0, 1, 0, 0], 1.0),
    si("K", [0, 0, 0, 0, 1, 0], 1.0),
    si("mol", [0, 0, 0, 0, 0, 1], 1.0),
    si("N", [1, 1, -2, 0, 0, 0], 1.0),
    si("Pa", [-1, 1, -2, 0, 0, 0], 1.0),
    si("J", [2, 1, -2, 0, 0, 0], 1.0),
    si("W", [2, 1, -3, 0, 0, 0], 1.0),
    si("V", [2, 1, -3, -1, 0, 0], 1.0),
    si("ohm", OHM, 1.0),
    si("Ohm", OHM, 1.0),
    si("\u{3a9}", OHM, 1.0),
    si("\u{2126}", OHM, 1.0),
    si("T", [0, 1, -2, -1, 0, 0], 1.0),
    si("Hz", [0, 0, -1, 0, 0, 0], 1.0),
    // No bare farad: "105 F" is a temperature.
    plain("uF", FARAD, 1e-6),
    plain("nF", FARAD, 1e-9),
    plain("pF", FARAD, 1e-12),
    plain("sec", [0, 0, 1, 0, 0, 0], 1.0),
    plain("min", [0, 0, 1, 0, 0, 0], 60.0),
    plain("h", [0, 0, 1, 0, 0, 0], 3600.0),
    plain("d", [0, 0, 1, 0, 0, 0], 86400.0),
    plain("week", [0, 0, 1, 0, 0, 0], 604_800.0),
    // The Julian year of 365.25 days.
    plain("year", [0, 0, 1, 0, 0, 0], 31_557_600.0),
    plain("in", [1, 0, 0, 0, 0, 0], 0.0254),
    plain("mil", [1, 0, 0, 0, 0, 0], 0.0254e-3),
    plain("ft", [1, 0, 0, 0, 0, 0], 0.3048),
    plain("lbf", [1, 1, -2, 0, 0, 0], 4.448_221_615_260_5),
    plain("psi", [-1, 1, -2, 0, 0, 0], 6_894.757_293_168_361),
    plain("bar", [-1, 1, -2, 0, 0, 0], 1e5),
    plain("%", [0; 6], 1e-2),
    plain("ppm", [0; 6], 1e-6),
];

/// Prefixes; all three spellings of micro.
const PREFIXES: &[(&str, f64)] = &[
    ("G", 1e9),
    ("M", 1e6),
    ("k", 1e3),
    ("c", 1e-2),
    ("m", 1e-3),
    ("u", 1e-6),
    ("\u{b5}", 1e-6),
    ("\u{3bc}", 1e-6),
    ("n", 1e-9),
];

/// Degrees: (spelling, factor to kelvin, kelvin at zero degrees). Not to be used inside compound
/// units.
const DEGREES: &[(&str, f64, f64)] = &[
    ("degC", 1.0, ZERO_CELSIUS_K),
    ("\u{b0}C", 1.0, ZERO_CELSIUS_K),
    ("\u{2103}", 1.0, ZERO_CELSIUS_K),
    ("degF", 5.0 / 9.0, ZERO_CELSIUS_K - 160.0 / 9.0),
    ("\u{b0}F", 5.0 / 9.0, ZERO_CELSIUS_K - 160.0 / 9.0),
    ("\u{2109}", 5.0 / 9.0, ZERO_CELSIUS_K - 160.0 / 9.0),
];

/// Powers and factor of a symbol with or without prefix.
pub(super) fn find(text: &str) -> Option<(Exponents, f64)> {
    if let Some(s) = SYMBOLS.iter().find(|s| s.text == text) {
        return Some((s.exponents, s.scale));
    }
    PREFIXES.iter().find_map(|(prefix, factor)| {
        let rest = text.strip_prefix(prefix)?;
        let s = SYMBOLS.iter().find(|s| s.prefixes && s.text == rest)?;
        Some((s.exponents, s.scale * factor))
    })
}

/// Factor and zero of a degree spelling.
pub(super) fn degrees(text: &str) -> Option<(f64, f64)> {
    DEGREES
        .iter()
        .find(|(spelling, ..)| *spelling == text)
        .map(|&(_, scale, zero)| (scale, zero))
}

/// The known symbol that is most like `text`, for "did you mean".
pub(super) fn nearest(text: &str, offered: &[&str]) -> Option<String> {
    let folk = match text {
        "C" | "c" | "Celsius" | "celsius" | "deg" => Some("degC"),
        "F" | "Fahrenheit" | "fahrenheit" => Some("degF"),
        "amp" | "amps" | "Amp" | "Amps" | "ampere" | "amperes" => Some("A"),
        "hour" | "hours" | "hr" | "hrs" => Some("h"),
        "minute" | "minutes" | "mins" => Some("min"),
        "second" | "seconds" | "secs" => Some("s"),
        "day" | "days" => Some("d"),
        "weeks" => Some("week"),
        "years" | "yr" | "a" => Some("year"),
        "inch" | "inches" => Some("in"),
        "micron" | "microns" => Some("um"),
        "ohms" | "Ohms" => Some("ohm"),
        _ => None,
    };
    if let Some(unit) = folk {
        return Some(unit.to_owned());
    }
    let lower = text.to_lowercase();
    let prefixed = [
        "um", "mm", "cm", "ms", "mA", "kA", "mV", "mN", "GPa", "MPa", "mohm", "uohm", "kg",
    ];
    let all = offered
        .iter()
        .copied()
        .chain(prefixed)
        .chain(SYMBOLS.iter().map(|s| s.text))
        .chain(["degC", "degF"]);
    all.clone()
        .find(|s| s.to_lowercase() == lower)
        .or_else(|| {
            all.filter(|s| s.chars().count() > 1)
                .map(|s| (strsim::damerau_levenshtein(&lower, &s.to_lowercase()), s))
                .filter(|(distance, s)| *distance <= (s.chars().count() / 2).min(2))
                .min_by_key(|(distance, _)| *distance)
                .map(|(_, s)| s)
        })
        .map(str::to_owned)
}
