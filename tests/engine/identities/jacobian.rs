//! The Jacobian and the time slope are those of the right-hand side.

use crate::support;
use relatch::internals::device::{Ambient, Device, Drive, Fineness, Model, Phase, Plant};
use relatch::internals::load::{Current, Programme, Repeat};
use relatch::internals::solve::{ProfileMatrix, System};

fn everything() -> Model {
    let s = support::everything();
    let device = Device::new(&s).expect("device").resolved(0.0);
    Model::new(
        &device,
        Fineness {
            order: 5,
            end_element_m: 0.006,
        },
    )
}

fn drive(phase: Phase) -> Drive {
    let mut programme = Programme::steps([(10.0, 0.0)], Repeat::Once);
    programme.segments[0].current = Current::Decay {
        from_a: 40.0,
        to_a: 9.0,
        time_constant_s: 2.0,
    };
    Drive {
        phase,
        current: programme.piece_after(0.0),
        programme_start_s: 0.0,
        ambient: Ambient {
            at_s: 0.0,
            value_k: 300.0,
            slope_k_per_s: 0.5,
        },
    }
}

/// Central differences with a step of 1e-3 K: truncation and round-off both below 1e-6 of the
/// largest entry of a row.
#[test]
fn jacobian_is_the_slope_of_the_right_hand_side() {
    let model = everything();
    for phase in [Phase::Closed, Phase::Open] {
        let plant = Plant {
            model: &model,
            drive: drive(phase),
        };
        let n = model.layout.len;
        let y: Vec<f64> = (0..n)
            .map(|i| {
                if i < model.layout.modes {
                    330.0 + 40.0 * (i as f64 * 0.7).sin()
                } else {
                    50.0
                }
            })
            .collect();
        let t = 1.3;
        let mut jacobian = ProfileMatrix::zeros(plant.shape());
        plant.jacobian(t, &y, &mut jacobian);
        let (mut up, mut down) = (vec![0.0; n], vec![0.0; n]);
        for j in 0..n {
            let h = 1e-3;
            let mut probe = y.clone();
            probe[j] += h;
            plant.rhs(t, &probe, &mut up);
            probe[j] = y[j] - h;
            plant.rhs(t, &probe, &mut down);
            for i in 0..n {
                let slope = (up[i] - down[i]) / (2.0 * h);
                let largest = (0..n)
                    .map(|k| jacobian.get(i, k).abs())
                    .fold(1e-9, f64::max);
                assert!(
                    (jacobian.get(i, j) - slope).abs() < 2e-6 * largest,
                    "{phase:?} ({i}, {j}): {} against {slope}",
                    jacobian.get(i, j)
                );
            }
        }
    }
}

#[test]
fn time_slope_is_that_of_the_right_hand_side() {
    let model = everything();
    for phase in [Phase::Closed, Phase::Open] {
        let plant = Plant {
            model: &model,
            drive: drive(phase),
        };
        let n = model.layout.len;
        let y: Vec<f64> = (0..n)
            .map(|i| {
                if i < model.layout.modes {
                    330.0 + 20.0 * (i as f64).cos()
                } else {
                    50.0
                }
            })
            .collect();
        let (t, h) = (1.3, 1e-4);
        let (mut slope, mut up, mut down) = (vec![0.0; n], vec![0.0; n], vec![0.0; n]);
        plant.time_slope(t, &y, &mut slope);
        plant.rhs(t + h, &y, &mut up);
        plant.rhs(t - h, &y, &mut down);
        let largest = slope.iter().fold(0.0f64, |m, v| m.max(v.abs()));
        for i in 0..n {
            let expected = (up[i] - down[i]) / (2.0 * h);
            assert!(
                (slope[i] - expected).abs() < 1e-6 * largest,
                "{phase:?} {i}: {} against {expected}",
                slope[i]
            );
        }
    }
}
