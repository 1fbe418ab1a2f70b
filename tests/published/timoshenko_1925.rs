//! S. Timoshenko, "Analysis of Bi-Metal Thermostats", J. Opt. Soc. Am. & Rev. Sci. Instrum. 11
//! (1925) 233-255. Assumptions and notation read; formulas from memory, re-derived. The numbers are
//! computed by two routes (closed form and layer matrix), not the paper's own worked examples.

use crate::formulas::layered::strain_at_first_face;
use crate::formulas::thermostat_metal::{
    cantilever_arc_deflection_m, cantilever_deflection_m, cantilever_tip_stiffness_n_per_m,
    simply_supported_deflection_m,
};
use crate::formulas::timoshenko::{
    Layer, bending_stiffness_n_m, best_thickness_ratio, curvature_per_m, dimensionless_curvature,
    interface_force_n_per_m, stresses_pa,
};
use proptest::prelude::*;
use relatch::internals::physics::layered_section::{Section, SectionLayer, stresses};

use crate::{close, near, within};

const MODULUS_RATIOS: [f64; 5] = [0.5, 0.8, 1.0, 1.25, 2.0];
const GRID: [(f64, [f64; 5]); 5] = [
    (0.25, [0.681431, 0.871080, 0.960000, 1.045205, 1.204819]),
    (0.5, [1.119171, 1.273585, 1.333333, 1.383728, 1.459459]),
    (1.0, [1.454545, 1.495327, 1.500000, 1.495327, 1.454545]),
    (2.0, [1.459459, 1.383728, 1.333333, 1.273585, 1.119171]),
    (4.0, [1.204819, 1.045205, 0.960000, 0.871080, 0.681431]),
];

/// One strip of table T4.
struct Strip {
    low: Layer,
    high: Layer,
    low_strain: f64,
    high_strain: f64,
}

impl Strip {
    fn new(thickness_mm: f64, gpa: [f64; 2], expansion: [f64; 2], kelvin: f64) -> Self {
        let layer = |gpa: f64| Layer {
            thickness_m: thickness_mm * 1e-3,
            modulus_pa: gpa * 1e9,
        };
        Self {
            low: layer(gpa[0]),
            high: layer(gpa[1]),
            low_strain: expansion[0] * 1e-6 * kelvin,
            high_strain: expansion[1] * 1e-6 * kelvin,
        }
    }

    fn t4a() -> Self {
        Self::new(0.5, [145.0, 110.0], [1.2, 19.0], 100.0)
    }

    fn t4b(kelvin: f64) -> Self {
        Self::new(0.4, [145.0, 190.0], [1.9, 18.8], kelvin)
    }

    fn curvature_per_m(&self) -> f64 {
        curvature_per_m(
            self.low.thickness_m / self.high.thickness_m,
            self.low.modulus_pa / self.high.modulus_pa,
            self.low.thickness_m + self.high.thickness_m,
            self.high_strain - self.low_strain,
        )
    }

    fn layers(&self) -> [SectionLayer; 2] {
        let layer = |layer: Layer, thermal_strain| SectionLayer {
            thickness_m: layer.thickness_m,
            modulus_pa: layer.modulus_pa,
            thermal_strain,
        };
        [
            layer(self.low, self.low_strain),
            layer(self.high, self.high_strain),
        ]
    }
}

/// Curvature times total thickness over strain difference, by the layer matrix.
fn by_section(thickness_ratio: f64, modulus_ratio: f64) -> f64 {
    let total_m = 0.8e-3;
    let upper_m = total_m / (1.0 + thickness_ratio);
    let section = Section::of([
        SectionLayer {
            thickness_m: upper_m * thickness_ratio,
            modulus_pa: 150e9 * modulus_ratio,
            thermal_strain: 1e-4,
        },
        SectionLayer {
            thickness_m: upper_m,
            modulus_pa: 150e9,
            thermal_strain: 18e-4,
        },
    ]);
    section.thermal_curvature_per_m() * total_m / 17e-4
}

#[test]
fn t1_grid_of_dimensionless_curvature() {
    for (m, row) in GRID {
        for (n, expected) in MODULUS_RATIOS.into_iter().zip(row) {
            // Printed to six decimals.
            close(dimensionless_curvature(m, n), expected, 1e-6);
            close(by_section(m, n), expected, 1e-6);
            let mirrored = dimensionless_curvature(1.0 / m, 1.0 / n);
            close(mirrored, dimensionless_curvature(m, n), 1e-14);
        }
    }
}

#[test]
fn t2_equal_layers_bend_by_three_halves() {
    close(dimensionless_curvature(1.0, 1.0), 1.5, 1e-12);
    close(by_section(1.0, 1.0), 1.5, 1e-12);
}

