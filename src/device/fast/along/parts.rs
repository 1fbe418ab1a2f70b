//! What the fast right-hand side needs of a model: constants and stiffness, padded to full
//! registers.

use crate::device::cooling::FilmFit;
use crate::device::fast::fit::GROUP;
use crate::device::{Device, Grid, Layout};
use crate::solve::wide::{MOST_LANES, Row};

/// What the fast right-hand side needs of a model, padded to full registers.
#[derive(Debug, Clone)]
pub struct AlongParts {
    /// Numbers in a state.
    pub len: usize,
    /// By register of the state, `CONSTANTS` registers each.
    pub(super) constants: Row,
    pub(in crate::device) weight_m: Row,
    /// Stiffness matrix by register of rows.
    pub(in crate::device) stiffness: Vec<RowBlock>,
    /// Fastest rate of the heat equation, 1/s.
    pub fastest_per_s: f64,
    pub(super) film: Option<FilmFit>,
}

/// Constants of one register of the state: 1 at the nodes of the strip; weight, m; heat capacity
/// besides the strip's, J/K (1 in the padding); 1 at the clamped terminal, the moving and the fixed
/// contact, the winding and the housing.
pub(super) const CONSTANTS: usize = 8;

/// The columns of the stiffness matrix that reach one register of rows.
#[derive(Debug, Clone)]
pub(in crate::device) struct RowBlock {
    pub(in crate::device) first: usize,
    pub(in crate::device) columns: usize,
    /// One register of entries a column, 1/m.
    pub(in crate::device) entries: Row,
}

impl AlongParts {
    /// Parts of a model; `None` when it has to go the general way.
    pub fn new(device: &Device, grid: &Grid, layout: &Layout) -> Option<AlongParts> {
        let film = device.film.clone();
        if !device.goes_fast() {
            return None;
        }
        let len = layout.len.next_multiple_of(MOST_LANES);
        let at = |i: Option<usize>| {
            let mut v = Row::zeros(len);
            if let Some(i) = i {
                v[i] = 1.0;
            }
            v
        };
        let n = layout.strip;
        let pad = |x: &[f64]| Row::padded(x, len);
        let mut lumped = Row::zeros(len);
        lumped[layout.len..].fill(1.0);
        lumped[0] = device.clamped.heat_capacity_j_per_k;
        lumped[n - 1] = device.moving.heat_capacity_j_per_k;
        lumped[layout.fixed] = device.fixed.heat_capacity_j_per_k;
        if let (Some(i), Some(w)) = (layout.winding, &device.winding) {
            lumped[i] = w.heat_capacity_j_per_k;
        }
        if let (Some(i), Some(h)) = (layout.housing, &device.housing) {
            lumped[i] = h.heat_capacity_j_per_k;
        }
        let stiffness = stiffness(grid, len);
        let rows = [
            pad(&vec![1.0; n]),
            pad(&grid.weight_m),
            lumped.clone(),
            at(Some(0)),
            at(Some(n - 1)),
            at(Some(layout.fixed)),
            at(layout.winding),
            at(layout.housing),
        ];
        let mut constants = Row::zeros(CONSTANTS * len);
        for (slot, out) in constants
            .chunks_exact_mut(CONSTANTS * MOST_LANES)
            .enumerate()
        {
            for (row, out) in rows.iter().zip(out.chunks_exact_mut(MOST_LANES)) {
                out.copy_from_slice(&row[slot * MOST_LANES..(slot + 1) * MOST_LANES]);
            }
        }
        let mut parts = AlongParts {
            len,
            constants,
            weight_m: pad(&grid.weight_m),
            stiffness,
            fastest_per_s: 0.0,
            film,
        };
        parts.fastest_per_s = parts.fastest(device, &lumped[..n]);
        Some(parts)
    }

    /// Lowest and highest temperature of the strip that the fits cover when the air has this
    /// temperature, K.
    pub(in crate::device) fn range_k(&self, device: &Device, air_k: f64) -> (f64, f64) {
        // Where the law has no short form, it is the law itself and good at any temperature.
        let (low, high) = self
            .film
            .as_ref()
            .map_or((f64::NEG_INFINITY, f64::INFINITY), FilmFit::range_k);
        (
            device.fit.low_k.max(2.0 * low - air_k),
            device.fit.high_k.min(2.0 * high - air_k),
        )
    }

    /// Largest eigenvalue of conduction against heat capacity, with a margin for the laws' spread
    /// over temperature. By the power method; a margin covers what it has not reached.
    fn fastest(&self, device: &Device, lumped_j_per_k: &[f64]) -> f64 {
        let n = lumped_j_per_k.len();
        let line = device.laws.line(350.0);
        let mass: Vec<f64> = (0..n)
            .map(|j| self.weight_m[j] * line.capacity + lumped_j_per_k[j])
            .collect();
        let mut x: Vec<f64> = (0..n)
            .map(|j| if j % 2 == 0 { 1.0 } else { -0.9 })
            .collect();
        let mut rate = 0.0;
        for _ in 0..30 {
            let mut flow = vec![0.0; n];
            for (block, rows) in self.stiffness.iter().zip(0..) {
                for c in 0..block.columns {
                    let column = &block.entries[c * MOST_LANES..(c + 1) * MOST_LANES];
                    for (k, entry) in column.iter().enumerate() {
                        let r: usize = rows * MOST_LANES + k;
                        if r < n {
                            let x = x.get(block.first + c).copied().unwrap_or(0.0);
                            flow[r] += entry * x * line.conduction;
                        }
                    }
                }
            }
            // Rayleigh's quotient: from below, and quadratically near.
            let (mut up, mut down) = (0.0, 0.0);
            for j in 0..n {
                up += x[j] * flow[j];
                down += x[j] * x[j] * mass[j];
            }
            if !(up > 0.0) {
                return 0.0;
            }
            rate = up / down;
            let norm = down.sqrt() * rate;
            x = flow
                .iter()
                .zip(&mass)
                .map(|(f, m)| f / (m * norm))
                .collect();
        }
        let around = line.conduction / line.capacity;
        let spread = [250.0, 450.0, 700.0, 950.0, 1200.0, 1450.0]
            .into_iter()
            .filter(|t_k| *t_k < device.fit.high_k)
            .map(|t_k| {
                let l = device.laws.line(t_k);
                l.conduction / l.capacity / around
            })
            .fold(1.0, f64::max);
        1.03 * rate * spread
    }
}

/// The stiffness matrix `integral phi_r' phi_c' dx` by registers of rows.
fn stiffness(grid: &Grid, len: usize) -> Vec<RowBlock> {
    let n = grid.len();
    let full = grid.stiffness_per_m();
    (0..len / MOST_LANES)
        .map(|block| {
            let rows = (block * MOST_LANES).min(n)..((block + 1) * MOST_LANES).min(n);
            let touches = |c: usize| rows.clone().any(|r| full[r * n + c] != 0.0);
            let first = (0..n).find(|c| touches(*c)).unwrap_or(0);
            let last = (0..n).rev().find(|c| touches(*c));
            // Columns are taken in groups; the last beyond the strip's are zero.
            let columns = last.map_or(0, |l| (l + 1 - first).next_multiple_of(GROUP));
            let mut entries = Row::zeros(columns * MOST_LANES);
            for r in rows.clone() {
                for c in 0..columns.min(n - first) {
                    entries[c * MOST_LANES + r - rows.start] = full[r * n + first + c];
                }
            }
            RowBlock {
                first,
                columns,
                entries,
            }
        })
        .collect()
}
