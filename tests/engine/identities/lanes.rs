//! Units side by side are the units one by one, soon and slow, and their slopes are what their rates
//! differ by.

use crate::side_by_side::{Question, side_by_side};
use crate::support::{apart, case, shipped, worked};
use pulp::Simd;
use relatch::internals::device::{Beside, Device, Fineness, LaneLoad, Model, Sheet, Unit};
use relatch::internals::load::Programme;
use relatch::internals::predict::{Unwatched, run_on, trip_point};
use relatch::internals::scenario::Scenario;
use relatch::internals::solve::wide::{MOST_LANES, Row, Wide, dispatch};
use relatch::internals::solve::{Flow, LaneFlow, LaneMatrix};

fn sheet(device: &Device) -> Sheet {
    let fineness = Fineness {
        order: 9,
        end_element_m: device.length_m,
    };
    Sheet::new(device, fineness, 280.0, 490.0).expect("a sheet")
}

/// Units scattered by a few per cent.
fn scattered() -> Vec<Scenario> {
    (0..23)
        .map(|k| {
            let part = |d: i32| 1.0 + 0.03 * f64::from((k * 7 + d * 5) % 11 - 5) / 5.0;
            worked(|s| {
                s.strip.length_m *= part(1);
                s.strip.push_point_m = s.strip.length_m * (1.0 - 0.004 * f64::from(k % 4));
                s.strip.width_m *= part(2);
                s.strip.layers[0].thickness_m *= part(3);
                s.strip.layers[1].thickness_m *= part(4);
                s.cooling.emissivity *= part(5);
                s.clamped_terminal.conductance_w_per_k *= part(6);
                s.moving_contact.heat_capacity_j_per_k *= part(7);
                s.fixed_contact.conductance_w_per_k *= part(8);
            })
        })
        .collect()
}

/// Each also built as a device of its own and run alone on the same grid, under a current that goes
/// by its trip point and its number; trips and waits within a relative bound.
fn are_the_units_one_by_one(tolerance: f64, bound: f64, current_a: impl Fn(f64, usize) -> f64) {
    let sheet = sheet(&Device::new(&worked(|_| {})).expect("device"));
    let changed = scattered();
    let devices: Vec<Device> = changed
        .iter()
        .map(|s| Device::new(s).expect("device"))
        .collect();
    let currents: Vec<f64> = devices
        .iter()
        .enumerate()
        .map(|(k, device)| {
            let point = trip_point(device, 298.15, 10.0, 1e-7).expect("computed");
            current_a(point.value.current_a().expect("a trip point"), k)
        })
        .collect();
    let question = |k: usize| Question {
        unit: Unit::of(&devices[k]).expect("a unit"),
        current_a: currents[k],
        ambient_k: 298.15,
    };
    let answers = side_by_side(&sheet, devices.len(), question, tolerance, true);
    for (k, device) in devices.iter().enumerate() {
        let model = Model::new(
            device,
            Fineness {
                order: 9,
                end_element_m: device.length_m,
            },
        );
        let (load, case) = (Programme::constant(currents[k]), case(&changed[k]));
        let alone = run_on(&model, 1e-8, &case, &load, true, &mut Unwatched).expect("run");
        let got = answers[k];
        for (beside, alone) in [
            (got.trip_time_s, alone.trip_time_s),
            (got.relatch_wait_s, alone.relatch_wait_s),
        ] {
            let (beside, alone) = (beside.expect("marched"), alone.expect("comes"));
            let off = apart(beside, alone);
            assert!(
                off < bound,
                "{k}, {} A: {beside} {alone} {off:.1e}",
                currents[k]
            );
        }
    }
}

#[test]
fn units_side_by_side_are_the_units_one_by_one() {
    are_the_units_one_by_one(1e-5, 1e-6, |_, k| 14.0 + 3.0 * k as f64);
}

/// Near their trip points the march goes on in implicit steps.
#[test]
fn slow_units_side_by_side_are_the_units_one_by_one() {
    are_the_units_one_by_one(1e-5, 1e-6, |point, k| point * (1.01 + 0.01 * k as f64));
}

/// Slopes of units side by side, and solutions with them.
struct Slopes<'a> {
    sheet: &'a Sheet,
    unit: &'a Unit,
    is_closed: bool,
}

