//! Of `statistics::weibull_fit`.

use relatch::internals::statistics::kaplan_meier::Life;
use relatch::internals::statistics::stream::{Purpose, Stream};
use relatch::internals::statistics::weibull::Weibull;
use relatch::internals::statistics::weibull_fit::*;

fn simulated(run: u64, n: u32, end: f64) -> Vec<Life> {
    super::lives::made(&Stream::new(15, Purpose::other(7), run), n, end)
}

/// 1000 samples of 200 lives censored at 20 (63 % fail): the 90 % intervals of shape, scale and B10
/// hold the truth in 90 %, within four standard deviations (3.8 %).
#[test]
fn intervals_cover_as_often_as_they_say() {
    let truth = Weibull::new(1.7, 20.0).unwrap();
    let b10 = truth.quantile(0.1).unwrap();
    let mut hits = [0_u32; 3];
    for run in 0..1000 {
        let fit = fit(&simulated(run, 200, 20.0)).unwrap();
        let intervals = [
            (fit.shape_interval(0.9).unwrap(), 1.7),
            (fit.scale_interval(0.9).unwrap(), 20.0),
            (fit.quantile_interval(0.1, 0.9).unwrap(), b10),
        ];
        for (hit, (i, x)) in hits.iter_mut().zip(intervals) {
            *hit += u32::from(i.low <= x && x <= i.high);
        }
    }
    assert!(hits.iter().all(|h| h.abs_diff(900) <= 38), "{hits:?}");
}

#[test]
fn unit_and_order_do_not_matter() {
    let lives = simulated(3, 30, 25.0);
    let a = fit(&lives).unwrap();
    let mut scaled: Vec<Life> = lives
        .iter()
        .map(|l| Life {
            time: l.time * 1e200,
            ..*l
        })
        .collect();
    scaled.reverse();
    let b = fit(&scaled).unwrap();
    let (a, b) = (a.distribution, b.distribution);
    assert!((a.shape() / b.shape() - 1.0).abs() < 1e-12);
    assert!((a.scale() * 1e200 / b.scale() - 1.0).abs() < 1e-12);
}

#[test]
fn nearly_equal_lives_have_a_large_shape() {
    let lives = [0.999_999, 1.0, 1.000_001].map(Life::failed);
    assert!(fit(&lives).unwrap().distribution.shape() > 1e5);
}

#[test]
fn what_determines_nothing_is_refused() {
    assert!(fit(&[]).is_err());
    assert!(fit(&[Life::survived(1.0); 5]).is_err());
    assert!(fit(&[Life::failed(1.0); 5]).is_err());
    assert!(fit(&[Life::survived(1.0), Life::failed(2.0)]).is_err());
    assert!(fit(&[1.0, 1.0 + f64::EPSILON].map(Life::failed)).is_err());
    assert!(fit(&[Life::failed(-1.0), Life::failed(2.0)]).is_err());
    // One failure below a survivor is enough for a point estimate.
    assert!(fit(&[Life::failed(1.0), Life::survived(2.0)]).is_ok());
}
