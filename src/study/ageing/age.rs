//! A scenario in, an [`AgeOutcome`] out.

use super::bookkeeping::{hours, not_modelled};
use super::cautions::cautions;
use super::constants::YEAR_S;
use super::dates::Finder;
use super::draw::Draws;
use super::drift::Drift;
use super::error::AgeError;
use super::lives::{Ask, record};
use super::outcome::*;
use super::question::Question;
use super::rows::{Rows, report_years};
use super::study::{LOOSER, Study, TOLERANCE};
use super::view::View;
use crate::answer::LimitDemand;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::predict::{Progress, turned};
use crate::scenario::Scenario;
use crate::scenario::ageing::Ageing;
use crate::standards;

/// What to compute.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
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

/// Units that are too many to draw.
const MOST_UNITS: u64 = 100_000;

/// Ages the part of a scenario.
///
/// # Errors
/// A scenario without ageing, options out of range, or a failure of the engine.
pub fn age(
    scenario: &Scenario,
    options: &Options,
    progress: &mut Progress<'_>,
) -> Result<AgeOutcome, AgeError> {
    let scenario = &*turned(scenario)?;
    let ageing = scenario.ageing.as_ref().ok_or(AgeError::NoAgeing)?;
    let horizon_years = horizon(options, ageing)?;
    progress("duty", 0.0);
    let study = Study::new(scenario, ageing, horizon_years)?;
    let draws = Draws::of(scenario)?;
    let question = study.question(&draws)?;
    let map = study.map(&question, !draws.is_empty())?;
    progress("wear over the years", 0.2);
    let factors = &study.nominal.current_factors;
    let view = View::new(&map, factors);
    let drift = Drift::follow(&study.nominal, &view, study.search_s, TOLERANCE);
    let looser = Drift::follow(&study.nominal, &view, study.search_s, LOOSER);
    let spring_off_k =
        study.spring_off_k(&question, &map, drift.at(study.horizon_s).contact_ohm)?;
    let warmer_view = view.warmer(spring_off_k);
    let warmer = Drift::follow(&study.nominal, &warmer_view, study.search_s, TOLERANCE);
    let dates = Finder {
        question: &question,
        drift: &drift,
        looser: &looser,
        warmer: &warmer,
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
        accuracy: scenario.ask.accuracy,
        covered_s: covered.until_years().unwrap_or(0.0) * YEAR_S,
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
    let worn = [&drift, &looser, &warmer].map(|d| d.at(study.horizon_s));
    let [end, loosely, warmly] = &worn;
    let mut warnings = study.warnings(&map, &drift, &dates);
    let left_out = draws.left_out.iter().cloned();
    warnings.extend(left_out.map(|path| AgeWarning::NotDrawn { path }));
    let asked = scenario.ask.accuracy;
    if let Some(reached) = rows_relative.filter(|reached| *reached > asked) {
        warnings.push(AgeWarning::AccuracyNotReached { asked, reached });
    }
    let mut outcome = AgeOutcome {
        format: FORMAT,
        version: env!("CARGO_PKG_VERSION").into(),
        scenario: scenario.name(),
        shows: scenario.shows.clone(),
        used_for: scenario.used_for,
        changed: scenario.changed.clone(),
        constants_from: ageing.source.clone(),
        rated_current_a: scenario.protector.rated_current_a,
        reference_ambient_c: scenario.protector.reference_ambient_k - ZERO_CELSIUS_K,
        mechanism: scenario.release.mechanism.kind(),
        reset: scenario.release.reset,
        horizon_years,
        searched_years: study.search_s / YEAR_S,
        law: ageing.relaxation,
        spring_beside: ageing.spring,
        limits: question.limits.map(|l| l.name.to_owned()),
        missed_as_new: missed_as_new(&question),
        trip_time_2x_limits_s: twice_rated(question.limits),
        covered,
        held_hours_a_year: study.states.iter().filter(|s| s.held).map(hours).sum(),
        duty: study.duty(&map, &view, end),
        dates,
        sensitivity,
        drift: table,
        lives,
        error_estimate: AgeErrors {
            spring_temperature_k: spring_off_k,
            preload_left: [loosely, warmly]
                .map(|other| (end.loss - other.loss).abs())
                .iter()
                .sum::<f64>()
                .max(1e-12),
            rows_relative,
            computed_with: AgeEffort {
                states: map.states.len(),
                resistances: map.resistances.len(),
                steps: drift.steps_taken(),
            },
        },
        warnings,
        not_modelled: not_modelled(scenario),
        cautions: Vec::new(),
        citations: scenario.sources.clone(),
    };
    outcome.cautions = cautions(&outcome);
    Ok(outcome)
}

fn horizon(options: &Options, ageing: &Ageing) -> Result<f64, AgeError> {
    let wrong = |option, what| Err(AgeError::Option { option, what });
    let years = options.years.unwrap_or(ageing.horizon_s / YEAR_S);
    if !(years.is_finite() && (0.0027..=200.0).contains(&years)) {
        let what =
            format!("parts are looked at for a day (0.0027 years) to 200 years, not {years}");
        return wrong("years", what);
    }
    if options.units > MOST_UNITS {
        let what = format!(
            "at most {MOST_UNITS} units are drawn, not {}",
            options.units
        );
        return wrong("units", what);
    }
    Ok(years)
}

fn no_lives(options: &Options, draws: &Draws) -> Lives {
    let missing = if draws.is_empty() {
        NoLives::NothingUncertain
    } else {
        NoLives::NotAsked
    };
    Lives {
        units: 0,
        seed: options.seed,
        drawn: Vec::new(),
        missing: Some(missing),
        by_year: Vec::new(),
        late: None,
        early: None,
    }
}

/// What the limits ask and the part never did.
fn missed_as_new(question: &Question<'_>) -> Vec<LimitDemand> {
    let missed = question.missed.iter().filter_map(|k| question.rows.get(*k));
    missed.map(standards::Limit::demand).collect()
}

/// Shortest and longest trip time that limits allow at twice the rating from cold, s.
fn twice_rated(limits: Option<&standards::PublishedLimits>) -> [Option<f64>; 2] {
    let rows = limits.map_or(&[][..], |l| l.rows);
    let row = rows
        .iter()
        .find(|r| r.multiple == 2.0 && r.after_multiple == 0.0);
    let demand = row.map(standards::Limit::demand);
    [
        demand.and_then(|d| d.at_least_s),
        demand.and_then(|d| d.at_most_s),
    ]
}
