//! Heat across the layers in the march: which currents need it, and its explicit steps.
//!
//! A strong current leaves no time for heat to settle across the layers, and its trip is over
//! before the equation becomes stiff: explicit steps serve it. A weak one heats all layers alike to
//! the accuracy of the model, so that one temperature a section serves it once the modes left by a
//! stronger one have decayed.

use super::fast::{Crossing, CrossingFits, Layers, by_difference};
use super::through::REFERENCE_K;
use super::{Drive, Gauge, Model, Phase, Plant, PushDistance};
use crate::solve::wide::{Row, Wide};
use crate::solve::{Distance, Flow, Sight, StiffFlow, newton};
use pulp::Simd;

/// Decay of the slowest mode that is waited for, in its own time constants: a three-thousandth is
/// left.
const SETTLED: f64 = 8.0;

/// What modes at rest may cost of the accuracy asked for: what is stated of an answer is more.
const AT_REST: f64 = 0.2;
/// What a mode at rest costs by what it is behind its sources, in parts of what it bends at the start over
/// the square of its rests until the event: 0.2 to 0.8 on shipped parts.
const BEHIND: f64 = 0.5;
/// What modes at rest cost by what they conduct near the ends, where the strip is cold, in parts of what
/// they spread there over the layer that is: 0.8 to 3 on shipped parts where it counts.
const AT_ENDS: f64 = 3.0;

/// How soon is soon, in parts of the time in which the slowest mode at rest settles: the growth of sources
/// is taken from there.
const SOON: f64 = 0.01;

impl Model {
    /// The same grid with one temperature a section, where a drive is too weak to need more.
    pub fn one_temperature(&self, drive: &Drive) -> Option<&Model> {
        let uniform = self.uniform_model.as_deref()?;
        let highest_a = match drive.phase {
            Phase::Closed => drive.current.highest_a(),
            Phase::Open => 0.0,
        };
        let squared = (self.device.current_share * highest_a).powi(2);
        (squared < self.device.across_from_a2).then_some(uniform)
    }

    /// Time that the modes across the layers take to decay, s.
    pub fn across_settles_s(&self) -> f64 {
        match &self.device.through {
            Some(through) if !through.is_empty() => SETTLED / through.rate_per_s(0),
            _ => 0.0,
        }
    }

    /// A state of one temperature a section as a state of this model.
    pub fn widened(&self, mut y: Vec<f64>) -> Vec<f64> {
        y.resize(self.layout.len, 0.0);
        y
    }
}

/// How the march sees a state: a row of temperatures, and one for each mode with its amplitude at
/// every node. An amplitude is counted from the ambient and in kelvin, so that its errors weigh
/// like those of a temperature.
#[derive(Clone, Copy)]
struct Packing {
    kelvin: f64,
    reference_k: f64,
    /// Length of a row.
    row: usize,
    /// Modes of the model, and those that move in the march.
    slow: usize,
    moving: usize,
    strip: usize,
    modes: usize,
}

impl Packing {
    fn of(model: &Model, drive: &Drive, lanes: usize) -> Packing {
        Packing {
            kelvin: model.device.laws.capacity_per_area(REFERENCE_K).sqrt(),
            reference_k: drive.ambient.value_k,
            row: model.layout.modes.div_ceil(lanes) * lanes,
            slow: model.slow_modes(),
            moving: model.slow_modes(),
            strip: model.layout.strip,
            modes: model.layout.modes,
        }
    }

    fn len(&self) -> usize {
        self.row * (1 + self.moving)
    }

    /// Places of the amplitudes: in the march's state and in the model's.
    fn amplitudes(self) -> impl Iterator<Item = (usize, usize)> {
        (0..self.moving).flat_map(move |k| {
            (0..self.strip).map(move |j| ((k + 1) * self.row + j, self.modes + j * self.slow + k))
        })
    }

    fn pack(&self, y: &[f64]) -> Row {
        let mut out = Row::zeros(self.len());
        out.fill(self.reference_k);
        out[..self.modes].copy_from_slice(&y[..self.modes]);
        for (packed, at) in self.amplitudes() {
            out[packed] = y[at] / self.kelvin + self.reference_k;
        }
        out
    }

