//! A device on a grid: the layout of its unknowns and the weights of its integrals.

use super::{Device, Fineness, Grid};
use crate::scenario::Mechanism;
use crate::solve::Shape;
use std::f64::consts::PI;

/// Sine modes of a snap blade that are carried; the rest of the series falls as n^-4.
const SNAP_MODES: usize = 25;

/// Where each unknown stands in the state.
#[derive(Debug, Clone, Copy)]
pub struct Layout {
    /// Nodes of the strip: 0 is the clamped terminal, `strip - 1` the moving contact.
    pub strip: usize,
    /// Fixed contact.
    pub fixed: usize,
    /// Winding.
    pub winding: Option<usize>,
    /// Housing air.
    pub housing: Option<usize>,
    /// First amplitude of the through-thickness modes: station by station, slow modes in order.
    pub modes: usize,
    /// All unknowns.
    pub len: usize,
}

impl Layout {
    fn new(device: &Device, strip: usize) -> Layout {
        let mut next = strip + 1;
        let mut take = |there: bool| {
            there.then(|| {
                next += 1;
                next - 1
            })
        };
        let winding = take(device.winding.is_some());
        let housing = take(device.housing.is_some());
        let modes = next;
        let len = modes + device.through.as_ref().map_or(0, |t| t.len() * strip);
        Layout {
            strip,
            fixed: strip,
            winding,
            housing,
            modes,
            len,
        }
    }

    /// Number of unknowns that are temperatures.
    pub fn temperatures(&self) -> usize {
        self.modes
    }
}

/// A device on a grid.
#[derive(Debug, Clone)]
pub struct Model {
    /// The device.
    pub device: Device,
    /// The grid.
    pub grid: Grid,
    /// Layout of the unknowns.
    pub layout: Layout,
    /// `integral_0^push (push - x) f dx`, m^2.
    pub(super) deflection_weight: Vec<f64>,
    /// `integral_0^push (push - x)^2 f dx`, m^3.
    pub(super) compliance_weight: Vec<f64>,
    /// Snap blade: `(2/l) integral sin(n pi x/l) f dx`.
    pub(super) mode_weight: Vec<Vec<f64>>,
    /// Snap blade: `(2/l) integral sin^2(pi x/l) f dx`.
    pub(super) stiffness_weight: Vec<f64>,
    /// Snap blade: `integral_0^l f dx`.
    pub(super) span_weight: Vec<f64>,
}

impl Model {
    /// Put a device on a grid.
    pub fn new(device: &Device, fineness: Fineness) -> Model {
        let push = device.push_point_m;
        let grid = Grid::new(device.length_m, push, fineness);
        let (mut mode_weight, mut stiffness_weight, mut span_weight) =
            (Vec::new(), Vec::new(), Vec::new());
        if let Mechanism::SnapBlade { span_m, .. } = device.release.mechanism {
            let l = span_m;
            mode_weight = (1..=SNAP_MODES)
                .map(|n| grid.functional(l, |x| 2.0 / l * (n as f64 * PI * x / l).sin()))
                .collect();
            stiffness_weight = grid.functional(l, |x| 2.0 / l * (PI * x / l).sin().powi(2));
            span_weight = grid.functional(l, |_| 1.0);
        }
        Model {
            deflection_weight: grid.functional(push, |x| push - x),
            compliance_weight: grid.functional(push, |x| (push - x).powi(2)),
            mode_weight,
            stiffness_weight,
            span_weight,
            layout: Layout::new(device, grid.len()),
            grid,
            device: device.clone(),
        }
    }

    /// Everything at one temperature, no current.
    pub fn uniform(&self, t_k: f64) -> Vec<f64> {
        let mut y = vec![t_k; self.layout.len];
        y[self.layout.modes..].fill(0.0);
        y
    }

    /// Profile of the Jacobian.
    pub fn shape(&self) -> Shape {
        let l = &self.layout;
        // A shunt that heats an end node couples that node to the whole strip.
        let half_width = match self.device.shunt_heat_to {
            None | Some(crate::scenario::ShuntNode::Housing) => self.grid.order,
            Some(_) => l.strip,
        };
        Shape {
            band: l.strip,
            half_width,
            border: l.len - l.strip,
        }
    }

    /// `d^2T/dx^2` at every node of the strip, K/m^2; at a boundary between elements the mean of both.
    pub fn second_derivative(&self, y: &[f64]) -> Vec<f64> {
        let p = self.grid.order + 1;
        let mut out = vec![0.0; self.layout.strip];
        let mut slope = vec![0.0; p];
        for (number, e) in self.grid.elements.iter().enumerate() {
            let row = |q: usize| &e.derivative_per_m[q * p..(q + 1) * p];
            for (q, s) in slope.iter_mut().enumerate() {
                *s = row(q).iter().zip(&y[e.first..]).map(|(a, b)| a * b).sum();
            }
            for q in 0..p {
                let value: f64 = row(q).iter().zip(&slope).map(|(a, b)| a * b).sum();
                out[e.first + q] += self.shared(number, q) * value;
            }
        }
        out
    }

    /// One half for a node that two elements share, else one.
    pub(super) fn shared(&self, element: usize, q: usize) -> f64 {
        let last = self.grid.elements.len() - 1;
        let inner = (q == 0 && element > 0) || (q == self.grid.order && element < last);
        if inner { 0.5 } else { 1.0 }
    }

    /// Mean strip temperature, K.
    pub fn mean_k(&self, y: &[f64]) -> f64 {
        let sum: f64 = self.grid.weight_m.iter().zip(y).map(|(w, t)| w * t).sum();
        sum / self.device.length_m
    }

    /// Temperature at the middle of the strip, K.
    pub fn mid_k(&self, y: &[f64]) -> f64 {
        self.grid
            .interpolate(&y[..self.layout.strip], 0.5 * self.device.length_m)
    }

    /// Hottest node of the strip, K.
    pub fn peak_k(&self, y: &[f64]) -> f64 {
        y[..self.layout.strip]
            .iter()
            .copied()
            .fold(f64::NEG_INFINITY, f64::max)
    }

    /// Lowest and highest temperature of the strip, K.
    pub fn strip_range_k(&self, y: &[f64]) -> (f64, f64) {
        let low = y[..self.layout.strip]
            .iter()
            .copied()
            .fold(f64::INFINITY, f64::min);
        (low, self.peak_k(y))
    }
}
