//! A scenario in, a [`FailuresOutcome`] out.

use super::FailuresError;
use super::check::check;
use super::margins::{margins, ways, worst};
use super::outcome::*;
use super::part::Parts;
use super::rates::{Drawn, Rates};
use super::response::Response;
use super::returned::{ReturnedPart, State, confront};
use super::shelf::{NoShelf, Shelf, kept};
use crate::answer::Caution;
use crate::predict::{Progress, parallel, turned};
use crate::scenario::{Reset, Scenario, UsedFor};
use crate::statistics::importance::{Mixture, nearest, norm};
use crate::statistics::rates::CONFIDENCE;
use crate::study::ageing::{self, not_modelled};
use std::convert::Infallible;

/// What to compute.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Options {
    /// Years looked at.
    pub years: f64,
    /// Units drawn.
    pub units: u64,
    /// Seed of the draws: the same seed gives the same record.
    pub seed: u64,
    /// Parts taken back, to be held against the rates.
    pub returned: Vec<ReturnedPart>,
}

impl Default for Options {
    fn default() -> Options {
        Options {
            years: 10.0,
            units: 16_384,
            seed: 1,
            returned: Vec::new(),
        }
    }
}

/// Fewest and most units.
const UNITS: [u64; 2] = [256, 1_000_000];
/// Most rows of years.
const MOST_YEARS: f64 = 50.0;
/// Units that are computed together.
const CHUNK: u64 = 512;
/// An upper end so many times the lower: the interval is called wide.
const WIDE: f64 = 4.0;

/// Failures early and late, per year, of units that differ.
///
/// # Errors
/// A scenario without ageing, options out of range, tolerances of impossible parts, or a failure of
/// the engine.
pub fn failures(
    scenario: &Scenario,
    options: &Options,
    progress: &mut Progress<'_>,
) -> Result<FailuresOutcome, FailuresError> {
    failures_kept(scenario, options, &NoShelf, progress)
}

/// The same, with what was computed kept on a shelf until the whole is there.
///
/// # Errors
/// As [`failures`].
pub fn failures_kept(
    scenario: &Scenario,
    options: &Options,
    shelf: &dyn Shelf,
    progress: &mut Progress<'_>,
) -> Result<FailuresOutcome, FailuresError> {
    let years = years(options)?;
    let scenario = &*turned(scenario)?;
    let (parts, middle) = Parts::of(scenario, options.years)?;
    let ways = ways(&middle.map);
    progress("parts", 0.02);
    let response = Response::new(&parts, middle, shelf, &mut |done| {
        progress("parts", 0.02 + 0.5 * done);
    })?;
    progress("where parts fail", 0.52);
    let (centres, distances) = centres(&parts, &response, &ways, options.years);
    let mixture = Mixture::new(parts.dimensions(), centres);
    let units = units(
        options,
        years.len(),
        shelf,
        |n| {
            let (scores, weight) = mixture.draw(options.seed, n);
            let unit = response.unit(&parts, &scores);
            let worst = worst(&ways, &margins(&unit, &years));
            Drawn { weight, worst }
        },
        &mut |done| progress("units", 0.55 + 0.3 * done),
    );
    progress("check", 0.85);
    let (checked, off_m) = check(&parts, &ways, &mixture, options.seed, (&units, &years))?;
    progress("rates", 0.95);
    let rates = Rates {
        mixture: &mixture,
        units: &units,
        years: &years,
        off_m,
    };
    let drawn = drawn(&parts);
    let names: Vec<String> = drawn.iter().map(|d| d.path.clone()).collect();
    let marginals = parts.marginals();
    let records: Vec<WayRecord> = Failure::ALL
        .iter()
        .filter(|f| ways.contains(f))
        .map(|failure| WayRecord {
            failure: *failure,
            nearest_deviations: distances[*failure as usize],
            by_year: rates.by_year(*failure),
            saved: rates.saved(*failure, &names, &marginals, |n| {
                mixture.draw(options.seed, n).0
            }),
        })
        .collect();
    let returned = (!options.returned.is_empty()).then(|| confront(&records, &options.returned));
    let mut outcome = FailuresOutcome {
        format: FORMAT,
        version: env!("CARGO_PKG_VERSION").into(),
        scenario: scenario.name(),
        shows: scenario.shows.clone(),
        used_for: scenario.used_for,
        changed: scenario.changed.clone(),
        constants_from: scenario
            .ageing
            .as_ref()
            .map_or(String::new(), |a| a.source.clone()),
        rated_current_a: scenario.protector.rated_current_a,
        mechanism: scenario.release.mechanism.kind(),
        reset: scenario.release.reset,
        years: options.years,
        units: options.units,
        seed: options.seed,
        confidence: CONFIDENCE,
        limits: parts.limits.map(|l| l.name.to_owned()),
        warnings: warnings(&parts, options, &records),
        drawn,
        ways: records,
        computed: Computed {
            parts_asked: response.asked,
            centres: mixture.centres(),
            checked,
            off_m,
        },
        returned,
        not_modelled: not_modelled(scenario),
        cautions: Vec::new(),
        citations: scenario.sources.clone(),
    };
    outcome.cautions = cautions(&outcome);
    Ok(outcome)
}

