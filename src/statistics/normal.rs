//! The standard normal distribution.
//!
//! All functions use the portable `libm` and basic arithmetic only, so that results are the same
//! bytes on every machine. Shift and scale are the caller's, or
//! [`Marginal`](super::marginal::Marginal)'s.

#![expect(clippy::excessive_precision, reason = "the digits as published")]

use std::f64::consts::FRAC_1_SQRT_2;

/// 1/√2 less its nearest double.
const FRAC_1_SQRT_2_REST: f64 = -4.833_646_656_726_457e-17;
/// 1/√(2π).
const FRAC_1_SQRT_2PI: f64 = 0.398_942_280_401_432_7;

/// Density at `x`; relative error grows as x² times the rounding of a double (1e-13 at |x| = 30).
#[must_use]
pub fn density(x: f64) -> f64 {
    FRAC_1_SQRT_2PI * libm::exp(-0.5 * x * x)
}

/// Probability of a value below `x`, Φ(x), to a relative 1e-14 down to the smallest normal double
/// (x = −37.5).
///
/// Half the complementary error function of `libm`; the rounding of x/√2, which would cost x² units
/// in the last place in the tail, is put back to first order.
///
/// ```
/// use relatch::internals::statistics::normal::{cdf, quantile};
/// assert!((cdf(1.96) - 0.975_002_104_851_779_5).abs() < 1e-15);
/// assert!((quantile(0.975) - 1.959_963_984_540_054).abs() < 1e-15);
/// ```
#[must_use]
pub fn cdf(x: f64) -> f64 {
    let t = -x * FRAC_1_SQRT_2;
    if !(t.abs() < 30.0) {
        return 0.5 * libm::erfc(t);
    }
    let rest = libm::fma(-x, FRAC_1_SQRT_2, -t) - x * FRAC_1_SQRT_2_REST;
    0.5 * (libm::erfc(t) - std::f64::consts::FRAC_2_SQRT_PI * libm::exp(-t * t) * rest)
}

/// Probability of a value above `x`, 1 − Φ(x), without cancellation.
#[must_use]
pub fn upper_tail(x: f64) -> f64 {
    cdf(-x)
}

/// The value below which lies the probability `p`: Wichura's PPND16, relative error about 1e-16
/// besides the rounding of a dozen operations (1e-15 is tested). 0 gives −∞, 1 gives +∞, anything
/// outside [0, 1] NaN.
///
/// For p near 1 use `-quantile(1 − p)` with 1 − p known by itself: the double nearest to p no
/// longer holds it.
///
/// M. J. Wichura, "Algorithm AS 241: The Percentage Points of the Normal Distribution", Applied
/// Statistics 37 (1988) 477–484.
#[must_use]
pub fn quantile(p: f64) -> f64 {
    let q = p - 0.5;
    if q.abs() <= 0.425 {
        let r = 0.180625 - q * q;
        return q * ratio(r, &MIDDLE);
    }
    let tail = if q < 0.0 { p } else { 1.0 - p };
    if !(tail > 0.0) {
        // An end of the interval, or no probability at all.
        return if p == 0.0 || p == 1.0 {
            q * f64::INFINITY
        } else {
            f64::NAN
        };
    }
    let r = libm::sqrt(-libm::log(tail));
    let x = if r <= 5.0 {
        ratio(r - 1.6, &SHOULDER)
    } else {
        ratio(r - 5.0, &TAIL)
    };
    if q < 0.0 { -x } else { x }
}

/// Numerator and denominator, from the constant upwards.
type Rational = [[f64; 8]; 2];

fn ratio(r: f64, [numerator, denominator]: &Rational) -> f64 {
    horner(r, numerator) / horner(r, denominator)
}

fn horner(r: f64, coefficients: &[f64; 8]) -> f64 {
    coefficients.iter().rev().fold(0.0, |sum, c| sum * r + c)
}

const MIDDLE: Rational = [
    [
        3.387_132_872_796_366_608,
        1.331_416_678_917_843_774_5e2,
        1.971_590_950_306_551_442_7e3,
        1.373_169_376_550_946_112_5e4,
        4.592_195_393_154_987_145_7e4,
        6.726_577_092_700_870_085_3e4,
        3.343_057_558_358_812_810_5e4,
        2.509_080_928_730_122_672_7e3,
    ],
    [
        1.0,
        4.231_333_070_160_091_125_2e1,
        6.871_870_074_920_579_083e2,
        5.394_196_021_424_751_107_7e3,
        2.121_379_430_158_659_586_7e4,
        3.930_789_580_009_271_061e4,
        2.872_908_573_572_194_267_4e4,
        5.226_495_278_852_854_561e3,
    ],
];

const SHOULDER: Rational = [
    [
        1.423_437_110_749_683_577_34,
        4.630_337_846_156_545_295_9,
        5.769_497_221_460_691_405_5,
        3.647_848_324_763_204_605_04,
        1.270_458_252_452_368_382_58,
        2.417_807_251_774_506_117_7e-1,
        2.272_384_498_926_918_458_33e-2,
        7.745_450_142_783_414_076_4e-4,
    ],
    [
        1.0,
        2.053_191_626_637_758_821_87,
        1.676_384_830_183_803_849_4,
        6.897_673_349_851_000_045_5e-1,
        1.481_039_764_274_800_745_9e-1,
        1.519_866_656_361_645_719_66e-2,
        5.475_938_084_995_344_946e-4,
        1.050_750_071_644_416_843_24e-9,
    ],
];

const TAIL: Rational = [
    [
        6.657_904_643_501_103_777_2,
        5.463_784_911_164_114_369_9,
        1.784_826_539_917_291_335_8,
        2.965_605_718_285_048_912_3e-1,
        2.653_218_952_657_612_309_3e-2,
        1.242_660_947_388_078_438_6e-3,
        2.711_555_568_743_487_578_15e-5,
        2.010_334_399_292_288_132_65e-7,
    ],
    [
        1.0,
        5.998_322_065_558_879_376_9e-1,
        1.369_298_809_227_358_053_1e-1,
        1.487_536_129_085_061_485_25e-2,
        7.868_691_311_456_132_591e-4,
        1.846_318_317_510_054_681_8e-5,
        1.421_511_758_316_445_888_7e-7,
        2.044_263_103_389_939_785_64e-15,
    ],
];
