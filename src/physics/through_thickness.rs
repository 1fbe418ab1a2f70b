//! Heat across the layers of a thin strip.
//!
//! Where one layer makes most of the heat (copper between or beside steels), that heat must cross the
//! others; the temperature then varies through the thickness although the Biot number is small, and the
//! strip bends by it. The deviation from the section's mean temperature is expanded in the eigenmodes of
//! conduction across the layers with insulated faces, `K phi = lambda C phi`: the mean (lambda = 0) is the
//! one-temperature model, every other mode relaxes at its own rate.
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
    /// `integral phi dz` over each layer: what a heat source per volume in that layer feeds into it, m.
    pub layer_m: Vec<f64>,
    /// Value at the outer face of the first-listed layer.
    pub first_face: f64,
    /// Value at the outer face of the last-listed layer.
    pub last_face: f64,
}

/// Finite volumes in each layer; the slow modes are then right to about 2e-3.
const CELLS_PER_LAYER: usize = 24;

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
    order
        .into_iter()
        .skip(1)
        .map(|k| {
            let phi: Vec<f64> = (0..n)
                .map(|c| eigen.eigenvectors[(c, k)] / root_capacity[c])
                .collect();
            let mut layer_m = vec![0.0; layers.len()];
            for ((i, dz), value) in cells.iter().zip(&phi) {
                layer_m[*i] += value * dz;
            }
            Mode {
                rate_per_s: eigen.eigenvalues[k],
                curvature_per_m: curvature_of(layers, &cells, &phi),
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

/// Quasi-steady deviation under heat sources per volume in each layer, its curvature (1/m) and its
/// spread (K): insulated faces, zero mean weighted with the heat capacity, `d/dz(k theta') = -(q_i - c_i q/c)`.
/// Exact: theta is a parabola in each layer.
pub fn quasi_steady(layers: &[AcrossLayer], source_w_per_m3: &[f64]) -> (f64, f64) {
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
    for (l, (a, b, c)) in layers.iter().zip(&parts) {
        let (t, e) = (l.thickness_m, l.modulus_pa);
        let a = a - mean;
        // Moments of theta about the layer's own first face, then shifted to the strip's.
        let zeroth = a * t + b * t * t / 2.0 - c * t.powi(3) / 3.0;
        let first = a * t * t / 2.0 + b * t.powi(3) / 3.0 - c * t.powi(4) / 4.0;
        s[0] += e * t;
        s[1] += e * (z * t + t * t / 2.0);
        s[2] += e * (z * z * t + z * t * t + t.powi(3) / 3.0);
        s[3] += e * l.expansion_per_k * zeroth;
        s[4] += e * l.expansion_per_k * (z * zeroth + first);
        z += t;
    }
    let curvature = (s[0] * s[4] - s[1] * s[3]) / (s[0] * s[2] - s[1] * s[1]);
    (curvature, high - low)
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    fn layer(t: f64, k: f64, c: f64, e: f64, a: f64) -> AcrossLayer {
        AcrossLayer {
            thickness_m: t,
            conductivity_w_per_m_k: k,
            capacity_j_per_m3_k: c,
            modulus_pa: e,
            expansion_per_k: a,
        }
    }

    fn steels_and_copper() -> Vec<AcrossLayer> {
        vec![
            layer(0.6e-3, 11.0, 4.25e6, 145e9, 1.6e-6),
            layer(0.12e-3, 390.0, 3.48e6, 118e9, 17e-6),
            layer(0.6e-3, 13.0, 3.97e6, 190e9, 18.6e-6),
        ]
    }

    #[test]
    fn a_uniform_layer_relaxes_at_pi_squared_diffusivity_over_thickness_squared() {
        let l = layer(1e-3, 12.0, 4e6, 150e9, 1e-5);
        let all = modes(&[l]);
        let expected = PI * PI * (12.0 / 4e6) / 1e-6;
        // 24 volumes: the relative error of the first rate is (pi/24)^2/12.
        assert!(
            (all[0].rate_per_s / expected - 1.0).abs() < 4e-3,
            "{}",
            all[0].rate_per_s / expected
        );
    }

    #[test]
    fn a_uniform_source_in_a_uniform_strip_makes_no_deviation() {
        let l = layer(1e-3, 12.0, 4e6, 150e9, 1e-5);
        let (curvature, spread) = quasi_steady(&[l, l], &[5e7, 5e7]);
        assert!(curvature.abs() < 1e-15 && spread.abs() < 1e-12);
        assert!(
            modes(&[l, l])
                .iter()
                .all(|m| (m.layer_m[0] + m.layer_m[1]).abs() < 1e-12)
        );
    }

    /// Two equal layers, heat in one: theta of the exact parabolas, known in closed form: the faces
    /// differ by q t^2/(2k) (t one layer).
    #[test]
    fn two_equal_layers_with_heat_in_one_have_the_closed_form_spread() {
        let l = layer(0.5e-3, 12.0, 4e6, 150e9, 1e-5);
        let (_, spread) = quasi_steady(&[l, l], &[8e7, 0.0]);
        let expected = 8e7 * 0.25e-6 / (2.0 * 12.0);
        assert!(
            (spread / expected - 1.0).abs() < 1e-12,
            "{spread} {expected}"
        );
    }

    /// The modes, summed at rest, are the parabolas: two routes to one curvature.
    #[test]
    fn modes_at_rest_sum_to_the_quasi_steady_curvature() {
        for order in [[0, 1, 2], [1, 0, 2], [0, 2, 1]] {
            let all = steels_and_copper();
            let layers: Vec<AcrossLayer> = order.iter().map(|i| all[*i]).collect();
            let source: Vec<f64> = order
                .iter()
                .map(|i| if *i == 1 { 1.2e10 } else { 2.7e8 })
                .collect();
            let (exact, _) = quasi_steady(&layers, &source);
            let summed: f64 = modes(&layers)
                .iter()
                .map(|m| {
                    let feed: f64 = m.layer_m.iter().zip(&source).map(|(l, q)| l * q).sum();
                    m.curvature_per_m * feed / m.rate_per_s
                })
                .sum();
            assert!(
                (summed / exact - 1.0).abs() < 5e-3,
                "{order:?}: {summed} {exact}"
            );
        }
    }

    #[test]
    fn modes_are_orthogonal_to_the_mean() {
        let layers = steels_and_copper();
        for m in modes(&layers).iter().take(6) {
            let mean: f64 = m
                .layer_m
                .iter()
                .zip(&layers)
                .map(|(l, a)| l * a.capacity_j_per_m3_k)
                .sum();
            assert!(mean.abs() < 1e-9, "{mean}");
        }
    }
}
