//! A part, its constants and its duty: what is asked of the engine, and over which range.

use super::constants::{Constants, MOST_LOSS, YEAR_S};
use super::draw::Draws;
use super::drift::Drift;
use super::duty::{DutyState, duty_states};
use super::error::AgeError;
use super::lives::service_life_s;
use super::map::Map;
use super::outcome::Covered;
use super::question::{Question, releases_in};
use super::view::View;
use crate::device::Device;
use crate::predict::Steady;
use crate::predict::{PredictError, case_of, check_all};
use crate::scenario::Scenario;
use crate::scenario::ageing::Ageing;

/// Lives are looked for up to this many horizons.
const SEARCH: f64 = 10.0;
/// Tolerance of a step in the logarithm of time.
pub const TOLERANCE: f64 = 1e-9;
/// A looser one, for comparison and for first looks.
pub const LOOSER: f64 = 1e-7;

/// A part, its constants and its duty.
pub struct Study<'a> {
    /// Scenario.
    pub scenario: &'a Scenario,
    /// What it says about wear.
    pub ageing: &'a Ageing,
    /// The part as it is now.
    pub device: Device,
    /// Constants as given.
    pub nominal: Constants,
    /// States of the duty; without current where the new part already releases.
    pub states: Vec<DutyState>,
    /// States in which the new part already releases, by name, with the current they would carry.
    pub released: Vec<(String, f64)>,
    /// The first of those states.
    pub releases_new: Option<String>,
    /// Horizon, s.
    pub horizon_s: f64,
    /// Lives are looked for up to this, s.
    pub search_s: f64,
}

