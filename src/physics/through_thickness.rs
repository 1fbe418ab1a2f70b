//! Heat across the layers of a thin strip.
//!
//! Where one layer makes most of the heat (copper between or beside steels), that heat must cross
//! the others; the temperature then varies through the thickness although the Biot number is small,
//! and the strip bends by it. The deviation from the section's mean temperature is expanded in the
//! eigenmodes of conduction across the layers with insulated faces, `K phi = lambda C phi`: the
//! mean (lambda = 0) is the one-temperature model, every other mode relaxes at its own rate.
//!
//! Fine finite volumes across the thickness; the symmetric eigenproblem is solved densely.

use super::layered_section::{Section, SectionLayer};
use nalgebra::{DMatrix, SymmetricEigen};

/// One layer.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AcrossLayer {
    /// Thickness, m (> 0).
    pub thickness_m: f64,
    /// Thermal conductivity, W/(m K).
    pub conductivity_w_per_m_k: f64,
    /// Heat capacity per volume, J/(m^3 K).
    pub capacity_j_per_m3_k: f64,
    /// Young's modulus as the section sees it, Pa.
    pub modulus_pa: f64,
    /// Slope of the thermal strain, 1/K.
    pub expansion_per_k: f64,
}

/// One mode of the deviation, normalised to `integral c phi^2 dz = 1` per unit area.
#[derive(Clone, Debug, PartialEq)]
pub struct Mode {
    /// Relaxation rate, 1/s.
    pub rate_per_s: f64,
    /// Curvature of the free strip per unit amplitude, 1/m.
    pub curvature_per_m: f64,
    /// `integral phi dz` over each layer: what a heat source per volume in that layer feeds into
    /// it, m.
    pub layer_m: Vec<f64>,
    /// `integral k phi phi_l dz` with each of the slowest modes `l`, W/K per unit length of strip
    /// and width: axial conduction between modes.
    pub coupling: Vec<f64>,
    /// Value at the outer face of the first-listed layer.
    pub first_face: f64,
    /// Value at the outer face of the last-listed layer.
    pub last_face: f64,
}

/// Finite volumes in each layer; the slow modes are then right to about 2e-3.
const CELLS_PER_LAYER: usize = 24;
/// Slowest modes whose axial couplings are given.
const COUPLED_MODES: usize = 8;

/// Every mode but the mean, slowest first.
pub fn modes(layers: &[AcrossLayer]) -> Vec<Mode> {
    let cells: Vec<(usize, f64)> = layers
        .iter()
        .enumerate()
        .flat_map(|(i, l)| {
            std::iter::repeat_n((i, l.thickness_m / CELLS_PER_LAYER as f64), CELLS_PER_LAYER)
        })
        .collect();
    let n = cells.len();
    let root_capacity: Vec<f64> = cells
        .iter()
        .map(|(i, dz)| (layers[*i].capacity_j_per_m3_k * dz).sqrt())
        .collect();
    let mut conduction = DMatrix::<f64>::zeros(n, n);
    for c in 0..n.saturating_sub(1) {
        let half = |k: usize| 0.5 * cells[k].1 / layers[cells[k].0].conductivity_w_per_m_k;
        let g = 1.0 / (half(c) + half(c + 1));
        conduction[(c, c)] += g;
        conduction[(c + 1, c + 1)] += g;
        conduction[(c, c + 1)] -= g;
        conduction[(c + 1, c)] -= g;
    }
    let scaled = DMatrix::from_fn(n, n, |i, j| {
        conduction[(i, j)] / (root_capacity[i] * root_capacity[j])
    });
    let eigen: SymmetricEigen<f64, nalgebra::Dyn> = SymmetricEigen::new(scaled);
    let mut order: Vec<usize> = (0..n).collect();
    order.sort_by(|a, b| eigen.eigenvalues[*a].total_cmp(&eigen.eigenvalues[*b]));
    let shapes: Vec<(f64, Vec<f64>)> = order
        .into_iter()
        .skip(1)
        .map(|k| {
            let phi = (0..n)
                .map(|c| eigen.eigenvectors[(c, k)] / root_capacity[c])
                .collect();
            (eigen.eigenvalues[k], phi)
        })
        .collect();
    let along = |a: &[f64], b: &[f64]| -> f64 {
        let cell = |c: usize| layers[cells[c].0].conductivity_w_per_m_k * cells[c].1;
        (0..n).map(|c| cell(c) * a[c] * b[c]).sum()
    };
    // Couplings are wanted among the slow modes only; more would cost a matrix for nothing.
    let coupled = shapes.len().min(COUPLED_MODES);
    shapes
        .iter()
        .map(|(rate_per_s, phi)| {
            let mut layer_m = vec![0.0; layers.len()];
            for ((i, dz), value) in cells.iter().zip(phi) {
                layer_m[*i] += value * dz;
            }
            Mode {
                rate_per_s: *rate_per_s,
                curvature_per_m: curvature_of(layers, &cells, phi),
                coupling: shapes[..coupled]
                    .iter()
                    .map(|(_, other)| along(phi, other))
                    .collect(),
                layer_m,
                first_face: phi[0],
                last_face: phi[n - 1],
            }
        })
        .collect()
}

