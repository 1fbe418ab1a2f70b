//! A device on a grid: the layout of its unknowns and the weights of its integrals.

use super::fast::AlongParts;
use super::fast::{CrossingParts, GaugeParts};
use super::grid::Refinement;
use super::poles::PoleNet;
use super::release::{DiscParts, HingedWeights};
use super::{Device, Fineness, Grid, Line};
use crate::material::{Law, Property};
use crate::scenario::MachineCase;
use crate::solve::Shape;
use crate::solve::wide::MOST_LANES;
use std::sync::{Arc, Mutex, OnceLock};

/// Where each unknown stands in the state.
#[derive(Debug, Clone, Copy)]
pub struct Layout {
    /// Nodes of the strip: 0 is the clamped terminal.
    pub strip: usize,
    /// Node of the strip that carries the moving contact: its last; the rim of a disc that bridges
    /// two contacts.
    pub moving: usize,
    /// Fixed contact.
    pub fixed: usize,
    /// Winding.
    pub winding: Option<usize>,
    /// Housing air.
    pub housing: Option<usize>,
    /// Motor on whose case a disc sits.
    pub motor: Option<usize>,
    /// First amplitude of the through-thickness modes: station by station, slow modes in order.
    pub modes: usize,
    /// All unknowns.
    pub len: usize,
    /// Strips beside one another: the above are those of the first, whose nodes come first.
    pub poles: usize,
    /// Lumped nodes that each pole has to itself.
    lumps: usize,
}

impl Layout {
    fn new(device: &Device, strip: usize) -> Layout {
        let poles = device.poles.as_ref().map_or(1, |p| p.each.len());
        let is_one_air = device.poles.as_ref().is_some_and(|p| p.has_one_air_space());
        let fixed = poles * strip;
        let winding = device.winding.map(|_| fixed + 1);
        let before_air = 1 + usize::from(winding.is_some());
        let has_motor = matches!(device.machine_case, Some(MachineCase::Motor { .. }));
        let own_air = usize::from(device.housing.is_some() && !is_one_air);
        let lumps = before_air + own_air + usize::from(has_motor);
        let housing = device.housing.map(|_| match is_one_air {
            true => fixed + poles * lumps,
            false => fixed + before_air,
        });
        let modes = fixed + poles * lumps + usize::from(housing.is_some() && is_one_air);
        let len = modes + device.through.as_ref().map_or(0, |t| t.len() * strip);
        let bridges = device.disc().is_some_and(|d| d.bridge_ohm.is_some());
        Layout {
            strip,
            moving: if bridges { 0 } else { strip - 1 },
            fixed,
            winding,
            housing,
            motor: has_motor.then_some(fixed + before_air + own_air),
            modes,
            len,
            poles,
            lumps,
        }
    }

    /// Nodes of all strips.
    pub fn strips(&self) -> usize {
        self.poles * self.strip
    }

    /// Where unknown `i` of a pole by itself stands among those of all.
    pub(super) fn of_pole(&self, pole: usize, i: usize) -> usize {
        if i < self.strip {
            pole * self.strip + i
        } else if i < self.strip + self.lumps {
            self.strips() + pole * self.lumps + i - self.strip
        } else {
            self.modes - 1
        }
    }

    /// Number of unknowns that are temperatures.
    pub fn temperatures(&self) -> usize {
        self.modes
    }
}

/// Steady states already found on a model: (current, ambient, state).
#[derive(Debug, Default)]
struct Remembered(Mutex<Vec<(f64, f64, Vec<f64>)>>);

impl Clone for Remembered {
    fn clone(&self) -> Remembered {
        Remembered::default()
    }
}

/// Steady states kept.
const KEPT_STATES: usize = 4;

/// A device on a grid.
#[derive(Debug, Clone)]
pub struct Model {
    /// The device.
    pub device: Device,
    /// How finely.
    pub fineness: Fineness,
    /// The grid.
    pub grid: Grid,
    /// Layout of the unknowns.
    pub layout: Layout,
    /// The fast right-hand side, where there is one.
    pub(super) along: Option<AlongParts>,
    /// Weights of the fast event functions.
    pub(super) gauge: GaugeParts,
    /// The same with one temperature a section, where heat across the layers is resolved here.
    pub(super) uniform_model: Option<Arc<Model>>,
    /// The same with fits that go further, once it was asked for.
    hotter: OnceLock<Option<Arc<Model>>>,
    /// What the registers need of heat across the layers, where it is resolved here.
    pub(super) crossing: Option<CrossingParts>,
    /// Poles beside one another, where there are some.
    pub(super) poles: Option<PoleNet>,
    remembered: Remembered,
    /// Where bending is evaluated: finer than the grid where property tables have corners.
    pub(super) bending: BendPoints,
    /// `integral_0^push (push - x) f dx` over the bending points, m^2.
    pub(super) deflection_weight: Vec<f64>,
    /// `integral_0^push (push - x)^2 f dx`, m^3.
    pub(super) compliance_weight: Vec<f64>,
    /// Weights of a span between two hinges.
    pub(super) hinged: HingedWeights,
    /// The shell of a disc.
    pub(super) disc: Option<DiscParts>,
}

