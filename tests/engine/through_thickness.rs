//! Heat across the layers: modes, their sums, and the limits they must reach.

use relatch::internals::physics::through_thickness::*;
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
    let QuasiSteady {
        curvature_per_m: curvature,
        spread_k: spread,
        ..
    } = quasi_steady(&[l, l], &[5e7, 5e7]);
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
    let spread = quasi_steady(&[l, l], &[8e7, 0.0]).spread_k;
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
        let exact = quasi_steady(&layers, &source).curvature_per_m;
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
