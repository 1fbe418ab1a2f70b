//! Poles beside one another: each a strip of its own with its nodes, heat passing between
//! neighbours.
//!
//! A pole is the same model as a part of one strip; here its unknowns are found among those of all,
//! and what flows between poles is added. All strips stand first in the state, then the lumped
//! nodes pole by pole, last the air where it is one.

use super::plant::NodeTerms;
use super::{Device, Drive, Fineness, HeatFlows, Layout, Model, Plant, Powers};
use crate::scenario::{BarKind, Housing, Mechanism, Pole, Poles};
use crate::solve::{ProfileMatrix, Shape};
use std::sync::Arc;

/// The poles of a device on a grid.
#[derive(Debug, Clone)]
pub struct PoleNet {
    each: Vec<(Pole, Arc<Model>)>,
    /// Pairs of unknowns between which heat passes, W/K.
    links: Vec<(usize, usize, f64)>,
    ties_strips: bool,
}

/// Flows into all nodes, W; their heat capacities, J/K, and the slopes of those.
struct Heat {
    flow: Vec<f64>,
    mass: Vec<f64>,
    mass_slope: Vec<f64>,
}

impl Device {
    /// One pole by itself.
    pub fn pole(&self, pole: &Pole) -> Device {
        let mut alone = self.clone();
        alone.poles = None;
        if let Some(latch) = self.release.mechanism.latch() {
            alone.release.mechanism = Mechanism::Latch(*latch);
        }
        alone.housing = self.housing.map(|h| Housing {
            conductance_w_per_k: pole.housing_w_per_k.unwrap_or(h.conductance_w_per_k),
            ..h
        });
        alone
    }

    /// How many poles it has, and whether its bar notices a lost phase.
    pub fn bar(&self) -> (usize, bool) {
        let differs = |p: &Poles| (p.each.len(), p.bar == BarKind::Differential);
        self.poles.as_ref().map_or((1, false), differs)
    }

    /// The same part with other currents in its poles, against the load's.
    pub fn with_pole_currents(&self, factors: &[f64]) -> Device {
        let mut device = self.clone();
        if let Some(poles) = &mut device.poles {
            for (pole, factor) in poles.each.iter_mut().zip(factors) {
                pole.current_factor = *factor;
            }
        }
        device
    }
}

impl PoleNet {
    /// The poles of a device, where it has some.
    pub(super) fn new(device: &Device, fineness: Fineness, layout: &Layout) -> Option<PoleNet> {
        let poles = device.poles.as_ref()?;
        let mut each: Vec<(Pole, Arc<Model>)> = Vec::with_capacity(poles.each.len());
        for pole in &poles.each {
            let alike = |p: &Pole| p.housing_w_per_k == pole.housing_w_per_k;
            let model = match each.iter().find(|(p, _)| alike(p)) {
                Some((_, model)) => model.clone(),
                None => Arc::new(Model::new(&device.pole(pole), fineness)),
            };
            each.push((*pole, model));
        }
        Some(PoleNet {
            links: links(poles, layout, &each[0].1.layout),
            ties_strips: poles.clamped_w_per_k > 0.0,
            each,
        })
    }

    /// Profile of the Jacobian of all.
    pub(super) fn shape(&self, layout: &Layout) -> Shape {
        let alone = self.each[0].1.shape();
        Shape {
            band: layout.strips(),
            half_width: if self.ties_strips {
                layout.strip
            } else {
                alone.half_width
            },
            border: layout.modes - layout.strips(),
            across: 0,
        }
    }

    /// Calls `f` with every pole, its model and its own unknowns.
    pub(super) fn each<'n>(
        &'n self,
        layout: &Layout,
        y: &[f64],
        mut f: impl FnMut(usize, &Pole, &'n Model, &[f64]),
    ) {
        for (k, (pole, model)) in self.each.iter().enumerate() {
            let own: Vec<f64> = (0..model.layout.len)
                .map(|i| y[layout.of_pole(k, i)])
                .collect();
            f(k, pole, model, &own);
        }
    }

    fn heat(&self, plant: &Plant<'_>, t: f64, y: &[f64]) -> Heat {
        let layout = &plant.model.layout;
        let zero = || vec![0.0; layout.len];
        let mut all = Heat {
            flow: zero(),
            mass: zero(),
            mass_slope: zero(),
        };
        let mut flow = Vec::new();
        let mut terms: Vec<NodeTerms> = Vec::new();
        self.each(layout, y, |k, pole, model, y| {
            let alone = plant.of_pole(pole, model);
            alone.node_terms(t, y, &mut terms);
            flow.resize(y.len(), 0.0);
            alone.flows(t, y, &terms, &mut flow);
            for (i, flow) in flow.iter().enumerate() {
                let at = layout.of_pole(k, i);
                all.flow[at] += flow;
                all.mass[at] += alone.mass(&terms, i);
            }
            for (i, term) in terms.iter().enumerate() {
                all.mass_slope[layout.of_pole(k, i)] =
                    model.grid.weight_m[i] * term.line.capacity_slope;
            }
        });
        all
    }

