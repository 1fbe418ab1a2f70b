//! Normal distribution: M. J. Wichura, "Algorithm AS 241", Applied Statistics 37 (1988) 477-484,
//! whose own three test values are among those below (p = 0.25, 0.001, 1e-20; from memory); all
//! values computed to 20 digits by
//!
//! ```python
//! import mpmath as mp; mp.mp.dps = 50          # mpmath 1.3
//! cdf = lambda x: mp.erfc(-mp.mpf(x) / mp.sqrt(2)) / 2
//! quantile = lambda p, start: mp.findroot(lambda x: cdf(x) - mp.mpf(p), start)   # p the double nearest
//! ```
//!
//! Tolerances: 1e-15 for the quantile (asked of the algorithm) and 1e-14 for the distribution
//! function.

use relatch::internals::statistics::normal::{cdf, density, quantile};
use relatch::internals::statistics::truncated_normal::TruncatedNormal;

use crate::close;

#[test]
fn quantiles_to_1e_15() {
    for (p, x) in [
        (1e-300, -37.047_096_299_361_2),
        (1e-100, -21.273_453_560_965_325),
        (1e-20, -9.262_340_089_798_408),
        (1e-10, -6.361_340_902_404_056),
        (0.001, -3.090_232_306_167_813_5),
        (0.025, -1.959_963_984_540_054_2),
        (0.074, -1.446_632_067_158_978_5),
        (0.076, -1.432_502_720_825_811_6),
        (0.25, -0.674_489_750_196_081_7),
        (0.4, -0.253_347_103_135_799_7),
        (0.501, 0.002_506_630_899_571_766),
        (0.924, 1.432_502_720_825_811_9),
        (0.926, 1.446_632_067_158_978_8),
        (0.975, 1.959_963_984_540_053_9),
        (0.999, 3.090_232_306_167_813),
    ] {
        close(quantile(p), x, 1e-15);
    }
}

#[test]
fn distribution_function_to_1e_14_also_in_the_tail() {
    for (x, p) in [
        (-37.5, 4.605_353_009_581_955e-308),
        (-30.0, 4.906_713_927_148_187e-198),
        (-20.3, 6.429_244_467_698_346e-92),
        (-12.7, 2.956_485_364_852_05e-37),
        (-8.1, 2.747_959_392_398_228_5e-16),
        (-5.3, 5.790_134_039_964_594e-8),
        (-3.3, 0.000_483_424_142_383_777_5),
        (-1.7, 0.044_565_462_758_543_04),
        (-0.9, 0.184_060_125_346_759_48),
        (-0.1, 0.460_172_162_722_971),
        (0.3, 0.617_911_422_188_952_6),
        (1.1, 0.864_333_939_053_617_3),
        (2.7, 0.996_533_026_196_959_3),
        (5.3, 0.999_999_942_098_659_6),
        (8.1, 0.999_999_999_999_999_7),
    ] {
        close(cdf(x), p, 1e-14);
    }
    close(density(2.0), 0.053_990_966_513_188_06, 1e-15);
}

/// The same script, quantile of cdf(a) + p (cdf(b) - cdf(a)), with 80 digits.
#[test]
fn truncated_quantiles() {
    for (mean, deviation, low, high, p, x) in [
        (3.0, 2.0, 4.0, 9.0, 0.1, 4.178_667_081_180_804),
        (3.0, 2.0, 4.0, 9.0, 0.5, 5.030_916_506_811_965),
        (3.0, 2.0, 4.0, 9.0, 0.9, 6.702_448_141_955_671),
        (0.0, 1.0, 8.0, 9.0, 0.5, 8.084_888_899_018_166),
        (0.0, 1.0, -9.0, -8.0, 0.25, -8.168_898_708_564_893),
    ] {
        let t = TruncatedNormal::new(mean, deviation, low, high).unwrap();
        close(t.quantile(p).unwrap(), x, 2e-15);
    }
}
