//! What is kept of a run: states at chosen times, a time series, drawn shapes, an energy account.

use super::PredictError;
use super::ambient::ambient_piece;
use super::case::Case;
use super::outcome::{HeatFlow, Moment, Shape, State};
use super::run::RunAnswer;
use super::session::Watch;
use super::thin::thin;
use crate::device::{Drive, EnergyBalance, Model, Phase, Plant};
use crate::load::Programme;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::physics::lobatto::gauss_lobatto;
use crate::solve::DenseStep;

/// The state a person reads.
pub fn state_of(plant: &Plant<'_>, t: f64, y: &[f64]) -> State {
    let m = plant.model;
    let l = &m.layout;
    let squared = plant.strip_current_squared(t);
    let closed = plant.drive.phase == Phase::Closed;
    let deflection = m.mechanism().seen_m(m, y, squared, closed);
    State {
        time_s: t,
        current_a: plant.drive.current(t).0,
        closed,
        ambient_c: plant.drive.ambient_k(t) - ZERO_CELSIUS_K,
        clamped_terminal_c: y[0] - ZERO_CELSIUS_K,
        moving_contact_c: y[l.moving] - ZERO_CELSIUS_K,
        fixed_contact_c: y[l.fixed] - ZERO_CELSIUS_K,
        winding_c: l.winding.map(|i| y[i] - ZERO_CELSIUS_K),
        housing_c: l.housing.map(|i| y[i] - ZERO_CELSIUS_K),
        machine_case_c: (m.device.machine_case.as_ref())
            .map(|_| plant.seat_k(t, y) - ZERO_CELSIUS_K),
        strip_mean_c: m.mean_k(y) - ZERO_CELSIUS_K,
        strip_mid_c: m.mid_k(y) - ZERO_CELSIUS_K,
        strip_peak_c: m.peak_k(y) - ZERO_CELSIUS_K,
        tip_deflection_mm: 1e3 * deflection,
        release_margin_mm: -1e3 * m.release_excess_m(y, squared),
        power_w: plant.own_power_w(t, y),
    }
}

/// Records a session.
pub struct Recorder {
    /// Samples inside each step.
    per_step: usize,
    /// Times at which a state is wanted, in order.
    wanted: Vec<f64>,
    /// Time series.
    pub series: Vec<State>,
    /// Where the heat goes at the times of the series; empty unless asked for.
    pub heat: Vec<HeatFlow>,
    keeps_heat: bool,
    /// States at the wanted times.
    pub states: Vec<State>,
    /// Energy account.
    pub energy: EnergyBalance,
    /// Lowest and highest strip temperature seen, K.
    pub range_k: (f64, f64),
    /// Highest winding temperature seen, K.
    pub winding_k: f64,
    /// Highest contact-spot voltage seen while closed, V.
    pub contact_v: f64,
    /// First and last state.
    pub ends: Option<(Vec<f64>, Vec<f64>)>,
    /// States kept for drawing.
    pub snapshots: Vec<Snapshot>,
    snap_at: Vec<(f64, Moment)>,
    lobatto: (Vec<f64>, Vec<f64>),
}

/// A state kept for drawing.
#[derive(Debug, Clone)]
pub struct Snapshot {
    /// s.
    pub time_s: f64,
    /// What the moment is.
    pub moment: Moment,
    /// State.
    pub state: Vec<f64>,
    /// The state as a person reads it.
    pub seen: State,
    /// Square of the strip current, A^2.
    pub current_squared: f64,
    /// Whether the contacts are closed.
    pub closed: bool,
}

impl Snapshot {
    /// The state of a plant at a time.
    pub fn of(plant: &Plant<'_>, time_s: f64, moment: Moment, y: &[f64]) -> Snapshot {
        Snapshot {
            time_s,
            moment,
            seen: state_of(plant, time_s, y),
            state: y.to_vec(),
            current_squared: plant.strip_current_squared(time_s),
            closed: plant.drive.phase == Phase::Closed,
        }
    }
}

impl Recorder {
    /// A recorder that samples each step `per_step` times and keeps states at `wanted`.
    pub fn new(per_step: usize, mut wanted: Vec<f64>) -> Recorder {
        wanted.sort_by(f64::total_cmp);
        Recorder {
            per_step,
            wanted,
            series: Vec::new(),
            heat: Vec::new(),
            keeps_heat: false,
            states: Vec::new(),
            energy: EnergyBalance::default(),
            range_k: (f64::INFINITY, f64::NEG_INFINITY),
            winding_k: f64::NEG_INFINITY,
            contact_v: 0.0,
            ends: None,
            snapshots: Vec::new(),
            snap_at: Vec::new(),
            lobatto: gauss_lobatto(5),
        }
    }

