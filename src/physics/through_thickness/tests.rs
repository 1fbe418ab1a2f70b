use super::*;
use crate::physics::layered_section::{Section, SectionLayer};

fn layer(thickness_m: f64, conductivity: f64, generation: f64, expansion: f64) -> HeatedLayer {
    HeatedLayer {
        thickness_m,
        conductivity_w_per_m_k: conductivity,
        heat_capacity_j_per_m3_k: 4.0e6,
        generation_w_per_m3: generation,
        modulus_pa: 150e9,
        expansion_per_k: expansion,
    }
}

/// Low side, copper, high side, as in a part for large currents.
fn with_copper() -> [HeatedLayer; 3] {
    let copper = HeatedLayer {
        heat_capacity_j_per_m3_k: 3.44e6,
        modulus_pa: 117e9,
        ..layer(0.12e-3, 390.0, 46e6, 17e-6)
    };
    [
        layer(0.6e-3, 11.0, 1.0e6, 2e-6),
        layer(0.6e-3, 13.0, 1.0e6, 19e-6),
        copper,
    ]
}

#[test]
fn uniform_layers_stay_at_one_temperature() {
    let layers = [
        layer(0.3e-3, 11.0, 5e6, 2e-6),
        layer(0.5e-3, 11.0, 5e6, 18e-6),
    ];
    let profile = quasi_steady(&layers);
    assert!(profile.spread_k.abs() < 1e-12, "{}", profile.spread_k);
    assert!(profile.curvature_per_m.abs() < 1e-15);
}

#[test]
fn two_equal_layers_against_the_parabola() {
    // Half thickness t, conductivity k, all heat 2q in the upper layer: excess ±q, θ(top) − θ(bottom) = q t²/k.
    let (t, k, q) = (0.4e-3, 12.0, 3e6);
    let layers = [layer(t, k, 0.0, 0.0), layer(t, k, 2.0 * q, 0.0)];
    let profile = quasi_steady(&layers);
    assert!((profile.spread_k / (q * t * t / k) - 1.0).abs() < 1e-12);
    assert_eq!((profile.coldest_m, profile.hottest_m), (0.0, 2.0 * t));
    assert!((profile.at_k(0.0) + profile.at_k(2.0 * t)).abs() < 1e-12);
}

#[test]
fn curvature_against_many_thin_uniform_layers() {
    let layers = with_copper();
    let profile = quasi_steady(&layers);
    let cuts = 2000;
    let mut bottom = 0.0;
    let mut thin = Vec::new();
    for layer in &layers {
        let t = layer.thickness_m / cuts as f64;
        for i in 0..cuts {
            let middle = bottom + (i as f64 + 0.5) * t;
            thin.push(SectionLayer {
                thickness_m: t,
                modulus_pa: layer.modulus_pa,
                thermal_strain: layer.expansion_per_k * profile.at_k(middle),
            });
        }
        bottom += layer.thickness_m;
    }
    let expected = Section::of(thin).thermal_curvature_per_m();
    assert!((profile.curvature_per_m / expected - 1.0).abs() < 1e-6);
}

#[test]
fn profile_obeys_its_equation_and_has_no_mean() {
    let layers = with_copper();
    let profile = quasi_steady(&layers);
    let (mut bottom, mut heat, mut content) = (0.0, 0.0, 0.0);
    for layer in &layers {
        let cuts = 1000;
        let t = layer.thickness_m / cuts as f64;
        for i in 0..cuts {
            let theta = profile.at_k(bottom + (i as f64 + 0.5) * t);
            heat += layer.heat_capacity_j_per_m3_k * theta * t;
            content += layer.heat_capacity_j_per_m3_k * t;
        }
        bottom += layer.thickness_m;
    }
    assert!((heat / content).abs() < 1e-6 * profile.spread_k);
    // Second difference in the middle of each layer: k θ'' = −(q − c q̄/c̄).
    let mut start = 0.0;
    for (layer, excess) in layers.iter().zip(excess_generation(&layers)) {
        let (z, step) = (start + 0.5 * layer.thickness_m, 0.3 * layer.thickness_m);
        let second = profile.at_k(z + step) - 2.0 * profile.at_k(z) + profile.at_k(z - step);
        let left = layer.conductivity_w_per_m_k * second / (step * step);
        assert!((left / -excess - 1.0).abs() < 1e-8, "{left} {excess}");
        start += layer.thickness_m;
    }
    // Continuous at the interfaces.
    for z in [0.6e-3, 1.2e-3] {
        assert!(
            (profile.at_k(z * (1.0 - 1e-12)) - profile.at_k(z)).abs() < 1e-6 * profile.spread_k
        );
    }
}

