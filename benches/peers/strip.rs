//! The worked strip by finite volumes around nodes: temperatures above the air of the clamped
//! terminal B, the inner nodes, the moving contact M and the fixed contact F, in this order, so
//! that every heat path joins neighbours. The terminals are the end nodes and hold the half volumes
//! beside them: that is about three times more accurate, with equal cells, than temperatures in the
//! middle of cells.

use super::cooling::{AIR_K, Cooling};

const LENGTH_M: f64 = 25e-3;
const WIDTH_M: f64 = 5e-3;
const LAYER_M: f64 = 2e-4;
/// Cross-section of one layer, m2.
const AREA: f64 = WIDTH_M * LAYER_M;
const DENSITY: f64 = 8100.0;
/// The laws are given in degrees above 20 degC; the state counts from air of 25 degC.
const OFFSET: f64 = 5.0;

/// J/(K m): C0 + C1 u, both layers.
const C0: f64 = AREA * DENSITY * (995.0 + 0.47 * OFFSET);
const C1: f64 = AREA * DENSITY * 0.47;
/// Kirchhoff's integral of the conductivity, W m: u (K0 + K1 u); exact because k is linear.
const K0: f64 = AREA * (23.0 + 0.024 * OFFSET);
const K1: f64 = AREA * 0.012;
/// Resistivities, ohm m: A + B u.
const LOW_A: f64 = 0.80e-6 * (1.0 + 1.2e-3 * OFFSET);
const LOW_B: f64 = 0.80e-6 * 1.2e-3;
const HIGH_A: f64 = 0.78e-6 * (1.0 + 0.95e-3 * OFFSET);
const HIGH_B: f64 = 0.78e-6 * 0.95e-3;
/// Difference of the thermal strains, high side less low side: E1 v + E2 v^2, v = u + OFFSET.
const E1: f64 = 18.2e-6 - 1.2e-6;
const E2: f64 = 3e-9 - 4e-9;
/// Curvature a unit of that difference, 1/m (Timoshenko 1925, equal thicknesses).
const RATIO: f64 = 145.0 / 190.0;
const BEND: f64 = 24.0 / (2.0 * LAYER_M * (12.0 + (1.0 + RATIO) * (1.0 + 1.0 / RATIO)));
const LORENZ: f64 = 2.443_004_509e-8;
const CONTACT_OHM: f64 = 1e-3;
const B_OHM: f64 = 0.5e-3;
/// Heat capacities, J/K, and conductances to the air, W/K.
const CAPACITY: [f64; 3] = [2.0, 0.25, 1.5];
const LOSS: [f64; 3] = [0.060, 0.010, 0.050];

/// Release and relatch, m.
pub const RELEASE_M: f64 = 1.2e-3;
/// See [`RELEASE_M`].
pub const RELATCH_M: f64 = 0.7e-3;

/// The strip on its nodes, carrying a current or, opened, none.
#[derive(Clone, Debug)]
pub struct Strip {
    current_sq: f64,
    /// Half of Wiedemann-Franz over the contact, W/K2; 0 when open.
    across: f64,
    cooling: Cooling,
    /// 1/(width of the node's volume x distance to the node before, after), 1/m2.
    to_left: Vec<f64>,
    to_right: Vec<f64>,
    /// At both ends: width of the node's half volume, m, and 1/distance to its neighbour, 1/m.
    ends: [(f64, f64); 2],
    /// Weight of a node in the integral of (L - x) times the curvature of unit strain difference,
    /// m.
    lever: Vec<f64>,
}

