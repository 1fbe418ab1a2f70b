//! Confidence from order statistics. S. S. Wilks, "Determination of Sample Sizes for Setting
//! Tolerance Limits", Ann. Math. Stat. 12 (1941) 91-96: 59 values bound 95 % of a population from
//! one side with confidence 95 %, 22 bound 90 % with 90 %, 299 bound 99 % with 95 % (from memory;
//! they follow from 1 - p^n). Ranks for the median of 100 values, 40 and 61 at 95 % with a
//! confidence of 0.9648 (from memory, a common table; from `scipy.stats.binom` 1 - cdf(39) - sf(60)
//! = 0.96480).

use relatch::internals::statistics::order_statistics::quantile_interval;

use crate::near;

/// With so many values the upper end of an interval is the largest of them, with one fewer there
/// is none.
#[test]
fn numbers_of_values() {
    for (p, confidence, n) in [(0.95, 0.95, 59), (0.9, 0.9, 22), (0.99, 0.95, 299)] {
        let bound = |n| {
            let both = 2.0 * confidence - 1.0;
            quantile_interval(n, p, both).unwrap().high
        };
        assert_eq!((bound(n), bound(n - 1)), (Some(n), None));
    }
}

#[test]
fn median_of_a_hundred() {
    let i = quantile_interval(100, 0.5, 0.95).unwrap();
    assert_eq!((i.low, i.high), (Some(40), Some(61)));
    near(i.confidence, 0.9648, 5e-5);
}
