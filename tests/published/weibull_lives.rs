//! Weibull lives.
//!
//! * NIST/SEMATECH e-Handbook of Statistical Methods, 8.4.1.3 (read): ten failures and ten units
//!   removed at 500 h.
//! * J. Lieblein & M. Zelen, "Statistical investigation of the fatigue life of deep-groove ball
//!   bearings", J. Res. NBS 57 (1956) 273-316: 23 bearings, millions of revolutions; ln of the
//!   scale 4.405 and 1/shape 0.476 as in J. F. Lawless, Statistical Models and Methods for Lifetime
//!   Data (1982) (data and values from memory).
//!
//! Digits beyond the printed ones, standard errors and correlation: the likelihood with 40 digits,
//!
//! ```python
//! import mpmath as mp; mp.mp.dps = 40          # mpmath 1.3
//! def nll(u, b, failed, survived):             # u = ln scale, b = ln shape
//!     z = lambda t: mp.e**b * (mp.log(mp.mpf(t)) - u)
//!     return -sum(b - mp.log(mp.mpf(t)) + z(t) - mp.e**z(t) for t in failed) + sum(mp.e**z(t) for t in survived)
//! # root of its gradient by mp.findroot; inverse of its matrix of second derivatives by mp.diff
//! ```

use relatch::internals::statistics::kaplan_meier::Life;
use relatch::internals::statistics::weibull_fit::{WeibullFit, fit};
use relatch::internals::statistics::weibull_goodness::{anderson_darling, goodness};

use crate::{close, near};

fn correlation(fit: &WeibullFit) -> f64 {
    fit.covariance / (fit.var_log_scale * fit.var_log_shape).sqrt()
}

fn handbook() -> Vec<Life> {
    let failed = [
        54.0, 187.0, 216.0, 240.0, 244.0, 335.0, 361.0, 373.0, 375.0, 386.0,
    ];
    let mut lives = failed.map(Life::failed).to_vec();
    lives.extend([Life::survived(500.0); 10]);
    lives
}

fn bearings() -> Vec<Life> {
    [
        17.88, 28.92, 33.00, 41.52, 42.12, 45.60, 48.40, 51.84, 51.96, 54.12, 55.56, 67.80, 68.64,
        68.64, 68.88, 84.12, 93.12, 98.64, 105.12, 105.84, 127.92, 128.04, 173.40,
    ]
    .map(Life::failed)
    .to_vec()
}

#[test]
fn handbook_with_censoring() {
    let fit = fit(&handbook()).unwrap();
    near(fit.distribution.shape(), 1.7208, 5e-5);
    // Printed 606.5280; with 40 digits it is 606.52756: the last digits printed are the
    // optimiser's.
    near(fit.distribution.scale(), 606.5280, 5e-4);
    // Printed 75.135, without the sign.
    near(fit.log_likelihood, -75.135, 5e-4);
    let mean = fit.distribution.scale() * libm::tgamma(1.0 + 1.0 / fit.distribution.shape());
    near(mean, 540.737, 5e-4);
}

#[test]
fn handbook_to_more_digits() {
    let fit = fit(&handbook()).unwrap();
    close(fit.distribution.shape(), 1.720_797_260_801_357, 1e-13);
    close(fit.distribution.scale(), 606.527_558_003_572_1, 1e-13);
    close(fit.log_likelihood, -75.134_618_164_474_87, 1e-13);
    close(fit.var_log_scale.sqrt(), 0.205_943_908_987_73, 1e-12);
    close(fit.var_log_shape.sqrt(), 0.291_812_763_149_64, 1e-12);
    close(correlation(&fit), -0.451_400_482_62, 1e-10);
}

/// Life at 10 % failed, with its 95 % interval in the logarithm. By the script with u = q - ln(-ln
/// 0.9)/e^b, so that q = ln t_10 is itself a parameter and its standard error, 0.342186951, is read
/// off the inverse.
#[test]
fn handbook_life_at_a_tenth() {
    let fit = fit(&handbook()).unwrap();
    close(
        fit.distribution.quantile(0.1).unwrap(),
        164.022_438_660_011_7,
        1e-13,
    );
    let b10 = fit.quantile_interval(0.1, 0.95).unwrap();
    close(b10.low, 83.875_129_525_49, 1e-12);
    close(b10.high, 320.754_919_082_43, 1e-12);
}

#[test]
fn ball_bearings() {
    let fit = fit(&bearings()).unwrap();
    near(fit.distribution.scale().ln(), 4.405, 5e-4);
    near(1.0 / fit.distribution.shape(), 0.476, 5e-4);
    close(fit.distribution.shape(), 2.101_846_863_764_878, 1e-13);
    close(fit.distribution.scale(), 81.874_558_724_108_12, 1e-13);
    close(fit.log_likelihood, -113.691_959_087_690_1, 1e-13);
    close(fit.var_log_scale.sqrt(), 0.105_050_049_892_34, 1e-12);
    close(fit.var_log_shape.sqrt(), 0.156_365_971_727_75, 1e-12);
    close(correlation(&fit), 0.328_906_381_93, 1e-10);
}

/// `scipy.stats.anderson(np.log(bearings), 'gumbel_l').statistic` (scipy 1.17.1, its fit good to
/// 1e-8) is 0.3285098459754714, far below the 25 % point.
#[test]
fn ball_bearings_are_weibull() {
    let lives = bearings();
    let a2 = anderson_darling(&lives, &fit(&lives).unwrap().distribution).unwrap();
    near(a2, 0.328_509_846, 1e-6);
    let verdict = goodness(&lives, 999, 1).unwrap();
    assert!(verdict.probability > 0.25, "{verdict:?}");
}
