//! Heat across the layers: modes and exact parabolas against an explicit march on a grid of its
//! own.

use relatch::internals::physics::layered_section::{Section, SectionLayer};
use relatch::internals::physics::through_thickness::{AcrossLayer, modes, quasi_steady};

use crate::support::apart;

/// Low side, copper, high side, in the order asked for, with heat per volume as the field in
/// parallel layers makes it.
fn stack(order: [usize; 3]) -> (Vec<AcrossLayer>, Vec<f64>) {
    let layer = |thickness_m, conductivity, capacity, modulus_pa, expansion_per_k| AcrossLayer {
        thickness_m,
        conductivity_w_per_m_k: conductivity,
        capacity_j_per_m3_k: capacity,
        modulus_pa,
        expansion_per_k,
    };
    let all = [
        (layer(0.6e-3, 11.0, 4.2e6, 145e9, 2e-6), 1.0e6),
        (layer(0.12e-3, 390.0, 3.44e6, 117e9, 17e-6), 46e6),
        (layer(0.6e-3, 13.0, 3.9e6, 190e9, 19e-6), 1.1e6),
    ];
    order.map(|i| all[i]).into_iter().unzip()
}

/// Curvature and spread of temperature at the times asked for, from a step of the load at 0: cells
/// of equal thickness, explicit steps, the mean heating taken out of the drive.
fn march(layers: &[AcrossLayer], source: &[f64], times_s: &[f64]) -> Vec<(f64, f64)> {
    let total_m: f64 = layers.iter().map(|l| l.thickness_m).sum();
    let mut cells = Vec::new();
    for (layer, heat) in layers.iter().zip(source) {
        let count = ((110.0 * layer.thickness_m / total_m).round() as usize).max(8);
        let cell_m = layer.thickness_m / count as f64;
        cells.extend(std::iter::repeat_n((cell_m, *layer, *heat), count));
    }
    let (made, stored) = cells.iter().fold((0.0, 0.0), |(q, c), (t, l, heat)| {
        (q + heat * t, c + l.capacity_j_per_m3_k * t)
    });
    let limit = |(t, l, _): &(f64, AcrossLayer, f64)| {
        0.4 * t * t * l.capacity_j_per_m3_k / l.conductivity_w_per_m_k
    };
    let longest_s = cells.iter().map(limit).fold(f64::INFINITY, f64::min);
    let half = |k: usize| 0.5 * cells[k].0 / cells[k].1.conductivity_w_per_m_k;
    let mut theta = vec![0.0; cells.len()];
    let mut flux = vec![0.0; cells.len() + 1];
    let (mut now_s, mut found) = (0.0, Vec::new());
    for &until_s in times_s {
        let steps = ((until_s - now_s) / longest_s).ceil();
        for _ in 0..steps as usize {
            for i in 1..cells.len() {
                flux[i] = (theta[i - 1] - theta[i]) / (half(i - 1) + half(i));
            }
            for (i, (t, l, heat)) in cells.iter().enumerate() {
                let excess = heat - l.capacity_j_per_m3_k * made / stored;
                let gain = excess + (flux[i] - flux[i + 1]) / t;
                theta[i] += (until_s - now_s) / steps * gain / l.capacity_j_per_m3_k;
            }
        }
        now_s = until_s;
        let section = Section::of(cells.iter().zip(&theta).map(|((t, l, _), k)| SectionLayer {
            thickness_m: *t,
            modulus_pa: l.modulus_pa,
            thermal_strain: l.expansion_per_k * k,
        }));
        let hottest = theta.iter().copied().fold(f64::MIN, f64::max);
        let coldest = theta.iter().copied().fold(f64::MAX, f64::min);
        found.push((section.thermal_curvature_per_m(), hottest - coldest));
    }
    found
}

/// Copper between the steels, outermost on the low and on the high side.
const ORDERS: [[usize; 3]; 3] = [[0, 1, 2], [1, 0, 2], [0, 2, 1]];

#[test]
fn parabolas_are_what_the_march_settles_to() {
    for order in ORDERS {
        let (layers, source) = stack(order);
        let rest = quasi_steady(&layers, &source);
        let (curvature, spread) = (rest.curvature_per_m, rest.spread_k);
        let long_s = 15.0 / modes(&layers)[0].rate_per_s;
        let settled = march(&layers, &source, &[long_s]);
        // Volumes of 1/110 of the thickness: the exact curvature to second order, the faces half a
        // cell in.
        assert!(apart(settled[0].0, curvature) < 1e-3, "{order:?}");
        assert!(apart(settled[0].1, spread) < 1e-3, "{order:?}");
    }
}

#[test]
fn modes_follow_the_march_after_a_step() {
    for order in ORDERS {
        let (layers, source) = stack(order);
        let modes = modes(&layers);
        let slow_s = 1.0 / modes[0].rate_per_s;
        let times_s = [0.2, 0.5, 1.0, 2.0, 5.0].map(|share| share * slow_s);
        let final_per_m = quasi_steady(&layers, &source).curvature_per_m;
        for (time_s, (direct, _)) in times_s.iter().zip(march(&layers, &source, &times_s)) {
            let modal: f64 = modes
                .iter()
                .map(|m| {
                    let feed: f64 = m.layer_m.iter().zip(&source).map(|(l, q)| l * q).sum();
                    -m.curvature_per_m * feed / m.rate_per_s * (-m.rate_per_s * time_s).exp_m1()
                })
                .sum();
            let error = (modal - direct).abs() / final_per_m.abs();
            assert!(error < 5e-3, "{order:?} at {time_s} s: {modal} {direct}");
        }
    }
}
