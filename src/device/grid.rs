//! Gauss-Lobatto spectral elements along the strip.
//!
//! The end nodes are the terminals. Lumped Gauss-Lobatto quadrature makes the mass matrix diagonal
//! and conserves energy exactly: the test function 1 lies in the space. Thin layers of width
//! sqrt(diffusivity * time) form at both ends after every change of current; elements there are
//! graded by a factor of three until the middle is reached.

use crate::physics::lobatto::{barycentric, derivative_matrix, gauss_lobatto, lagrange};

/// Nodes, elements and the weights of the integrals that the device needs.
#[derive(Debug, Clone)]
pub struct Grid {
    /// Positions, m, from the clamp.
    pub x_m: Vec<f64>,
    /// Quadrature weight of each node, m; they sum to the length.
    pub weight_m: Vec<f64>,
    /// Elements in order.
    pub elements: Vec<Element>,
    /// Polynomial order of every element.
    pub order: usize,
    /// Heat that a current makes in the metal of a node, against the same metal in a strip of one
    /// width.
    pub crowding: Vec<f64>,
    /// Sum of the weights, m.
    pub extent_m: f64,
}

/// One element: nodes `first ..= first + order`.
#[derive(Debug, Clone)]
pub struct Element {
    /// Index of its first node.
    pub first: usize,
    /// Length, m.
    pub length_m: f64,
    /// Quadrature weights, m.
    pub weight_m: Vec<f64>,
    /// Derivative matrix, 1/m, row-major: `d[q][j]` is the slope of basis `j` at node `q`.
    pub derivative_per_m: Vec<f64>,
}

/// How finely the strip is divided.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fineness {
    /// Polynomial order of each element (2..=20).
    pub order: usize,
    /// Length of the elements at the ends, m.
    pub end_element_m: f64,
}

impl Grid {
    /// Divide a strip.
    pub fn new(length_m: f64, fineness: Fineness) -> Grid {
        Grid::on_edges(
            &element_edges(length_m, fineness.end_element_m),
            fineness.order,
        )
    }

    fn on_edges(edges: &[f64], order: usize) -> Grid {
        let length_m = edges[edges.len() - 1];
        let (xi, w) = gauss_lobatto(order);
        let d = derivative_matrix(&xi);
        let count = edges.len() - 1;
        let nodes = count * order + 1;
        let mut x_m = vec![0.0; nodes];
        let mut weight_m = vec![0.0; nodes];
        let mut elements = Vec::with_capacity(count);
        for (e, pair) in edges.windows(2).enumerate() {
            let (a, b) = (pair[0], pair[1]);
            let half = 0.5 * (b - a);
            let first = e * order;
            for (q, z) in xi.iter().enumerate() {
                x_m[first + q] = a + half * (z + 1.0);
                weight_m[first + q] += half * w[q];
            }
            elements.push(Element {
                first,
                length_m: b - a,
                weight_m: w.iter().map(|v| v * half).collect(),
                derivative_per_m: d.iter().map(|v| v / half).collect(),
            });
        }
        x_m[nodes - 1] = length_m;
        Grid {
            crowding: vec![1.0; nodes],
            extent_m: length_m,
            x_m,
            weight_m,
            elements,
            order,
        }
    }

    /// The same elements of a disc, from its rim to the edge of its contact: weights are those of a
    /// strip as wide as the rim is long. The metal within the contact belongs to the last node, and
    /// makes no heat.
    pub fn in_disc(mut self, radius_m: f64) -> Grid {
        let breadth: Vec<f64> = self.x_m.iter().map(|x| 1.0 - x / radius_m).collect();
        for e in &mut self.elements {
            for (w, b) in e.weight_m.iter_mut().zip(&breadth[e.first..]) {
                *w *= b;
            }
        }
        let last = self.len() - 1;
        let contact_m = breadth[last] * radius_m;
        for (j, b) in breadth.iter().enumerate() {
            let plain = self.weight_m[j];
            self.weight_m[j] *= b;
            if j == last {
                self.weight_m[j] += 0.5 * contact_m * contact_m / radius_m;
            }
            self.crowding[j] = plain / (b * self.weight_m[j]);
        }
        self.extent_m = self.weight_m.iter().sum();
        self
    }

    /// Number of nodes.
    pub fn len(&self) -> usize {
        self.x_m.len()
    }

    /// Whether there is no node (never, for a grid that was built).
    pub fn is_empty(&self) -> bool {
        self.x_m.is_empty()
    }

