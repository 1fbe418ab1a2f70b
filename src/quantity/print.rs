//! Prints SI numbers with a sensible unit, in a form that can be read back.

use super::{Dimension, Unit};
use crate::physics::constants::ZERO_CELSIUS_K;

/// A number with at most six significant digits, without trailing zeros: `0.2`, `1.2e-6`.
pub fn format_number(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 {
            "0".to_owned()
        } else {
            value.to_string()
        };
    }
    let rounded: f64 = format!("{value:.5e}").parse().unwrap_or(value);
    if (1e-3..1e6).contains(&rounded.abs()) {
        format!("{rounded}")
    } else {
        format!("{rounded:e}")
    }
}

/// An SI value as files have it: lengths in millimetres, whatever their size, all else as
/// [`format_si`] says it.
pub fn format_in_file(value: f64, dimension: Dimension) -> String {
    match dimension {
        Dimension::Length => format!("{} mm", format_number(1e3 * value)),
        _ => format_si(value, dimension),
    }
}

/// An SI value with a unit that keeps its number between 1 and 1000 where there is one.
///
/// Temperatures are given in degrees Celsius.
///
/// ```
/// use relatch::internals::quantity::{Dimension, format_si};
/// assert_eq!(format_si(0.0012, Dimension::Length), "1.2 mm");
/// assert_eq!(format_si(298.15, Dimension::Temperature), "25 degC");
/// assert_eq!(format_si(0.03, Dimension::Fraction), "3 %");
/// ```
pub fn format_si(value: f64, dimension: Dimension) -> String {
    if dimension == Dimension::Temperature {
        return format!("{} degC", format_number(value - ZERO_CELSIUS_K));
    }
    let mut units: Vec<(f64, &str)> = dimension
        .units()
        .iter()
        // People who measure strips think in millimetres and metres.
        .filter(|u| !matches!(**u, "in" | "cm"))
        .filter_map(|u| Unit::read(u).ok().map(|unit| (unit.scale, *u)))
        .collect();
    units.sort_by(|a, b| b.0.total_cmp(&a.0));
    // The largest unit of which there is at least one; the smallest unit for what is smaller
    // still; the middle for zero.
    let chosen = if value == 0.0 {
        units.get(units.len() / 2)
    } else {
        units
            .iter()
            .find(|(scale, _)| value.abs() >= *scale * (1.0 - 1e-9))
            .or(units.last())
    };
    match chosen {
        Some((scale, unit)) => format!("{} {unit}", format_number(value / scale)),
        None => format_number(value),
    }
}
