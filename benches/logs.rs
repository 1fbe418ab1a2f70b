//! A million rows of a log, read from memory; beside it the fields cut by the `csv` crate, which
//! neither finds the layout nor reads the values.

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use relatch::internals::logs::{LogReader, Options};
use std::hint::black_box;
use std::io::Write;

const ROWS: u32 = 1_000_000;

fn numbers() -> Vec<u8> {
    let mut text = b"time (s),current (A),ambient (degC)\n".to_vec();
    for k in 0..ROWS {
        let current = if k % 65 < 40 { 13.8 } else { 0.2 };
        writeln!(text, "{k},{current:.2},26.{}", k % 7).expect("row");
    }
    text
}

fn stamps() -> Vec<u8> {
    let mut text = b"Zeit;Strom (A)\r\n".to_vec();
    for k in 0..ROWS {
        let (d, h, m, s) = (1 + k / 86_400, k / 3600 % 24, k / 60 % 60, k % 60);
        write!(text, "{d:02}.03.2024 {h:02}:{m:02}:{s:02};9,{}\r\n", k % 10).expect("row");
    }
    text
}

fn read(text: &[u8]) -> f64 {
    let mut log = LogReader::new("bench", text, Options::default()).expect("layout");
    let mut sum = 0.0;
    while let Some(row) = log.next_row().expect("row") {
        sum += row.current_a.value;
    }
    sum
}

fn logs(c: &mut Criterion) {
    let mut group = c.benchmark_group("a million rows");
    group
        .throughput(Throughput::Elements(ROWS.into()))
        .sample_size(10);
    let (numbers, stamps) = (numbers(), stamps());
    group.bench_function("seconds and decimal points", |b| {
        b.iter(|| read(black_box(&numbers)))
    });
    group.bench_function("dates and decimal commas", |b| {
        b.iter(|| read(black_box(&stamps)))
    });
    group.bench_function("csv crate, fields only", |b| {
        b.iter(|| {
            let mut reader = csv::Reader::from_reader(black_box(numbers.as_slice()));
            let mut record = csv::ByteRecord::new();
            let mut fields = 0;
            while reader.read_byte_record(&mut record).expect("record") {
                fields += record.len();
            }
            fields
        })
    });
    group.finish();
}

criterion_group!(benches, logs);
criterion_main!(benches);