    /// Node weights `w_j` such that `sum w_j f(x_j)` integrates `kernel(x) f(x)` from 0 to `end_m`
    /// exactly for a smooth kernel and an f that is a polynomial in each element.
    pub fn functional(&self, end_m: f64, kernel: impl Fn(f64) -> f64) -> Vec<f64> {
        let mut weights = vec![0.0; self.len()];
        let (zeta, w) = gauss_lobatto(40);
        let (xi, _) = gauss_lobatto(self.order);
        let bary = barycentric(&xi);
        for e in &self.elements {
            let start = self.x_m[e.first];
            let stop = end_m.min(start + e.length_m);
            if stop <= start {
                continue;
            }
            let half = 0.5 * (stop - start);
            for (z, wq) in zeta.iter().zip(&w) {
                let x = start + half * (z + 1.0);
                let local = 2.0 * (x - start) / e.length_m - 1.0;
                let factor = wq * half * kernel(x);
                for (j, v) in lagrange(&xi, &bary, local).into_iter().enumerate() {
                    weights[e.first + j] += factor * v;
                }
            }
        }
        weights
    }

    /// The stiffness matrix `integral phi_r' phi_c' dx`, 1/m, by rows.
    pub fn stiffness_per_m(&self) -> Vec<f64> {
        let n = self.len();
        let p = self.order + 1;
        let mut full = vec![0.0; n * n];
        for e in &self.elements {
            for q in 0..p {
                let row = &e.derivative_per_m[q * p..(q + 1) * p];
                for (r, a) in row.iter().enumerate() {
                    for (c, b) in row.iter().enumerate() {
                        full[(e.first + r) * n + e.first + c] += a * e.weight_m[q] * b;
                    }
                }
            }
        }
        full
    }

    /// The same elements with another polynomial order.
    pub fn with_order(&self, order: usize) -> Grid {
        let mut edges: Vec<f64> = self.elements.iter().map(|e| self.x_m[e.first]).collect();
        edges.push(self.x_m[self.len() - 1]);
        Grid::on_edges(&edges, order)
    }

    /// Node values on [`Grid::with_order`] of the function with these node values here.
    pub fn refine(
        &self,
        finer: &Grid,
        rule: &Refinement,
        values: impl Fn(usize) -> f64,
    ) -> Vec<f64> {
        let (p, q) = (self.order + 1, finer.order + 1);
        let values: Vec<f64> = (0..self.len()).map(values).collect();
        let mut out = vec![0.0; finer.len()];
        for (coarse, fine) in self.elements.iter().zip(&finer.elements) {
            let values = &values[coarse.first..coarse.first + p];
            for (row, out) in rule
                .basis
                .chunks_exact(p)
                .zip(&mut out[fine.first..fine.first + q])
            {
                *out = row.iter().zip(values).map(|(b, v)| b * v).sum();
            }
        }
        out
    }

    /// Value at `x_m` of the function with these node values.
    pub fn interpolate(&self, values: &[f64], x_m: f64) -> f64 {
        let (xi, _) = gauss_lobatto(self.order);
        let bary = barycentric(&xi);
        let e = self
            .elements
            .iter()
            .rev()
            .find(|e| x_m >= self.x_m[e.first])
            .unwrap_or(&self.elements[0]);
        let local = 2.0 * (x_m - self.x_m[e.first]) / e.length_m - 1.0;
        lagrange(&xi, &bary, local)
            .iter()
            .enumerate()
            .map(|(j, l)| l * values[e.first + j])
            .sum()
    }
}

/// Values of the basis of one order at the nodes of another, row-major by the finer node.
#[derive(Debug, Clone)]
pub struct Refinement {
    basis: Vec<f64>,
}

impl Refinement {
    /// From one order to another.
    pub fn new(from: usize, to: usize) -> Refinement {
        let (xi, _) = gauss_lobatto(from);
        let bary = barycentric(&xi);
        let (fine, _) = gauss_lobatto(to);
        Refinement {
            basis: fine.iter().flat_map(|z| lagrange(&xi, &bary, *z)).collect(),
        }
    }
}

/// Boundaries of the elements: graded by three from both ends.
fn element_edges(length: f64, end: f64) -> Vec<f64> {
    let mut left = vec![0.0];
    let (mut at, mut size) = (0.0, end);
    // The middle keeps at least as much length as the elements beside it.
    while at + size < 0.5 * length - 0.75 * size {
        at += size;
        left.push(at);
        size *= 3.0;
    }
    let mut edges = left.clone();
    edges.extend(left.iter().rev().map(|v| length - v));
    edges
}
