//! One digest of all that this room computes with rounding: it must come out the same on every
//! machine, with every compiler and at every level of optimisation. It was made by this crate; only
//! its sameness means something.

use relatch::internals::statistics::kaplan_meier::Life;
use relatch::internals::statistics::latin_hypercube::LatinHypercube;
use relatch::internals::statistics::marginal::Marginal;
use relatch::internals::statistics::sensitivity::SobolSums;
use relatch::internals::statistics::sobol::SobolSequence;
use relatch::internals::statistics::stream::{Purpose, Stream};
use relatch::internals::statistics::summary::Summary;
use relatch::internals::statistics::{
    beta, normal, order_statistics, proportion, weibull_fit, weibull_goodness,
};

/// Fowler, Noll and Vo's hash (FNV-1a, 64 bits) over the bits of numbers.
struct Digest(u64);

impl Digest {
    fn take(&mut self, x: f64) {
        for byte in x.to_bits().to_le_bytes() {
            self.0 = (self.0 ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
        }
    }
}

#[test]
fn every_result_is_the_same_everywhere() {
    let mut digest = Digest(0xcbf2_9ce4_8422_2325);
    let sobol = SobolSequence::scrambled(6, 1).unwrap();
    let latin = LatinHypercube::new(100_000, 2, 1).unwrap();
    let marginals = [
        Marginal::uniform(0.1, 0.7).unwrap(),
        Marginal::normal(1.0, 0.3).unwrap(),
        Marginal::truncated(1.0, 0.3, 0.7, 2.0).unwrap(),
        Marginal::lognormal(2.0, 0.4).unwrap(),
    ];
    let mut summary = Summary::new();
    let mut sums = SobolSums::new(1, 1.0);
    let mut lives = Vec::new();
    for i in 0..500 {
        let u = Stream::new(1, Purpose::UNIT_INPUTS, i).uniform(0);
        digest.take(normal::quantile(u));
        digest.take(normal::cdf(60.0 * u - 30.0));
        digest.take(sobol.coordinate(i, 5));
        digest.take(latin.coordinate(i, 1));
        for marginal in marginals {
            let x = marginal.quantile(u).unwrap();
            digest.take(x);
            summary.add(x).unwrap();
        }
        let p = sobol.point(i);
        sums.add(p[0] * p[1], p[2] * p[3], &[p[2] * p[1]]).unwrap();
        lives.push(if u < 0.8 {
            Life::failed(u)
        } else {
            Life::survived(0.8)
        });
        digest.take(beta::cdf(0.5 + i as f64, 7.0, u).unwrap());
        digest.take(beta::quantile(0.5 + i as f64, 7.0, u).unwrap());
    }
    digest.take(summary.mean().unwrap());
    digest.take(summary.deviation().unwrap());
    for index in sums.indices(0.9).unwrap() {
        digest.take(index.first_interval.low);
        digest.take(index.total_interval.high);
    }
    let fit = weibull_fit::fit(&lives).unwrap();
    digest.take(fit.distribution.shape());
    digest.take(fit.quantile_interval(0.1, 0.9).unwrap().high);
    digest.take(weibull_goodness::anderson_darling(&lives, &fit.distribution).unwrap());
    let share = proportion::wilson(3, 70, 0.95).unwrap();
    digest.take(share.low);
    digest.take(proportion::clopper_pearson(3, 70, 0.95).unwrap().high);
    let ranks = order_statistics::quantile_interval(500, 0.1, 0.9).unwrap();
    digest.take(ranks.confidence);
    assert_eq!(digest.0, 0xa994_1344_9073_20c5, "{:#x}", digest.0);
}
