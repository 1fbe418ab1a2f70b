//! A scenario in, an [`AgeOutcome`] out.

use super::constants::{Constants, MOST_LOSS, YEAR_S};
use super::dates::Finder;
use super::draw::Draws;
use super::drift::{Drift, Worn};
use super::duty::{DutyState, duty_states};
use super::error::AgeError;
use super::lives::{Ask, Unit, band, record, service_life_s};
use super::map::{Map, Question, releases_in};
use super::outcome::*;
use super::rows::{Rows, report_years};
use super::trip_surface::TripSurface;
use super::view::View;
use super::words;
use crate::device::Device;
use crate::predict::{PredictError, Progress, trip_point};
use crate::scenario::ageing::Ageing;
use crate::scenario::{Mechanism, Reset, Scenario};
use crate::standards;

/// What to compute.
#[derive(Debug, Clone, PartialEq)]
pub struct Options {
    /// Horizon instead of the scenario's, years.
    pub years: Option<f64>,
    /// Units drawn for the distribution of lives (0: none).
    pub units: u64,
    /// Seed of the draws.
    pub seed: u64,
}

impl Default for Options {
    fn default() -> Options {
        Options {
            years: None,
            units: 1000,
            seed: 1,
        }
    }
}

/// Lives are looked for up to this many horizons.
const SEARCH: f64 = 10.0;
const TOLERANCE: f64 = 1e-9;
const LOOSER: f64 = 1e-7;
/// Relative steps of the sensitivities.
const CURRENT_STEP: f64 = 2e-3;
const COEFFICIENT_STEP: f64 = 1e-2;
/// Units that are too many to draw.
const MOST_UNITS: u64 = 1_000_000;

/// Ages the part of a scenario.
///
/// # Errors
/// A scenario without ageing, options out of range, or a failure of the engine.
pub fn age(
    scenario: &Scenario,
    options: &Options,
    progress: &mut Progress<'_>,
) -> Result<AgeOutcome, AgeError> {
    let ageing = scenario.ageing.as_ref().ok_or(AgeError::NoAgeing)?;
    let horizon_years = horizon(options, ageing)?;
    progress("duty", 0.0);
    let study = Study::new(scenario, ageing, horizon_years)?;
    let draws = Draws::of(scenario)?;
    let question = study.question(&draws);
    let map = study.map(&question, !draws.is_empty())?;
    progress("wear over the years", 0.2);
    let factors = &study.nominal.current_factors;
    let view = View::new(&map, factors);
    let drift = Drift::follow(&study.nominal, &view, study.search_s, TOLERANCE);
    let looser = Drift::follow(&study.nominal, &view, study.search_s, LOOSER);
    let dates = Finder {
        question: &question,
        drift: &drift,
        looser: &looser,
        end_s: study.search_s,
        releases_new: study.releases_new.as_deref(),
    }
    .dates()?;
    let covered = study.covered(&drift);
    let service = study.service(&drift);
    let rows = Rows {
        device: &study.device,
        rated_a: scenario.protector.rated_current_a,
        reference_k: scenario.protector.reference_ambient_k,
        service: service.map(|k| &study.states[k]),
        covered_s: covered.until_years.unwrap_or(0.0) * YEAR_S,
    };
    let years = report_years(horizon_years);
    let (mut table, rows_relative) = rows.at(&drift, &years)?;
    progress("sensitivity", 0.4);
    let sensitivity = study.sensitivity(&map, &rows, &drift)?;
    let has_limits = question.limits.is_some();
    let carries = study.carries();
    let lives = if draws.is_empty() || options.units == 0 {
        no_lives(options, &draws)
    } else {
        let ask = Ask {
            map: &map,
            nominal: &study.nominal,
            draws: &draws,
            units: options.units,
            seed: options.seed,
            searched_years: study.search_s / YEAR_S,
            years: &years,
            releases_new: study.releases_new.is_some(),
        };
        let total = options.units as f64;
        let units = ask.units(&mut |n| progress("lives", 0.5 + 0.4 * n as f64 / total))?;
        progress("bands", 0.9);
        study.bands(&mut table, &units, rows.service)?;
        record(&ask, &units, has_limits, carries)?
    };
    let horizon_s = horizon_years * YEAR_S;
    let (end, loosely) = (drift.at(horizon_s), looser.at(horizon_s));
    let mut warnings = study.warnings(&map, &drift, &dates);
    warnings.extend(draws.left_out.iter().map(|path| {
        format!("the tolerance of {path} is not drawn: lives are for its stated value")
    }));
    Ok(AgeOutcome {
        format: 1,
        version: env!("CARGO_PKG_VERSION").into(),
        scenario: scenario.title.clone(),
        shows: scenario.shows.clone(),
        constants_from: ageing.source.clone(),
        rated_current_a: scenario.protector.rated_current_a,
        reference_ambient_c: scenario.protector.reference_ambient_k - 273.15,
        mechanism: match scenario.release.mechanism {
            Mechanism::Latch { .. } => "latch",
            Mechanism::SnapBlade { .. } => "snap blade",
        }
        .into(),
        reset: match scenario.release.reset {
            Reset::ByHand => "by hand",
            Reset::Automatic => "automatic",
        }
        .into(),
        horizon_years,
        searched_years: study.search_s / YEAR_S,
        law: words::law(&ageing.relaxation),
        spring_beside: words::spring(&ageing.spring),
        limits: question.limits.map(|l| l.name.to_owned()),
        trip_time_2x_limits_s: twice_rated(question.limits),
        covered,
        held_hours_a_year: study.states.iter().filter(|s| s.held).map(hours).sum(),
        duty: study.duty(&map, &view, &end),
        dates,
        sensitivity,
        drift: table,
        lives,
        error_estimate: AgeErrors {
            spring_temperature_k: map.between.0,
            preload_left: (end.loss - loosely.loss).abs().max(1e-12),
            rows_relative,
            computed_with: format!(
                "{} duty states at {} contact resistances; {} steps of order 5 in the logarithm of time",
                map.states.len(),
                map.resistances.len(),
                drift.steps_taken()
            ),
        },
        warnings,
        not_modelled: study.not_modelled(),
        cautions: Vec::new(),
        citations: scenario.sources.clone(),
    })
}

