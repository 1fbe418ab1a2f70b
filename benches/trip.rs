//! One trip, one cool-down and a characteristic of the worked strip, beside general-purpose peers in the
//! same run. Compare ratios, not times.

#[path = "../tests/support/mod.rs"]
mod support;
#[path = "../tests/support/volumes.rs"]
mod volumes;

use criterion::{Criterion, criterion_group, criterion_main};
use relatch::device::{Device, Drive, Fineness, Model, Plant, ReleaseEvent};
use relatch::load::Programme;
use relatch::predict::{Unwatched, characteristic, run, run_on, trip_point};
use relatch::solve::explicit_event_time;
use std::hint::black_box;
use support::{case, worked};
use volumes::Volumes;

fn trip(c: &mut Criterion) {
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let model = Model::new(
        &device,
        Fineness {
            order: 10,
            end_element_m: 0.0097,
        },
    );
    let case = case(&s);
    let load = Programme::constant(20.0);
    let mut group = c.benchmark_group("trip at 20 A");
    group.bench_function("engine, one grid, error 1e-6", |b| {
        b.iter(|| {
            run_on(&model, 1e-7, &case, black_box(&load), false, &mut Unwatched)
                .expect("run")
                .trip_time_s
        })
    });
    group.bench_function("engine, with error estimate", |b| {
        b.iter(|| {
            run(&device, &case, black_box(&load), false)
                .expect("run")
                .value
                .trip_time_s
        })
    });
    group.bench_function("ode_solvers Dop853 on the engine's grid", |b| {
        let plant = Plant {
            model: &model,
            drive: Drive::constant(20.0, 298.15),
        };
        let event = ReleaseEvent {
            plant: &plant,
            in_hand_m: 0.0,
        };
        let cold = model.uniform(298.15);
        b.iter(|| {
            explicit_event_time(&plant, &event, 0.0, black_box(&cold), 60.0, 1e-7).expect("trips")
        })
    });
    group.sample_size(10);
    group.bench_function("diffsol BDF on 64 finite volumes, error 1e-3", |b| {
        b.iter(|| {
            Volumes {
                n: 64,
                current_a: black_box(20.0),
            }
            .trip_time(1e-7)
        })
    });
    group.finish();
}

fn others(c: &mut Criterion) {
    let s = worked(|_| {});
    let device = Device::new(&s).expect("device");
    let case = case(&s);
    c.bench_function("trip and cool-down, with error estimate", |b| {
        b.iter(|| {
            run(&device, &case, &Programme::constant(black_box(20.0)), true)
                .expect("run")
                .value
                .relatch_wait_s
        })
    });
    c.bench_function("trip point, with error estimate", |b| {
        b.iter(|| {
            trip_point(&device, 298.15, black_box(10.0), 1e-5)
                .expect("point")
                .value
                .current_a()
        })
    });
    let mut group = c.benchmark_group("characteristic");
    group.sample_size(10);
    group.bench_function("25 cold and 25 hot points, with error estimates", |b| {
        b.iter(|| characteristic(&device, &case, None, 0.8, None, &mut |_, _| {}).expect("curve"))
    });
    group.finish();
}

criterion_group!(benches, trip, others);
criterion_main!(benches);