/// Points at which bending is evaluated.
///
/// Curvature is a function of temperature through the expansion tables, whose second derivative
/// jumps at every entry. Temperature itself is smooth, so it is carried to three times as many
/// points and the bending integrals are taken there; without tables the grid's own nodes are
/// enough.
#[derive(Debug, Clone)]
pub(super) struct BendPoints {
    grid: Option<Grid>,
    rule: Option<Refinement>,
}

/// Refinement of the bending points where there are tables.
const FINER: usize = 3;

impl BendPoints {
    fn new(device: &Device, grid: &Grid) -> BendPoints {
        let is_table = |p: &Property| matches!(p.law, Law::Table(_));
        let corners = device.laws.layers.iter().any(|l| {
            let a = &l.alloy;
            is_table(&a.expansion.property) || is_table(&a.youngs_modulus)
        });
        let order = FINER * grid.order;
        BendPoints {
            grid: corners.then(|| grid.with_order(order)),
            rule: corners.then(|| Refinement::new(grid.order, order)),
        }
    }

    /// Node values carried to the bending points.
    pub(super) fn values(&self, grid: &Grid, at: impl Fn(usize) -> f64) -> Vec<f64> {
        match (&self.grid, &self.rule) {
            (Some(finer), Some(rule)) => grid.refine(finer, rule, at),
            _ => (0..grid.len()).map(at).collect(),
        }
    }
}

impl Model {
    /// Put a device on a grid.
    pub fn new(device: &Device, fineness: Fineness) -> Model {
        let push = device.push_point_m;
        let grid = Grid::new(device.length_m, fineness);
        let grid = match device.disc() {
            Some(disc) => grid.in_disc(disc.radius_m),
            None => grid,
        };
        let bending = BendPoints::new(device, &grid);
        let points = bending.grid.as_ref().unwrap_or(&grid);
        let hinged = device.mechanism().hinged(points);
        let layout = Layout::new(device, grid.len());
        let deflection_weight = points.functional(push, |x| push - x);
        let compliance_weight = points.functional(push, |x| (push - x).powi(2));
        let along = AlongParts::new(device, &grid, &layout);
        let gauge = GaugeParts::new(
            &grid,
            bending.grid.as_ref().zip(bending.rule.as_ref()),
            &deflection_weight,
            &compliance_weight,
            layout.len.next_multiple_of(MOST_LANES),
        );
        let uniform_model = device
            .uniform()
            .map(|uniform| Arc::new(Model::new(&uniform, fineness)));
        let crossing = uniform_model.as_ref().and_then(|uniform: &Arc<Model>| {
            let along = uniform.along.as_ref()?;
            CrossingParts::new(device, &grid, &layout, along.len, along.fastest_per_s)
        });
        Model {
            crossing,
            uniform_model,
            hotter: OnceLock::new(),
            fineness,
            poles: PoleNet::new(device, fineness, &layout),
            along,
            gauge,
            remembered: Remembered::default(),
            deflection_weight,
            compliance_weight,
            hinged,
            disc: device
                .disc()
                .map(|disc| DiscParts::new(disc, device, &grid)),
            bending,
            layout,
            grid,
            device: device.clone(),
        }
    }

    /// The steady state at a current and an ambient: remembered, or found by `find`.
    pub fn steady<E>(
        &self,
        current_a: f64,
        ambient_k: f64,
        find: impl FnOnce() -> Result<Option<Vec<f64>>, E>,
    ) -> Result<Option<Vec<f64>>, E> {
        let lock = || match self.remembered.0.lock() {
            Ok(guard) => guard,
            Err(poisoned) => poisoned.into_inner(),
        };
        if let Some((_, _, y)) = lock()
            .iter()
            .find(|(i, t, _)| *i == current_a && *t == ambient_k)
        {
            return Ok(Some(y.clone()));
        }
        let found = find()?;
        if let Some(y) = &found {
            let mut all = lock();
            if all.len() >= KEPT_STATES {
                all.remove(0);
            }
            all.push((current_a, ambient_k, y.clone()));
        }
        Ok(found)
    }

    /// The same model with fits that go on to where metals soften, built when first asked for.
    pub fn hotter(&self) -> Option<&Model> {
        let built = || {
            Some(Arc::new(Model::new(
                &self.device.with_hot_fits()?,
                self.fineness,
            )))
        };
        self.hotter.get_or_init(built).as_deref()
    }

    /// Parts of the fast right-hand side, where the device has one.
    pub fn fast(&self) -> Option<&AlongParts> {
        self.along.as_ref()
    }

    /// Whether every temperature of the strip lies in the range of the fits of the fast right-hand
    /// side.
    pub fn within_fits(&self, ambient_k: f64, y: &[f64]) -> bool {
        self.within_fits_by(ambient_k, y, 0.0)
    }