impl<'a> Study<'a> {
    /// The part of a scenario.
    pub fn new(
        scenario: &'a Scenario,
        ageing: &'a Ageing,
        horizon_years: f64,
    ) -> Result<Study<'a>, AgeError> {
        let device = Device::new(scenario)?;
        let r = &scenario.release;
        let nominal = Constants::nominal(
            ageing,
            (r.preload_loss, r.contact_loss),
            device.contact_as_new_ohm(),
        );
        for loss in [nominal.start_loss, nominal.start_contact_loss] {
            if loss >= MOST_LOSS {
                return Err(AgeError::LostAtStart(loss));
            }
        }
        let mut new_part = device.with_contact_ohm(nominal.contact_ohm(0.0, nominal.start_loss));
        new_part.wear(nominal.start_loss, 1.0);
        let mut states = duty_states(&ageing.duty);
        let mut released = Vec::new();
        for state in &mut states {
            if state.current_a > 0.0 && releases_in(&new_part, state, scenario.ask.accuracy)? {
                released.push((state.name.clone(), state.current_a));
                // It opens, and then carries nothing.
                state.current_a = 0.0;
            }
        }
        Ok(Study {
            scenario,
            ageing,
            device,
            nominal,
            states,
            releases_new: released.first().map(|(name, _)| name.clone()),
            released,
            horizon_s: horizon_years * YEAR_S,
            search_s: SEARCH * horizon_years * YEAR_S,
        })
    }

    /// Whether anything is carried.
    pub fn carries(&self) -> bool {
        self.releases_new.is_some() || self.states.iter().any(|s| s.current_a > 0.0)
    }

    /// What is asked of the engine.
    ///
    /// # Errors
    /// A failure of the engine at a published limit.
    pub fn question<'q>(&'q self, draws: &Draws) -> Result<Question<'q>, AgeError> {
        let limits = self.scenario.limits();
        let (mut rows, mut missed) = (Vec::new(), Vec::new());
        if let Some(table) = limits {
            let (poles, notices) = self.device.bar();
            rows = table.rows_for(poles, notices);
            let as_new = Scenario {
                release: self.scenario.release.as_new(),
                ..self.scenario.clone()
            };
            let checks = check_all(&Device::new(&as_new)?, &case_of(&as_new), Some(table))?;
            let checks = checks.iter().enumerate();
            missed.extend(checks.filter(|(_, check)| !check.met).map(|(k, _)| k));
        }
        Ok(Question {
            device: &self.device,
            states: &self.states,
            spring: self.ageing.spring,
            limits,
            rows,
            missed,
            rated_a: self.scenario.protector.rated_current_a,
            spread: draws.spread(self.ageing.duty.shifts.len()),
            accuracy: self.scenario.ask.accuracy,
        })
    }

    /// Asks the engine over the range of contact resistance that the wear can reach.
    pub fn map(&self, question: &Question<'_>, uncertain: bool) -> Result<Map, AgeError> {
        let c = &self.nominal;
        let low = c.contact_ohm(0.0, c.start_loss);
        let most = if c.contact_ages {
            MOST_LOSS
        } else {
            c.start_loss
        };
        let cap = c.contact_ohm(self.search_s, most);
        // At the temperatures of the new part first: how far does it go?
        let first = question.ask(low, low)?.ok_or_else(no_steady)?;
        let view = View::new(&first, &c.current_factors);
        let far = Drift::follow(c, &view, self.search_s, LOOSER).at(self.search_s);
        let room = if uncertain { 2.0 } else { 1.2 };
        let mut high = (low + room * (far.contact_ohm - low)).min(cap);
        let mut runs_away = false;
        for _ in 0..30 {
            match question.ask(low, high)? {
                // No steady state with so bad a contact: as far as there is one.
                None => {
                    high = 0.5 * (low + high);
                    runs_away = true;
                }
                Some(mut map) => {
                    map.ends_in_runaway = runs_away;
                    let view = View::new(&map, &c.current_factors);
                    let end = Drift::follow(c, &view, self.search_s, LOOSER).at(self.search_s);
                    if runs_away || end.contact_ohm <= high * (1.0 + 1e-9) || high >= cap {
                        return Ok(map);
                    }
                    high = (low + 2.0 * (end.contact_ohm - low)).min(cap);
                }
            }
        }
        question.ask(low, high)?.ok_or_else(no_steady)
    }

    /// Until when a test covers what the duty does.
    pub fn covered(&self, drift: &Drift<'_, '_>) -> Covered {
        if self.ageing.friction.is_some() {
            return Covered::Friction;
        }
        let Some(test) = self.ageing.tested else {
            return Covered::NoTest;
        };
        let Some(state) = self.nominal.state_of_test(test.for_s, test.at_k) else {
            return Covered::TestRelaxesNothing;
        };
        match drift.first(self.search_s, |w| w.state - state) {
            Some(s) => Covered::Until {
                until_years: s / YEAR_S,
                test,
            },
            None => Covered::Throughout {
                until_years: self.search_s / YEAR_S,
                test,
            },
        }
    }

    /// How wrong the temperature of the spring may be, K: the engine on a finer grid, and between
    /// the contact resistances it was asked at.
    pub fn spring_off_k(
        &self,
        question: &Question<'_>,
        map: &Map,
        end_ohm: f64,
    ) -> Result<f64, AgeError> {
        let mut off = map.between.0;
        let new_ohm = self.nominal.contact_ohm(0.0, self.nominal.start_loss);
        for ohm in [new_ohm, end_ohm.min(map.resistances.highest())] {
            for field in map.states.iter().filter(|field| field.state.held) {
                if let Some(exact) = question.state_spring_k(&field.state, ohm)? {
                    off = off.max((exact - map.spring_k(field, ohm)).abs());
                }
            }
        }
        Ok(off)
    }

    /// The state that releases first; where none does, the one nearest to it at the horizon.
    pub fn service(&self, drift: &Drift<'_, '_>) -> Option<usize> {
        let at = service_life_s(drift, self.search_s)
            .filter(|s| *s > 0.0)
            .unwrap_or(self.horizon_s);
        let worn = drift.at(at);
        let hold = drift.view.hold(worn.loss.min(MOST_LOSS), worn.stuck.0);
        drift
            .view
            .carrying(worn.contact_ohm, hold)
            .map(|(_, number)| number)
    }
}

fn no_steady() -> AgeError {
    AgeError::Predict(PredictError::NoSteadyState {
        needed: Steady::Duty,
    })
}