#[test]
fn t2b_equal_thickness_any_modulus() {
    let printed = [
        (0.5, 1.454545),
        (1.0, 1.5),
        (1.5, 1.484536),
        (2.0, 1.454545),
        (3.0, 1.384615),
    ];
    for (n, expected) in printed {
        close(dimensionless_curvature(1.0, n), expected, 1e-6);
        close(
            dimensionless_curvature(1.0, n),
            24.0 / (14.0 + n + 1.0 / n),
            1e-12,
        );
        close(by_section(1.0, n), expected, 1e-6);
    }
}

#[test]
#[allow(clippy::approx_constant)] // the digits as printed
fn t3_best_thickness_ratio() {
    for (n, expected) in [
        (0.5, 1.414214),
        (0.8, 1.118034),
        (1.25, 0.894427),
        (2.0, 0.707107),
    ] {
        let best = best_thickness_ratio(n);
        close(best, expected, 1e-5);
        close(dimensionless_curvature(best, n), 1.5, 1e-9);
        for aside in [0.98, 1.02] {
            assert!(dimensionless_curvature(best * aside, n) < 1.5 - 1e-6);
        }
    }
}

#[test]
fn t4_two_numeric_strips() {
    let cases = [
        (
            Strip::t4a(),
            [2.657245, 0.376330, 0.298940, 1.195760, 1.195127],
            [-68.0919, 124.5584, -101.3075, 44.8410],
            [14116.61, 10.474877],
        ),
        (
            Strip::t4b(75.0),
            [2.365695, 0.422709, 0.266141, 1.064563, 1.064116],
            [-42.1882, 95.0221, -116.3133, 63.4795],
            [10566.77, 7.049950],
        ),
    ];
    for (strip, shape, face_mpa, [force, stiffness]) in cases {
        let (curvature, length_m) = (strip.curvature_per_m(), 30e-3);
        let section = Section::of(strip.layers());
        let by_formula = [
            curvature,
            1.0 / curvature,
            1e3 * simply_supported_deflection_m(curvature, length_m),
            1e3 * cantilever_deflection_m(curvature, length_m),
            1e3 * cantilever_arc_deflection_m(curvature, length_m),
        ];
        for (value, expected) in by_formula.into_iter().zip(shape) {
            // Six decimals are printed: half of the last one is more than 1e-6 of the small values.
            near(value, expected, 0.5e-6_f64.max(1e-6 * expected) * 1.001);
        }
        close(section.thermal_curvature_per_m(), curvature, 1e-13);

        let closed = stresses_pa(strip.low, strip.high, curvature);
        let closed = [
            closed.low_outer_pa,
            closed.low_interface_pa,
            closed.high_interface_pa,
            closed.high_outer_pa,
        ];
        let layered = stresses(&strip.layers(), 0.0, 0.0);
        let layered = layered.iter().flat_map(|s| [s.bottom_pa, s.top_pa]);
        for ((closed, layered), expected) in closed.into_iter().zip(layered).zip(face_mpa) {
            near(closed / 1e6, expected, 0.51e-4);
            close(layered, closed, 1e-12);
        }

        close(
            interface_force_n_per_m(strip.low, strip.high, curvature),
            force,
            1e-6,
        );
        close(
            bending_stiffness_n_m(strip.low, strip.high),
            stiffness,
            1e-6,
        );
        close(section.bending_stiffness_n_m(), stiffness, 1e-6);
    }
}

#[test]
fn t5_stresses_of_equal_layers() {
    let layer = |thermal_strain| SectionLayer {
        thickness_m: 0.4e-3,
        modulus_pa: 150e9,
        thermal_strain,
    };
    let unit_pa = 150e9 * 17e-4;
    let found = stresses(&[layer(0.0), layer(17e-4)], 0.0, 0.0);
    let found = found.iter().flat_map(|s| [s.bottom_pa, s.top_pa]);
    for (value, expected) in found.zip([-0.25, 0.5, -0.5, 0.25]) {
        near(value / unit_pa, expected, 1e-12);
    }
}

/// T7a, T7b: computed. The strip of T4b, 10 mm wide and 30 mm long.
#[test]
fn t7_tip_stiffness_and_latch() {
    let (width_m, length_m) = (10e-3, 30e-3);
    let stiffness_ei = width_m * Section::of(Strip::t4b(75.0).layers()).bending_stiffness_n_m();
    let tip = cantilever_tip_stiffness_n_per_m(stiffness_ei, length_m);
    close(tip, 7833.278, 1e-6);
    let free = |kelvin: f64| {
        let section = Section::of(Strip::t4b(kelvin).layers());
        cantilever_deflection_m(section.thermal_curvature_per_m(), length_m)
    };
    close(tip * free(75.0), 8.339015, 1e-6);
    // The rise that moves the tip 0.5 mm against P: linear in the temperature.
    for (force_n, expected_k) in [(2.0, 53.21347), (0.0, 35.22573)] {
        close(free(expected_k), 0.5e-3 + force_n / tip, 1e-6);
    }
}

