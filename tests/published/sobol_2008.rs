//! S. Joe & F. Y. Kuo, direction numbers `new-joe-kuo-6.21201` (2008). First points in three
//! dimensions as the authors print them (from memory, the same in SciPy); points and a sum over
//! 1200 points in 128 dimensions by an independent program:
//!
//! ```python
//! import numpy as np; from scipy.stats import qmc          # scipy 1.17.1
//! s = qmc.Sobol(128, scramble=False, bits=52).random(1200)
//! w = (np.arange(1200)[:, None] * 7 + np.arange(128)[None, :] * 3) % 11
//! print(sum(int(v * 2**32) * int(k) for v, k in zip(s.ravel(), w.ravel())))
//! ```

use relatch::internals::statistics::sobol::SobolSequence;

/// Coordinate without the half of the last digit that keeps it off 0; exact.
fn plain(s: &SobolSequence, point: u64, dimension: usize) -> f64 {
    s.coordinate(point, dimension) - 0.5_f64.powi(53)
}

#[test]
fn first_ten_points() {
    let s = SobolSequence::plain(3).unwrap();
    for (i, expected) in [
        [0.0, 0.0, 0.0],
        [0.5, 0.5, 0.5],
        [0.75, 0.25, 0.25],
        [0.25, 0.75, 0.75],
        [0.375, 0.375, 0.625],
        [0.875, 0.875, 0.125],
        [0.625, 0.125, 0.875],
        [0.125, 0.625, 0.375],
        [0.1875, 0.3125, 0.9375],
        [0.6875, 0.8125, 0.4375],
    ]
    .iter()
    .enumerate()
    {
        let found: Vec<f64> = (0..3).map(|d| plain(&s, i as u64, d)).collect();
        assert_eq!(found, expected, "{i}");
    }
}

#[test]
fn points_in_many_dimensions() {
    let s = SobolSequence::plain(128).unwrap();
    for (point, dimension, expected) in [
        (77, 5, 0.507_812_5),
        (77, 31, 0.742_187_5),
        (77, 127, 0.414_062_5),
        (1000, 9, 0.069_335_937_5),
        (1000, 63, 0.446_289_062_5),
        (1199, 100, 0.601_074_218_75),
    ] {
        assert_eq!(plain(&s, point, dimension), expected);
    }
}

#[test]
fn every_coordinate_by_one_weighted_sum() {
    let s = SobolSequence::plain(128).unwrap();
    let mut sum = 0;
    for point in 0..1200_u64 {
        for dimension in 0..128_u64 {
            let digits = (plain(&s, point, dimension as usize) * 2f64.powi(32)) as u64;
            sum += digits * ((point * 7 + dimension * 3) % 11);
        }
    }
    assert_eq!(sum, 1_648_233_822_552_064);
}
