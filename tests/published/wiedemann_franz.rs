//! Conductivity times resistivity over `L0 T`: a screen for wrong rows (M11).
//!
//! In a metal the product of heat conductivity and electrical resistivity is near `L0 T`, L0 the
//! Lorenz number (H13: (pi^2/3)(k_B/e)^2 from the exact SI constants). Lattice conduction lifts
//! poor conductors to about 1.5. A row outside 0.7 to 1.7 has a wrong unit or belongs to two
//! different metals.

use relatch::internals::material::{Property, PropertyKind, library};

fn lorenz_number() -> f64 {
    let (boltzmann, elementary_charge) = (1.380_649e-23_f64, 1.602_176_634e-19_f64);
    (std::f64::consts::PI.powi(2) / 3.0) * (boltzmann / elementary_charge).powi(2)
}

fn ratio(conductivity: &Property, resistivity: &Property, t_k: f64) -> f64 {
    conductivity.at(t_k) * resistivity.at(t_k) / (lorenz_number() * t_k)
}

/// H13, computed from exact constants.
#[test]
fn h13_lorenz_number() {
    assert!((lorenz_number() / 2.443_004_509e-8 - 1.0).abs() < 1e-9);
}

#[test]
fn every_material_passes_at_293_k_and_over_its_range() {
    let mut screened = 0;
    for r in library::all() {
        let (Some(k), Some(r_e)) = (
            r.sheet.property(PropertyKind::Conductivity),
            r.sheet.property(PropertyKind::Resistivity),
        ) else {
            continue;
        };
        screened += 1;
        let low = k.valid_k.0.max(r_e.valid_k.0);
        let high = k.valid_k.1.min(r_e.valid_k.1);
        assert!(low <= 293.15 && high >= 293.15, "{}", r.sheet.name);
        for t in std::iter::once(293.15)
            .chain((0..=40).map(|i| low + (high - low) * f64::from(i) / 40.0))
        {
            let value = ratio(k, r_e, t);
            assert!(
                (0.7..=1.7).contains(&value),
                "{}: {value:.3} at {t:.1} K",
                r.sheet.name
            );
        }
    }
    assert!(
        screened >= 15,
        "only {screened} materials have both properties"
    );
}

/// M11, derived from the rows of the sources to two digits, and by how much the library misses
/// that.
#[test]
fn m11_ratios_at_293_k() {
    for (name, expected, known) in [
        ("copper", 0.94, 0.0013),
        ("nickel", 0.89, -0.0103), // 0.88 at 293.15 K
        ("brass 70/30", 1.04, 0.0008),
        ("Fe-36Ni", 1.16, -0.0036),
        ("304", 1.50, -0.0244), // the conductivity at 20 degC is interpolated
        ("carbon steel", 1.20, -0.0480), // both properties from memory, as wide as the ranges given for them
    ] {
        let a = library::alloy(name).unwrap_or_else(|| panic!("{name}"));
        let value = ratio(&a.conductivity, &a.resistivity, 293.15);
        let missed = value - expected;
        assert!((missed - known).abs() < 0.003, "{name}: {missed:.4}");
    }
}