#[test]
fn slowest_mode_of_one_slab() {
    // Different generation, equal conduction: pi² a/h² (Carslaw & Jaeger §3.3).
    let (t, k) = (0.4e-3, 12.0);
    let layers = [layer(t, k, 0.0, 1e-6), layer(t, k, 5e6, 18e-6)];
    let relaxation = relaxation(&layers);
    let expected = std::f64::consts::PI.powi(2) * (k / 4.0e6) / (2.0 * t).powi(2);
    let slowest = relaxation.modes[0];
    // Volumes: relative error (π/60)²/12 = 2.3e-4.
    assert!((slowest.rate_per_s / expected - 1.0).abs() < 5e-4);
    // The step ± q gives faces the series Σ sin(nπ/2)/n³ over odd n = π³/32, of which the first term is 1.
    let first_share = 32.0 / std::f64::consts::PI.powi(3);
    assert!((slowest.spread_share / first_share - 1.0).abs() < 1e-3);
    let sum: f64 = relaxation.modes.iter().map(|m| m.spread_share).sum();
    assert!((sum + relaxation.instantaneous_spread_share - 1.0).abs() < 1e-12);
}

#[test]
fn modal_step_response_against_direct_volumes() {
    for layers in [
        with_copper(),
        {
            let [a, b, c] = with_copper();
            [a, c, b]
        },
        {
            let [a, b, c] = with_copper();
            [c, a, b]
        },
    ] {
        let quasi = quasi_steady(&layers).curvature_per_m;
        let modes = relaxation(&layers);
        let slow_s = 1.0 / modes.modes[0].rate_per_s;
        for (time_s, direct) in direct_curvature(&layers, slow_s) {
            let modal = quasi * modes.curvature_step_response(time_s);
            assert!(
                (modal - direct).abs() < 4e-3 * quasi.abs(),
                "{time_s}: {modal} {direct}"
            );
        }
    }
}

/// Explicit time steps on a grid three times as fine, written apart from the modes.
fn direct_curvature(layers: &[HeatedLayer], slow_s: f64) -> Vec<(f64, f64)> {
    let cut = 120;
    let total: f64 = layers.iter().map(|l| l.thickness_m).sum();
    let mut cells = Vec::new();
    for layer in layers {
        let count = ((cut as f64 * layer.thickness_m / total).round() as usize).max(8);
        cells.extend(std::iter::repeat_n(
            (layer.thickness_m / count as f64, *layer),
            count,
        ));
    }
    let (made, stored) = cells.iter().fold((0.0, 0.0), |(q, c), (t, l)| {
        (
            q + l.generation_w_per_m3 * t,
            c + l.heat_capacity_j_per_m3_k * t,
        )
    });
    let step_s = 0.4
        * cells
            .iter()
            .map(|(t, l)| t * t * l.heat_capacity_j_per_m3_k / l.conductivity_w_per_m_k)
            .fold(f64::INFINITY, f64::min);
    let mut theta = vec![0.0; cells.len()];
    let mut result = Vec::new();
    let (mut time_s, mut marks) = (0.0, [0.2, 0.5, 1.0, 2.0, 5.0].iter());
    let mut mark = marks.next();
    while let Some(&at) = mark {
        let mut flux = vec![0.0; cells.len() + 1];
        for i in 1..cells.len() {
            let half = |j: usize| 0.5 * cells[j].0 / cells[j].1.conductivity_w_per_m_k;
            flux[i] = (theta[i - 1] - theta[i]) / (half(i - 1) + half(i));
        }
        for (i, (t, l)) in cells.iter().enumerate() {
            let excess = l.generation_w_per_m3 - l.heat_capacity_j_per_m3_k * made / stored;
            theta[i] +=
                step_s * (excess + (flux[i] - flux[i + 1]) / t) / l.heat_capacity_j_per_m3_k;
        }
        time_s += step_s;
        if time_s >= at * slow_s {
            let parts = cells
                .iter()
                .zip(&theta)
                .map(|((t, l), theta)| SectionLayer {
                    thickness_m: *t,
                    modulus_pa: l.modulus_pa,
                    thermal_strain: l.expansion_per_k * theta,
                });
            result.push((time_s, Section::of(parts).thermal_curvature_per_m()));
            mark = marks.next();
        }
    }
    result
}

#[test]
fn nothing_to_cross_is_no_mode() {
    assert_eq!(quasi_steady(&[]).spread_k, 0.0);
    assert!(relaxation(&[]).modes.is_empty());
    assert!(relaxation(&[layer(1e-3, 10.0, 0.0, 1e-6)]).modes.is_empty());
}
