//! How fast the difference across the layers settles: the modes of the insulated stack.

use nalgebra::{DMatrix, DVector, SymmetricEigen};

use super::{HeatedLayer, excess_generation, quasi_steady};

/// One mode of relaxation. After a step of the load it has done 1 − exp(−rate t) of its shares.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Mode {
    /// Rate, 1/s; for one layer (nπ)² a/h².
    pub rate_per_s: f64,
    /// Share of the quasi-steady curvature (may be negative, or above 1).
    pub curvature_share: f64,
    /// Share of the quasi-steady difference between the then hottest and coldest place.
    pub spread_share: f64,
}

/// The modes that matter, slowest first, and what the rest adds at once. Modes and remainder sum to 1, or to
/// 0 where there is nothing to share.
#[derive(Clone, Debug, PartialEq)]
pub struct Relaxation {
    /// The modes kept.
    pub modes: Vec<Mode>,
    /// Share of the curvature that follows the load without delay.
    pub instantaneous_curvature_share: f64,
    /// Share of the spread that follows without delay.
    pub instantaneous_spread_share: f64,
}

impl Relaxation {
    /// Share of the quasi-steady curvature reached a time after a step of the load.
    #[must_use]
    pub fn curvature_step_response(&self, time_s: f64) -> f64 {
        let delayed = |mode: &Mode| -mode.curvature_share * (-mode.rate_per_s * time_s).exp_m1();
        self.instantaneous_curvature_share + self.modes.iter().map(delayed).sum::<f64>()
    }
}

/// Heat above a layer's share that is only rounding, relative.
const ROUND_OFF: f64 = 1e-12;
/// Smallest share of a mode that is kept.
const SMALLEST_SHARE: f64 = 1e-3;
/// Most modes kept.
const MOST_MODES: usize = 12;
/// Cells over the whole stack, dealt out by diffusion time, and the least in a layer: second-order volumes, slow
/// modes good to about 1e-3.
const CELLS: f64 = 60.0;
const FEWEST_CELLS: usize = 6;

/// A finite volume of the stack.
struct Cell {
    middle_m: f64,
    thickness_m: f64,
    layer: HeatedLayer,
    excess_w_per_m3: f64,
}

/// Modes of relaxation of a stack, by finite volumes and a symmetric eigenproblem: milliseconds.
/// Where the quasi-steady curvature nearly cancels, shares are large and of both signs; times that curvature
/// they stay right.
#[must_use]
pub fn relaxation(layers: &[HeatedLayer]) -> Relaxation {
    let none = Relaxation {
        modes: Vec::new(),
        instantaneous_curvature_share: 0.0,
        instantaneous_spread_share: 0.0,
    };
    let cells = cut(layers);
    let profile = quasi_steady(layers);
    let driven = |c: &Cell| c.excess_w_per_m3.abs() > ROUND_OFF * c.layer.generation_w_per_m3.abs();
    if !(cells.iter().any(driven) && profile.spread_k.is_finite()) {
        return none;
    }
    let root_capacity =
        DVector::from_iterator(cells.len(), cells.iter().map(|c| heat_capacity(c).sqrt()));
    let drive = DVector::from_iterator(
        cells.len(),
        cells
            .iter()
            .map(|c| c.excess_w_per_m3 * c.thickness_m / heat_capacity(c).sqrt()),
    );
    let bend = curvature_weights(&cells).component_div(&root_capacity);
    let mut part = DVector::zeros(cells.len());
    let (hot, cold) = (
        nearest(&cells, profile.hottest_m),
        nearest(&cells, profile.coldest_m),
    );
    part[hot] += 1.0 / root_capacity[hot];
    part[cold] -= 1.0 / root_capacity[cold];

    let eigen = SymmetricEigen::new(conduction(&cells, &root_capacity));
    let mut order: Vec<usize> = (0..cells.len()).collect();
    order.sort_by(|&i, &j| eigen.eigenvalues[i].total_cmp(&eigen.eigenvalues[j]));
    // The slowest is the mean temperature: rate zero, and nothing here drives it.
    let contributions: Vec<Mode> = order[1..]
        .iter()
        .map(|&j| {
            let vector = eigen.eigenvectors.column(j);
            let rate_per_s = eigen.eigenvalues[j];
            let amplitude = vector.dot(&drive) / rate_per_s;
            Mode {
                rate_per_s,
                curvature_share: amplitude * vector.dot(&bend),
                spread_share: amplitude * vector.dot(&part),
            }
        })
        .collect();
    normalised(contributions)
}

