//! How answers move with a number of the scenario, told by the equations and not by asking again.
//!
//! A steady state is a root F(y, p) = 0, so dy/dp = -F_p / F_y, and the trip point, at which the
//! margin of the steady state is zero, moves by dI/dp = -m_p / m_I. A run is followed by the
//! equation of its variation, s' = f_y s + f_p, and its event, g(y, p) = 0, comes sooner or later by
//! dt/dp = -(g_y s + g_p) / g_t. What stands for the index p is a difference of right-hand sides at
//! the same state, between the device a little below and a little above.

use super::PredictError;
use super::case::Case;
use super::fidelity::Ladder;
use super::session::{Carried, Cooled, Session, Watch};
use super::trip_point::{
    TripPointAnswer, closed_steady, margin_per_ampere, steady_moves, trip_point_on,
};
use crate::device::{Device, Drive, Fineness, Gauge, Model, Plant};
use crate::load::Programme;
use crate::solve::{DenseStep, ProfileMatrix, System};
use std::f64::consts::FRAC_1_SQRT_2;
use std::sync::Arc;

/// Steps of the variation in one of the run.
const SUBSTEPS: usize = 4;
/// Accuracy of the grid.
const ACCURACY: f64 = 1e-4;
/// Tolerance of the run that is followed.
const TOLERANCE: f64 = 1e-6;

/// A device, and the same a little below and above in some numbers, one after the other.
pub(crate) struct Nearby {
    device: Device,
    pairs: Vec<([Device; 2], f64)>,
}

/// Both ends of a number on one grid, and how far they are apart.
struct Pair {
    ends: [Arc<Model>; 2],
    apart: f64,
}

impl Pair {
    fn plants(&self, drive: Drive) -> [Plant<'_>; 2] {
        [0, 1].map(|k| Plant {
            model: &self.ends[k],
            drive,
        })
    }

    /// Slope of the right-hand side at a state.
    fn pull(&self, drive: Drive, t: f64, y: &[f64]) -> Vec<f64> {
        let [mut below, mut above] = [vec![0.0; y.len()], vec![0.0; y.len()]];
        let [low, high] = self.plants(drive);
        low.rhs(t, y, &mut below);
        high.rhs(t, y, &mut above);
        let pairs = above.iter().zip(&below);
        pairs.map(|(a, b)| (a - b) / self.apart).collect()
    }

    /// How a number of a plant and its state moves, when the state moves by `slope`.
    fn moves(
        &self,
        drive: Drive,
        y: &[f64],
        slope: &[f64],
        of: &dyn Fn(&Plant<'_>, &[f64]) -> f64,
    ) -> f64 {
        let [low, high] = self.plants(drive);
        let beside =
            |by: f64| -> Vec<f64> { y.iter().zip(slope).map(|(y, s)| y + by * s).collect() };
        let half = 0.5 * self.apart;
        (of(&high, &beside(half)) - of(&low, &beside(-half))) / self.apart
    }
}

impl Nearby {
    /// A device, and the ends of every number with how far they are apart.
    pub(crate) fn new(device: Device, pairs: Vec<([Device; 2], f64)>) -> Nearby {
        Nearby { device, pairs }
    }

    /// Every number's ends on a grid; `None` where its grid has other unknowns.
    fn pairs_on(&self, model: &Model, fineness: Fineness) -> Vec<Option<Pair>> {
        let on = |end: &Device| {
            let longer = end.length_m / self.device.length_m;
            let beside = end.on(Fineness {
                end_element_m: fineness.end_element_m * longer,
                ..fineness
            });
            (beside.layout.len == model.layout.len).then_some(beside)
        };
        let pair = |(ends, apart): &([Device; 2], f64)| {
            Some(Pair {
                ends: [on(&ends[0])?, on(&ends[1])?],
                apart: *apart,
            })
        };
        self.pairs.iter().map(pair).collect()
    }

    /// The part on the grid of steady states.
    fn settled(&self) -> (Fineness, Arc<Model>) {
        let rung = Ladder::new(&self.device, f64::INFINITY, ACCURACY).rung(0);
        (rung.fineness, self.device.on(rung.fineness))
    }

