//! Spectral elements: quadrature, derivatives, interpolation.

use relatch::internals::device::*;
use relatch::internals::physics::lobatto::gauss_lobatto;

#[test]
fn gauss_lobatto_integrates_polynomials_of_degree_2p_minus_1() {
    for p in [1, 2, 5, 9, 14, 20] {
        let (x, w) = gauss_lobatto(p);
        let degree = 2 * p - 1;
        let even = degree - 1;
        let sum: f64 = x
            .iter()
            .zip(&w)
            .map(|(x, w)| w * (x.powi(even as i32) + x.powi(degree as i32)))
            .sum();
        assert!(
            (sum - 2.0 / (even as f64 + 1.0)).abs() < 1e-13,
            "order {p}: {sum}"
        );
    }
}

#[test]
fn a_functional_up_to_a_point_inside_an_element_is_exact() {
    let grid = Grid::new(
        0.025,
        Fineness {
            order: 6,
            end_element_m: 0.002,
        },
    );
    let end = 0.017;
    let w = grid.functional(end, |x| end - x);
    let sum: f64 = w
        .iter()
        .zip(&grid.x_m)
        .map(|(w, x)| w * (1.0 + 3.0 * x * x))
        .sum();
    let exact = end * end / 2.0 + 3.0 * (end.powi(4) / 3.0 - end.powi(4) / 4.0);
    assert!(
        (sum - exact).abs() < 1e-15 * exact.abs().max(1.0),
        "{sum} {exact}"
    );
}

#[test]
fn weights_sum_to_the_length() {
    let grid = Grid::new(
        0.040,
        Fineness {
            order: 7,
            end_element_m: 0.001,
        },
    );
    assert!((grid.weight_m.iter().sum::<f64>() - 0.040).abs() < 1e-16);
    assert_eq!(grid.elements.len() % 2, 1);
}
