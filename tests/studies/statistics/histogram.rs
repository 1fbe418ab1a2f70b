//! Of `statistics::histogram`.

use relatch::internals::statistics::histogram::*;
use relatch::internals::statistics::stream::{Purpose, Stream};

fn of(xs: &[f64]) -> Histogram {
    let mut h = Histogram::new(7).unwrap();
    for &x in xs {
        h.add(x).unwrap();
    }
    h
}

fn sample() -> Vec<f64> {
    let stream = Stream::new(8, Purpose::other(5), 0);
    (0..3000)
        .map(|i| libm::exp(3.0 * stream.normal(2 * i)) * (stream.uniform(2 * i + 1) - 0.3))
        .collect()
}

#[test]
fn every_rank_is_enclosed_within_the_width() {
    let mut xs = sample();
    let h = of(&xs);
    xs.sort_by(f64::total_cmp);
    for (i, &x) in xs.iter().enumerate() {
        let e = h.value_of_rank(i as u64 + 1).unwrap();
        assert!(e.low <= x && x <= e.high, "{x} {e:?}");
        assert!(e.high - e.low <= x.abs() / 128.0 * (1.0 + 1e-15));
    }
    assert!(h.value_of_rank(0).is_err() && h.value_of_rank(3001).is_err());
}

#[test]
fn shards_merge_to_the_same_bytes() {
    let xs = sample();
    let whole = serde_json::to_string(&of(&xs)).unwrap();
    let mut merged = of(&[]);
    for part in xs.chunks(77).rev() {
        let text = serde_json::to_string(&of(part)).unwrap();
        merged.merge(&serde_json::from_str(&text).unwrap()).unwrap();
    }
    assert_eq!(serde_json::to_string(&merged).unwrap(), whole);
    assert_eq!(merged.bins().map(|(_, n)| n).sum::<u64>(), merged.count());
}

#[test]
fn ends_of_the_scale() {
    let inf = f64::INFINITY;
    let h = of(&[-inf, -f64::MAX, -0.0, 0.0, 5e-324, f64::MAX, inf]);
    let e = |rank| h.value_of_rank(rank).unwrap();
    assert_eq!((e(1).low, e(1).high), (-inf, -inf));
    assert!(e(2).low == -inf && e(2).high >= -f64::MAX);
    assert_eq!(e(3).low, 0.0);
    assert!(e(6).low <= f64::MAX && e(6).high == inf);
    assert_eq!((e(7).low, e(7).high), (inf, inf));
    assert!(of(&[]).value_of_rank(1).is_err());
}

#[test]
fn unlike_widths_and_nan_are_refused() {
    let mut h = of(&[1.0]);
    assert!(h.merge(&Histogram::new(8).unwrap()).is_err());
    assert!(h.add(f64::NAN).is_err());
    assert!(Histogram::new(21).is_err());
    assert_eq!(h, of(&[1.0]));
}

/// A damaged file is not a reason to fall over.
#[test]
fn damaged_files() {
    let text = |bits: u32, a: i64, n: u64, b: i64| {
        format!(r#"{{"split_bits":{bits},"counts":{{"{a}":{n},"{b}":1}}}}"#)
    };
    let read = |text: String| serde_json::from_str::<Histogram>(&text);
    let strange = read(text(7, i64::MIN, 1, i64::MAX)).unwrap();
    assert_eq!(strange.bins().count(), 2);
    assert!(read(text(60, 1, 1, 2)).is_err());
    assert!(read(text(7, 1, u64::MAX, 2)).is_err());
    let mut full = read(text(7, 1, u64::MAX - 1, 2)).unwrap();
    assert!(full.add(1.0).is_err() && full.merge(&of(&[1.0])).is_err());
}
