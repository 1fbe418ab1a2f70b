//! A diagnosis, and what it is made of: one part asked by superposition beside the same part
//! simulated.

use criterion::{Criterion, criterion_group, criterion_main};
use relatch::internals::diagnose::judged;
use relatch::internals::evidence::read_text;
use relatch::internals::family::{Family, Part, Steps, Wear};
use relatch::internals::load::Programme;
use relatch::internals::statistics::stream::{Purpose, Stream};
use std::hint::black_box;

const FIVE: &str = r#"
format = 1
kind = "case"
title = "five observations"

[protector]
rating = "10 A"

[machine]
name = "invented"
rated_current = "9 A"
waveform = "sine"
starts_with_a_surge = false

[[reading]]
current = "8.9 A"
meter = "true RMS"
taken = "up to the trip"

[[air]]
at = "the part"
temperature = "31 degC"

[[trip]]
after = "6 min"
from = "cold"

[[trip]]
after = "11 s"
from = "cold"
on = "bench"
current = "20 A +- 2 %"

[[trip]]
after = "24 s"
from = "cold"
part = "as new"
on = "bench"
current = "20 A +- 2 %"
"#;

fn diagnosis(c: &mut Criterion) {
    let case = read_text("five.toml", FIVE).expect("a case");
    c.bench_function("diagnosis: family of 160 designs", |b| {
        b.iter(|| Family::new(&case.nameplate, 160).expect("a family"));
    });
    let family = Family::new(&case.nameplate, 160).expect("a family");
    let mut slow = c.benchmark_group("diagnosis");
    slow.sample_size(10);
    slow.bench_function("verdict from five observations", |b| {
        b.iter(|| judged(black_box(&case), &family, 1));
    });
    slow.finish();
    let quick = family.quick();
    let drawn = family
        .draw(&Stream::new(1, Purpose::other(1), 0))
        .expect("a part");
    let load = [(f64::INFINITY, 20.0)];
    let steps = Steps::cold(&load);
    c.bench_function("one part at 200 %: by superposition", |b| {
        b.iter(|| {
            quick
                .part(black_box(drawn), Wear::NONE)
                .factor(&steps, 300.0, 20.0)
        });
    });
    c.bench_function("one part at 200 %: simulated", |b| {
        let member = &family.members()[drawn.member];
        b.iter(|| {
            let part = Part::new(member, black_box(drawn).placing, Wear::NONE, 10.0, 1.0);
            part.cold(&[(0.0, 300.0)])
                .carry(&Programme::constant(20.0), 1e6)
        });
    });
}

criterion_group!(benches, diagnosis);
criterion_main!(benches);
