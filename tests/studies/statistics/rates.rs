//! Confidence of quantiles and rates of units that share batches.

use relatch::internals::statistics::histogram::Histogram;
use relatch::internals::statistics::rates::{quantile, rate};
use relatch::internals::statistics::stream::{Purpose, Stream};

/// Coverage by simulation: units in batches of 50 with a correlation of 0.5, 40 batches. The
/// interval of the 90 % quantile covers at least as often as it says (four standard deviations of
/// 400 runs, 4.4 %), and one that took the units as independent would miss in every second run.
#[test]
fn intervals_cover_with_batches() {
    let (batches, size, share, p) = (40_u64, 50_u64, 0.5_f64, 0.9);
    let truth = relatch::internals::statistics::normal::quantile(p);
    let (mut covered, mut naive) = (0, 0);
    let runs = 400;
    for run in 0..runs {
        let mut h = Histogram::new(10).unwrap();
        for unit in 0..batches * size {
            let coil = Stream::new(run, Purpose::BATCH_FACTORS, unit / size).normal(0);
            let own = Stream::new(run, Purpose::UNIT_INPUTS, unit).normal(0);
            h.add(share.sqrt() * coil + (1.0 - share).sqrt() * own)
                .unwrap();
        }
        let holds = |effect: f64| {
            let q = quantile(&h, p, effect).unwrap();
            u32::from(q.low.unwrap_or(-9e9) <= truth && truth <= q.high.unwrap_or(9e9))
        };
        covered += holds(1.0 + (size as f64 - 1.0) * share);
        naive += holds(1.0);
    }
    assert!(
        f64::from(covered) / runs as f64 >= 0.95 - 0.044,
        "{covered}"
    );
    assert!(f64::from(naive) / (runs as f64) < 0.6, "{naive}");
}

#[test]
fn rates_with_nothing_seen_still_have_an_upper_end() {
    let none = rate(0, 1000, 1.0).unwrap();
    assert!(
        none.low == 0.0 && (none.high - 0.003_682).abs() < 1e-5,
        "{none:?}"
    );
    let few = rate(0, 1000, 10.0).unwrap();
    assert!(few.high > 9.0 * none.high);
}