    /// The same of temperatures so far on either side of them, K.
    pub(super) fn within_fits_by(&self, ambient_k: f64, y: &[f64], away_k: f64) -> bool {
        let Some(parts) = &self.along else {
            return false;
        };
        let air = self.layout.housing.map_or(ambient_k, |h| y[h]);
        let (low, high) = parts.range_k(&self.device, air);
        y[..self.layout.strip]
            .iter()
            .all(|t| low <= *t - away_k && *t + away_k <= high)
    }

    /// Fastest rate at which heat evens out along the strip, 1/s, where the fast form exists.
    pub fn fastest_per_s(&self) -> Option<f64> {
        self.along.as_ref().map(|a| a.fastest_per_s)
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
        if let Some(poles) = &self.poles {
            return poles.shape(l);
        }
        // A shunt that heats an end node couples that node to the whole strip.
        let half_width = match self.device.shunt_heat_to {
            None | Some(crate::scenario::ShuntNode::Housing) => self.grid.order,
            Some(_) => l.strip,
        };
        let across = self.slow_modes();
        Shape {
            band: l.strip * (1 + across),
            half_width: half_width * (1 + across) + across,
            border: l.modes - l.strip,
            across,
        }
    }

    /// `d^2T/dx^2` at every node inside the strip, K/m^2, in the weak sense that conserves heat; 0
    /// at the two ends, which belong to the terminals.
    pub fn second_derivative(&self, y: &[f64]) -> Vec<f64> {
        self.second_derivative_of(|j| y[j])
    }

    /// `d^2b/dx^2` of every mode at every node: station by station, as the modes stand in the
    /// state.
    pub fn mode_second_derivative(&self, y: &[f64]) -> Vec<f64> {
        let slow = self.slow_modes();
        let mut out = vec![0.0; slow * self.layout.strip];
        for k in 0..slow {
            let one = self.second_derivative_of(|j| y[self.layout.modes + j * slow + k]);
            for (j, value) in one.into_iter().enumerate() {
                out[j * slow + k] = value;
            }
        }
        out
    }

    fn second_derivative_of(&self, value: impl Fn(usize) -> f64) -> Vec<f64> {
        let p = self.grid.order + 1;
        let n = self.layout.strip;
        let mut out = vec![0.0; n];
        for e in &self.grid.elements {
            for q in 0..p {
                let row = &e.derivative_per_m[q * p..(q + 1) * p];
                let slope: f64 = row
                    .iter()
                    .enumerate()
                    .map(|(c, a)| a * value(e.first + c))
                    .sum();
                for (r, a) in row.iter().enumerate() {
                    out[e.first + r] -= a * e.weight_m[q] * slope;
                }
            }
        }
        for (o, w) in out.iter_mut().zip(&self.grid.weight_m) {
            *o /= w;
        }
        (out[0], out[n - 1]) = (0.0, 0.0);
        out
    }

    /// Modes across the layers carried at each station.
    pub fn slow_modes(&self) -> usize {
        self.device.through.as_ref().map_or(0, |t| t.len())
    }

    /// Amplitudes of the modes at a station.
    pub fn amplitudes<'y>(&self, y: &'y [f64], j: usize) -> &'y [f64] {
        let slow = self.slow_modes();
        &y[self.layout.modes + j * slow..self.layout.modes + (j + 1) * slow]
    }

    /// What the strip is at a station at a temperature; a disc that bridges two contacts is heated
    /// evenly.
    pub(super) fn line(&self, t_k: f64, j: usize) -> Line {
        let mut line = self.device.laws.line(t_k);
        match self.device.disc().and_then(|d| d.bridge_ohm) {
            None => {
                line.resistance *= self.grid.crowding[j];
                line.resistance_slope *= self.grid.crowding[j];
            }
            Some(ohm) => {
                (line.resistance, line.resistance_slope) = (ohm / self.grid.extent_m, 0.0);
            }
        }
        line
    }

    /// Resistance per length at a station, ohm/m.
    pub fn resistance_per_m(&self, y: &[f64], j: usize) -> f64 {
        match &self.device.through {
            None => self.line(y[j], j).resistance,
            Some(through) => through.heat(y[j], self.amplitudes(y, j), 0.0).resistance,
        }
    }

    /// Mean strip temperature, K.
    pub fn mean_k(&self, y: &[f64]) -> f64 {
        let sum: f64 = self.grid.weight_m.iter().zip(y).map(|(w, t)| w * t).sum();
        sum / self.grid.extent_m
    }

    /// Temperature at the middle of the strip, K.
    pub fn mid_k(&self, y: &[f64]) -> f64 {
        self.grid
            .interpolate(&y[..self.layout.strip], 0.5 * self.device.length_m)
    }

    /// Hottest node of the strip, K.
    pub fn peak_k(&self, y: &[f64]) -> f64 {
        y[..self.layout.strips()]
            .iter()
            .copied()
            .fold(f64::NEG_INFINITY, f64::max)
    }

    /// Lowest and highest temperature of the strip, K.
    pub fn strip_range_k(&self, y: &[f64]) -> (f64, f64) {
        let low = y[..self.layout.strips()]
            .iter()
            .copied()
            .fold(f64::INFINITY, f64::min);
        (low, self.peak_k(y))
    }
}
