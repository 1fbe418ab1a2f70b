//! Library alloys put together to the two thermostat metals whose properties were read (B2).
//!
//! GB/T 4461 types 5J1480 and 5J20110 as given in a manufacturer's data sheet. Equal layers are
//! assumed. For 5J20110 the expansion, resistivity and density of the high side were derived from
//! the same sheet, so that row only guards the derivation; for 5J1480 they were written down from
//! memory, so the row is a true check of them.

use relatch::internals::material::{Alloy, library};
use std::sync::Arc;

struct Pair {
    low: Arc<Alloy>,
    high: Arc<Alloy>,
}

impl Pair {
    fn of(low: &str, high: &str) -> Pair {
        let get = |name| library::alloy(name).unwrap_or_else(|| panic!("{name}"));
        Pair {
            low: get(low),
            high: get(high),
        }
    }

    /// Flexivity between two temperatures by Timoshenko (1925), layers of equal thickness:
    /// `24/(14 + n + 1/n)` times the difference of thermal strain per kelvin.
    fn flexivity(&self, from_c: f64, to_c: f64) -> f64 {
        let (from, to) = (from_c + 273.15, to_c + 273.15);
        let strain = |a: &Alloy| a.expansion.strain_with_slope(from, to).0;
        let n = self.low.youngs_modulus.at(to) / self.high.youngs_modulus.at(to);
        24.0 / (14.0 + n + 1.0 / n) * (strain(&self.high) - strain(&self.low)) / (to - from)
    }

    fn resistivity(&self) -> f64 {
        2.0 / (1.0 / self.low.resistivity.at(293.15) + 1.0 / self.high.resistivity.at(293.15))
    }

    fn density(&self) -> f64 {
        0.5 * (self.low.density.at(293.15) + self.high.density.at(293.15))
    }

    fn modulus(&self) -> f64 {
        0.5 * (self.low.youngs_modulus.at(293.15) + self.high.youngs_modulus.at(293.15))
    }
}

/// Within the tolerance of the sheet, and by as much as is known: what the library misses is stated
/// to 0.1 %.
#[track_caller]
fn missed_by(value: f64, printed: f64, known: f64, sheet: f64) {
    let missed = value / printed - 1.0;
    assert!(missed.abs() <= sheet, "{value:e}, printed {printed:e}");
    assert!((missed - known).abs() < 1e-3, "missed by {missed:.4}");
}

/// B2, read. Tolerances: 5 % on flexivity and resistivity as the sheet states them; density to its
/// last digit.
#[test]
fn b2_5j1480() {
    let pair = Pair::of("Fe-36Ni", "22Ni-3Cr-Fe");
    missed_by(pair.flexivity(20.0, 130.0), 26.2e-6, -0.0340, 0.05);
    missed_by(pair.resistivity(), 0.80e-6, 0.0042, 0.05);
    missed_by(pair.density(), 8200.0, -0.0091, 0.1 / 8.2);
    assert!((147e9..=177e9).contains(&pair.modulus()));
}

#[test]
fn b2_5j20110() {
    let pair = Pair::of("Fe-36Ni", "75Mn-15Ni-10Cu");
    missed_by(pair.flexivity(20.0, 130.0), 39.0e-6, -0.0010, 0.05);
    missed_by(pair.resistivity(), 1.13e-6, 0.0241, 0.05);
    missed_by(pair.density(), 7700.0, -0.0032, 0.1 / 7.7);
    assert!((113e9..=142e9).contains(&pair.modulus()));
}

/// B3, read: the specific deflections of the same two types, 14.3e-6 and 20.8e-6 per kelvin. The
/// ideal narrow strip of the library's alloys moves half of its flexivity; a wide strip at its
/// clamp moves 6 % more (B3 of the catalogue), and the library's flexivities miss the sheet by what
/// B2 says.
#[test]
fn b3_specific_deflection_of_two_standard_types() {
    for (high, printed, known) in [
        ("22Ni-3Cr-Fe", 14.3e-6, -0.1151),
        ("75Mn-15Ni-10Cu", 20.8e-6, -0.0634),
    ] {
        let narrow = 0.5 * Pair::of("Fe-36Ni", high).flexivity(20.0, 130.0);
        missed_by(narrow, printed, known, 0.12);
    }
}

/// The expansion table of the standard (M1) would give a flexivity 6 to 7 % low, outside the 5 % of
/// 5J1480: the reason why the alloy of the library holds the data sheet's table (M1c).
#[test]
fn b2_5j1480_with_the_standard_s_expansion_table_is_low() {
    let pair = Pair::of("Fe-36Ni F1684", "22Ni-3Cr-Fe");
    missed_by(pair.flexivity(30.0, 130.0), 26.2e-6, -0.0601, 0.08);
}
