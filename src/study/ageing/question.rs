//! Asks the engine: steady and timed states of the part at given contact resistances, currents and
//! holds.

use super::duty::DutyState;
use super::map::{AtResistance, LimitField, Map, Side, StateField};
use super::nodes::Nodes;
use crate::device::{Device, Drive, Model, Plant};
use crate::load::{Programme, Repeat};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::predict::{Ladder, PredictError, Session, Unwatched, closed_steady, parallel};
use crate::scenario::ageing::{SpringNode, SpringPlace};
use crate::solve::Event;
use crate::standards::{Limit, PublishedLimits};

/// Contact resistances at which the engine is asked: few, and more where the table is still too
/// coarse.
const RESISTANCES: [usize; 3] = [5, 9, 15];
/// Differences between table and engine that are small enough, K and m, over the accuracy asked
/// for.
const CLOSE: (f64, f64) = (5e2, 2e-3);
/// Currents at which it is asked, where they matter.
const CURRENTS: usize = 5;
/// Thrusts of a blade at which its margin is taken.
const THRUSTS: usize = 7;
/// The rung of the ladder that is asked, and the finer one that tells how wrong it is.
const RUNGS: [usize; 2] = [1, 2];

/// What is asked of the engine.
#[derive(Debug, Clone)]
pub struct Question<'a> {
    /// The part as it is now.
    pub device: &'a Device,
    /// States of the duty.
    pub states: &'a [DutyState],
    /// Where its spring is.
    pub spring: SpringPlace,
    /// Published limits.
    pub limits: Option<&'a PublishedLimits>,
    /// Rows of them that concern the part.
    pub rows: Vec<Limit>,
    /// Those that the part misses as new: its years cannot make it leave those.
    pub missed: Vec<usize>,
    /// Rated current, A.
    pub rated_a: f64,
    /// Half width of the factors on the current of each shift.
    pub spread: Vec<f64>,
    /// Relative accuracy asked for.
    pub accuracy: f64,
}

