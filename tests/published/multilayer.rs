//! M. Vasudevan & W. Johnson, "Thermal Bending of a Tri-Metal Strip", J. Royal Aeronautical Soc.
//! (abstract read), and "On multi-metal thermostats", Appl. Sci. Res. B 9 (1961/62) (from memory);
//! C.-H. Hsueh, J. Appl. Phys. 91 (2002) 9652 (from memory); C. H. Hsueh, S. Lee & T. J. Chuang, J.
//! Appl. Mech. 70 (2003) 151 (read). Numbers computed by two routes, N1 also by plane-stress finite
//! elements.

use crate::formulas::layered::strain_at_first_face;
use crate::formulas::thermostat_metal::{cantilever_deflection_m, simply_supported_deflection_m};
use proptest::prelude::*;
use relatch::internals::physics::layered_section::{Section, SectionLayer, stresses};

use crate::{close, near};

fn layer(mm: f64, gpa: f64, expansion: f64, kelvin: f64) -> SectionLayer {
    SectionLayer {
        thickness_m: mm * 1e-3,
        modulus_pa: gpa * 1e9,
        thermal_strain: expansion * 1e-6 * kelvin,
    }
}

/// Fe-36Ni, copper, 22Ni-3Cr-Fe, 100 K.
fn n1() -> [SectionLayer; 3] {
    [
        layer(0.35, 145.0, 1.9, 100.0),
        layer(0.10, 117.0, 17.0, 100.0),
        layer(0.35, 190.0, 18.8, 100.0),
    ]
}

#[test]
fn n1_three_metals() {
    let section = Section::of(n1());
    let curvature = section.thermal_curvature_per_m();
    close(curvature, 3.0819550, 1e-6);
    close(strain_at_first_face(&section), -118.9331e-6, 1e-6);
    close(section.free_axial_strain(), 1.19854595e-3, 1e-6);
    close(section.neutral_axis_m(), 0.42748158e-3, 1e-6);
    close(section.bending_stiffness_n_m(), 7.0450705, 1e-6);
    close(cantilever_deflection_m(curvature, 40e-3), 2.465564e-3, 1e-6);
    close(
        simply_supported_deflection_m(curvature, 40e-3),
        0.616391e-3,
        1e-6,
    );
    let expected = [-44.795, 111.614, -86.609, -50.550, -116.290, 88.660];
    let found = stresses(&n1(), 0.0, 0.0);
    let found = found.iter().flat_map(|s| [s.bottom_pa, s.top_pa]);
    for (value, expected) in found.zip(expected) {
        // Three decimals of a megapascal printed.
        near(value / 1e6, expected, 0.51e-3);
    }
    // 2-D finite elements: 3.0819549.
    close(curvature, 3.0819549, 1e-3);
}

/// The closed sum of Hsueh (2002), written apart from the matrix.
#[test]
fn n1_in_the_form_of_hsueh() {
    let (mut stretch, mut first, mut strain) = (0.0, 0.0, 0.0);
    let mut z = 0.0;
    for l in n1() {
        stretch += l.modulus_pa * l.thickness_m;
        first += l.modulus_pa * ((z + l.thickness_m).powi(2) - z * z) / 2.0;
        strain += l.modulus_pa * l.thickness_m * l.thermal_strain;
        z += l.thickness_m;
    }
    let (c, axis) = (strain / stretch, first / stretch);
    let (mut above, mut below) = (0.0, 0.0);
    z = 0.0;
    for l in n1() {
        let top = z + l.thickness_m;
        let half_square = (top * top - z * z) / 2.0;
        above += l.modulus_pa * (l.thermal_strain - c) * (half_square - axis * l.thickness_m);
        below += l.modulus_pa
            * ((top.powi(3) - z.powi(3)) / 3.0 - 2.0 * axis * half_square
                + axis * axis * l.thickness_m);
        z = top;
    }
    close(
        Section::of(n1()).thermal_curvature_per_m(),
        above / below,
        1e-12,
    );
}

