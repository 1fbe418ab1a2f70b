//! Gauss-Lobatto rules: nodes, weights, interpolation and slopes of polynomials through the nodes.

use std::f64::consts::PI;
use std::sync::OnceLock;

/// Orders whose rules are kept.
const KEPT_RULES: usize = 64;

/// Gauss-Lobatto-Legendre nodes on [-1, 1] and weights, for polynomial order `p >= 1`.
/// Source: C. Canuto et al., Spectral Methods in Fluid Dynamics (1988), section 2.3.
///
/// Rules are computed once a program.
pub fn gauss_lobatto(p: usize) -> (Vec<f64>, Vec<f64>) {
    static RULES: [OnceLock<(Vec<f64>, Vec<f64>)>; KEPT_RULES] =
        [const { OnceLock::new() }; KEPT_RULES];
    match RULES.get(p) {
        Some(rule) => rule.get_or_init(|| compute_gauss_lobatto(p)).clone(),
        None => compute_gauss_lobatto(p),
    }
}

fn compute_gauss_lobatto(p: usize) -> (Vec<f64>, Vec<f64>) {
    let n = p as f64;
    let mut x: Vec<f64> = (0..=p).map(|j| -(PI * j as f64 / n).cos()).collect();
    let legendre = |x: f64| {
        let (mut before, mut now) = (1.0, x);
        for k in 2..=p {
            let k = k as f64;
            let next = ((2.0 * k - 1.0) * x * now - (k - 1.0) * before) / k;
            before = now;
            now = next;
        }
        (before, now)
    };
    for v in x.iter_mut().take(p).skip(1) {
        for _ in 0..100 {
            let (before, now) = legendre(*v);
            // Newton on (1 - x^2) P'_p(x), whose slope is -p (p + 1) P_p.
            let step = (*v * now - before) / ((n + 1.0) * now);
            *v -= step;
            if step.abs() < 1e-16 {
                break;
            }
        }
    }
    if p == 1 {
        return (x, vec![1.0, 1.0]);
    }
    let w = x
        .iter()
        .map(|v| 2.0 / (n * (n + 1.0) * legendre(*v).1.powi(2)))
        .collect();
    (x, w)
}

/// Barycentric weights of nodes (J.-P. Berrut & L. N. Trefethen, SIAM Review 46 (2004) 501).
pub fn barycentric(x: &[f64]) -> Vec<f64> {
    x.iter()
        .enumerate()
        .map(|(j, xj)| {
            1.0 / x
                .iter()
                .enumerate()
                .filter(|(k, _)| *k != j)
                .map(|(_, xk)| xj - xk)
                .product::<f64>()
        })
        .collect()
}

/// Values at a place of the polynomials that are 1 at one node and 0 at the others.
pub fn lagrange(x: &[f64], bary: &[f64], at: f64) -> Vec<f64> {
    if let Some(hit) = x.iter().position(|v| (v - at).abs() < 1e-14) {
        return (0..x.len())
            .map(|j| if j == hit { 1.0 } else { 0.0 })
            .collect();
    }
    let terms: Vec<f64> = x.iter().zip(bary).map(|(xj, b)| b / (at - xj)).collect();
    let sum: f64 = terms.iter().sum();
    terms.into_iter().map(|t| t / sum).collect()
}

/// Slopes of those polynomials at the nodes, row-major: `d[i][j]` is that of basis `j` at node `i`.
pub fn derivative_matrix(x: &[f64]) -> Vec<f64> {
    let n = x.len();
    let bary = barycentric(x);
    let mut d = vec![0.0; n * n];
    for i in 0..n {
        let mut diagonal = 0.0;
        for j in 0..n {
            if i != j {
                let v = bary[j] / bary[i] / (x[i] - x[j]);
                d[i * n + j] = v;
                diagonal -= v;
            }
        }
        d[i * n + i] = diagonal;
    }
    d
}