impl Question<'_> {
    /// Asks between two contact resistances. `Ok(None)`: some state has no steady state there.
    ///
    /// # Errors
    /// A failure of the engine.
    pub fn ask(&self, low_ohm: f64, high_ohm: f64) -> Result<Option<Map>, PredictError> {
        let mut found = None;
        for count in RESISTANCES {
            found = self.ask_at(Nodes::in_ratios(low_ohm, high_ohm, count))?;
            if found
                .as_ref()
                .is_none_or(|m| m.is_close(CLOSE.0 * self.accuracy, CLOSE.1 * self.accuracy))
            {
                break;
            }
        }
        Ok(found)
    }

    /// Asks at these contact resistances.
    ///
    /// # Errors
    /// A failure of the engine.
    pub fn ask_at(&self, resistances: Nodes) -> Result<Option<Map>, PredictError> {
        let is_straight = self.device.mechanism().is_straight_in_preload();
        let holds = if is_straight {
            Nodes::chebyshev(0.5, 1.5, 2)
        } else {
            Nodes::chebyshev(0.051, 1.0, THRUSTS)
        };
        let factors: Vec<Nodes> = self.states.iter().map(|s| self.factors(s)).collect();
        // Between the first two nodes, where every part begins.
        let probe = resistances.between(0);
        let points: Vec<f64> = resistances.points().iter().copied().chain(probe).collect();
        let answers = parallel::map(&points, |r| self.at(*r, &factors, &holds), &mut |_| {});
        let mut columns = Vec::new();
        for answer in answers {
            match answer? {
                Some(column) => columns.push(column),
                None => return Ok(None),
            }
        }
        let probed = probe.and_then(|r| Some((r, columns.pop()?)));
        let states = self
            .states
            .iter()
            .zip(&factors)
            .enumerate()
            .map(|(k, (state, factors))| StateField {
                state: state.clone(),
                factors: factors.clone(),
                spring_k: columns.iter().flat_map(|c| c.spring_k[k].clone()).collect(),
                margin_m: columns.iter().flat_map(|c| c.margin_m[k].clone()).collect(),
            })
            .collect();
        let limits = self
            .limit_sides()
            .into_iter()
            .enumerate()
            .map(|(k, (row, side))| LimitField {
                row,
                side,
                margin_m: columns.iter().flat_map(|c| c.limit_m[k].clone()).collect(),
            })
            .collect();
        let mut map = Map {
            resistances,
            holds,
            states,
            limits,
            is_straight,
            ends_in_runaway: false,
            between: (0.0, 0.0),
        };
        if let Some((r, column)) = probed {
            map.between = map.apart(r, &column);
        }
        Ok(Some(map))
    }

    fn factors(&self, state: &DutyState) -> Nodes {
        let spread = state
            .shift
            .and_then(|k| self.spread.get(k))
            .copied()
            .unwrap_or(0.0);
        let count = if spread > 0.01 { CURRENTS } else { 3 };
        Nodes::chebyshev(1.0 - spread, 1.0 + spread, count)
    }

    /// Rows and sides of the limits.
    fn limit_sides(&self) -> Vec<(usize, Side)> {
        let mut sides = Vec::new();
        for (k, row) in self.rows.iter().enumerate() {
            if self.missed.contains(&k) {
                continue;
            }
            if row.at_least_s > 0.0 {
                sides.push((k, Side::Early));
            }
            if row.at_most_s.is_finite() {
                sides.push((k, Side::Late));
            }
        }
        sides
    }

    fn at(
        &self,
        contact_ohm: f64,
        factors: &[Nodes],
        holds: &Nodes,
    ) -> Result<Option<AtResistance>, PredictError> {
        let device = self.device.with_contact_ohm(contact_ohm);
        let mut model = self.steady_model(&device, RUNGS[0]);
        // Steady states, then their margins at every hold.
        let mut steady: Vec<Vec<(f64, Vec<f64>)>> = Vec::new();
        for (state, factors) in self.states.iter().zip(factors) {
            let cold = model.uniform(state.ambient_k);
            let mut from = cold;
            let mut list = Vec::new();
            for factor in factors.points() {
                let current = factor * state.current_a;
                let Some(y) = settled(&model, current, state.ambient_k, &from)? else {
                    return Ok(None);
                };
                from.clone_from(&y);
                list.push((current, y));
            }
            steady.push(list);
        }
        let spring_k = self
            .states
            .iter()
            .zip(&steady)
            .map(|(state, list)| {
                list.iter()
                    .map(|(_, y)| spring_k(&model, self.spring, y, state.ambient_k))
                    .collect()
            })
            .collect();
        let mut margin_m: Vec<Vec<f64>> = steady
            .iter()
            .map(|list| vec![0.0; list.len() * holds.len()])
            .collect();
        for (h, hold) in holds.points().iter().enumerate() {
            set_hold_of(&mut model.device, self.device, *hold);
            for (margins, list) in margin_m.iter_mut().zip(&steady) {
                for (c, (current, y)) in list.iter().enumerate() {
                    margins[c * holds.len() + h] = self.margin(&model, y, *current);
                }
            }
        }
        let limit_m = self
            .limit_sides()
            .into_iter()
            .map(|(row, side)| self.limit(&device, row, side, holds, RUNGS[0]))
            .collect::<Result<_, _>>()?;
        Ok(Some(AtResistance {
            spring_k,
            margin_m,
            limit_m,
        }))
    }

    fn margin(&self, model: &Model, y: &[f64], current_a: f64) -> f64 {
        model.release_excess_m(y, (self.device.current_share * current_a).powi(2))
    }

    /// Margins at every hold in the state of a limit: at its time after the load came on, or
    /// steady. A part that is heated by a constant load comes ever nearer to its release, so the
    /// last state decides.
    fn limit(
        &self,
        device: &Device,
        row: usize,
        side: Side,
        holds: &Nodes,
        rung: usize,
    ) -> Result<Vec<f64>, PredictError> {
        let Some((table, row)) = self.limits.and_then(|l| Some((l, self.rows.get(row)?))) else {
            return Ok(Vec::new());
        };
        let Some(unequal) = &row.unequal else {
            return self.limit_of([device; 2], (table, row), side, holds, rung);
        };
        // The odd current goes through each pole in turn; the least favourable stands.
        let turned = |turn: usize| {
            [unequal.before, unequal.poles].map(|mut poles| {
                poles.rotate_right(turn);
                device.with_pole_currents(&poles)
            })
        };
        let mut worst: Option<Vec<f64>> = None;
        for turn in 0..3 {
            let [before, after] = &turned(turn);
            let margins = self.limit_of([before, after], (table, row), side, holds, rung)?;
            let worse = |a: f64, b: f64| match side {
                Side::Early => a.max(b),
                Side::Late => a.min(b),
            };
            worst = Some(match worst {
                Some(was) => was
                    .iter()
                    .zip(&margins)
                    .map(|(a, b)| worse(*a, *b))
                    .collect(),
                None => margins,
            });
        }
        Ok(worst.unwrap_or_default())
    }

    /// The same of a part as it carries the current before and at the limit.
    fn limit_of(
        &self,
        [before, device]: [&Device; 2],
        (table, row): (&PublishedLimits, &Limit),
        side: Side,
        holds: &Nodes,
        rung: usize,
    ) -> Result<Vec<f64>, PredictError> {
        let ambient_k = table.air_c(row) + ZERO_CELSIUS_K;
        let current_a = row.multiple * self.rated_a;
        let time_s = match side {
            Side::Early => row.at_least_s,
            Side::Late => row.at_most_s,
        };
        let rung = Ladder::new(device, time_s, self.accuracy).rung(rung);
        let mut model = Model::new(device, rung.fineness);
        let cold = model.uniform(ambient_k);
        let steady = |a: f64| settled(&model, a, ambient_k, &cold);
        let y = if time_s.is_infinite() {
            steady(current_a)?
        } else {
            let before = if row.after_multiple > 0.0 {
                settled(
                    &Model::new(before, rung.fineness),
                    row.after_multiple * self.rated_a,
                    ambient_k,
                    &cold,
                )?
            } else {
                Some(cold.clone())
            };
            match before {
                Some(y) => Some(timed(
                    &model,
                    rung.tolerance,
                    (current_a, time_s),
                    ambient_k,
                    y,
                )?),
                None => None,
            }
        };
        let mut margins = Vec::with_capacity(holds.len());
        for hold in holds.points() {
            set_hold_of(&mut model.device, self.device, *hold);
            margins.push(match &y {
                Some(y) => self.margin(&model, y, current_a),
                // Runs away: released with a strip's length to spare.
                None => device.length_m,
            });
        }
        Ok(margins)
    }
}

