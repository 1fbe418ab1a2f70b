//! Incomplete beta function, its inverse and the binomial distribution. Values by numerical
//! integration with 60 digits:
//!
//! ```python
//! import mpmath as mp; mp.mp.dps = 60          # mpmath 1.3; the interval cut into some sixty pieces
//! I = lambda a, b, x: mp.quad(lambda t: t**(a-1) * (1-t)**(b-1) / mp.beta(a, b), pieces(0, x))
//! ```
//!
//! and, where it says so, from `scipy.special.betaincinv` and `scipy.stats.binom` (scipy 1.17.1).

use relatch::internals::statistics::{beta, binomial};

use crate::close;

#[test]
fn beta_distribution() {
    for (a, b, x, expected) in [
        (0.5, 20.0, 0.01, 0.471_369_935_485_015_56),
        (2.5, 3.5, 0.4, 0.486_904_191_526_117_4),
        (82.0, 182.0, 0.25, 0.013_874_113_813_715_817),
        (1000.0, 10.0, 0.98, 0.004_207_729_512_718_629),
        (5e4, 9.5e5, 0.0505, 0.988_940_851_285_601_7),
        (40.0, 1e6, 2e-5, 0.000_053_234_809_888_201_77),
        // scipy's betainc has 0.07864957758091215, which differs in the thirteenth digit.
        (1e6, 1e6, 0.4995, 0.078_649_577_580_901_63),
    ] {
        close(beta::cdf(a, b, x).unwrap(), expected, 1e-12);
    }
}

/// scipy.special.betaincinv, 1e-11: its own accuracy.
#[test]
fn beta_quantiles() {
    for (a, b, p, expected) in [
        (0.5, 0.5, 0.01, 0.000_246_719_817_134_221_46),
        (2.0, 30.0, 0.975, 0.167_021_116_230_227_72),
        (81.0, 183.0, 0.025, 0.252_736_745_585_271_26),
        (1.0, 20.0, 0.975, 0.168_433_470_983_085_3),
        (1e5, 9e5, 0.05, 0.099_506_999_352_568_1),
    ] {
        close(beta::quantile(a, b, p).unwrap(), expected, 1e-11);
    }
}

/// scipy.stats.binom.cdf(k, n, p) and sf(k - 1, n, p), 1e-11.
#[test]
fn binomial_tails() {
    for (k, n, p, at_most, at_least) in [
        (
            39,
            100,
            0.5,
            0.017_600_100_108_852_428,
            0.989_510_632_161_074_2,
        ),
        (
            60,
            100,
            0.5,
            0.982_399_899_891_147_6,
            0.028_443_966_820_490_444,
        ),
        (4, 59, 0.05, 0.828_132_926_441_893, 0.341_226_726_251_602_16),
        (
            950,
            1000,
            0.95,
            0.520_258_942_912_681_5,
            0.537_529_040_801_425,
        ),
        (
            49_900,
            1_000_000,
            0.05,
            0.324_197_730_110_456_9,
            0.677_451_306_495_578_5,
        ),
    ] {
        close(binomial::cdf(k, n, p).unwrap(), at_most, 1e-11);
        close(binomial::at_least(k, n, p).unwrap(), at_least, 1e-11);
    }
}
