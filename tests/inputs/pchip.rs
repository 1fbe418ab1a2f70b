//! Interpolation that never overshoots.

use relatch::internals::material::*;

const X: [f64; 6] = [293.15, 323.15, 373.15, 473.15, 493.15, 673.15];
const Y: [f64; 6] = [1.0, 1.1, 1.4, 2.5, 2.4, 2.4];

fn curve() -> Pchip {
    let points: Vec<(f64, f64)> = X.into_iter().zip(Y).collect();
    Pchip::through(&points).unwrap()
}

/// Reference numbers by SciPy 1.17.1:
/// ```python
/// from scipy.interpolate import PchipInterpolator
/// p = PchipInterpolator([293.15, 323.15, 373.15, 473.15, 493.15, 673.15], [1.0, 1.1, 1.4, 2.5, 2.4, 2.4])
/// for t in (293.15, 300.0, 323.15, 350.0, 373.15, 400.0, 473.15, 480.0, 600.0, 673.15):
///     print(t, repr(float(p(t))), repr(float(p.derivative()(t))), repr(float(p.integrate(293.15, t))))
/// ```
const SCIPY: &[(f64, f64, f64, f64)] = &[
    (293.15, 1.0, 0.0023333333333333383, 0.0),
    (
        300.0,
        1.0177251846393196,
        0.0028342240956072406,
        6.908750170156959,
    ),
    (323.15, 1.1, 0.004186046511627909, 31.361046511627908),
    (
        350.0,
        1.2405188645083014,
        0.0061958489214012325,
        62.661769619505236,
    ),
    (373.15, 1.4, 0.007518987341772148, 93.1666838386812),
    (
        400.0,
        1.703346530216456,
        0.014032688582278482,
        134.4377881916239,
    ),
    (473.15, 2.5, 0.0, 294.43250662349135),
    (
        480.0,
        2.472843603125,
        -0.006755812500000017,
        311.4909125985305,
    ),
    (600.0, 2.4, 0.0, 599.8725066234914),
    (673.15, 2.4, 0.0, 775.4325066234913),
];

#[test]
fn agrees_with_scipy_to_round_off() {
    let p = curve();
    for &(t, value, slope, integral) in SCIPY {
        let (v, s) = p.at_with_slope(t);
        assert!((v - value).abs() < 1e-14 * 2.5, "value at {t}: {v}");
        assert!((s - slope).abs() < 1e-15 * 10.0, "slope at {t}: {s}");
        let i = p.integral(293.15, t);
        assert!((i - integral).abs() < 1e-12 * 700.0, "integral to {t}: {i}");
    }
}

#[test]
fn goes_on_straight_outside_its_points() {
    let p = curve();
    let (_, slope) = p.at_with_slope(X[0]);
    let (value, same) = p.at_with_slope(X[0] - 50.0);
    assert_eq!(same, slope);
    assert!((value - (1.0 - 50.0 * slope)).abs() < 1e-15);
    let trapezium = 50.0 * (value + 1.0) / 2.0;
    assert!((p.integral(X[0] - 50.0, X[0]) - trapezium).abs() < 1e-12);
}

#[test]
fn never_overshoots_its_points() {
    let p = curve();
    for i in 0..=1000 {
        let t = X[0] + (X[5] - X[0]) * f64::from(i) / 1000.0;
        let (v, _) = p.at_with_slope(t);
        assert!((1.0..=2.5).contains(&v), "{v} at {t}");
    }
}

#[test]
fn refuses_points_that_make_no_curve() {
    assert_eq!(Pchip::through(&[(1.0, 1.0)]), Err(PchipError::TooFew));
    assert_eq!(
        Pchip::through(&[(1.0, 1.0), (1.0, 2.0)]),
        Err(PchipError::NotIncreasing { index: 1 })
    );
    assert_eq!(
        Pchip::through(&[(1.0, 1.0), (2.0, f64::NAN)]),
        Err(PchipError::NotFinite { index: 1 })
    );
}