impl Question<'_> {
    /// Margin of a state straight from the engine, m.
    ///
    /// # Errors
    /// A failure of the engine.
    pub fn state_margin_m(
        &self,
        state: &DutyState,
        contact_ohm: f64,
        hold: f64,
    ) -> Result<Option<f64>, PredictError> {
        let device = self.device.with_contact_ohm(contact_ohm);
        let mut model = self.steady_model(&device, RUNGS[1]);
        let cold = model.uniform(state.ambient_k);
        let y = settled(&model, state.current_a, state.ambient_k, &cold)?;
        set_hold_of(&mut model.device, self.device, hold);
        Ok(y.map(|y| self.margin(&model, &y, state.current_a)))
    }

    /// Temperature of the spring in a state straight from the engine, K.
    ///
    /// # Errors
    /// A failure of the engine.
    pub fn state_spring_k(
        &self,
        state: &DutyState,
        contact_ohm: f64,
    ) -> Result<Option<f64>, PredictError> {
        let device = self.device.with_contact_ohm(contact_ohm);
        let model = self.steady_model(&device, RUNGS[1]);
        let cold = model.uniform(state.ambient_k);
        let y = settled(&model, state.current_a, state.ambient_k, &cold)?;
        Ok(y.map(|y| spring_k(&model, self.spring, &y, state.ambient_k)))
    }

    /// The model on which steady states are asked.
    fn steady_model(&self, device: &Device, rung: usize) -> Model {
        let ladder = Ladder::new(device, f64::INFINITY, self.accuracy);
        Model::new(device, ladder.rung(rung).fineness)
    }

    /// Margin at a limit straight from the engine, m.
    ///
    /// # Errors
    /// A failure of the engine.
    pub fn limit_margin_m(
        &self,
        row: usize,
        side: Side,
        contact_ohm: f64,
        hold: f64,
    ) -> Result<Option<f64>, PredictError> {
        let device = self.device.with_contact_ohm(contact_ohm);
        let one = Nodes::chebyshev(hold, hold, 1);
        Ok(self
            .limit(&device, row, side, &one, RUNGS[1])?
            .first()
            .copied())
    }
}