impl Strip {
    /// Closed contacts, carrying `current_a`.
    pub fn closed(cells: usize, grading: f64, current_a: f64) -> Self {
        let turn = std::f64::consts::TAU;
        let node = |i: usize| {
            let s = i as f64 / cells as f64;
            LENGTH_M * (s - grading / turn * (turn * s).sin())
        };
        let stretch = |i: usize| {
            let s = i as f64 / cells as f64;
            LENGTH_M * (1.0 - grading * (turn * s).cos())
        };
        let distance = |i: usize| node(i) - node(i - 1);
        let volume = |i: usize| 0.5 * (distance(i) + distance(i + 1));
        // Trapezoids with the end corrections of Gregory: order 4 for nothing.
        let gregory = |i: usize| match i.min(cells - i) {
            0 => 3.0 / 8.0,
            1 => 7.0 / 6.0,
            2 => 23.0 / 24.0,
            _ => 1.0,
        };
        Self {
            current_sq: current_a * current_a,
            across: 0.5 * LORENZ / CONTACT_OHM,
            cooling: Cooling::fit(2.0 * (WIDTH_M + 2.0 * LAYER_M)),
            to_left: (1..cells)
                .map(|i| 1.0 / (distance(i) * volume(i)))
                .collect(),
            to_right: (1..cells)
                .map(|i| 1.0 / (distance(i + 1) * volume(i)))
                .collect(),
            ends: [distance(1), distance(cells)].map(|d| (0.5 * d, 1.0 / d)),
            lever: (0..=cells)
                .map(|i| BEND * (LENGTH_M - node(i)) * stretch(i) * gregory(i) / cells as f64)
                .collect(),
        }
    }

    /// The same strip after opening.
    pub fn opened(&self) -> Self {
        Self {
            current_sq: 0.0,
            across: 0.0,
            ..self.clone()
        }
    }

    /// Unknowns: the nodes and F.
    pub fn unknowns(&self) -> usize {
        self.lever.len() + 1
    }

    /// du/dt.
    pub fn rate(&self, u: &[f64], rate: &mut [f64]) {
        let n = self.to_left.len();
        let (left, here, right) = (&u[..n], &u[1..=n], &u[2..n + 2]);
        let (to_left, to_right) = (&self.to_left[..n], &self.to_right[..n]);
        let inner = &mut rate[1..=n];
        let heat = self.current_sq / AREA;
        for j in 0..n {
            let k = kirchhoff(here[j]);
            let (low, high) = (LOW_A + LOW_B * here[j], HIGH_A + HIGH_B * here[j]);
            let both = low + high;
            let inflow = to_left[j] * (kirchhoff(left[j]) - k)
                + to_right[j] * (kirchhoff(right[j]) - k)
                - self.cooling.at(here[j]);
            // One division for resistance and capacity together.
            inner[j] = (inflow * both + heat * low * high) / ((C0 + C1 * here[j]) * both);
        }
        let (b, m, f) = (u[0], u[n + 1], u[n + 2]);
        let [(width_b, to_b), (width_m, to_m)] = self.ends;
        let from_b = to_b * (kirchhoff(b) - kirchhoff(u[1]));
        let from_m = to_m * (kirchhoff(m) - kirchhoff(u[n]));
        let half = 0.5 * self.current_sq * CONTACT_OHM;
        let across = self.across * (m + f + 2.0 * AIR_K) * (m - f);
        rate[0] = (self.current_sq * B_OHM - LOSS[0] * b - from_b + width_b * self.source(b))
            / (CAPACITY[0] + width_b * (C0 + C1 * b));
        rate[n + 1] = (half - LOSS[1] * m - from_m - across + width_m * self.source(m))
            / (CAPACITY[1] + width_m * (C0 + C1 * m));
        rate[n + 2] = (half + across - LOSS[2] * f) / CAPACITY[2];
    }

    /// Heat made less heat given off, W/m.
    fn source(&self, u: f64) -> f64 {
        let (low, high) = (LOW_A + LOW_B * u, HIGH_A + HIGH_B * u);
        self.current_sq / AREA * low * high / (low + high) - self.cooling.at(u)
    }

