//! Heat across the layers in registers is heat across the layers on the laws themselves: same
//! rates, same distances.

use super::registers::{SHIPPED, drives};
use crate::support::{everything, shipped};
use pulp::Simd;
use relatch::internals::device::{Across, Device, Drive, Fineness, Gauge, Model};
use relatch::internals::solve::wide::{Row, Wide, dispatch};
use relatch::internals::solve::{Distance, Flow};

/// A hump along the strip, bent modes that vanish at its ends, the lumped nodes apart from each
/// other.
fn state(model: &Model) -> Vec<f64> {
    let (l, slow) = (&model.layout, model.slow_modes());
    let unit = model.device.laws.capacity_per_area(350.0).sqrt();
    let part = |j: usize| model.grid.x_m[j] / model.device.length_m;
    let mut y: Vec<f64> = (0..l.modes)
        .map(|i| match i < l.strip {
            true => 305.0 + 100.0 * part(i) * (1.3 - part(i)),
            false => 312.0 + 9.0 * (i - l.strip) as f64,
        })
        .collect();
    for j in 0..l.strip {
        let bow = part(j) * (1.0 - part(j));
        y.extend((0..slow).map(|k| unit * 12.0 * bow * (-0.4f64).powi(k as i32)));
    }
    y
}

struct Asked<'a> {
    model: &'a Model,
    drive: Drive,
    in_registers: bool,
}

/// Rates as the march sees them, and distances with their rates.
type Seen = (Vec<f64>, [(f64, f64); 2]);

impl pulp::WithSimd for Asked<'_> {
    type Output = Seen;
    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Seen {
        let across = Across::new(simd, self.model, self.drive, self.in_registers);
        let mut across = across.expect("resolved");
        assert_eq!(across.fits().is_some(), self.in_registers);
        let y = across.pack(&state(self.model));
        assert!(across.fits().is_none_or(|fits| fits.hold(&y)));
        let mut rates = Row::zeros(across.len());
        across.rates(Wide::splat(simd, 0.4), &y, &mut rates);
        let gauges = [Gauge::Release { in_hand_m: 1e-5 }, Gauge::Relatch];
        let see = |gauge| across.distance(gauge).value_and_rate(0.4, &y, &rates);
        (rates.to_vec(), gauges.map(see))
    }
}

#[test]
fn registers_carry_the_heat_across_the_layers() {
    let files = SHIPPED.iter().map(|file| (*file, shipped(file)));
    for (name, scenario) in files.chain([("everything", everything())]) {
        let device = Device::new(&scenario).expect("device").resolved(0.0);
        let fineness = Fineness {
            order: 9,
            end_element_m: 0.3 * device.length_m,
        };
        let model = Model::new(&device, fineness);
        let strong = Drive::constant(20.0 * scenario.protector.rated_current_a, 298.15);
        for drive in drives().into_iter().chain([strong]) {
            let ask = |in_registers| {
                dispatch(Asked {
                    model: &model,
                    drive,
                    in_registers,
                })
            };
            let (fast, plain) = (ask(true), ask(false));
            let largest = plain.0.iter().fold(0.0f64, |m, v| m.max(v.abs()));
            for (i, (a, b)) in fast.0.iter().zip(&plain.0).enumerate() {
                // The fits are good to 1e-9; a rate is a small difference of large ones at some
                // nodes.
                assert!(
                    (a - b).abs() <= 1e-7 * largest,
                    "{name}, {drive:?}, {i}: {a} {b}, largest {largest}"
                );
            }
            for (a, b) in fast.1.iter().zip(&plain.1) {
                // Heat made at the nodes is carried to the bending points: spectrally small.
                let travel_m = b.0.abs().max(1e-4);
                assert!((a.0 - b.0).abs() <= 1e-6 * travel_m, "{name}: {a:?} {b:?}");
                let rate = b.1.abs().max(1e-9);
                assert!((a.1 - b.1).abs() <= 1e-4 * rate, "{name}: {a:?} {b:?}");
            }
        }
    }
}