fn horizon(options: &Options, ageing: &Ageing) -> Result<f64, AgeError> {
    let years = options.years.unwrap_or(ageing.horizon_s / YEAR_S);
    if !(years.is_finite() && (0.0027..=200.0).contains(&years)) {
        return Err(AgeError::Options(format!(
            "parts are looked at for a day (0.0027 years) to 200 years, not {years}"
        )));
    }
    if options.units > MOST_UNITS {
        return Err(AgeError::Options(format!(
            "at most {MOST_UNITS} units are drawn, not {}",
            options.units
        )));
    }
    Ok(years)
}

fn no_lives(options: &Options, draws: &Draws) -> Lives {
    let reason = if draws.is_empty() {
        "no constant of [ageing] and no current of [duty] carries a tolerance (\"1.5 % +- 0.2 %\")"
    } else {
        "no units were asked for"
    };
    Lives {
        units: 0,
        seed: options.seed,
        drawn: Vec::new(),
        reason: Some(reason.into()),
        by_year: Vec::new(),
        late: None,
        early: None,
    }
}

/// Shortest and longest trip time that limits allow at twice the rating from cold, s.
fn twice_rated(limits: Option<&standards::PublishedLimits>) -> [Option<f64>; 2] {
    let rows = limits.map_or(&[][..], |l| l.rows);
    let row = rows
        .iter()
        .find(|r| r.multiple == 2.0 && r.after_multiple == 0.0);
    let time = |s: f64| (s > 0.0 && s.is_finite()).then_some(s);
    [
        row.and_then(|r| time(r.at_least_s)),
        row.and_then(|r| time(r.at_most_s)),
    ]
}

fn hours(state: &DutyState) -> f64 {
    state.share * YEAR_S / 3600.0
}

/// A part, its constants and its duty.
struct Study<'a> {
    scenario: &'a Scenario,
    ageing: &'a Ageing,
    device: Device,
    nominal: Constants,
    states: Vec<DutyState>,
    /// States in which the new part already releases, by name, with the current they would carry.
    released: Vec<(String, f64)>,
    releases_new: Option<String>,
    horizon_s: f64,
    search_s: f64,
}

impl<'a> Study<'a> {
    fn new(
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
            if state.current_a > 0.0 && releases_in(&new_part, state)? {
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

    fn carries(&self) -> bool {
        self.releases_new.is_some() || self.states.iter().any(|s| s.current_a > 0.0)
    }

    fn question<'q>(&'q self, draws: &Draws) -> Question<'q> {
        Question {
            device: &self.device,
            states: &self.states,
            spring: self.ageing.spring,
            limits: self
                .scenario
                .protector
                .limits
                .as_deref()
                .and_then(standards::find),
            rated_a: self.scenario.protector.rated_current_a,
            spread: draws.spread(self.ageing.duty.shifts.len()),
        }
    }