    /// How the largest current that is held for ever in an air moves with each number, A.
    pub(crate) fn trip_point(
        &self,
        air_k: f64,
        guess_a: f64,
    ) -> Result<Vec<Option<f64>>, PredictError> {
        let (fineness, model) = self.settled();
        let TripPointAnswer::At { current_a, state } = trip_point_on(&model, air_k, guess_a)?
        else {
            return Ok(vec![None; self.pairs.len()]);
        };
        let drive = Drive::constant(current_a, air_k);
        let plant = Plant {
            model: &model,
            drive,
        };
        let per_ampere = margin_per_ampere(&model, air_k, current_a, &state);
        let margin = |plant: &Plant<'_>, y: &[f64]| plant.distance_m(Gauge::RELEASE, 0.0, y);
        let moves = |pair: Pair| {
            let slope = steady_moves(&plant, &state, &pair.pull(drive, 0.0, &state))?;
            let moved = -pair.moves(drive, &state, &slope, &margin) / per_ampere;
            Some(moved).filter(|moved| moved.is_finite())
        };
        let pairs = self.pairs_on(&model, fineness);
        Ok(pairs.into_iter().map(|pair| moves(pair?)).collect())
    }

    /// How the drop across a pole at a current held for ever moves, V.
    pub(crate) fn drop(
        &self,
        current_a: f64,
        air_k: f64,
    ) -> Result<Vec<Option<f64>>, PredictError> {
        let (fineness, model) = self.settled();
        let steady = closed_steady(&model, current_a, air_k, &model.uniform(air_k))?;
        let drive = Drive::constant(current_a, air_k);
        let plant = Plant {
            model: &model,
            drive,
        };
        let drop = |plant: &Plant<'_>, y: &[f64]| plant.drop_v(0.0, y).unwrap_or(0.0);
        let moves = |pair: Pair| {
            let y = steady.as_ref()?;
            let slope = steady_moves(&plant, y, &pair.pull(drive, 0.0, y))?;
            Some(pair.moves(drive, y, &slope, &drop))
        };
        let pairs = self.pairs_on(&model, fineness);
        Ok(pairs.into_iter().map(|pair| moves(pair?)).collect())
    }

    /// How trip time and wait to relatch move under a constant current that trips after about a
    /// time, s.
    pub(crate) fn times(
        &self,
        case: &Case,
        current_a: f64,
        time_s: f64,
    ) -> Result<Vec<Option<[f64; 2]>>, PredictError> {
        let none = vec![None; self.pairs.len()];
        let fineness = Ladder::new(&self.device, time_s, ACCURACY).rung(0).fineness;
        let model = self.device.on(fineness);
        let mut session = case.start(&model, TOLERANCE)?;
        let mut varied = Varied::new(self.pairs_on(&model, fineness), case, &session.y)?;
        let load = Programme::constant(current_a);
        if session.carry(&load, 0.0, case.longest_s, 0.0, &mut varied)? != Carried::Released {
            return Ok(none);
        }
        let air_k = case.ambient_k();
        let closed = Drive::constant(current_a, air_k);
        let trips = varied.event(&session, closed, Gauge::RELEASE);
        let opening_s = self.device.release.opening_time_s;
        session.open(&load, 0.0, opening_s, &mut varied)?;
        for (k, (ends, apart)) in self.pairs.iter().enumerate() {
            let [low, high] = [&ends[0], &ends[1]].map(|end| end.release.opening_time_s);
            varied.shift(&session, closed, k, (high - low) / apart);
        }
        let opened_s = session.t;
        let until_s = opened_s + super::run::LONGEST_COOLING_S;
        let waits = match session.wait_for_relatch(until_s, &mut varied)? {
            Cooled::Relatched => varied.event(&session, Drive::open(air_k), Gauge::Relatch),
            Cooled::Never | Cooled::StillOpen => vec![f64::NAN; self.pairs.len()],
        };
        let each = trips.into_iter().zip(waits).enumerate();
        let told = each.map(|(k, (trip, wait))| {
            let is_told = varied.slopes[k].is_some() && trip.is_finite();
            is_told.then_some([trip, wait])
        });
        Ok(told.collect())
    }
}

/// The variation of a run with every number.
struct Varied {
    pairs: Vec<Option<Pair>>,
    /// Slope of the state over each number; `None`: it has none.
    slopes: Vec<Option<Vec<f64>>>,
}

impl Varied {
    /// At the start of a case.
    fn new(pairs: Vec<Option<Pair>>, case: &Case, y: &[f64]) -> Result<Varied, PredictError> {
        let start = |pair: &Option<Pair>| -> Result<Option<Vec<f64>>, PredictError> {
            let Some(pair) = pair else { return Ok(None) };
            let below = case.start(&pair.ends[0], TOLERANCE)?.y;
            let above = case.start(&pair.ends[1], TOLERANCE)?.y;
            let ends = above.iter().zip(&below);
            let slope: Vec<f64> = ends.map(|(a, b)| (a - b) / pair.apart).collect();
            Ok((slope.len() == y.len()).then_some(slope))
        };
        let slopes = pairs.iter().map(start).collect::<Result<_, _>>()?;
        Ok(Varied { pairs, slopes })
    }

