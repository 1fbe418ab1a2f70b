//! Of `statistics::sensitivity`.

use relatch::internals::statistics::Interval;
use relatch::internals::statistics::sensitivity::*;
use relatch::internals::statistics::stream::{Purpose, Stream};

/// x₀ + 2 x₁ x₂ on the unit cube: variance 1/12 + 7/36, of which x₀ has 1/12 (also in total), x₁
/// and x₂ have 1/12 each by themselves and 1/9 in total.
fn f(x: &[f64]) -> f64 {
    x[0] + 2.0 * x[1] * x[2]
}

fn sums(seed: u64, rows: std::ops::Range<u64>) -> SobolSums {
    sums_about(0.9, seed, rows)
}

fn sums_about(centre: f64, seed: u64, rows: impl Iterator<Item = u64>) -> SobolSums {
    let mut sums = SobolSums::new(3, centre);
    for row in rows {
        let s = Stream::new(seed, Purpose::other(6), row);
        let x: Vec<f64> = (0..6).map(|i| s.uniform(i)).collect();
        let (a, b) = x.split_at(3);
        let mixed: Vec<f64> = (0..3)
            .map(|i| {
                let mut ab = a.to_vec();
                ab[i] = b[i];
                f(&ab)
            })
            .collect();
        sums.add(f(a), f(b), &mixed).unwrap();
    }
    sums
}

/// Coverage by simulation: 800 samples of 400 rows. The share of 95 % intervals that hold the true
/// index is 95 % within four standard deviations (3.1 %), for every input and both kinds.
#[test]
fn intervals_cover_as_often_as_they_say() {
    let variance = 1.0 / 12.0 + 7.0 / 36.0;
    let truth = [(3.0, 3.0), (3.0, 4.0), (3.0, 4.0)]
        .map(|(s, t)| (s / 36.0 / variance, t / 36.0 / variance));
    let mut hits = [[0_u32; 2]; 3];
    let runs = 800;
    for run in 0..runs {
        let indices = sums(run, 0..400).indices(0.95).unwrap();
        for (i, index) in indices.iter().enumerate() {
            let holds = |interval: Interval, x| u32::from(interval.low <= x && x <= interval.high);
            hits[i][0] += holds(index.first_interval, truth[i].0);
            hits[i][1] += holds(index.total_interval, truth[i].1);
        }
    }
    for share in hits
        .as_flattened()
        .iter()
        .map(|&h| f64::from(h) / runs as f64)
    {
        assert!((share - 0.95).abs() < 0.031, "{hits:?}");
    }
}

/// The errors stated are those of the jackknife (leave out each of 400 rows in turn), up to terms
/// of order 1/n, for a good centre and for a bad one.
#[test]
fn errors_agree_with_the_jackknife() {
    let n = 400;
    for centre in [1.0, 1.8] {
        let half = |i: Interval| (i.high - i.low) / 2.0;
        let both = |s: &SobolSums| {
            let indices = s.indices(0.95).unwrap();
            let each = indices.iter();
            let points: Vec<f64> = each.clone().flat_map(|i| [i.first, i.total]).collect();
            let errors = each.flat_map(|i| [half(i.first_interval), half(i.total_interval)]);
            (points, errors.map(|e| e / 1.959_964).collect::<Vec<f64>>())
        };
        let (_, stated) = both(&sums_about(centre, 4, 0..n));
        let left: Vec<Vec<f64>> = (0..n)
            .map(|out| both(&sums_about(centre, 4, (0..n).filter(|row| *row != out))).0)
            .collect();
        for (k, stated) in stated.iter().enumerate() {
            let mean = left.iter().map(|l| l[k]).sum::<f64>() / n as f64;
            let sum: f64 = left.iter().map(|l| (l[k] - mean).powi(2)).sum();
            let jackknife = (sum * (n - 1) as f64 / n as f64).sqrt();
            assert!(
                (jackknife / stated - 1.0).abs() < 0.02,
                "{centre} {k}: {jackknife} {stated}"
            );
        }
    }
}

#[test]
fn shards_merge_to_the_same_bytes() {
    let whole = serde_json::to_string(&sums(1, 0..300)).unwrap();
    let mut merged = sums(1, 200..300);
    for part in [0..50, 50..200] {
        let text = serde_json::to_string(&sums(1, part)).unwrap();
        merged.merge(&serde_json::from_str(&text).unwrap()).unwrap();
    }
    assert_eq!(serde_json::to_string(&merged).unwrap(), whole);
    assert_eq!(merged.rows(), 300);
}

#[test]
fn nonsense_is_refused() {
    let mut s = SobolSums::new(1, 0.0);
    assert!(s.add(1.0, 2.0, &[]).is_err());
    assert!(s.add(1.0, f64::NAN, &[1.0]).is_err());
    assert!(s.add(1.0, 2.0, &[f64::INFINITY]).is_err());
    assert_eq!(s, SobolSums::new(1, 0.0));
    assert!(s.indices(0.95).is_err());
    for _ in 0..3 {
        s.add(7.0, 7.0, &[7.0]).unwrap();
    }
    assert!(s.indices(0.95).is_err());
    assert!(s.indices(1.0).is_err());
    assert!(s.merge(&SobolSums::new(2, 0.0)).is_err());
    assert!(s.merge(&SobolSums::new(1, 1.0)).is_err());
    let mut lost = SobolSums::new(1, f64::NAN);
    assert!(lost.add(1.0, 1.0, &[1.0]).is_err());
}