fn layer() -> impl Strategy<Value = SectionLayer> {
    (5e-5..1e-3, 5e10..3e11, -2e-3..4e-3).prop_map(|(thickness_m, modulus_pa, thermal_strain)| {
        SectionLayer {
            thickness_m,
            modulus_pa,
            thermal_strain,
        }
    })
}

proptest! {
    /// The N-layer section of two layers is Timoshenko's closed form, in curvature, stiffness and
    /// stress.
    #[test]
    fn section_of_two_layers_is_the_closed_form(low in layer(), high in layer()) {
        let section = Section::of([low, high]);
        let difference = high.thermal_strain - low.thermal_strain;
        let total_m = low.thickness_m + high.thickness_m;
        let closed = curvature_per_m(
            low.thickness_m / high.thickness_m,
            low.modulus_pa / high.modulus_pa,
            total_m,
            difference,
        );
        // Rounding: strains of up to 4e-3 cancel in the layer matrix.
        within(section.thermal_curvature_per_m(), closed, 1e-10 * 4e-3 / total_m);
        let plain = |l: SectionLayer| Layer { thickness_m: l.thickness_m, modulus_pa: l.modulus_pa };
        close(section.bending_stiffness_n_m(), bending_stiffness_n_m(plain(low), plain(high)), 1e-10);
        let faces = stresses_pa(plain(low), plain(high), closed);
        let layered = stresses(&[low, high], 0.0, 0.0);
        let scale_pa = 4e-3 * 3e11;
        within(layered[0].bottom_pa, faces.low_outer_pa, 1e-10 * scale_pa);
        within(layered[0].top_pa, faces.low_interface_pa, 1e-10 * scale_pa);
        within(layered[1].bottom_pa, faces.high_interface_pa, 1e-10 * scale_pa);
        within(layered[1].top_pa, faces.high_outer_pa, 1e-10 * scale_pa);
    }

    /// T6: without load force and moment vanish, the strain is continuous, and all is linear and
    /// odd. 1e-10 of the largest term.
    #[test]
    fn t6_balance_continuity_linearity(layers in prop::collection::vec(layer(), 1..7)) {
        let section = Section::of(layers.iter().copied());
        let (curvature, first) = (section.thermal_curvature_per_m(), strain_at_first_face(&section));
        let (mut force, mut moment, mut largest, mut z) = (0.0, 0.0, 0.0_f64, 0.0);
        for (stress, layer) in stresses(&layers, 0.0, 0.0).iter().zip(&layers) {
            let t = layer.thickness_m;
            let (mean, half) = (0.5 * (stress.bottom_pa + stress.top_pa), 0.5 * (stress.top_pa - stress.bottom_pa));
            force += mean * t;
            moment += mean * t * (z + 0.5 * t) + half * t * t / 6.0;
            largest = largest.max(layer.modulus_pa * t * layer.thermal_strain.abs());
            let strain = |pa: f64| pa / layer.modulus_pa + layer.thermal_strain;
            within(strain(stress.bottom_pa), first + curvature * z, 4e-13);
            z += t;
            within(strain(stress.top_pa), first + curvature * z, 4e-13);
        }
        within(force, 0.0, 1e-10 * largest);
        within(moment, 0.0, 1e-10 * largest * z);

        let doubled = Section::of(layers.iter().map(|l| SectionLayer { thermal_strain: 2.0 * l.thermal_strain, ..*l }));
        within(doubled.thermal_curvature_per_m(), 2.0 * curvature, 1e-10 * 4e-3 / z);
        let turned = Section::of(layers.iter().rev().copied());
        within(turned.thermal_curvature_per_m(), -curvature, 1e-10 * 4e-3 / z);
    }

    /// An axial force and a moment come back as the integrals of the stress.
    #[test]
    fn applied_force_and_moment_are_carried(layers in prop::collection::vec(layer(), 1..6), axial in -1e4..1e4_f64, bending in -10.0..10.0_f64) {
        let axis = Section::of(layers.iter().copied()).neutral_axis_m();
        let (mut force, mut moment, mut largest, mut z) = (0.0, 0.0, axial.abs(), 0.0);
        for (stress, layer) in stresses(&layers, axial, bending).iter().zip(&layers) {
            let t = layer.thickness_m;
            let (mean, half) = (0.5 * (stress.bottom_pa + stress.top_pa), 0.5 * (stress.top_pa - stress.bottom_pa));
            force += mean * t;
            moment += mean * t * (z + 0.5 * t - axis) + half * t * t / 6.0;
            largest = largest.max(mean.abs() * t).max(layer.modulus_pa * t * layer.thermal_strain.abs());
            z += t;
        }
        within(force, axial, 1e-10 * largest);
        within(moment, bending, 1e-10 * (largest * z + bending.abs()));
    }
}
