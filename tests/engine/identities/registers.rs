//! The fast right-hand side is the general one: same rates, same slopes, same distances, for every
//! kind of device that it serves.

use crate::support::{everything, shipped};
use pulp::Simd;
use relatch::internals::device::{
    Along, Ambient, Device, Drive, Fineness, Fitted, Gauge, Model, Phase, Plant,
};
use relatch::internals::load::{Current, Programme, Repeat};
use relatch::internals::scenario::{Convection, Scenario};
use relatch::internals::solve::wide::{Row, Wide, dispatch};
use relatch::internals::solve::{Distance, Event, Flow, ProfileMatrix, StiffFlow, System};

pub(super) const SHIPPED: [&str; 9] = [
    "01-pug-mill.toml",
    "02-curtain-winch.toml",
    "03-deck-oven.toml",
    "04-fog-machine.toml",
    "05-classroom-strip.toml",
    "06-irrigation-pump-new.toml",
    "08-worked-strip.toml",
    "09-late-part.toml",
    "10-impatient-resets.toml",
];

/// A part that lies flat: its surface law has no short form.
fn flat() -> Scenario {
    let mut s = shipped("01-pug-mill.toml");
    s.cooling.convection = Convection::Flat;
    s
}

fn models() -> Vec<(String, Model)> {
    SHIPPED
        .iter()
        .map(|file| (*file, shipped(file)))
        .chain([("everything", everything()), ("flat", flat())])
        .map(|(file, mut s)| {
            s.strip.through_thickness = relatch::internals::scenario::ThroughThickness::Uniform;
            let device = Device::new(&s).expect("device");
            let fineness = Fineness {
                order: 6,
                end_element_m: 0.2 * device.length_m,
            };
            (file.to_string(), Model::new(&device, fineness))
        })
        .filter(|(_, m)| m.fast().is_some())
        .collect()
}

/// A state like those met: a hump along the strip, the lumped nodes apart from each other.
fn state(model: &Model) -> Vec<f64> {
    let n = model.layout.strip;
    (0..model.layout.len)
        .map(|i| {
            if i < n {
                let x = model.grid.x_m[i] / model.device.length_m;
                305.0 + 100.0 * x * (1.3 - x)
            } else {
                312.0 + 9.0 * (i - n) as f64
            }
        })
        .collect()
}

pub(super) fn drives() -> [Drive; 3] {
    let mut decaying = Drive::constant(14.0, 303.0);
    decaying.ambient = Ambient {
        at_s: 0.0,
        value_k: 303.0,
        slope_k_per_s: 0.05,
    };
    let mut programme = Programme::steps([(10.0, 0.0)], Repeat::Once);
    programme.segments[0].current = Current::Decay {
        from_a: 40.0,
        to_a: 9.0,
        time_constant_s: 2.0,
    };
    decaying.current = programme.piece_after(0.0);
    [Drive::constant(12.0, 298.15), Drive::open(310.0), decaying]
}

struct Fast<'a> {
    model: &'a Model,
    drive: Drive,
    t: f64,
    y: &'a [f64],
}

struct Seen {
    rates: Vec<f64>,
    columns: Vec<Vec<f64>>,
    time_slope: Vec<f64>,
    release: (f64, f64),
    relatch: (f64, f64),
}

impl pulp::WithSimd for Fast<'_> {
    type Output = Seen;
    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Seen {
        let mut along = Along::new(simd, self.model, self.drive).expect("a fast form");
        let (n, len) = (along.unknowns(), along.len());
        let mut y = Row::zeros(len);
        y.fill(300.0);
        y[..n].copy_from_slice(self.y);
        let mut rates = Row::zeros(len);
        along.rates(Wide::splat(simd, self.t), &y, &mut rates);
        let mut columns = Row::zeros(n * len);
        along.jacobian_columns(self.t, &y, &mut columns);
        let mut dfdt = Row::zeros(len);
        along.time_slope(self.t, &y, &mut dfdt);
        let see = |gauge| along.distance(gauge).value_and_rate(self.t, &y, &rates);
        Seen {
            release: see(Gauge::Release { in_hand_m: 1e-5 }),
            relatch: see(Gauge::Relatch),
            rates: rates[..n].to_vec(),
            columns: columns.chunks(len).map(|c| c[..n].to_vec()).collect(),
            time_slope: dfdt[..n].to_vec(),
        }
    }
}