    fn unpack(&self, packed: &[f64], y: &mut [f64]) {
        y[..self.modes].copy_from_slice(&packed[..self.modes]);
        for (from, at) in self.amplitudes() {
            y[at] = (packed[from] - self.reference_k) * self.kelvin;
        }
    }
}

/// The heat equation with its modes across the layers, for the march.
pub struct Across<'a, S: Simd> {
    simd: S,
    plant: Plant<'a>,
    packing: Packing,
    crossing: Crossing<'a, S>,
}

impl<'a, S: Simd> Across<'a, S> {
    /// Of a model whose heat across the layers is resolved; `None` where there is no such form.
    pub fn new(simd: S, model: &'a Model, drive: Drive) -> Option<Across<'a, S>> {
        Some(Across {
            simd,
            plant: Plant { model, drive },
            packing: Packing::of(model, &drive, S::F64_LANES),
            crossing: Crossing::new(simd, model, drive)?,
        })
    }

    /// Look how soon the event comes from this state, if not the end, and let only those modes move without
    /// which an answer would miss this accuracy.
    pub fn move_what_lags(&mut self, gauge: Gauge, t: f64, end_s: f64, y: &[f64], accuracy: f64) {
        let along = &self.crossing.along;
        let Some(mut push) = PushDistance::new(self.simd, along.model, gauge) else {
            return;
        };
        if !along.constant {
            return;
        }
        let moving = std::mem::take(&mut self.packing.moving);
        let state = self.pack(y);
        self.packing.moving = moving;
        let rates = self.sources(t, &state);
        let (value, rate) = push.value_and_rate(t, &state, &rates);
        let ahead_s = newton(Sight { value, rate }).min(end_s - t);
        if !ahead_s.is_finite() {
            return;
        }
        let device = &self.plant.model.device;
        let line = device.laws.line(REFERENCE_K);
        let cold_m = (line.conduction / line.capacity * ahead_s).sqrt();
        let spread = 1.0 / (line.conduction * cold_m * device.length_m);
        let sources = rates[self.packing.row..].chunks_exact(self.packing.row);
        let costs = self.crossing.at_rest(sources).map(|rest| {
            let rests = rest.per_s * ahead_s;
            BEHIND * rest.bends_m.abs() / (value.abs() * rests * rests)
                + AT_ENDS * rest.spreads_w_m3_per_k * spread
        });
        let costs: Vec<f64> = costs.collect();
        let mut moving = costs.len();
        let mut cost = 0.0;
        while let Some(next) = moving.checked_sub(1).map(|k| costs[k])
            && cost + next <= AT_REST * accuracy
        {
            cost += next;
            moving -= 1;
        }
        self.let_move(moving);
    }

    /// Rates of a state in which the modes beyond its rows are at nothing: what their amplitudes gain is
    /// their sources.
    fn sources(&mut self, t: f64, state: &[f64]) -> Row {
        let moved = self.packing.moving;
        self.let_move(self.packing.slow);
        let mut all = Row::zeros(self.len());
        all.fill(self.packing.reference_k);
        all[..state.len()].copy_from_slice(state);
        let mut rates = Row::zeros(self.len());
        self.crossing.rates(t, &all, &mut rates);
        self.let_move(moved);
        rates
    }

    fn let_move(&mut self, moving: usize) {
        self.crossing.move_only(moving);
        self.packing.moving = moving;
    }

    /// The state as the march sees it.
    pub fn pack(&self, y: &[f64]) -> Row {
        self.packing.pack(y)
    }

    /// The march's state as the model's, but for the modes that follow.
    pub fn unpack(&self, packed: &[f64], y: &mut [f64]) {
        self.packing.unpack(packed, y);
    }

    /// Give the modes that follow what they have come to at this time.
    pub fn rest(&mut self, t: f64, y: &mut [f64]) {
        let (moved, slow, modes) = (self.packing.moving, self.packing.slow, self.packing.modes);
        if moved == slow {
            return;
        }
        let per_s: Vec<f64> = self.crossing.mode_rates().collect();
        let (mut state, mut rates) = (self.pack(y), Row::zeros(self.len()));
        self.crossing.rates(t, &state, &mut rates);
        let now = self.sources(t, &state);
        let soon_s = SOON / per_s[moved];
        for (value, rate) in state.iter_mut().zip(&rates[..]) {
            *value += soon_s * rate;
        }
        let soon = self.sources(t + soon_s, &state);
        let all = Packing {
            moving: slow,
            ..self.packing
        };
        for (from, at) in all.amplitudes() {
            let k = (at - modes) % slow;
            if k >= moved {
                let behind = (soon[from] - now[from]) / (soon_s * per_s[k]);
                y[at] = (now[from] - behind) / per_s[k] * self.packing.kelvin;
            }
        }
    }

    /// The fits it is computed with.
    pub fn fits(&self) -> CrossingFits<'a> {
        self.crossing.fits()
    }