/// The rows: each year, or fifty even steps.
fn years(options: &Options) -> Result<Vec<f64>, FailuresError> {
    let wrong = |option, what| Err(FailuresError::Option { option, what });
    let end = options.years;
    if !(end.is_finite() && (0.0027..=200.0).contains(&end)) {
        let what = format!("parts are looked at for a day (0.0027 years) to 200 years, not {end}");
        return wrong("years", what);
    }
    let [fewest, most] = UNITS;
    if !(fewest..=most).contains(&options.units) {
        let what = format!("{fewest} to {most} units are drawn, not {}", options.units);
        return wrong("units", what);
    }
    if let Some(old) = options.returned.iter().find(|p| p.age_years > end) {
        let what = format!(
            "a part of {} years is older than the {end} years looked at",
            old.age_years
        );
        return wrong("returned", what);
    }
    let step = if end <= MOST_YEARS {
        1.0
    } else {
        end / MOST_YEARS
    };
    let mut rows: Vec<f64> = (0..)
        .map(|k| f64::from(k) * step)
        .take_while(|y| *y < end)
        .collect();
    rows.push(end);
    Ok(rows)
}

/// Values of the tolerances at these scores, and the scores of what wears.
pub(super) fn scored<'s>(parts: &Parts<'_>, scores: &'s [f64]) -> (Vec<f64>, &'s [f64]) {
    let list = &parts.inputs.list;
    let values = list.iter().zip(scores).map(|(i, s)| i.at(*s)).collect();
    (values, scores.get(list.len()..).unwrap_or(&[]))
}

/// Nearest failing units of every margin, new and in the end; and the nearest of each way.
fn centres(
    parts: &Parts<'_>,
    response: &Response,
    ways: &[Failure],
    end: f64,
) -> (Vec<Vec<f64>>, [Option<f64>; 3]) {
    let all: Vec<(usize, f64)> = (0..ways.len()).flat_map(|k| [(k, 0.0), (k, end)]).collect();
    let found = parallel::map(
        &all,
        |(k, year)| {
            nearest(parts.dimensions(), |scores| {
                margins(&response.unit(parts, scores), &[*year])[0][*k]
            })
        },
        &mut |_| {},
    );
    let mut distances = [None::<f64>; 3];
    let mut centres = Vec::new();
    for ((k, _), point) in all.iter().zip(found) {
        let Some(point) = point else { continue };
        let far = norm(point.iter().copied());
        let own = &mut distances[ways[*k] as usize];
        *own = Some(own.map_or(far, |o| o.min(far)));
        if far > 0.0 {
            centres.push(point);
        }
    }
    (centres, distances)
}

/// All units, in order.
fn units(
    options: &Options,
    years: usize,
    shelf: &dyn Shelf,
    one: impl Fn(u64) -> Drawn + Sync,
    done: &mut (dyn FnMut(f64) + Send),
) -> Vec<Drawn> {
    let chunks: Vec<u64> = (0..options.units.div_ceil(CHUNK)).collect();
    let all = chunks.len() as f64;
    let found = parallel::map(
        &chunks,
        |c| {
            let units = c * CHUNK..((c + 1) * CHUNK).min(options.units);
            let name = format!("units-{c:06}");
            let never_fails = kept(shelf, &name, || {
                Ok::<_, Infallible>(units.flat_map(|n| one(n).to_numbers()).collect())
            });
            let numbers = never_fails.unwrap_or_else(|e| match e {});
            Drawn::of_numbers(&numbers, years)
        },
        &mut |n| done(n as f64 / all),
    );
    found.into_iter().flatten().collect()
}

/// What differs from unit to unit.
fn drawn(parts: &Parts<'_>) -> Vec<ageing::Drawn> {
    let inputs = parts.inputs.list.iter().map(|i| ageing::Drawn {
        path: i.path.clone(),
        value: i.nominal,
        standard_uncertainty: i.deviation,
        dimension: i.dimension(),
    });
    inputs.chain(parts.draws.record()).collect()
}

fn warnings(parts: &Parts<'_>, options: &Options, ways: &[WayRecord]) -> Vec<FailuresWarning> {
    let left_out = parts.draws.left_out.iter().cloned();
    let mut list: Vec<FailuresWarning> = left_out
        .map(|path| FailuresWarning::NotDrawn { path })
        .collect();
    if parts.dimensions() == 0 {
        list.push(FailuresWarning::NothingVaries);
    }
    let returned = &options.returned;
    if !returned.is_empty() && returned.iter().all(|p| p.state != State::Sound) {
        list.push(FailuresWarning::OnlyFailed);
    }
    let wide = ways.iter().filter(|way| {
        let last = way.by_year.last().map(|y| y.failed);
        last.is_some_and(|s| s.share > 0.0 && s.high > WIDE * s.low)
    });
    list.extend(wide.map(|way| FailuresWarning::FewDraws {
        failure: way.failure,
    }));
    list
}

/// The cautions that concern this outcome, most urgent first. They cannot be switched off.
fn cautions(outcome: &FailuresOutcome) -> Vec<Caution> {
    let mut list = Vec::new();
    let late = outcome
        .ways
        .iter()
        .find(|w| w.failure == Failure::LeavesLimitsLate);
    let last = late.and_then(|way| way.by_year.last());
    if last.is_some_and(|y| y.failed.share > 1e-6) {
        list.push(Caution::LateUnits);
    }
    list.extend([Caution::FindCause, Caution::FaultSigns]);
    if outcome.reset == Reset::Automatic {
        list.push(Caution::StartsByItself);
    }
    list.extend([
        Caution::ReplaceBefore,
        Caution::NeverRaise,
        Caution::DeliberateOverload,
    ]);
    if outcome.used_for == UsedFor::Teaching {
        list.push(Caution::Teaching);
    }
    list.extend([Caution::ModelledScatter, Caution::ModelEstimate]);
    list
}