    /// Asks the engine over the range of contact resistance that the wear can reach.
    fn map(&self, question: &Question<'_>, uncertain: bool) -> Result<Map, AgeError> {
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
    fn covered(&self, drift: &Drift<'_, '_>) -> Covered {
        if self.ageing.friction.is_some() {
            return Covered {
                until_years: None,
                text: "no test covers how a latch sticks that is not moved".into(),
            };
        }
        let Some(test) = self.ageing.tested else {
            return Covered {
                until_years: None,
                text: "the scenario names no test: everything is extrapolated".into(),
            };
        };
        let Some(state) = self.nominal.state_of_test(test.for_s, test.at_k) else {
            return Covered {
                until_years: None,
                text: "the test relaxes nothing".into(),
            };
        };
        let test = format!(
            "{:.0} h at {:.0} degC",
            test.for_s / 3600.0,
            test.at_k - 273.15
        );
        match drift.first(self.search_s, |w| w.state - state) {
            Some(s) => Covered {
                until_years: Some(s / YEAR_S),
                text: format!("a test of {test} has done as much to the spring"),
            },
            None => Covered {
                until_years: Some(self.search_s / YEAR_S),
                text: format!("a test of {test} does more than the whole time searched"),
            },
        }
    }

    /// The state that releases first; where none does, the one nearest to it at the horizon.
    fn service(&self, drift: &Drift<'_, '_>) -> Option<usize> {
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

    fn sensitivity(
        &self,
        map: &Map,
        rows: &Rows<'_>,
        drift: &Drift<'_, '_>,
    ) -> Result<Sensitivity, AgeError> {
        let life = |constants: &Constants| {
            let view = View::new(map, &constants.current_factors);
            let drift = Drift::follow(constants, &view, self.search_s, TOLERANCE);
            service_life_s(&drift, self.search_s).filter(|s| *s > 0.0)
        };
        // The relative change of the life by a relative change of something.
        let slope = |changed: &dyn Fn(f64) -> Constants, step: f64| -> Option<f64> {
            let middle = life(&self.nominal)?;
            let (up, down) = (life(&changed(1.0 + step)), life(&changed(1.0 - step)));
            match (up, down) {
                (Some(up), Some(down)) => {
                    Some((up / down).ln() / ((1.0 + step) / (1.0 - step)).ln())
                }
                (Some(up), None) => Some((up / middle).ln() / (1.0 + step).ln()),
                (None, Some(down)) => Some((middle / down).ln() / -(1.0 - step).ln()),
                (None, None) => None,
            }
        };
        let dead = self.releases_new.is_some();
        let per_current = if dead {
            None
        } else {
            slope(&|f| self.nominal.with_current(f), CURRENT_STEP)
        };
        let per_coefficient = if dead {
            None
        } else {
            slope(&|f| self.nominal.with_coefficient(f), COEFFICIENT_STEP)
        };
        let worn = drift.at(self.horizon_s);
        let more = self.nominal.with_coefficient(1.01);
        let more = Drift::follow(&more, drift.view, self.search_s, TOLERANCE).at(self.horizon_s);
        let in_hand = match rows.service {
            Some(state) if worn.loss < MOST_LOSS => {
                let part = rows.part(&worn, worn.stuck.0);
                trip_point(&part, state.ambient_k, rows.rated_a, 1e-5)?
                    .value
                    .current_a()
                    .map(|a| a / state.current_a)
            }
            _ => None,
        };
        let reason = if dead {
            Some("the new part already trips".to_owned())
        } else if !self.carries() {
            Some("nothing is carried".to_owned())
        } else if per_current.is_none() {
            Some(format!(
                "no life ends within {:.0} years",
                self.search_s / YEAR_S
            ))
        } else {
            None
        };
        Ok(Sensitivity {
            per_current,
            life_change_for_0_02_percent_current: per_current
                .map(|n| (n * 2e-4f64.ln_1p()).exp_m1()),
            per_coefficient,
            life_change_for_1_percent_coefficient: per_coefficient
                .map(|n| (n * 1e-2f64.ln_1p()).exp_m1()),
            preload_change_for_1_percent_coefficient: worn.loss - more.loss,
            current_in_hand_at_horizon: in_hand,
            state: rows.service.map(|s| s.name.clone()),
            reason,
        })
    }

    /// Bands of the rows from the drawn units.
    fn bands(
        &self,
        table: &mut [DriftRow],
        units: &[Unit],
        service: Option<&DutyState>,
    ) -> Result<(), AgeError> {
        let range = |pick: &dyn Fn(&(f64, f64, f64)) -> f64| {
            units
                .iter()
                .flat_map(|u| &u.at_years)
                .map(pick)
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| {
                    (a.min(v), b.max(v))
                })
        };
        let ohm = range(&|p| p.1);
        let hold = range(&|p| p.2);
        let surface = match service {
            Some(state) => TripSurface::ask(
                &self.device,
                state.ambient_k,
                self.scenario.protector.rated_current_a,
                ohm,
                hold,
            )?,
            None => None,
        };
        for (k, row) in table.iter_mut().enumerate() {
            let here = || units.iter().map(move |u| u.at_years[k]);
            row.preload_left_band = band(here().map(|p| (1.0 - p.0).max(0.0)));
            row.trip_point_band_a = surface
                .as_ref()
                .and_then(|s| band(here().map(|p| s.at(p.1, p.2))));
        }
        Ok(())
    }

    fn duty(&self, map: &Map, view: &View<'_>, end: &Worn) -> Vec<DutyRecord> {
        let c = &self.nominal;
        let new_ohm = c.contact_ohm(0.0, c.start_loss);
        let start = c.start(1.0, &view.temperatures(new_ohm).collect::<Vec<_>>());
        let shares = |k: f64, share: f64| match start {
            Some(state) => c.slope(1.0, state, std::iter::once((share, k))),
            None => 0.0,
        };
        let spring = |field: &super::map::StateField, ohm: f64| {
            let count = field.factors.len();
            let middle: Vec<f64> = (0..map.resistances.len())
                .map(|r| {
                    field
                        .factors
                        .value(&field.spring_k[r * count..(r + 1) * count], 1.0)
                })
                .collect();
            map.resistances
                .value(&middle, ohm.min(map.resistances.highest()))
        };
        let all: f64 = map
            .states
            .iter()
            .filter(|f| f.state.held)
            .map(|f| shares(spring(f, new_ohm), f.state.share))
            .sum();
        map.states
            .iter()
            .map(|f| {
                let s = &f.state;
                let new_k = spring(f, new_ohm);
                let released = self.released.iter().find(|(name, _)| *name == s.name);
                DutyRecord {
                    state: s.name.clone(),
                    hours_a_year: hours(s),
                    held_hours_a_year: if s.held { hours(s) } else { 0.0 },
                    current_a: released.map_or(s.current_a, |(_, a)| *a),
                    ambient_c: s.ambient_k - 273.15,
                    spring_new_c: new_k - 273.15,
                    spring_end_c: spring(f, end.contact_ohm) - 273.15,
                    relaxation_share: if s.held && all > 0.0 {
                        shares(new_k, s.share) / all
                    } else {
                        0.0
                    },
                    releases_when_new: released.is_some(),
                }
            })
            .collect()
    }

    fn warnings(&self, map: &Map, drift: &Drift<'_, '_>, dates: &Dates) -> Vec<String> {
        let mut list = Vec::new();
        for (name, a) in &self.released {
            list.push(format!(
                "the new part already trips in \"{name}\" at {a:.2} A; its wear there is counted without current"
            ));
        }
        if let Some(years) = dates.preload_gone.years
            && years <= self.horizon_s / YEAR_S
        {
            list.push(format!(
                "after {years:.2} years 95 % of the preload is gone; beyond, the model does not hold"
            ));
        }
        let end = drift.at(self.horizon_s);
        if map.ends_in_runaway && end.contact_ohm > map.resistances.highest() * (1.0 + 1e-9) {
            list.push(format!(
                "from {:.1} mohm of contact resistance on there is no steady state: the part runs away and trips before the horizon",
                1e3 * map.resistances.highest()
            ));
        }
        list
    }

    fn not_modelled(&self) -> Vec<String> {
        let mut list = vec![
            "how the loss depends on the stress in the spring: the constants are for its stress"
                .to_string(),
            "seasons one after the other: dates are good to about a year".into(),
            "corrosion, dust, vibration, short circuits".into(),
            "change of the strip itself: permanent set, calibration".into(),
        ];
        if self.ageing.friction.is_some() {
            list.push("friction follows no published law: an exponential rise, common practice without a source".into());
        }
        if self.scenario.strip.through_thickness != crate::scenario::ThroughThickness::Resolved {
            list.push(
                "heat across the layers (set `through_thickness = \"resolved\"` in [strip])".into(),
            );
        }
        list
    }
}

fn no_steady() -> AgeError {
    AgeError::Predict(PredictError::NoSteadyState {
        purpose: "in a state of the duty".into(),
    })
}
