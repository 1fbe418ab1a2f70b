//! A unit as a part: what is asked of the engine about it, and its constants of wear.

use super::FailuresError;
use crate::device::Device;
use crate::predict::{ACCURACY, Questions, Setting, examine_alone};
use crate::quantity::format_si;
use crate::scenario::Scenario;
use crate::scenario::ageing::Ageing;
use crate::standards::{Limit, PublishedLimits};
use crate::statistics::marginal::Marginal;
use crate::study::ageing::{Constants, Draws, DutyState, Map, Nodes, Question, Study, duty_states};
use crate::study::population::inputs::Inputs;

/// Scores between which parts are asked for, input by input.
pub const REACH: f64 = 5.0;

/// All units: what differs in them, and over which contact resistances they are asked.
pub struct Parts<'a> {
    scenario: Scenario,
    ageing: &'a Ageing,
    /// Tolerances of the part.
    pub inputs: Inputs,
    /// Constants of wear and currents of the duty.
    pub draws: Draws,
    states: Vec<DutyState>,
    /// Published limits.
    pub limits: Option<&'static PublishedLimits>,
    /// Rows of them that concern the part.
    pub rows: Vec<Limit>,
    /// Rows of them that the middle misses as new: years do not decide those.
    missed: Vec<usize>,
    resistances: Nodes,
    runs_away: bool,
}

/// What a part is to an ageing study.
#[derive(Debug, Clone)]
pub struct Made {
    /// Temperatures and margins.
    pub map: Map,
    /// Constants of wear, those of the draws at their stated values.
    pub constants: Constants,
}

impl<'a> Parts<'a> {
    /// The units of a scenario over so many years, and the middle one.
    ///
    /// # Errors
    /// No ageing, impossible tolerances, a middle that cannot be computed.
    pub fn of(scenario: &'a Scenario, years: f64) -> Result<(Parts<'a>, Made), FailuresError> {
        let ageing = scenario
            .ageing
            .as_ref()
            .ok_or(crate::study::ageing::AgeError::NoAgeing)?;
        let mut own = scenario.clone();
        own.history.clear();
        own.ask.accuracy = ACCURACY;
        let mut parts = Parts {
            scenario: own,
            ageing,
            inputs: Inputs::if_any(scenario)?,
            draws: Draws::of(scenario)?,
            states: duty_states(&ageing.duty),
            limits: scenario.limits(),
            rows: Vec::new(),
            missed: Vec::new(),
            resistances: Nodes::chebyshev(0.0, 0.0, 1),
            runs_away: false,
        };
        let middle = parts.middle();
        let scenario = parts.scenario(&middle)?;
        let study = Study::new(&scenario, ageing, years)?;
        let question = study.question(&parts.draws)?;
        let map = study.map(&question, true)?;
        parts.runs_away = map.ends_in_runaway;
        parts.rows.clone_from(&question.rows);
        parts.missed.clone_from(&question.missed);
        let (low, mut high) = parts.reach(&scenario, &map)?;
        let made = loop {
            let device = &study.device;
            if let Some(map) = parts.question(device).ask(low, high)? {
                parts.resistances = map.resistances.clone();
                break parts.made(map, device, &scenario);
            }
            high = 0.5 * (low + high);
            parts.runs_away = true;
        };
        Ok((parts, made))
    }

    /// Values of the inputs in their middle.
    pub fn middle(&self) -> Vec<f64> {
        self.inputs.list.iter().map(|i| i.nominal).collect()
    }

    /// Number of scores of a unit.
    pub fn dimensions(&self) -> usize {
        self.inputs.len() + self.draws.marginals().count()
    }

    /// How each number is spread, the tolerances first.
    pub fn marginals(&self) -> Vec<&Marginal> {
        let inputs = self.inputs.list.iter().map(|i| i.marginal());
        inputs.chain(self.draws.marginals()).collect()
    }

    /// The part with these values, asked of the engine.
    ///
    /// # Errors
    /// It cannot be set or has no steady state, or a failure of the engine.
    pub fn part(&self, values: &[f64]) -> Result<Made, FailuresError> {
        let scenario = self.scenario(values)?;
        let device = Device::new(&scenario)?;
        let map = self
            .question(&device)
            .ask_at(self.resistances.clone())?
            .ok_or_else(|| self.refused("has no steady state in its duty", values))?;
        Ok(self.made(map, &device, &scenario))
    }

    fn made(&self, mut map: Map, device: &Device, scenario: &Scenario) -> Made {
        map.ends_in_runaway = self.runs_away;
        let r = &scenario.release;
        let losses = (r.preload_loss, r.contact_loss);
        let constants = Constants::nominal(self.ageing, losses, device.contact_as_new_ohm());
        Made { map, constants }
    }

    fn question<'q>(&'q self, device: &'q Device) -> Question<'q> {
        Question {
            device,
            states: &self.states,
            spring: self.ageing.spring,
            limits: self.limits,
            rows: self.rows.clone(),
            missed: self.missed.clone(),
            rated_a: self.scenario.protector.rated_current_a,
            spread: self.draws.spread(self.ageing.duty.shifts.len()),
            accuracy: ACCURACY,
        }
    }

    /// The scenario of a unit, its clearance set where the population is.
    fn scenario(&self, values: &[f64]) -> Result<Scenario, FailuresError> {
        let mut scenario = self.scenario.clone();
        let set_factor = self.inputs.apply(values, &mut scenario);
        let Some(setting) = scenario.population.setting else {
            return Ok(scenario);
        };
        let questions = Questions {
            setting: Some(Setting {
                current_a: setting.current_a,
                time_s: setting.time_s,
                ambient_k: setting.ambient_k,
            }),
            airs: Vec::new(),
            carries: Vec::new(),
            opening_s: 0.0,
        };
        let found = examine_alone(&scenario, &questions, set_factor, ACCURACY)?;
        if !found.is_set() {
            return Err(self.refused("cannot be set", values));
        }
        if let Some(latch) = scenario.release.mechanism.latch_mut() {
            latch.widen(found.clearance_m - latch.release_travel_m);
        }
        Ok(scenario)
    }

    fn refused(&self, what: &'static str, values: &[f64]) -> FailuresError {
        let all = self.inputs.list.iter().zip(values);
        let at = all
            .filter(|(i, v)| **v != i.nominal)
            .map(|(i, v)| format!("{} {}", i.path, format_si(*v, i.dimension())))
            .collect();
        FailuresError::Part { what, at }
    }

    /// Contact resistances that units may come to, from those of the middle: every tolerance moves
    /// the new contact.
    fn reach(&self, middle: &Scenario, map: &Map) -> Result<(f64, f64), FailuresError> {
        let ohm = |scenario: &Scenario| -> Result<f64, FailuresError> {
            let (film, constriction) = Device::new(scenario)?.contact_as_new_ohm();
            Ok(film + constriction)
        };
        let new = ohm(middle)?;
        let (mut least, mut most) = (1.0, 1.0);
        for (k, input) in self.inputs.list.iter().enumerate() {
            for score in [-REACH, REACH] {
                let mut values = self.middle();
                values[k] = input.at(score);
                let mut scenario = middle.clone();
                self.inputs.apply(&values, &mut scenario);
                let ratio = ohm(&scenario)? / new;
                least *= ratio.min(1.0);
                most *= ratio.max(1.0);
            }
        }
        let points = map.resistances.points();
        Ok((points[0] * least, map.resistances.highest() * most))
    }
}
