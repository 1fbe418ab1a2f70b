//! Of `statistics::summary`.

use relatch::internals::statistics::stream::{Purpose, Stream};
use relatch::internals::statistics::summary::*;

fn of(xs: &[f64]) -> Summary {
    let mut summary = Summary::new();
    for &x in xs {
        summary.add(x).unwrap();
    }
    summary
}

/// Sixteen shards, cut round-robin and merged backwards: the same bytes.
#[test]
fn shards_merge_to_the_same_bytes() {
    let stream = Stream::new(5, Purpose::other(4), 0);
    let xs: Vec<f64> = (0..5000)
        .map(|i| libm::exp(5.0 * stream.normal(i)))
        .collect();
    let whole = serde_json::to_string(&of(&xs)).unwrap();
    let mut merged = Summary::new();
    for shard in (0..16).rev() {
        let part: Vec<f64> = xs.iter().copied().skip(shard).step_by(16).collect();
        let text = serde_json::to_string(&of(&part)).unwrap();
        merged.merge(&serde_json::from_str(&text).unwrap());
    }
    assert_eq!(serde_json::to_string(&merged).unwrap(), whole);
}

/// B. P. Welford's trouble case: a spread of 1 on top of 1e15.
#[test]
fn no_digits_are_lost_beside_a_large_mean() {
    let s = of(&[1e15 + 4.0, 1e15 + 7.0, 1e15 + 13.0, 1e15 + 16.0]);
    assert_eq!(s.variance(), Some(30.0));
    assert_eq!(s.mean(), Some(1e15 + 10.0));
    assert_eq!(of(&[0.1; 7]).variance(), Some(0.0));
}

#[test]
fn ends_and_emptiness() {
    let none = Summary::new();
    assert_eq!(
        (none.mean(), none.variance(), none.least()),
        (None, None, None)
    );
    assert_eq!(of(&[3.0]).variance(), None);
    let s = of(&[0.0, -0.0, -3.0, 8.0]);
    assert_eq!(
        (s.least(), s.greatest(), s.count()),
        (Some(-3.0), Some(8.0), 4)
    );
    let json = |xs: &[f64]| serde_json::to_string(&of(xs)).unwrap();
    assert_eq!(json(&[0.0, -0.0]), json(&[-0.0, 0.0]));
    let mut s = of(&[1.0]);
    assert!(s.add(f64::NAN).is_err() && s.add(f64::INFINITY).is_err());
    assert_eq!(s, of(&[1.0]));
}
