//! Of `statistics::weighted`.

use relatch::internals::statistics::weighted::*;

#[test]
fn a_resample_takes_each_as_often_as_its_weight_asks() {
    let taken = systematic(&[1.0, 0.0, 2.0, 1.0], 8, 0.5);
    assert_eq!(taken, [0, 0, 2, 2, 2, 2, 3, 3]);
    assert!(systematic(&[0.0, 0.0], 5, 0.5).is_empty());
    assert!(systematic(&[], 5, 0.5).is_empty());
}

#[test]
fn equal_weights_are_worth_their_number_and_one_is_worth_one() {
    assert!((effective(&[0.3; 7]) - 7.0).abs() < 1e-12);
    assert_eq!(effective(&[0.0, 5.0, 0.0]), 1.0);
    assert_eq!(effective(&[0.0, 0.0]), 0.0);
}

#[test]
fn nothing_has_no_quantile() {
    assert!(Weighted::equal([f64::NAN]).is_empty());
    assert!(Weighted::equal([]).at(0.5).is_nan());
}