/// Curvature of the free strip under a temperature deviation given on the cells.
fn curvature_of(layers: &[AcrossLayer], cells: &[(usize, f64)], theta_k: &[f64]) -> f64 {
    Section::of(cells.iter().zip(theta_k).map(|((i, dz), t)| SectionLayer {
        thickness_m: *dz,
        modulus_pa: layers[*i].modulus_pa,
        thermal_strain: layers[*i].expansion_per_k * t,
    }))
    .thermal_curvature_per_m()
}

/// A deviation at rest.
#[derive(Clone, Debug, PartialEq)]
pub struct QuasiSteady {
    /// Curvature of the free strip, 1/m.
    pub curvature_per_m: f64,
    /// Hottest minus coldest, K.
    pub spread_k: f64,
    /// Mean over each layer, K.
    pub layer_mean_k: Vec<f64>,
}

/// Quasi-steady deviation under heat sources per volume in each layer: insulated faces, zero mean
/// weighted with the heat capacity, `d/dz(k theta') = -(q_i - c_i q/c)`. Exact: theta is a parabola
/// in each layer.
pub fn quasi_steady(layers: &[AcrossLayer], source_w_per_m3: &[f64]) -> QuasiSteady {
    let capacity: f64 = layers
        .iter()
        .map(|l| l.capacity_j_per_m3_k * l.thickness_m)
        .sum();
    let heat: f64 = layers
        .iter()
        .zip(source_w_per_m3)
        .map(|(l, q)| q * l.thickness_m)
        .sum();
    // theta within layer i: start + slope s - bend s^2, s from its first face; flux downwards in z.
    let (mut theta, mut flux) = (0.0, 0.0);
    let mut parts = Vec::with_capacity(layers.len());
    let (mut low, mut high) = (0.0f64, 0.0f64);
    for (l, q) in layers.iter().zip(source_w_per_m3) {
        let net = q - l.capacity_j_per_m3_k * heat / capacity;
        let (slope, bend) = (
            -flux / l.conductivity_w_per_m_k,
            net / (2.0 * l.conductivity_w_per_m_k),
        );
        parts.push((theta, slope, bend));
        let at = |s: f64| theta + slope * s - bend * s * s;
        let end = at(l.thickness_m);
        let turn = if bend != 0.0 {
            slope / (2.0 * bend)
        } else {
            -1.0
        };
        let turning = if turn > 0.0 && turn < l.thickness_m {
            at(turn)
        } else {
            end
        };
        low = low.min(end).min(turning);
        high = high.max(end).max(turning);
        flux += net * l.thickness_m;
        theta = end;
    }
    let mean: f64 = layers
        .iter()
        .zip(&parts)
        .map(|(l, (a, b, c))| {
            let t = l.thickness_m;
            l.capacity_j_per_m3_k * (a * t + b * t * t / 2.0 - c * t * t * t / 3.0)
        })
        .sum::<f64>()
        / capacity;
    let (mut z, mut s) = (0.0, [0.0f64; 5]);
    let mut layer_mean_k = Vec::with_capacity(layers.len());
    for (l, (a, b, c)) in layers.iter().zip(&parts) {
        let (t, e) = (l.thickness_m, l.modulus_pa);
        let a = a - mean;
        // Moments of theta about the layer's own first face, then shifted to the strip's.
        let zeroth = a * t + b * t * t / 2.0 - c * t.powi(3) / 3.0;
        let first = a * t * t / 2.0 + b * t.powi(3) / 3.0 - c * t.powi(4) / 4.0;
        layer_mean_k.push(zeroth / t);
        s[0] += e * t;
        s[1] += e * (z * t + t * t / 2.0);
        s[2] += e * (z * z * t + z * t * t + t.powi(3) / 3.0);
        s[3] += e * l.expansion_per_k * zeroth;
        s[4] += e * l.expansion_per_k * (z * zeroth + first);
        z += t;
    }
    QuasiSteady {
        curvature_per_m: (s[0] * s[4] - s[1] * s[3]) / (s[0] * s[2] - s[1] * s[1]),
        spread_k: high - low,
        layer_mean_k,
    }
}