    /// Heat from one pole to the next, W.
    fn linked(&self, y: &[f64]) -> impl Iterator<Item = (usize, usize, f64, f64)> {
        let passes = |(a, b, g): &(usize, usize, f64)| (*a, *b, *g, g * (y[*a] - y[*b]));
        self.links
            .iter()
            .map(passes)
            .collect::<Vec<_>>()
            .into_iter()
    }

    /// The right-hand side of all poles.
    pub(super) fn rhs(&self, plant: &Plant<'_>, t: f64, y: &[f64], dy: &mut [f64]) {
        let Heat { mut flow, mass, .. } = self.heat(plant, t, y);
        for (a, b, _, passes) in self.linked(y) {
            flow[a] -= passes;
            flow[b] += passes;
        }
        for ((d, flow), mass) in dy.iter_mut().zip(&flow).zip(&mass) {
            *d = flow / mass;
        }
    }

    /// Its slopes against every unknown.
    pub(super) fn add_jacobian(&self, plant: &Plant<'_>, t: f64, y: &[f64], a: &mut ProfileMatrix) {
        let layout = &plant.model.layout;
        let heat = self.heat(plant, t, y);
        let mut own = ProfileMatrix::zeros(self.each[0].1.shape());
        self.each(layout, y, |k, pole, model, y| {
            own.clear();
            plant.of_pole(pole, model).add_jacobian(t, y, &mut own);
            let housing = model
                .device
                .housing
                .map_or(1.0, |h| h.heat_capacity_j_per_k);
            for i in 0..y.len() {
                let row = layout.of_pole(k, i);
                // Air of all poles holds the heat of all.
                let part = match Some(i) == model.layout.housing {
                    true => housing / heat.mass[row],
                    false => 1.0,
                };
                for j in 0..y.len() {
                    let slope = own.get(i, j);
                    if slope != 0.0 {
                        a.add(row, layout.of_pole(k, j), part * slope);
                    }
                }
            }
        });
        for (from, to, conductance, passes) in self.linked(y) {
            for (i, other, into) in [(from, to, -passes), (to, from, passes)] {
                let mass = heat.mass[i];
                let slope = into * heat.mass_slope[i] / (mass * mass);
                a.add(i, i, -conductance / mass - slope);
                a.add(i, other, conductance / mass);
            }
        }
    }

    /// Powers of all poles.
    pub(super) fn powers(&self, plant: &Plant<'_>, t: f64, y: &[f64]) -> Powers {
        let mut all = Powers::default();
        self.each(&plant.model.layout, y, |_, pole, model, y| {
            let one = plant.of_pole(pole, model).powers(t, y);
            all.electrical_w += one.electrical_w;
            all.lost_w += one.lost_w;
        });
        all
    }

    /// The largest drop across one of them, V.
    pub(super) fn largest_drop_v(&self, plant: &Plant<'_>, t: f64, y: &[f64]) -> Option<f64> {
        let mut largest: Option<f64> = None;
        self.each(&plant.model.layout, y, |_, pole, model, y| {
            let drop = plant.of_pole(pole, model).drop_v(t, y);
            largest = largest.into_iter().chain(drop).reduce(f64::max);
        });
        largest
    }

    /// Where the heat of all poles goes.
    pub(super) fn heat_flows(&self, plant: &Plant<'_>, t: f64, y: &[f64]) -> HeatFlows {
        let mut all = HeatFlows::default();
        self.each(&plant.model.layout, y, |_, pole, model, y| {
            let one = plant.of_pole(pole, model).heat_flows(t, y);
            all.electrical_w += one.electrical_w;
            all.convection_w += one.convection_w;
            all.radiation_w += one.radiation_w;
            all.terminals_w += one.terminals_w;
            all.contact_w += one.contact_w;
            all.stored_w += one.stored_w;
        });
        all
    }

    /// Heat stored in all poles, J.
    pub(super) fn stored_j(&self, layout: &Layout, y: &[f64], reference_k: f64) -> f64 {
        let mut sum = 0.0;
        self.each(layout, y, |_, _, model, y| {
            sum += model.stored_j(y, reference_k)
        });
        sum
    }
}

/// What passes heat between neighbours; `own` is the layout of one pole by itself.
fn links(poles: &Poles, layout: &Layout, own: &Layout) -> Vec<(usize, usize, f64)> {
    let pocket = own.housing.filter(|_| !poles.has_one_air_space());
    let nodes = [
        (Some(0), poles.clamped_w_per_k),
        (Some(own.fixed), poles.fixed_w_per_k),
        (pocket, poles.wall_w_per_k),
    ];
    let mut links = Vec::new();
    for k in 1..layout.poles {
        for (node, conductance) in nodes {
            if let Some(i) = node.filter(|_| conductance > 0.0) {
                links.push((layout.of_pole(k - 1, i), layout.of_pole(k, i), conductance));
            }
        }
    }
    links
}

impl Plant<'_> {
    /// One pole under its share of the drive.
    fn of_pole<'m>(&self, pole: &Pole, model: &'m Model) -> Plant<'m> {
        Plant {
            model,
            drive: Drive {
                current: self.drive.current.times(pole.current_factor),
                ..self.drive
            },
        }
    }
}
