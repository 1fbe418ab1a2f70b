//! Of `statistics::exact_sum`.

use relatch::internals::statistics::exact_sum::*;
use relatch::internals::statistics::stream::{Purpose, Stream};

fn sum_of(xs: &[f64]) -> ExactSum {
    let mut sum = ExactSum::new();
    for &x in xs {
        sum.add(x).unwrap();
    }
    sum
}

/// Numbers of all signs and magnitudes.
fn wild(n: u32) -> Vec<f64> {
    let stream = Stream::new(12, Purpose::other(2), 0);
    (0..n)
        .map(|i| {
            (stream.uniform(2 * i) - 0.5) * 2f64.powf(400.0 * (stream.uniform(2 * i + 1) - 0.5))
        })
        .collect()
}

#[test]
fn one_number_is_itself() {
    for x in [
        0.0,
        1.0,
        -1.5,
        f64::MIN_POSITIVE,
        5e-324,
        -5e-324,
        1e100,
        0.1,
        1e-310,
    ] {
        assert_eq!(sum_of(&[x]).value(), x);
    }
}

#[test]
fn order_and_grouping_do_not_matter() {
    let xs = wild(500);
    let all = sum_of(&xs);
    let mut backwards = xs.clone();
    backwards.reverse();
    assert_eq!(all, sum_of(&backwards));
    let mut merged = sum_of(&xs[300..]);
    merged.merge(&sum_of(&xs[..7]));
    merged.merge(&sum_of(&xs[7..300]));
    assert_eq!(all, merged);
    assert_eq!(
        serde_json::to_string(&all).unwrap(),
        serde_json::to_string(&merged).unwrap()
    );
}

#[test]
fn what_is_added_and_taken_away_leaves_nothing() {
    let xs = wild(500);
    let mut sum = sum_of(&xs);
    for x in xs {
        sum.add(-x).unwrap();
    }
    assert_eq!(sum, ExactSum::new());
    assert_eq!(sum.value(), 0.0);
}

/// Integers below 2⁵³ are summed by i128 too.
#[test]
fn agrees_with_whole_numbers() {
    let stream = Stream::new(1, Purpose::other(3), 0);
    let (mut sum, mut squares) = (ExactSum::new(), ExactSum::new());
    let (mut whole, mut whole_squares) = (0_i128, 0_i128);
    for draw in 0..1000 {
        let n = (stream.bits(draw) >> 12) as i64 - (1 << 51);
        sum.add(n as f64).unwrap();
        squares.add_square(n as f64).unwrap();
        whole += i128::from(n);
        whole_squares += i128::from(n).pow(2);
    }
    assert_eq!(sum.value(), whole as f64);
    assert_eq!(squares.value(), whole_squares as f64);
    let spread = (1000 * (whole_squares >> 20)) as f64 * 2f64.powi(20) - (whole as f64).powi(2);
    let found = ExactSum::spread(&squares, &sum, 1000);
    assert!((found / spread - 1.0).abs() < 1e-13);
}

#[test]
fn stored_and_read_back() {
    let sum = sum_of(&wild(50));
    let text = serde_json::to_string(&sum).unwrap();
    let back: ExactSum = serde_json::from_str(&text).unwrap();
    assert_eq!(back, sum);
    for damaged in [
        r#"{"negative":false,"digits":[[9999,1]]}"#,
        r#"{"negative":false,"digits":[[3,1],[3,1]]}"#,
    ] {
        assert!(serde_json::from_str::<ExactSum>(damaged).is_err());
    }
}

#[test]
fn what_cannot_be_summed_is_refused() {
    let mut sum = sum_of(&[2.0]);
    for x in [f64::NAN, f64::INFINITY, -1.1e100] {
        assert!(sum.add(x).is_err() && sum.add_square(x).is_err());
    }
    assert_eq!(sum.value(), 2.0);
}
