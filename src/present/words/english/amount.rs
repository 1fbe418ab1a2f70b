//! Amounts with their units, as people read them.

use crate::quantity::{Dimension, format_number, format_si};

/// An SI value in its usual unit: `1.2 mm`, `25 °C`, `0.6`.
pub(crate) fn amount(value_si: f64, dimension: Dimension) -> String {
    if dimension == Dimension::Fraction {
        return format_number(value_si);
    }
    let written = format_si(value_si, dimension);
    let symbols = [
        ("degC", "°C"),
        ("uohm", "µΩ"),
        ("ohm", "Ω"),
        (" um", " µm"),
        ("m2", "m²"),
        ("m3", "m³"),
    ];
    symbols
        .into_iter()
        .fold(written, |text, (file, shown)| text.replace(file, shown))
}
