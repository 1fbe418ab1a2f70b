//! Properties inside their range and continued beyond it.

use crate::support::made;
use relatch::internals::material::Pchip;
use relatch::internals::material::*;

fn property(law: Law, valid_k: (f64, f64)) -> Property {
    let base = Alloy::named("Fe-36Ni").expect("an alloy");
    made!(Property {
        law,
        valid_k,
        ..base.resistivity.clone()
    })
}

fn cases() -> Vec<Property> {
    let table = Pchip::through(&[(200.0, 3.0), (300.0, 2.0), (500.0, 1.5)]).unwrap();
    vec![
        property(Law::Constant(2.0), (200.0, 500.0)),
        property(
            Law::Polynomial {
                reference_k: 293.15,
                coefficients: vec![1.0, 2e-3, -4e-6],
            },
            (213.15, 573.15),
        ),
        property(Law::Table(table.clone()), (200.0, 500.0)),
        property(Law::Table(table), (250.0, 600.0)),
    ]
}

#[test]
fn value_and_slope_are_continuous_at_the_ends_of_the_range() {
    for p in cases() {
        for end in [p.valid_k.0, p.valid_k.1] {
            let (below, above) = (p.at_with_slope(end - 1e-9), p.at_with_slope(end + 1e-9));
            assert!((below.0 - above.0).abs() < 1e-10);
            assert!((below.1 - above.1).abs() < 1e-10);
        }
    }
}

#[test]
fn stays_finite_and_positive_at_any_temperature() {
    for p in cases() {
        for t in [0.0, 1.0, 100.0, 1e3, 4e3, 1e4] {
            let (value, slope) = p.at_with_slope(t);
            assert!(value > 0.0 && value.is_finite() && slope.is_finite());
        }
    }
}

/// Midpoint rule with 0.01 K steps: error below 1e-6 for these smooth laws, and 1e-4 at the kink of
/// the floor.
#[test]
fn integral_is_that_of_the_continued_value() {
    for p in cases() {
        for (from, to) in [
            (100.0, 900.0),
            (250.0, 450.0),
            (700.0, 50.0),
            (600.0, 3000.0),
        ] {
            let steps = ((to - from) * 100.0_f64).abs().round() as usize;
            let h = (to - from) / steps as f64;
            let sum: f64 = (0..steps)
                .map(|i| p.at(from + (i as f64 + 0.5) * h) * h)
                .sum();
            let exact = p.integral(from, to);
            assert!(
                (sum - exact).abs() < 1e-6 * exact.abs() + 1e-4,
                "{sum} {exact}"
            );
        }
    }
}

#[test]
fn an_open_range_needs_no_continuation() {
    let p = property(Law::Constant(3.0), (f64::NEG_INFINITY, f64::INFINITY));
    assert_eq!(p.integral(100.0, 200.0), 300.0);
    assert_eq!(p.at(5000.0), 3.0);
}