    /// Its slope, W/(m K).
    fn source_slope(&self, u: f64) -> f64 {
        let (low, high) = (LOW_A + LOW_B * u, HIGH_A + HIGH_B * u);
        let both = low + high;
        self.current_sq / AREA * (low * low * HIGH_B + high * high * LOW_B) / (both * both)
            - self.cooling.slope(u)
    }

    /// The slopes of [`Strip::rate`] in the neighbour before, the unknown itself, the neighbour
    /// after.
    pub fn slopes(&self, u: &[f64], before: &mut [f64], own: &mut [f64], after: &mut [f64]) {
        let n = self.to_left.len();
        for j in 0..n {
            let (l, t, r) = (u[j], u[j + 1], u[j + 2]);
            let (to_left, to_right) = (self.to_left[j], self.to_right[j]);
            let capacity = C0 + C1 * t;
            let inflow = to_left * (kirchhoff(l) - kirchhoff(t))
                + to_right * (kirchhoff(r) - kirchhoff(t))
                + self.source(t);
            let slope = self.source_slope(t) - (to_left + to_right) * conductance(t);
            before[j + 1] = to_left * conductance(l) / capacity;
            own[j + 1] = (slope - inflow * C1 / capacity) / capacity;
            after[j + 1] = to_right * conductance(r) / capacity;
        }
        let (b, m, f) = (u[0], u[n + 1], u[n + 2]);
        let [(width_b, to_b), (width_m, to_m)] = self.ends;
        let (toward_m, toward_f) = (
            2.0 * self.across * (AIR_K + m),
            2.0 * self.across * (AIR_K + f),
        );
        let capacity_b = CAPACITY[0] + width_b * (C0 + C1 * b);
        let capacity_m = CAPACITY[1] + width_m * (C0 + C1 * m);
        let half = 0.5 * self.current_sq * CONTACT_OHM;
        let across = self.across * (m + f + 2.0 * AIR_K) * (m - f);
        let rate_b = (self.current_sq * B_OHM - LOSS[0] * b + width_b * self.source(b)
            - to_b * (kirchhoff(b) - kirchhoff(u[1])))
            / capacity_b;
        let rate_m = (half - LOSS[1] * m - across + width_m * self.source(m)
            - to_m * (kirchhoff(m) - kirchhoff(u[n])))
            / capacity_m;
        before[0] = 0.0;
        own[0] = (width_b * (self.source_slope(b) - C1 * rate_b) - to_b * conductance(b) - LOSS[0])
            / capacity_b;
        after[0] = to_b * conductance(u[1]) / capacity_b;
        before[n + 1] = to_m * conductance(u[n]) / capacity_m;
        own[n + 1] = (width_m * (self.source_slope(m) - C1 * rate_m)
            - to_m * conductance(m)
            - LOSS[1]
            - toward_m)
            / capacity_m;
        after[n + 1] = toward_f / capacity_m;
        before[n + 2] = toward_m / CAPACITY[2];
        own[n + 2] = -(toward_f + LOSS[2]) / CAPACITY[2];
        after[n + 2] = 0.0;
    }

    /// Deflection of the free end, m.
    pub fn deflection(&self, u: &[f64]) -> f64 {
        self.lever
            .iter()
            .zip(u)
            .map(|(lever, u)| {
                let v = u + OFFSET;
                lever * v * (E1 + E2 * v)
            })
            .sum()
    }

    /// Its rate, m/s.
    pub fn deflection_rate(&self, u: &[f64], rate: &[f64]) -> f64 {
        self.lever
            .iter()
            .zip(u.iter().zip(rate))
            .map(|(lever, (u, rate))| lever * (E1 + 2.0 * E2 * (u + OFFSET)) * rate)
            .sum()
    }
}

#[inline(always)]
fn kirchhoff(u: f64) -> f64 {
    u * (K0 + K1 * u)
}

#[inline(always)]
fn conductance(u: f64) -> f64 {
    K0 + 2.0 * K1 * u
}