#[test]
fn the_fast_right_hand_side_is_the_general_one() {
    let models = models();
    assert!(models.len() >= 7, "{}", models.len());
    for (name, model) in &models {
        let y = state(model);
        let n = y.len();
        for drive in drives() {
            let t = 0.7;
            let seen = dispatch(Fast {
                model,
                drive,
                t,
                y: &y,
            });
            let plant = Plant { model, drive };
            let mut rates = vec![0.0; n];
            plant.rhs(t, &y, &mut rates);
            let largest = rates.iter().fold(0.0f64, |m, v| m.max(v.abs()));
            for i in 0..n {
                let off = (seen.rates[i] - rates[i]).abs();
                assert!(
                    off < 1e-7 * largest,
                    "{name} rate {i}: {} {}",
                    seen.rates[i],
                    rates[i]
                );
            }
            let mut jacobian = ProfileMatrix::zeros(plant.shape());
            plant.jacobian(t, &y, &mut jacobian);
            for c in 0..n {
                for r in 0..n {
                    let (a, b) = (seen.columns[c][r], jacobian.get(r, c));
                    let size = jacobian.get(r, r).abs();
                    assert!((a - b).abs() < 3e-6 * size, "{name} slope {r} {c}: {a} {b}");
                }
            }
            let mut dfdt = vec![0.0; n];
            plant.time_slope(t, &y, &mut dfdt);
            for i in 0..n {
                let off = (seen.time_slope[i] - dfdt[i]).abs();
                assert!(off < 1e-6 * (1.0 + dfdt[i].abs()), "{name} time slope {i}");
            }
            let release = plant.event(Gauge::Release { in_hand_m: 1e-5 });
            let relatch = plant.event(Gauge::Relatch);
            // The travel of these parts is a millimetre or so.
            for (seen, event) in [(seen.release, &release), (seen.relatch, &relatch)] {
                assert!(
                    (seen.0 - event.value(t, &y)).abs() < 1e-11,
                    "{name} distance"
                );
                let step = 1e-3;
                let moved = |side: f64| -> Vec<f64> {
                    y.iter()
                        .zip(&rates)
                        .map(|(y, r)| y + side * step * r)
                        .collect()
                };
                let (up, down) = (event.value(t, &moved(1.0)), event.value(t, &moved(-1.0)));
                let rate = (up - down) / (2.0 * step);
                assert!(
                    (seen.1 - rate).abs() < 1e-9 + 1e-4 * rate.abs(),
                    "{name} rate"
                );
            }
        }
    }
    assert_eq!(drives()[1].phase, Phase::Open);
}

/// Between 0 and 300 degC every fitted law is the law itself to a part in 1e8.
#[test]
fn fitted_laws_are_the_laws() {
    for (name, model) in &models() {
        let d = &model.device;
        let zero = d.laws.conduction_integral(300.0, 300.0);
        assert_eq!(zero, 0.0);
        let start = d.fit.at_with_slope(Fitted::Conduction, 300.0).0;
        for k in 0..1201 {
            let t = 273.15 + 0.25 * f64::from(k);
            let (line, bend) = (d.laws.line(t), d.laws.bend(t));
            let check = |law: Fitted, exact: f64, size: f64| {
                let got = d.fit.at_with_slope(law, t).0;
                assert!(
                    (got - exact).abs() < 1e-8 * size,
                    "{name} {law:?} {t}: {got} {exact}"
                );
            };
            check(Fitted::Capacity, line.capacity, line.capacity);
            check(Fitted::Resistance, line.resistance, line.resistance);
            let integral = d.laws.conduction_integral(300.0, t) + start;
            check(Fitted::Conduction, integral, line.conduction * 300.0);
            check(Fitted::Curvature, bend.curvature_per_m, 100.0);
            check(
                Fitted::Flexibility,
                1.0 / bend.stiffness_n_m2,
                1.0 / bend.stiffness_n_m2,
            );
        }
    }
}