    /// Distance from an event.
    pub fn distance(&self, gauge: Gauge) -> AcrossDistance<'a, S> {
        let Plant { model, drive } = self.plant;
        let in_registers = || {
            let uniform = model.uniform_model.as_deref()?;
            let push = model
                .mechanism()
                .push(gauge, model.device.release.preload_loss)?;
            Some(InRegisters {
                even: PushDistance::new(self.simd, uniform, gauge)?,
                layers: self.crossing.layers(),
                counts: push.deflection,
            })
        };
        AcrossDistance {
            plant: Plant { model, drive },
            packing: self.packing,
            gauge,
            in_registers: in_registers(),
        }
    }
}

impl<S: Simd> Flow<S> for Across<'_, S> {
    fn len(&self) -> usize {
        self.packing.len()
    }

    fn unknowns(&self) -> usize {
        let Packing { modes, strip, .. } = self.packing;
        modes + strip * self.packing.moving
    }

    fn rates(&mut self, t: Wide<S>, y: &[f64], dy: &mut [f64]) {
        self.crossing.rates(t.range().0, y, dy);
    }

    fn reference(&self) -> Wide<S> {
        Wide::splat(self.simd, self.packing.reference_k)
    }

    fn fastest_per_s(&self) -> f64 {
        self.crossing.fastest_per_s()
    }
}

/// Explicit steps alone: the inverse of so large a matrix is dearer than the band of the general
/// way.
impl<S: Simd> StiffFlow<S> for Across<'_, S> {
    fn implicit_from(&self) -> f64 {
        f64::INFINITY
    }

    fn jacobian_columns(&mut self, _t: f64, _y: &[f64], _columns: &mut [f64]) {
        unreachable!("no implicit step is taken");
    }

    fn time_slope(&mut self, _t: f64, _y: &[f64], _dfdt: &mut [f64]) -> bool {
        unreachable!("no implicit step is taken");
    }
}

/// Distance from an event where heat across the layers is resolved.
pub struct AcrossDistance<'a, S: Simd> {
    plant: Plant<'a>,
    packing: Packing,
    gauge: Gauge,
    in_registers: Option<InRegisters<'a, S>>,
}

struct InRegisters<'a, S: Simd> {
    /// The distance at one temperature a section.
    even: PushDistance<'a, S>,
    /// What heat across the layers adds, and how much that counts.
    layers: Layers<'a, S>,
    counts: f64,
}

impl<S: Simd> Distance for AcrossDistance<'_, S> {
    fn value_and_rate(&mut self, t: f64, y: &[f64], dy: &[f64]) -> (f64, f64) {
        if let Some(here) = &mut self.in_registers {
            let (value, rate) = here.even.value_and_rate(t, y, dy);
            let (more, faster) = here.layers.deflection(t, y, dy);
            return (value + here.counts * more, rate + here.counts * faster);
        }
        let mut state = vec![0.0; self.plant.model.layout.len];
        by_difference(y, dy, |after_s, y| {
            self.packing.unpack(y, &mut state);
            self.plant.distance_m(self.gauge, t + after_s, &state)
        })
    }
}