    /// In place of a course: only what the states at the start, at release (or at the end of
    /// carrying) and at open contacts show.
    pub fn glance(
        &mut self,
        model: &Model,
        case: &Case,
        load: &Programme,
        main: &RunAnswer,
    ) -> Result<(), PredictError> {
        let start = case.start(model, 1e-3)?.y;
        // Just before the end, as at a corner of the programme the earlier piece is the one that
        // released.
        let end_s = main.end_s * (1.0 - 1e-12);
        let current = |t: f64| load.piece_after(t).at(t).0;
        let moments = [
            (0.0, Some(Moment::Start), Some(&start), 0.0),
            (
                main.end_s,
                Some(if main.trip_time_s.is_some() {
                    Moment::Release
                } else {
                    Moment::End
                }),
                Some(&main.state),
                end_s,
            ),
            (main.end_s, None, main.open_state.as_ref(), end_s),
        ];
        for (time_s, moment, state, at_s) in moments {
            let Some(state) = state else { continue };
            let current_a = current(at_s);
            self.reach(model, state, current_a);
            if let Some(moment) = moment {
                let ambient_k = ambient_piece(&case.ambient, time_s).0.at(time_s);
                let plant = Plant {
                    model,
                    drive: Drive::constant(current_a, ambient_k),
                };
                self.snapshots
                    .push(Snapshot::of(&plant, time_s, moment, state));
            }
        }
        Ok(())
    }

    /// At most about `most` states of the series: every k-th, with the ends and every change of the
    /// contacts.
    pub fn thin(&mut self, most: usize) {
        thin(&mut self.series, most, |a, b| a.closed != b.closed);
    }

    /// What a state reaches.
    fn reach(&mut self, model: &Model, y: &[f64], current_a: f64) {
        let (low, high) = model.strip_range_k(y);
        self.range_k = (self.range_k.0.min(low), self.range_k.1.max(high));
        if let Some(i) = model.layout.winding {
            self.winding_k = self.winding_k.max(y[i]);
        }
        let contact = &model.device.contact;
        self.contact_v = (self.contact_v).max(contact.constriction_voltage_v(current_a));
    }

    fn keep(&mut self, plant: &Plant<'_>, t: f64, y: &[f64]) {
        self.series.push(state_of(plant, t, y));
        if self.keeps_heat {
            let flows = plant.heat_flows(t, y);
            self.heat.push(HeatFlow {
                time_s: t,
                electrical_w: flows.electrical_w,
                convection_w: flows.convection_w,
                radiation_w: flows.radiation_w,
                terminals_w: flows.terminals_w,
                contact_w: flows.contact_w,
                stored_w: flows.stored_w,
            });
        }
    }

    /// Keep, for drawing, the state at these times (in order) and where the heat goes at every state
    /// of the series.
    pub fn keep_for_drawing(&mut self, times: Vec<(f64, Moment)>) {
        self.snap_at = times;
        self.keeps_heat = true;
    }
}

impl Watch for Recorder {
    fn step(&mut self, plant: &Plant<'_>, dense: &DenseStep) {
        let mut y = dense.start().to_vec();
        if self.series.is_empty()
            || self
                .series
                .last()
                .is_some_and(|s| s.closed != (plant.drive.phase == Phase::Closed))
        {
            self.keep(plant, dense.t, &y);
        }
        for k in 1..=self.per_step {
            let t = dense.t + dense.h * k as f64 / self.per_step as f64;
            dense.at(t, &mut y);
            self.keep(plant, t, &y);
        }
        while let Some(t) = self.wanted.first().copied() {
            if t > dense.t_end() {
                break;
            }
            dense.at(t, &mut y);
            self.states.push(state_of(plant, t, &y));
            self.wanted.remove(0);
        }
        while let Some((time_s, moment)) = self.snap_at.first().copied() {
            // The converged times of another run may differ from this one in the last digits.
            if time_s > dense.t_end() * (1.0 + 1e-6) {
                break;
            }
            dense.at(time_s, &mut y);
            self.snapshots.push(Snapshot::of(plant, time_s, moment, &y));
            self.snap_at.remove(0);
        }
        match &mut self.ends {
            None => self.ends = Some((dense.start().to_vec(), dense.end().to_vec())),
            Some((_, last)) => last.clone_from(&dense.end().to_vec()),
        }
        let (nodes, weights) = (&self.lobatto.0, &self.lobatto.1);
        for (z, w) in nodes.iter().zip(weights) {
            let t = dense.t + 0.5 * dense.h * (z + 1.0);
            dense.at(t, &mut y);
            let powers = plant.powers(t, &y);
            self.energy.in_j += 0.5 * dense.h * w * powers.electrical_w;
            self.energy.out_j += 0.5 * dense.h * w * powers.lost_w;
        }
        let (current_a, _) = plant.drive.current(dense.t);
        self.reach(plant.model, dense.start(), current_a);
        self.reach(plant.model, dense.end(), current_a);
    }
}

/// Shape at one moment.
pub fn shape_of(model: &Model, s: &Snapshot) -> Shape {
    let mechanism = model.mechanism();
    let drawn = mechanism.outline(model, &s.state, s.current_squared, s.closed);
    let strip = &s.state[..model.layout.strip];
    let celsius = |x: &f64| model.grid.interpolate(strip, *x) - ZERO_CELSIUS_K;
    Shape {
        time_s: s.time_s,
        moment: s.moment,
        x_mm: drawn.x_m.iter().map(|x| 1e3 * x).collect(),
        y_mm: drawn.y_m.iter().map(|y| 1e3 * y).collect(),
        temperature_c: drawn.along_m.iter().map(celsius).collect(),
    }
}