/// Statement read in Vasudevan & Johnson; value computed.
#[test]
fn n3_expansion_of_a_middle_layer_does_not_matter() {
    for middle in [5.0, 17.0, 30.0] {
        let section = Section::of([
            layer(0.3, 150.0, 1.9, 100.0),
            layer(0.2, 117.0, middle, 100.0),
            layer(0.3, 150.0, 18.8, 100.0),
        ]);
        // Eight digits printed; among each other they agree to 1e-10.
        close(section.thermal_curvature_per_m(), 2.9809501, 2e-8);
        let other = Section::of([
            layer(0.3, 150.0, 1.9, 100.0),
            layer(0.2, 117.0, 0.0, 100.0),
            layer(0.3, 150.0, 18.8, 100.0),
        ]);
        close(
            section.thermal_curvature_per_m(),
            other.thermal_curvature_per_m(),
            1e-10,
        );
    }
}

/// Derived: κh/(ΔαΔT) = 1.5 (1 − f²).
#[test]
fn n6_symmetric_core_of_equal_modulus() {
    for (core, expected) in [(0.1, 1.485), (0.25, 1.40625), (0.5, 1.125)] {
        let outer = 0.5 * (1.0 - core);
        let section = Section::of([
            layer(outer, 150.0, 2.0, 100.0),
            layer(core, 150.0, 13.0, 100.0),
            layer(outer, 150.0, 19.0, 100.0),
        ]);
        close(
            section.thermal_curvature_per_m() * 1e-3 / 17e-4,
            expected,
            1e-12,
        );
    }
}

proptest! {
    /// N5, derived: splitting a layer, or adding one of no thickness, changes nothing.
    #[test]
    fn n5_splitting_changes_nothing(split in 0_usize..3, parts in 1_usize..9, empty in 0_usize..4) {
        let mut cut: Vec<SectionLayer> = Vec::new();
        for (index, layer) in n1().into_iter().enumerate() {
            let count = if index == split { parts } else { 1 };
            let piece = SectionLayer { thickness_m: layer.thickness_m / count as f64, ..layer };
            cut.extend(std::iter::repeat_n(piece, count));
        }
        cut.insert(empty, layer(0.0, 210.0, 12.0, 100.0));
        let (cut, whole) = (Section::of(cut), Section::of(n1()));
        close(cut.thermal_curvature_per_m(), whole.thermal_curvature_per_m(), 1e-12);
        close(cut.bending_stiffness_n_m(), whole.bending_stiffness_n_m(), 1e-12);
        close(cut.free_axial_strain(), whole.free_axial_strain(), 1e-12);
    }
}

/// Derived: a uniform isotropic plate bows by the same curvature in both directions as a narrow
/// beam does, and held flat it bows by (1 + ν) more (equal Poisson ratios).
#[test]
fn wide_strips_of_one_poisson_ratio() {
    let poisson = 0.3;
    let strip = [layer(0.4, 145.0, 1.9, 80.0), layer(0.4, 190.0, 18.8, 80.0)];
    let narrow = Section::of(strip);
    let bowed = Section::of(strip.map(|l| l.wide_for_thermal_curvature(poisson)));
    let pushed = Section::of(strip.map(|l| l.wide_for_force(poisson)));
    let flat = Section::of(strip.map(|l| l.held_flat(poisson)));
    let narrow_curvature = narrow.thermal_curvature_per_m();
    close(bowed.thermal_curvature_per_m(), narrow_curvature, 1e-12);
    close(
        flat.thermal_curvature_per_m(),
        1.3 * narrow_curvature,
        1e-12,
    );
    for wide in [pushed, flat] {
        close(
            wide.bending_stiffness_n_m(),
            narrow.bending_stiffness_n_m() / 0.91,
            1e-12,
        );
    }
}