/// The steady state of closed contacts; `None`: it runs away, or is so hot that nothing settles.
fn settled(
    model: &Model,
    current_a: f64,
    ambient_k: f64,
    from: &[f64],
) -> Result<Option<Vec<f64>>, PredictError> {
    match closed_steady(model, current_a, ambient_k, from) {
        Err(PredictError::NoSteadyState { .. }) => Ok(None),
        other => other,
    }
}

/// State after a time under a current; the release is out of reach.
fn timed(
    model: &Model,
    tolerance: f64,
    (current_a, time_s): (f64, f64),
    ambient_k: f64,
    y: Vec<f64>,
) -> Result<Vec<f64>, PredictError> {
    // A second segment, so that the first has an end and no proof of holding cuts it short.
    let steps = [(2.0 * time_s, current_a), (f64::INFINITY, 0.0)];
    let load = Programme::steps(steps, Repeat::Once);
    let ambient = [(0.0, ambient_k)];
    let mut session = Session::new(model, &ambient, tolerance, y);
    let out_of_reach_m = -1.0;
    session.carry(&load, 0.0, time_s, out_of_reach_m, &mut Unwatched)?;
    Ok(session.y)
}

/// Temperature of the spring, K.
fn spring_k(model: &Model, place: SpringPlace, y: &[f64], ambient_k: f64) -> f64 {
    let layout = &model.layout;
    let node = match place.node {
        SpringNode::ClampedTerminal => y[0],
        SpringNode::MovingContact => y[layout.strip - 1],
        SpringNode::FixedContact => y[layout.fixed],
        SpringNode::HousingAir => layout.housing.map_or(ambient_k, |h| y[h]),
        SpringNode::Ambient => ambient_k,
    };
    node + place.offset_k
}

/// Gives a part's release the hold of its spring: 1 as new.
pub fn set_hold_of(device: &mut Device, as_new: &Device, hold: f64) {
    device.release = as_new.release;
    // A latch that sticks holds more than its spring as new.
    if as_new.mechanism().is_straight_in_preload() {
        device.wear(0.0, hold);
    } else {
        device.wear(1.0 - hold, 1.0);
    }
}

/// Whether a part as it is releases in a state of its duty, or runs away.
///
/// # Errors
/// A failure of the engine.
pub fn releases_in(
    device: &Device,
    state: &DutyState,
    accuracy: f64,
) -> Result<bool, PredictError> {
    let fineness = Ladder::new(device, f64::INFINITY, accuracy)
        .rung(1)
        .fineness;
    let model = device.on(fineness);
    let cold = model.uniform(state.ambient_k);
    let Some(y) = settled(&model, state.current_a, state.ambient_k, &cold)? else {
        return Ok(true);
    };
    let plant = Plant {
        model: &model,
        drive: Drive::constant(state.current_a, state.ambient_k),
    };
    let event = plant.release();
    Ok(event.value(0.0, &y) >= 0.0)
}