fn heat_capacity(cell: &Cell) -> f64 {
    cell.layer.heat_capacity_j_per_m3_k * cell.thickness_m
}

fn cut(layers: &[HeatedLayer]) -> Vec<Cell> {
    let diffusion = |l: &HeatedLayer| {
        l.thickness_m * (l.heat_capacity_j_per_m3_k / l.conductivity_w_per_m_k).sqrt()
    };
    let total: f64 = layers.iter().map(diffusion).sum();
    let mut start_m = 0.0;
    let mut cells = Vec::new();
    let solid = |(layer, _): &(&HeatedLayer, f64)| layer.thickness_m > 0.0;
    for (layer, excess_w_per_m3) in layers.iter().zip(excess_generation(layers)).filter(solid) {
        let count = ((CELLS * diffusion(layer) / total).ceil() as usize)
            .clamp(FEWEST_CELLS, CELLS as usize);
        let thickness_m = layer.thickness_m / count as f64;
        cells.extend((0..count).map(|i| Cell {
            middle_m: start_m + (i as f64 + 0.5) * thickness_m,
            thickness_m,
            layer: *layer,
            excess_w_per_m3,
        }));
        start_m += layer.thickness_m;
    }
    cells
}

/// Conduction between the cells, scaled by 1/√C on both sides.
fn conduction(cells: &[Cell], root_capacity: &DVector<f64>) -> DMatrix<f64> {
    let resistance = |c: &Cell| 0.5 * c.thickness_m / c.layer.conductivity_w_per_m_k;
    let mut matrix = DMatrix::zeros(cells.len(), cells.len());
    for i in 1..cells.len() {
        let conductance = 1.0 / (resistance(&cells[i - 1]) + resistance(&cells[i]));
        let (before, here) = (root_capacity[i - 1], root_capacity[i]);
        matrix[(i - 1, i - 1)] += conductance / (before * before);
        matrix[(i, i)] += conductance / (here * here);
        matrix[(i - 1, i)] -= conductance / (before * here);
        matrix[(i, i - 1)] -= conductance / (before * here);
    }
    matrix
}

/// Curvature of the free strip per kelvin in each cell.
fn curvature_weights(cells: &[Cell]) -> DVector<f64> {
    let (mut a, mut b, mut d) = (0.0, 0.0, 0.0);
    for c in cells {
        let stretch = c.layer.modulus_pa * c.thickness_m;
        a += stretch;
        b += stretch * c.middle_m;
        d += stretch * (c.middle_m * c.middle_m + c.thickness_m * c.thickness_m / 12.0);
    }
    let (axis_m, stiffness) = (b / a, d - b * b / a);
    DVector::from_iterator(
        cells.len(),
        cells.iter().map(|c| {
            let push = c.layer.modulus_pa * c.thickness_m * c.layer.expansion_per_k;
            push * (c.middle_m - axis_m) / stiffness
        }),
    )
}

fn nearest(cells: &[Cell], z_m: f64) -> usize {
    let distance = |i: &usize| (cells[*i].middle_m - z_m).abs();
    (0..cells.len())
        .min_by(|i, j| distance(i).total_cmp(&distance(j)))
        .unwrap_or(0)
}

fn normalised(contributions: Vec<Mode>) -> Relaxation {
    let share = |total: f64, part: f64| if total == 0.0 { 0.0 } else { part / total };
    let curvature: f64 = contributions.iter().map(|m| m.curvature_share).sum();
    let spread: f64 = contributions.iter().map(|m| m.spread_share).sum();
    let modes: Vec<Mode> = contributions
        .into_iter()
        .map(|m| Mode {
            rate_per_s: m.rate_per_s,
            curvature_share: share(curvature, m.curvature_share),
            spread_share: share(spread, m.spread_share),
        })
        .filter(|m| m.curvature_share.abs().max(m.spread_share.abs()) >= SMALLEST_SHARE)
        .take(MOST_MODES)
        .collect();
    let rest = |total: f64, kept: f64| if total == 0.0 { 0.0 } else { 1.0 - kept };
    Relaxation {
        instantaneous_curvature_share: rest(
            curvature,
            modes.iter().map(|m| m.curvature_share).sum(),
        ),
        instantaneous_spread_share: rest(spread, modes.iter().map(|m| m.spread_share).sum()),
        modes,
    }
}