    /// How the event at which a session stands moves in time, for every number; from here on the
    /// state is that at the event.
    fn event(&mut self, session: &Session<'_>, drive: Drive, gauge: Gauge) -> Vec<f64> {
        let (t, y) = (session.t, &session.y);
        let plant = Plant {
            model: session.model,
            drive,
        };
        let mut rates = vec![0.0; y.len()];
        plant.rhs(t, y, &mut rates);
        let distance = |plant: &Plant<'_>, y: &[f64]| plant.distance_m(gauge, t, y);
        let beside =
            |by: f64| -> Vec<f64> { y.iter().zip(&rates).map(|(y, f)| y + by * f).collect() };
        // A step in which no node moves by more than a hundredth of a kelvin.
        let fastest = rates.iter().fold(1e-9f64, |m, f| m.max(f.abs()));
        let step_s = 1e-2 / fastest;
        let rate = (distance(&plant, &beside(step_s)) - distance(&plant, &beside(-step_s)))
            / (2.0 * step_s);
        let moved = |(pair, slope): (&Option<Pair>, &Option<Vec<f64>>)| match (pair, slope) {
            (Some(pair), Some(slope)) => -pair.moves(drive, y, slope, &distance) / rate,
            _ => f64::NAN,
        };
        let later: Vec<f64> = self.pairs.iter().zip(&self.slopes).map(moved).collect();
        for (k, later_s) in later.iter().enumerate() {
            self.shift(session, drive, k, *later_s);
        }
        later
    }

    /// The state later by so much for one of a number.
    fn shift(&mut self, session: &Session<'_>, drive: Drive, k: usize, later_s: f64) {
        let plant = Plant {
            model: session.model,
            drive,
        };
        let mut rates = vec![0.0; session.y.len()];
        plant.rhs(session.t, &session.y, &mut rates);
        if let Some(slope) = &mut self.slopes[k] {
            for (slope, rate) in slope.iter_mut().zip(&rates) {
                *slope += rate * later_s;
            }
        }
    }
}

impl Watch for Varied {
    /// The two stages of Alexander's L-stable method of order 2 (SIAM J. Numer. Anal. 14, 1977,
    /// 1006; from memory), the second of which ends the step.
    fn step(&mut self, plant: &Plant<'_>, dense: &DenseStep) {
        let gamma = 1.0 - FRAC_1_SQRT_2;
        let h = dense.h / SUBSTEPS as f64;
        let shift = 1.0 / (gamma * h);
        let mut y = vec![0.0; dense.start().len()];
        let mut jacobian = ProfileMatrix::zeros(plant.shape());
        let mut factors = ProfileMatrix::zeros(plant.shape());
        for k in 0..SUBSTEPS {
            let t = dense.t + k as f64 * h;
            let mut from = self.slopes.clone();
            for (part, is_last) in [(gamma, false), (1.0, true)] {
                let at = t + part * h;
                dense.at(at, &mut y);
                jacobian.clear();
                plant.jacobian(at, &y, &mut jacobian);
                factors.set_shifted_negative(&jacobian, shift);
                let is_regular = factors.factorise();
                let each = self.pairs.iter().zip(&mut self.slopes).zip(&mut from);
                for ((pair, slope), from) in each {
                    let (Some(pair), Some(own), Some(start)) = (pair, slope.as_mut(), from) else {
                        continue;
                    };
                    let pull = pair.pull(plant.drive, at, &y);
                    let mut stage: Vec<f64> = (start.iter().zip(&pull))
                        .map(|(start, pull)| start * shift + pull)
                        .collect();
                    factors.solve(&mut stage);
                    if is_last {
                        own.clone_from(&stage);
                    } else {
                        for ((start, own), stage) in start.iter_mut().zip(own.iter()).zip(&stage) {
                            *start = own + (1.0 - gamma) / gamma * (stage - own);
                        }
                    }
                    if !is_regular || stage.iter().any(|s| !s.is_finite()) {
                        *slope = None;
                    }
                }
            }
        }
    }
}
