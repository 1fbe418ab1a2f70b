//! Heat across the layers in registers is heat across the layers on the laws themselves: same
//! rates, same distances.

use super::registers::{SHIPPED, drives};
use crate::support::{everything, shipped};
use pulp::Simd;
use relatch::internals::device::{Across, Device, Drive, Fineness, Gauge, Model, Plant};
use relatch::internals::solve::wide::{Row, Wide, dispatch};
use relatch::internals::solve::{Distance, Flow, System};

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
}

/// Rates, and distances with their rates.
type Seen = (Vec<f64>, [(f64, f64); 2]);

const GAUGES: [Gauge; 2] = [Gauge::Release { in_hand_m: 1e-5 }, Gauge::Relatch];

impl pulp::WithSimd for Asked<'_> {
    type Output = Seen;
    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Seen {
        let across = Across::new(simd, self.model, self.drive);
        let mut across = across.expect("resolved");
        let y = across.pack(&state(self.model));
        assert!(across.fits().hold(&y));
        let mut rates = Row::zeros(across.len());
        across.rates(Wide::splat(simd, 0.4), &y, &mut rates);
        let see = |gauge| across.distance(gauge).value_and_rate(0.4, &y, &rates);
        let seen = GAUGES.map(see);
        // A slope counts from nothing, a state of the march from the ambient.
        let (mut slope, mut nothing) = (state(self.model), state(self.model));
        across.unpack(&rates, &mut slope);
        across.unpack(&Row::zeros(rates.len()), &mut nothing);
        let slope = slope.iter().zip(&nothing).map(|(a, b)| a - b);
        (slope.collect(), seen)
    }
}

/// The same on the laws themselves.
fn plainly(model: &Model, drive: Drive) -> Seen {
    let plant = Plant { model, drive };
    let y = state(model);
    let mut rates = vec![0.0; y.len()];
    plant.rhs(0.4, &y, &mut rates);
    let fastest = rates[..model.layout.modes]
        .iter()
        .fold(0.0f64, |m, v| m.max(v.abs()));
    let step_s = 1e-2 / fastest;
    let see = |gauge| {
        let at = |side: f64| {
            let moved = y.iter().zip(&rates).map(|(y, r)| y + side * step_s * r);
            let moved: Vec<f64> = moved.collect();
            plant.distance_m(gauge, 0.4 + side * step_s, &moved)
        };
        (at(0.0), (at(1.0) - at(-1.0)) / (2.0 * step_s))
    };
    let seen = GAUGES.map(see);
    (rates, seen)
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
            let model = &model;
            let (fast, plain) = (dispatch(Asked { model, drive }), plainly(model, drive));
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
