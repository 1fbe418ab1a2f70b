//! The banded and bordered matrix against a dense one.

use nalgebra::{DMatrix, DVector};
use relatch::internals::solve::*;

#[test]
fn a_banded_and_bordered_solve_agrees_with_a_full_one() {
    let shape = Shape {
        band: 11,
        half_width: 3,
        border: 2,
    };
    let n = shape.len();
    let mut m = ProfileMatrix::zeros(shape);
    for i in 0..n {
        for j in 0..n {
            if i >= shape.band || j >= shape.band || i.abs_diff(j) <= shape.half_width {
                m.add(i, j, ((i * 7 + j * 3) % 11) as f64 / 11.0 - 0.4);
            }
        }
        m.add(i, i, 9.0);
    }
    let full = DMatrix::from_fn(n, n, |i, j| m.get(i, j));
    let b = DVector::from_fn(n, |i, _| (i as f64).sin());
    let expected = full.lu().solve(&b).expect("regular");
    let mut x: Vec<f64> = b.iter().copied().collect();
    assert!(m.factorise());
    m.solve(&mut x);
    for i in 0..n {
        assert!((x[i] - expected[i]).abs() < 1e-13, "{i}");
    }
}

#[test]
fn a_vanishing_pivot_is_reported() {
    let mut m = ProfileMatrix::zeros(Shape::full(2));
    m.add(0, 1, 1.0);
    m.add(1, 0, 1.0);
    assert!(!m.factorise());
}
