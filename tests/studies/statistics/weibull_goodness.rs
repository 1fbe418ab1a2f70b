//! Of `statistics::weibull_goodness`.

use relatch::internals::statistics::kaplan_meier::{Life, sorted};
use relatch::internals::statistics::stream::{Purpose, Stream};
use relatch::internals::statistics::weibull::Weibull;
use relatch::internals::statistics::weibull_fit::fit;
use relatch::internals::statistics::weibull_goodness::*;

/// Points of A² (1 + 0.2/√n) for complete lives with both parameters estimated: probability that
/// Weibull lives exceed it, and the point (Stephens 1977, case 3; from memory, the same as in
/// SciPy's `anderson` for `gumbel_l`).
const POINTS: [(f64, f64); 5] = [
    (0.25, 0.474),
    (0.10, 0.637),
    (0.05, 0.757),
    (0.025, 0.877),
    (0.01, 1.038),
];

fn simulated(run: u64, n: u32, end: f64) -> Vec<Life> {
    super::lives::made(&Stream::new(21, Purpose::other(8), run), n, end)
}

/// The textbook sum, −n − Σ (2i−1)/n (ln Fᵢ + ln(1 − F₍n+1−i₎)), for complete lives.
#[test]
fn complete_lives_give_the_classical_sum() {
    let w = Weibull::new(1.5, 18.0).unwrap();
    let lives = sorted(&simulated(0, 25, f64::MAX)).unwrap();
    let n = lives.len();
    let sum: f64 = (0..n)
        .map(|i| {
            let hazard = |k: usize| w.log_cumulative_hazard(lives[k].time).exp();
            (2 * i + 1) as f64 * ((-(-hazard(i)).exp_m1()).ln() - hazard(n - 1 - i))
        })
        .sum();
    let classical = -(n as f64) - sum / n as f64;
    let found = anderson_darling(&lives, &w).unwrap();
    assert!((found - classical).abs() < 1e-11, "{found} {classical}");
}

/// 4000 fitted samples of 50 Weibull lives pass each published point as often as it says, within
/// four standard deviations and 6 % of the probability for the rounding of the points.
#[test]
fn published_points_are_passed_as_often_as_they_say() {
    let (runs, n) = (4000, 50);
    let mut modified: Vec<f64> = Vec::new();
    for run in 0..runs {
        let lives = simulated(run, n, f64::MAX);
        let distribution = fit(&lives).unwrap().distribution;
        let a2 = anderson_darling(&lives, &distribution).unwrap();
        modified.push(a2 * (1.0 + 0.2 / f64::from(n).sqrt()));
    }
    for (probability, point) in POINTS {
        let share = modified.iter().filter(|&&a| a > point).count() as f64 / runs as f64;
        let four = 4.0 * (probability * (1.0 - probability) / runs as f64).sqrt();
        let allowed = four + 0.06 * probability;
        assert!((share - probability).abs() < allowed, "{point}: {share}");
    }
}

/// With censoring, the bootstrap probability of true Weibull lives is uniform: of 200 samples a
/// tenth is below 0.1, within four standard deviations (17 of 200).
#[test]
fn bootstrap_rejects_as_often_as_it_says() {
    let mut low = 0_i32;
    for run in 0..200 {
        let lives = simulated(5000 + run, 40, 18.0);
        low += i32::from(goodness(&lives, 99, run).unwrap().probability <= 0.1);
    }
    assert!((low - 20).abs() <= 17, "{low}");
}

/// By hand: of four, one censored at 2 beside a failure at 2 (three at risk, one just gone), one at
/// 5.
#[test]
fn times_of_censoring_by_hand() {
    let lives = [(1.0, true), (2.0, true), (2.0, false), (5.0, false)]
        .map(|(time, failed)| Life { time, failed });
    let found: Vec<(f64, f64)> = censoring_steps(&sorted(&lives).unwrap())
        .iter()
        .map(|s| (s.time, s.failed))
        .collect();
    assert_eq!(found, [(2.0, 0.5), (5.0, 1.0)]);
}

#[test]
fn a_common_end_is_drawn_as_it_is() {
    let lives = simulated(1, 30, 15.0);
    let censoring = censoring_steps(&sorted(&lives).unwrap());
    assert_eq!(censoring.len(), 1);
    assert_eq!((censoring[0].time, censoring[0].failed), (15.0, 1.0));
}

/// A failure and a survivor at the same last time: the survivor is later, and the statistic ends
/// there.
#[test]
fn a_tie_at_the_end_is_no_end_of_all() {
    let lives = [(1.0, true), (2.0, true), (3.0, true), (3.0, false)]
        .map(|(time, failed)| Life { time, failed });
    let w = Weibull::new(1.5, 3.0).unwrap();
    let mut turned = lives;
    turned.reverse();
    let found = anderson_darling(&lives, &w).unwrap();
    assert!(found.is_finite() && found > 0.0);
    assert_eq!(anderson_darling(&turned, &w), Ok(found));
}

#[test]
fn lives_far_outside_the_distribution_give_a_great_number() {
    for time in [1e-300, 1e-3, 1e3, 1e300] {
        let lives = [time, 1.1 * time, 1.2 * time].map(Life::failed);
        let a2 = anderson_darling(&lives, &Weibull::new(50.0, 1.0).unwrap()).unwrap();
        assert!(a2 > 100.0, "{time}: {a2}");
    }
}

#[test]
fn nothing_to_judge() {
    assert!(goodness(&[Life::survived(1.0)], 10, 0).is_err());
    assert!(goodness(&simulated(2, 10, 20.0), 0, 0).is_err());
}
