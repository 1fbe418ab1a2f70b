//! The banded and bordered matrix against a dense one.

use nalgebra::{DMatrix, DVector};
use relatch::internals::solve::*;

#[test]
fn a_banded_and_bordered_solve_agrees_with_a_full_one() {
    let shape = Shape {
        band: 11,
        half_width: 3,
        border: 2,
        across: 0,
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
fn unknowns_across_stand_beside_their_place() {
    // Four places with two unknowns across each, coupled to the next place, and two in the border.
    let (places, across, border) = (4, 2, 2);
    let shape = Shape {
        band: places * (1 + across),
        half_width: (1 + across) + across,
        border,
        across,
    };
    let n = shape.len();
    let place_of = |i: usize| match i {
        i if i < places => Some(i),
        i if i < places + border => None,
        i => Some((i - places - border) / across),
    };
    let mut m = ProfileMatrix::zeros(shape);
    for i in 0..n {
        for j in 0..n {
            let near = match (place_of(i), place_of(j)) {
                (Some(a), Some(b)) => a.abs_diff(b) <= 1,
                _ => true,
            };
            if near {
                m.add(i, j, ((i * 7 + j * 3) % 11) as f64 / 11.0 - 0.4);
            }
        }
        m.add(i, i, 9.0);
    }
    m.scale_row(n - 1, 0.5);
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
