//! Trips, cool-downs, a characteristic and many units of the worked strip, beside general-purpose
//! peers at equal total error in the same run. Times differ from machine to machine; the table of
//! ratios at the end is what to compare.

mod peers;
#[path = "../tests/support/side_by_side.rs"]
mod side_by_side;
#[path = "../tests/support/mod.rs"]
mod support;

use criterion::{Criterion, Throughput, criterion_group};
use peers::{Setting, same_space, settings};
use relatch::internals::device::{Device, Drive, Fineness, Magnet, Model, Sheet, Unit};
use relatch::internals::load::Programme;
use relatch::internals::predict::magnet::{HORIZON_S, Poles, angles};
use relatch::internals::predict::{
    Case, Unwatched, characteristic, main_run, run, run_on, trip_point,
};
use relatch::internals::scenario::{BarKind, Before};
use side_by_side::{Question, side_by_side};
use std::hint::black_box;
use std::sync::Arc;
use std::time::{Duration, Instant};
use support::{apart, case, everything, shipped, worked};

/// One element of an order, and the tolerance of its marches, that reach a total error.
#[derive(Clone, Copy)]
struct Grid {
    order: usize,
    tolerance: f64,
}

/// At 20 A: measured against the continuum by `reaches_what_it_says`.
const AT_1E4: Grid = Grid {
    order: 7,
    tolerance: 1e-3,
};
const AT_1E5: Grid = Grid {
    order: 9,
    tolerance: 1e-3,
};
const AT_1E6: Grid = Grid {
    order: 11,
    tolerance: 1e-3,
};

struct Bench {
    device: Device,
    case: Case,
}

impl Bench {
    fn worked() -> Bench {
        let s = worked(|_| {});
        Bench {
            device: Device::new(&s).expect("device"),
            case: case(&s),
        }
    }

    fn model(&self, order: usize) -> Arc<Model> {
        self.device.on(Fineness {
            order,
            end_element_m: self.device.length_m,
        })
    }

    fn trip(&self, model: &Model, tolerance: f64, current_a: f64) -> f64 {
        let load = Programme::constant(current_a);
        run_on(model, tolerance, &self.case, &load, false, &mut Unwatched)
            .expect("run")
            .trip_time_s
            .expect("trips")
    }

    fn cool(&self, model: &Model, tolerance: f64) -> (f64, f64) {
        let load = Programme::constant(20.0);
        let a = run_on(model, tolerance, &self.case, &load, true, &mut Unwatched).expect("run");
        (
            a.trip_time_s.expect("trips"),
            a.relatch_wait_s.expect("relatches"),
        )
    }

    /// Forty currents, evenly spaced in their logarithm from 1.02 times the trip point to 10 times
    /// rated.
    fn currents(&self) -> Vec<f64> {
        let point = trip_point(&self.device, self.case.ambient_k(), 10.0, 1e-6)
            .expect("point")
            .value
            .current_a()
            .expect("a trip point");
        let (low, high) = (1.02 * point, 10.0 * self.case.rated_current_a);
        (0..40)
            .map(|k| low * (high / low).powf(f64::from(k) / 39.0))
            .collect()
    }

    fn sheet(&self, order: usize) -> Sheet {
        let fineness = Fineness {
            order,
            end_element_m: self.device.length_m,
        };
        Sheet::new(&self.device, fineness, 280.0, 480.0).expect("a sheet")
    }
}

