//! Numbers of materials as tables show them.

use super::sheet::Sheet;
use super::{Expansion, Property, PropertyKind};

/// Temperatures at which tables show values, K: 20 and 100 degC.
pub(super) const SHOWN_K: [f64; 2] = [293.15, 373.15];

/// A number to so many significant digits, without an exponent.
pub(super) fn significant(value: f64, digits: i32) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let exponent = value.abs().log10().floor() as i32;
    let decimals = (digits - 1 - exponent).max(0) as usize;
    let text = format!("{value:.decimals$}");
    if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.').to_owned()
    } else {
        text
    }
}

/// Value in the unit in which tables show the property; a dash outside its range.
pub(super) fn value_at(kind: PropertyKind, property: &Property, t_k: f64) -> String {
    if !property.within(t_k) {
        return "-".to_owned();
    }
    significant(property.at(t_k) / kind.shown_unit().1, 4)
}

/// Mean expansion coefficient between two temperatures, 1e-6/K.
pub(super) fn mean_expansion(expansion: &Expansion, from_k: f64, to_k: f64) -> String {
    let (strain, _) = expansion.strain_with_slope(from_k, to_k);
    significant(strain / (to_k - from_k) * 1e6, 3)
}

/// `-60 to 300`, degC.
pub(super) fn range(property: &Property) -> String {
    let celsius = |t_k: f64| {
        let c = (t_k - 273.15).round();
        if c.is_finite() {
            format!("{c}")
        } else {
            "-".to_owned()
        }
    };
    format!(
        "{} to {}",
        celsius(property.valid_k.0),
        celsius(property.valid_k.1)
    )
}

/// Range that all given properties of a material share, degC.
pub(super) fn common_range(sheet: &Sheet, kinds: &[PropertyKind]) -> String {
    let (low, high) = kinds
        .iter()
        .filter_map(|k| sheet.property(*k))
        .fold((f64::NEG_INFINITY, f64::INFINITY), |(low, high), p| {
            (low.max(p.valid_k.0), high.min(p.valid_k.1))
        });
    format!("{:.0} to {:.0}", low - 273.15, high - 273.15)
}

/// Columns padded to their widest cell, two spaces apart; the first column is flush left, the others right.
pub(super) fn columns(rows: &[Vec<String>]) -> String {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let widths: Vec<usize> = (0..count)
        .map(|c| {
            rows.iter()
                .filter_map(|r| r.get(c))
                .map(|s| s.chars().count())
                .max()
                .unwrap_or(0)
        })
        .collect();
    let mut text = String::new();
    for row in rows {
        let mut line = String::new();
        for (c, cell) in row.iter().enumerate() {
            let pad = " ".repeat(widths[c] - cell.chars().count());
            match c {
                0 => line.push_str(&format!("{cell}{pad}")),
                _ => line.push_str(&format!("  {pad}{cell}")),
            }
        }
        text.push_str(line.trim_end());
        text.push('\n');
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn significant_digits() {
        assert_eq!(significant(0.017_241_4, 4), "0.01724");
        assert_eq!(significant(8050.0, 4), "8050");
        assert_eq!(significant(0.78, 4), "0.78");
        assert_eq!(significant(144.0, 4), "144");
        assert_eq!(significant(-1.5, 3), "-1.5");
    }

    #[test]
    fn columns_line_up() {
        let rows = [
            vec!["a".to_owned(), "10".to_owned()],
            vec!["bcd".to_owned(), "5".to_owned()],
        ];
        assert_eq!(columns(&rows), "a    10\nbcd   5\n");
    }
}
