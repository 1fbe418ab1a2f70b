//! What the registers need of a model whose heat across the layers is resolved: numbers side by
//! side, amplitudes in kelvin.

use crate::device::fast::fit::{LAWS, StripFit};
use crate::device::through::{REFERENCE_K, SLOW};
use crate::device::{Device, Grid, Layout};
use crate::solve::wide::Row;
use std::sync::Arc;

/// What the registers need of a model whose heat across the layers is resolved.
#[derive(Debug, Clone)]
pub struct CrossingParts {
    pub(super) modes: Vec<Mode>,
    /// The others when so many modes move: one more than there are modes.
    resting: Vec<Resting>,
    pub(super) fit: Arc<StripFit>,
    pub(super) layers: usize,
    /// The fast modes, which never move.
    pub(super) fast: Sums,
    /// Cross sections of the layers, m^2; 0 beyond them.
    pub(super) sections_m2: [f64; LAWS],
    /// Flux at the faces, W/m^2, per loss of the strip, W/m.
    pub(super) faces_per_m: f64,
    /// One over the weights of the nodes inside the strip, 1/m; 0 elsewhere.
    pub(super) inner_per_m: Row,
    /// Weight of the curvature at the nodes in the free deflection, m^2.
    pub(super) deflection: Row,
    /// What a unit of the curvature along the strip makes there by a kelvin of the nodes, 1.
    pub(super) second: Row,
}

/// A mode that moves: what feeds it and what it does, per kelvin of its amplitude.
#[derive(Debug, Clone, Default)]
pub(super) struct Mode {
    pub rate_per_s: f64,
    pub curvature_per_m: f64,
    /// Mean over each layer.
    pub mean: [f64; LAWS],
    /// Source per W/m^3 in each layer, K/s.
    pub layers: [f64; LAWS],
    /// Conduction along the strip by its amplitude, W m/K.
    pub flux: f64,
    /// Source per curvature along the strip of the mean, and of the amplitude of each mode, m^2/s.
    pub axial: f64,
    pub coupling: [f64; SLOW],
    /// Source per W/m^2 lost at the faces.
    pub faces: f64,
}

/// What modes at rest add: those that do not move follow their sources.
#[derive(Debug, Clone, Default)]
pub(super) struct Resting {
    /// Fastest rate of all that moves, 1/s.
    pub fastest_per_s: f64,
    /// At once.
    pub at: Sums,
    /// By how much they are behind where the sources gain so much a second.
    pub behind: Sums,
}

/// Sums over modes at rest of what they make of their sources.
#[derive(Debug, Clone, Default)]
pub(super) struct Sums {
    /// To the mean of layer `i` per W/m^3 in layer `j`, K: row `i`.
    pub mean: [[f64; LAWS]; LAWS],
    /// To the curvature, 1/m, per W/m^3 in each layer and per K/m^2 of the curvature along the strip.
    pub curvature: [f64; LAWS],
    pub axial: f64,
    /// To the curvature, 1/m, per W/m that the strip loses.
    pub faces: f64,
    /// To what conducts along the strip, W m, per W/m^3 in each layer.
    pub flux: [f64; LAWS],
}

fn padded(x: impl IntoIterator<Item = f64>) -> [f64; LAWS] {
    let mut out = [0.0; LAWS];
    out.iter_mut().zip(x).for_each(|(o, x)| *o = x);
    out
}

impl CrossingParts {
    /// Parts of a model whose mean evens out along the strip at this rate, 1/s; `None` where there
    /// are more layers than registers are laid out for.
    pub(in crate::device) fn new(
        device: &Device,
        grid: &Grid,
        layout: &Layout,
        len: usize,
        along_per_s: f64,
    ) -> Option<CrossingParts> {
        let through = device.through.as_ref()?;
        let fit = through.fit.clone()?;
        let (n, width_m) = (layout.strip, device.laws.width_m);
        let unit = device.laws.capacity_per_area(REFERENCE_K).sqrt();
        let modes = through.slow.iter().map(|feed| Mode {
            rate_per_s: feed.rate_per_s,
            curvature_per_m: feed.curvature_per_m * unit,
            mean: padded(feed.layer_mean.iter().map(|m| m * unit)),
            layers: padded(feed.layers.iter().map(|q| q / unit)),
            flux: feed.axial * width_m * unit,
            axial: feed.axial / unit,
            coupling: std::array::from_fn(|l| feed.coupling.get(l).copied().unwrap_or(0.0)),
            faces: feed.faces / unit,
        });
        let modes: Vec<Mode> = modes.collect();
        let layers = through.fast.layers.len();
        let mut fast = Sums {
            curvature: padded(through.fast.layers.iter().copied()),
            axial: through.fast.axial,
            ..Sums::default()
        };
        for (row, mean) in (fast.mean.iter_mut()).zip(through.fast_mean.chunks_exact(layers)) {
            *row = padded(mean.iter().copied());
        }
        let around_m = device.cooling.perimeter_m;
        let faces_per_m = match around_m > 0.0 {
            true => device.cooling.uncovered() / around_m,
            false => 0.0,
        };
        // From all that move down to none.
        let (mut rest, mut resting) = (Resting::default(), Vec::new());
        for moving in (0..=modes.len()).rev() {
            if let Some(mode) = modes.get(moving) {
                rest.take(mode, faces_per_m);
            }
            rest.fastest_per_s = through.fastest_per_s(along_per_s, moving);
            resting.insert(0, rest.clone());
        }
        let deflection = grid.functional(device.push_point_m, |x| device.push_point_m - x);
        let mut inner_per_m = Row::zeros(len);
        for (inner, w) in inner_per_m[1..n - 1].iter_mut().zip(&grid.weight_m[1..]) {
            *inner = 1.0 / w;
        }
        let stiffness = grid.stiffness_per_m();
        let mut second = Row::zeros(len);
        for (r, d) in deflection.iter().enumerate() {
            for c in 0..n {
                second[c] -= d * inner_per_m[r] * stiffness[r * n + c];
            }
        }
        Some(CrossingParts {
            modes,
            resting,
            fit,
            layers,
            fast,
            sections_m2: padded(through.sections_m2()),
            faces_per_m,
            inner_per_m,
            deflection: Row::padded(&deflection, len),
            second,
        })
    }

    /// The modes at rest when the first so many move.
    pub(super) fn resting(&self, moving: usize) -> &Resting {
        &self.resting[moving.min(self.modes.len())]
    }
}

impl Resting {
    /// A mode comes to rest.
    fn take(&mut self, mode: &Mode, faces_per_m: f64) {
        let settles_s = 1.0 / mode.rate_per_s;
        self.at.add(mode, faces_per_m, settles_s);
        self.behind.add(mode, faces_per_m, settles_s * settles_s);
    }
}

impl Sums {
    /// Adds a mode that makes so much of each source.
    fn add(&mut self, mode: &Mode, faces_per_m: f64, weight: f64) {
        for (row, mean) in self.mean.iter_mut().zip(mode.mean) {
            for (m, q) in row.iter_mut().zip(mode.layers) {
                *m += mean * q * weight;
            }
        }
        for ((c, f), q) in (self.curvature.iter_mut().zip(&mut self.flux)).zip(mode.layers) {
            *c += mode.curvature_per_m * q * weight;
            *f += mode.flux * q * weight;
        }
        self.axial += mode.curvature_per_m * mode.axial * weight;
        self.faces -= mode.curvature_per_m * mode.faces * faces_per_m * weight;
    }
}