/// A unit whose dimensions are scattered by 2 %.
fn unit(nominal: &Unit, number: usize) -> Unit {
    let part = |draw: u64| {
        let mut x = (number as u64 * 16 + draw).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        x = (x ^ (x >> 29)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        x ^= x >> 32;
        1.0 + 0.02 * ((x >> 11) as f64 / (1u64 << 52) as f64 - 1.0)
    };
    let mut u = *nominal;
    u.length_m *= part(0);
    u.width_m *= part(1);
    u.layers[0].thickness_m *= part(2);
    u.layers[1].thickness_m *= part(3);
    u.release_travel_m *= part(4);
    u.relatch_travel_m *= part(5);
    u.contact_ohm *= part(6);
    u
}

fn units(sheet: &Sheet, count: usize) -> f64 {
    let nominal = *sheet.nominal();
    let answers = side_by_side(
        sheet,
        count,
        |k| Question {
            unit: unit(&nominal, k),
            current_a: 20.0,
            ambient_k: 298.15,
        },
        1e-3,
        false,
    );
    answers
        .iter()
        .map(|a| a.trip_time_s.expect("trips"))
        .sum::<f64>()
        / count as f64
}

fn trips(c: &mut Criterion) {
    let b = Bench::worked();
    let mut group = c.benchmark_group("trip at 20 A");
    for (name, grid) in [("1e-4", AT_1E4), ("1e-5", AT_1E5), ("1e-6", AT_1E6)] {
        let model = b.model(grid.order);
        group.bench_function(format!("engine, {name}"), |bench| {
            bench.iter(|| b.trip(&model, grid.tolerance, black_box(20.0)))
        });
    }
    group.bench_function("engine, 1e-5 with its error estimate", |bench| {
        bench.iter(|| {
            run(
                &b.device,
                &b.case,
                &Programme::constant(black_box(20.0)),
                false,
            )
            .expect("run")
            .value
            .trip_time_s
        })
    });
    group.sample_size(20);
    for (name, setting) in PEERS {
        let prepared = peers::trip(setting, 20.0);
        group.bench_function(name, |bench| bench.iter(|| prepared.run().time_s));
    }
    group.finish();
    let mut group = c.benchmark_group("cool-down after 20 A");
    let model = b.model(AT_1E5.order);
    group.bench_function("engine, trip and cool-down, 1e-5", |bench| {
        bench.iter(|| b.cool(&model, black_box(AT_1E5.tolerance)))
    });
    let prepared = peers::cool(settings::BDF_1E5, 20.0);
    group.bench_function("diffsol BDF, 1e-5", |bench| {
        bench.iter(|| prepared.run().time_s)
    });
    group.finish();
}

const PEERS: [(&str, Setting); 5] = [
    ("diffsol BDF, 1e-4", settings::BDF_1E4),
    ("diffsol BDF, 1e-5", settings::BDF_1E5),
    ("ode_solvers Dopri5, 1e-3", settings::DOPRI5_1E3),
    ("ode_solvers Dopri5, 1e-4", settings::DOPRI5_1E4),
    ("ode_solvers Dop853, 1e-4", settings::DOP853_1E4),
];

fn many(c: &mut Criterion) {
    let b = Bench::worked();
    let currents = b.currents();
    let coarse = Case {
        accuracy: 1e-4,
        ..b.case.clone()
    };
    let mut group = c.benchmark_group("characteristic");
    group.sample_size(20);
    group.throughput(Throughput::Elements(80));
    group.bench_function(
        "80 points within 1e-4, each with its error estimate",
        |bench| {
            bench.iter(|| {
                characteristic(
                    &b.device,
                    &coarse,
                    Some(&currents),
                    0.8,
                    None,
                    false,
                    &mut |_, _| {},
                )
                .expect("curve")
            })
        },
    );
    group.finish();
    let mut group = c.benchmark_group("units, 2 % scatter, 20 A");
    group.sample_size(10);
    group.throughput(Throughput::Elements(10_000));
    let sheet = b.sheet(8);
    group.bench_function("10,000 units", |bench| {
        bench.iter(|| units(&sheet, black_box(10_000)))
    });
    group.finish();
    let part = shipped("01-pug-mill.toml");
    let (device, case) = (Device::new(&part).expect("device"), case(&part));
    c.bench_function(
        "shipped part with tables and Holm contact, trip with error estimate",
        |bench| {
            bench.iter(|| {
                run(&device, &case, &part.load, false)
                    .expect("run")
                    .value
                    .trip_time_s
            })
        },
    );
}

/// Shortest time of a call, s: the least disturbed one.
fn shortest(mut call: impl FnMut()) -> f64 {
    let started = Instant::now();
    let mut best = f64::INFINITY;
    while started.elapsed() < Duration::from_millis(400) {
        let (at, mut calls) = (Instant::now(), 0);
        while calls < 4 || at.elapsed() < Duration::from_micros(200) {
            call();
            calls += 1;
        }
        best = best.min(at.elapsed().as_secs_f64() / f64::from(calls));
    }
    best
}

/// The engine beside its peers as ratios.
fn ratios() {
    let b = Bench::worked();
    println!("\n| total error at 20 A | peer | its time over the engine's |");
    println!("|---|---|---|");
    let engine = |grid: Grid| {
        let model = b.model(grid.order);
        let error = apart(
            b.trip(&model, grid.tolerance, 20.0),
            peers::continuum::TRIP_20_A,
        );
        (
            shortest(|| {
                black_box(b.trip(&model, grid.tolerance, black_box(20.0)));
            }),
            error,
        )
    };
    let own = [engine(AT_1E4), engine(AT_1E5), engine(AT_1E6)];
    for (error, name, setting, grid) in [
        ("1e-4", "diffsol, BDF", settings::BDF_1E4, 0),
        ("1e-4", "ode_solvers, Dopri5", settings::DOPRI5_1E4, 0),
        ("1e-4", "ode_solvers, Dop853", settings::DOP853_1E4, 0),
        ("1e-5", "diffsol, BDF", settings::BDF_1E5, 1),
    ] {
        let prepared = peers::trip(setting, 20.0);
        let time = shortest(|| {
            black_box(prepared.run().time_s);
        });
        println!("| {error} | {name} | {:.0} |", time / own[grid].0);
    }
    let drive = Drive::constant(20.0, b.case.ambient_k());
    let (fifth, sixth) = (same_space::AT_20_A_1E5, same_space::AT_20_A_1E6);
    for (error, steps, grid) in [("1e-5", fifth, 1), ("1e-6", sixth, 2)] {
        let prepared = same_space::trip(b.model(steps.order), drive, steps);
        let time = shortest(|| {
            black_box(prepared.run().time_s);
        });
        let ratio = time / own[grid].0;
        println!("| {error} | ode_solvers, Dop853, on our nodes and rates | {ratio:.2} |");
    }
    println!("\n| the engine | relative to one trip at 1e-5 |");
    println!("|---|---|");
    let unit_time = own[1].0;
    let row = |name: &str, time: f64| println!("| {name} | {:.2} |", time / unit_time);
    for ((time, error), asked) in own.iter().zip(["1e-4", "1e-5", "1e-6"]) {
        row(
            &format!("trip at 20 A, asked {asked}, error {error:.0e}"),
            *time,
        );
    }
    let mean = [13.0, 20.0, 30.0, 60.0, 100.0].map(|a| {
        let grid = engine_order(&b, a);
        shortest(|| {
            black_box(b.trip(&grid, AT_1E5.tolerance, black_box(a)));
        })
    });
    row(
        "mean trip over 13 A to 100 A, error 1e-5",
        mean.iter().sum::<f64>() / 5.0,
    );
    let model = b.model(AT_1E5.order);
    let both = shortest(|| {
        black_box(b.cool(&model, AT_1E5.tolerance));
    });
    row("cool-down after 20 A, error 1e-5", both - unit_time);
    row(
        "trip with its error estimate, 1e-5",
        shortest(|| {
            black_box(
                run(&b.device, &b.case, &Programme::constant(20.0), false)
                    .expect("run")
                    .value
                    .trip_time_s,
            );
        }),
    );
    let currents = b.currents();
    let coarse = Case {
        accuracy: 1e-4,
        ..b.case.clone()
    };
    row(
        "one of 80 points of a characteristic, each with its estimate, 1e-4",
        shortest(|| {
            black_box(
                characteristic(
                    &b.device,
                    &coarse,
                    Some(&currents),
                    0.8,
                    None,
                    false,
                    &mut |_, _| {},
                )
                .expect("curve"),
            );
        }) / 80.0,
    );
    for order in [7, 8] {
        let sheet = b.sheet(order);
        row(
            &format!("one of 10,000 units side by side, order {order}"),
            shortest(|| {
                black_box(units(&sheet, 10_000));
            }) / 10_000.0,
        );
    }
    println!("\none trip at 1e-5 took {:.2} us here", 1e6 * unit_time);
}

/// Answers of fuller models at twice the rating, over that of the plain strip.
fn full() {
    let wound = |file| {
        let mut s = shipped(file);
        s.winding = everything().winding;
        s
    };
    let (latch, blade) = ("01-pug-mill.toml", "04-fog-machine.toml");
    let parts = [
        ("plain strip", worked(|_| {})),
        ("tables, Holm contact, housing", shipped(latch)),
        ("and a winding", wound(latch)),
        ("a blade instead of a latch", shipped(blade)),
        ("a blade and a winding", wound(blade)),
    ];
    println!("\n| model | its answer over that of the plain strip |");
    println!("|---|---|");
    let mut plain_s = None;
    for (name, s) in parts {
        let device = Device::new(&s).expect("device");
        let case = Case {
            accuracy: 1e-5,
            before: Before::Cold,
            ..case(&s)
        };
        let load = Programme::constant(2.0 * case.rated_current_a);
        let time_s = shortest(|| {
            black_box(run(&device, &case, &load, false).expect("run").value.end_s);
        });
        println!(
            "| {name} | {:.2} |",
            time_s / *plain_s.get_or_insert(time_s)
        );
    }
}

/// Three poles over one, and an alternating current closed at 72 angles.
fn kinds() {
    let trip_s = |count: usize| {
        let mut part = shipped("16-pump-lost-phase.toml");
        if let Some(poles) = &mut part.poles {
            poles.bar = BarKind::Sum;
            poles.each.truncate(count);
        }
        let (device, case) = (Device::new(&part).expect("device"), case(&part));
        let load = Programme::constant(36.0);
        shortest(|| {
            black_box(
                run(&device, &case, &load, false)
                    .expect("run")
                    .value
                    .trip_time_s,
            );
        })
    };
    println!("\n| kinds | |");
    println!("|---|---|");
    println!(
        "| trip of three poles over that of one, the general way | {:.2} |",
        trip_s(3) / trip_s(1)
    );
    let part = shipped("15-theatre-saw.toml");
    let (built, closing) = (
        part.magnetic.expect("magnetic"),
        part.closing.expect("closing"),
    );
    let magnet = Magnet {
        built,
        opening_time_s: 0.0,
    };
    let all_s = shortest(|| {
        black_box(angles(&magnet, &closing.current, Poles::One, HORIZON_S));
    });
    // With every change between them closed in on.
    println!(
        "| a closing of the saw's current, mean of 72 angles and more | {:.1} us |",
        1e6 * all_s / 72.0
    );
}

/// Answers to strong currents, with heat across the layers where it counts, over those of one
/// temperature a section.
fn across() {
    println!("\n| times the rating | with heat across the layers over one temperature a section |");
    println!("|---|---|");
    for multiple in [2.0, 5.0, 15.0, 50.0] {
        let mut part = shipped("01-pug-mill.toml");
        let case = case(&part);
        part.load = Programme::constant(multiple * case.rated_current_a);
        let (device, _) = main_run(&part, &case).expect("run");
        let even = Device::new(&part).expect("device");
        let time_s = |device: &Device| {
            shortest(|| {
                black_box(
                    run(device, &case, &part.load, false)
                        .expect("run")
                        .value
                        .trip_time_s,
                );
            })
        };
        println!("| {multiple} | {:.2} |", time_s(&device) / time_s(&even));
    }
}

/// The grid that gives 1e-5 at a current (orders measured on this strip).
fn engine_order(b: &Bench, current_a: f64) -> Arc<Model> {
    b.model(match current_a {
        a if a < 25.0 => 9,
        a if a < 45.0 => 11,
        a if a < 80.0 => 15,
        _ => 18,
    })
}

criterion_group!(benches, trips, many);

fn main() {
    benches();
    Criterion::default().configure_from_args().final_summary();
    // `cargo test --benches` only looks whether everything runs.
    if !std::env::args().any(|a| a == "--test") {
        ratios();
        across();
        full();
        kinds();
    }
}