impl pulp::WithSimd for Slopes<'_> {
    /// How far slopes are from differences and a product from its right-hand side, relative.
    type Output = (f64, f64);
    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> (f64, f64) {
        let (width, n) = (S::F64_LANES, self.sheet.unknowns());
        let units: Vec<Unit> = (0..width)
            .map(|lane| Unit {
                length_m: self.unit.length_m * (1.0 + 0.01 * lane as f64),
                ..*self.unit
            })
            .collect();
        let mut beside = Beside::new(simd, self.sheet, &units);
        let loads: Vec<LaneLoad> = (0..width)
            .map(|lane| LaneLoad {
                current_a: self.is_closed.then_some(10.0 + lane as f64),
                ambient_k: 296.0 + lane as f64,
            })
            .collect();
        beside.load(&loads, 0.0);
        let mut y = Row::zeros(n * width);
        for (k, y) in y.iter_mut().enumerate() {
            // The strip well above all else: where nothing moves the air, its law has no slope.
            let (place, lane) = (k / width, (k % width) as f64);
            let x = place as f64 / n as f64;
            *y = lane
                + match place < self.sheet.nodes {
                    true => 345.0 + 90.0 * x * (1.4 - x),
                    false => 310.0,
                };
        }
        let room = || Row::zeros(n * width);
        let (mut rates, mut more, mut less) = (room(), room(), room());
        let mut rows = Row::zeros(n * n * width);
        let zero = Wide::splat(simd, 0.0);
        beside.rates(zero, &y, &mut rates);
        beside.jacobian(&y, &rates, &mut rows);
        let largest = |from: &[f64]| from.iter().fold(0.0f64, |m, v| m.max(v.abs()));
        let mut worst = 0.0f64;
        const STEP_K: f64 = 0.05;
        for column in 0..n {
            let mut at = y.clone();
            for (side, out) in [(1.0, &mut more), (-2.0, &mut less)] {
                for v in &mut at[column * width..(column + 1) * width] {
                    *v += side * STEP_K;
                }
                beside.rates(zero, &at, out);
            }
            for k in 0..n * width {
                let (row, lane) = (k / width, k % width);
                let got = rows[(row * n + column) * width + lane];
                let difference = (more[k] - less[k]) / (2.0 * STEP_K);
                let size = largest(&rows[row * n * width..(row + 1) * n * width]);
                worst = worst.max((got - difference).abs() / size);
            }
        }
        let mut matrix = LaneMatrix::new(beside.first_columns(), width);
        matrix.linearise(&mut beside, &y, &rates);
        let shift = 3.0;
        matrix.factor(simd, Wide::splat(simd, shift));
        let mut x = y.clone();
        matrix.solve(simd, &mut x);
        let mut wrong = 0.0f64;
        for k in 0..n * width {
            let (row, lane) = (k / width, k % width);
            let product: f64 = (0..n)
                .map(|c| rows[(row * n + c) * width + lane] * x[c * width + lane])
                .sum();
            wrong = wrong.max(apart(shift * x[k] - product, y[k]));
        }
        assert!(width <= MOST_LANES);
        (worst, wrong)
    }
}

#[test]
fn slopes_side_by_side_are_differences_of_the_rates() {
    for file in [
        "01-pug-mill.toml",
        "02-curtain-winch.toml",
        "08-worked-strip.toml",
    ] {
        let device = Device::new(&shipped(file)).expect("device");
        for end_element_part in [1.0, 0.2] {
            let fineness = Fineness {
                order: 6,
                end_element_m: end_element_part * device.length_m,
            };
            let sheet = Sheet::new(&device, fineness, 280.0, 490.0).expect("a sheet");
            for is_closed in [true, false] {
                let (worst, wrong) = dispatch(Slopes {
                    sheet: &sheet,
                    unit: sheet.nominal(),
                    is_closed,
                });
                assert!(
                    worst < 1e-6,
                    "{file} {end_element_part} {is_closed}: {worst:.1e}"
                );
                assert!(
                    wrong < 1e-9,
                    "{file} {end_element_part} {is_closed}: {wrong:.1e}"
                );
            }
        }
    }
}

/// A unit's answer has the same bits whatever stands beside it, and wherever in the list it stands.
#[test]
fn neighbours_do_not_matter() {
    let device = Device::new(&worked(|_| {})).expect("device");
    let sheet = sheet(&device);
    let unit = *sheet.nominal();
    let question = |k: usize| Question {
        unit: Unit {
            release_travel_m: unit.release_travel_m * (0.95 + 0.001 * (k % 97) as f64),
            // Seldom enough that most registers hold nominal push points only.
            push_part: unit.push_part - if k.is_multiple_of(37) { 0.02 } else { 0.0 },
            ..unit
        },
        // Some slow, near their trip points or below.
        current_a: match k % 13 {
            0 => 9.1 + 0.01 * (k % 29) as f64,
            n => 12.0 + n as f64 * 6.0,
        },
        ambient_k: 290.0 + (k % 5) as f64,
    };
    let count = 10_007;
    let forwards = side_by_side(&sheet, count, question, 1e-4, false);
    let backwards = side_by_side(&sheet, count, |k| question(count - 1 - k), 1e-4, false);
    let mut marched = 0;
    for k in 0..count {
        let (a, b) = (
            forwards[k].trip_time_s,
            backwards[count - 1 - k].trip_time_s,
        );
        assert_eq!(a.map(f64::to_bits), b.map(f64::to_bits), "{k}");
        marched += usize::from(a.is_some());
    }
    assert!(marched * 10 > count * 9, "{marched}");
}

/// What cannot be marched side by side is said, never guessed: a current that is carried, a unit
/// that leaves the sheet. A current just above the trip point is followed to its end.
#[test]
fn what_has_to_be_asked_alone_is_left_open() {
    let device = Device::new(&worked(|_| {})).expect("device");
    let sheet = sheet(&device);
    let unit = *sheet.nominal();
    let ask = |unit: Unit, current_a: f64, ambient_k: f64| {
        side_by_side(
            &sheet,
            1,
            |_| Question {
                unit,
                current_a,
                ambient_k,
            },
            1e-4,
            true,
        )[0]
    };
    assert!(ask(unit, 20.0, 298.15).relatch_wait_s.is_some());
    assert_eq!(ask(unit, 5.0, 298.15).trip_time_s, None);
    let (model, load) = (
        device.on(Fineness {
            order: 9,
            end_element_m: device.length_m,
        }),
        Programme::constant(9.22),
    );
    let case = case(&worked(|_| {}));
    let alone = run_on(&model, 1e-8, &case, &load, false, &mut Unwatched).expect("run");
    let beside = ask(unit, 9.22, 298.15).trip_time_s.expect("marched");
    assert!(
        apart(beside, alone.trip_time_s.expect("trips")) < 1e-3,
        "{beside}"
    );
    assert_eq!(ask(unit, 20.0, 250.0).trip_time_s, None);
    let far = Unit {
        push_part: 0.5,
        ..unit
    };
    assert_eq!(ask(far, 20.0, 298.15).trip_time_s, None);
}
