//! The engine for Python: text and numbers in, JSON and HTML out; `relatch/__init__.py` makes arrays
//! and records of them. Every function lets other threads of Python run while it computes.

use pyo3::create_exception;
use pyo3::exceptions::{PyRuntimeError, PyValueError};
use pyo3::prelude::*;
use relatch::internals::load::{Programme, Repeat};
use relatch::internals::predict::AskMetals;
use relatch::internals::present;
use relatch::internals::present::block::{Block, html_part};
use relatch::internals::standards::Band;
use relatch::internals::study::population::{Design, Settings, in_memory};
use relatch::internals::study::sweep::Sweep;
use relatch::internals::{evidence, family, scenario, study};
use relatch::{bench::Asked, machine, part::Scenario};
use std::fmt::Display;
use std::path::Path;

create_exception!(
    relatch,
    InputError,
    PyValueError,
    "What was given is wrong: where, and what is allowed."
);
create_exception!(
    relatch,
    ComputeError,
    PyRuntimeError,
    "The computation is impossible or failed."
);

/// A record as JSON, and as a part of a page.
type Told = (String, String);

fn input(error: impl Display) -> PyErr {
    InputError::new_err(error.to_string())
}

fn failed(error: impl Display) -> PyErr {
    ComputeError::new_err(error.to_string())
}

fn told(json: Result<String, impl Display>, blocks: &[Block]) -> PyResult<Told> {
    Ok((json.map_err(failed)?, html_part(blocks)))
}

fn read(name: &str, text: &str) -> PyResult<Scenario> {
    scenario::read_text(name, text).map_err(input)
}

/// The text of a scenario file, read and found right.
#[pyfunction]
fn load(path: &str) -> PyResult<String> {
    let text = scenario::file_text(Path::new(path)).map_err(input)?;
    read(path, &text)?;
    Ok(text)
}

/// Title of a scenario, found right.
#[pyfunction]
fn check(name: &str, text: &str) -> PyResult<String> {
    Ok(read(name, text)?.name())
}

/// A commented file to begin with.
#[pyfunction]
fn starter(kind: &str) -> PyResult<&'static str> {
    let known = "latch, heater-wound, snap-blade, bench-strip, case, datasheet or targets";
    relatch::starter(kind).ok_or_else(|| input(format!("no starter is called {kind}: {known}")))
}

/// The text with values set in it by their paths.
#[pyfunction]
fn set(name: &str, text: &str, values: Vec<(String, String)>) -> PyResult<String> {
    let pairs: Vec<(&str, &str)> = values.iter().map(|(p, v)| (&**p, &**v)).collect();
    Ok(scenario::set((name, text), "set", &pairs).map_err(input)?.0)
}

/// A prediction, with the characteristic at these currents (A) where they are given.
#[pyfunction]
#[pyo3(signature = (name, text, curve=false, currents_a=None, hot_fraction=0.8, metals=false))]
fn predict(
    py: Python<'_>,
    name: &str,
    text: &str,
    curve: bool,
    currents_a: Option<Vec<f64>>,
    hot_fraction: f64,
    metals: bool,
) -> PyResult<Told> {
    let scenario = read(name, text)?;
    let mut options = relatch::Options::default();
    options.characteristic = curve;
    options.currents_a = currents_a;
    options.hot_fraction = hot_fraction;
    options.without_tables = curve;
    options.without_course = curve;
    if metals {
        options.metals = AskMetals::Always;
    }
    let outcome = py.detach(|| relatch::predict_with(&scenario, &options, &mut |_, _| {}));
    let outcome = outcome.map_err(failed)?;
    let blocks = match curve {
        true => present::curve_blocks(&outcome),
        false => present::run_blocks(&outcome),
    };
    told(present::json(&outcome), &blocks)
}

/// How long to wait, from a nameplate and what was timed.
#[pyfunction]
#[pyo3(signature = (
    rating_a, load_a, ambient_c, start, tripped, reset_held_s, reset_refused_s, limits, compensated, on,
    reference_air_c, instantaneous, poles, phases, notices_lost_phase, resets_itself
))]
#[allow(clippy::too_many_arguments)] // they are the keywords of one function in Python
fn wait(
    py: Python<'_>,
    rating_a: f64,
    load_a: Option<f64>,
    ambient_c: Option<f64>,
    start: Option<Vec<(f64, f64)>>,
    tripped: Option<(f64, f64)>,
    reset_held_s: Vec<f64>,
    reset_refused_s: Vec<f64>,
    limits: Option<&str>,
    compensated: bool,
    on: Option<&str>,
    reference_air_c: Option<f64>,
    instantaneous: Option<&str>,
    poles: Option<u32>,
    phases: Option<u32>,
    notices_lost_phase: bool,
    resets_itself: bool,
) -> PyResult<Told> {
    let finite = |x: &f64| x.is_finite() && *x > 0.0;
    let steps = start.iter().flatten().flat_map(|(s, a)| [*s, *a]);
    let trip = tripped.iter().flat_map(|(s, a)| [*s, *a]);
    let waits = reset_held_s.iter().chain(&reset_refused_s).copied();
    let given = [rating_a]
        .into_iter()
        .chain(load_a)
        .chain(steps)
        .chain(trip)
        .chain(waits);
    if let Some(wrong) = given.into_iter().find(|x| !finite(x)) {
        return Err(input(format!(
            "{wrong}: currents and times are above zero and finite"
        )));
    }
    let airs = [
        ("ambient_c", ambient_c),
        ("reference_air_c", reference_air_c),
    ];
    for (name, air_c) in airs {
        if let Some(c) = air_c.filter(|c| !(-60.0..=150.0).contains(c)) {
            return Err(input(format!(
                "{name} = {c}: air of protectors is -60 to 150 degC"
            )));
        }
    }
    for (name, count, most) in [("poles", poles, 4), ("phases", phases, 3)] {
        if let Some(n) = count.filter(|n| !(1..=most).contains(n)) {
            return Err(input(format!("{name} = {n}: 1 to {most} are known")));
        }
    }
    let mut nameplate = machine::Nameplate::of_rating(rating_a);
    if let Some(name) = limits {
        nameplate = nameplate.held_to(name).map_err(input)?;
    }
    if let Some(c) = reference_air_c {
        nameplate = nameplate.at_reference(c + 273.15);
    }
    if let Some(said) = instantaneous {
        let known = Band::NAMES
            .iter()
            .find(|(name, _)| name.eq_ignore_ascii_case(said.trim()));
        let (_, band) = known.ok_or_else(|| {
            input(format!(
                "instantaneous = {said}: types B, C and D are known"
            ))
        })?;
        nameplate.instantaneous = Some(*band);
    }
    nameplate.resets_itself = resets_itself;
    nameplate = nameplate.with_poles(poles, phases, notices_lost_phase);
    nameplate.compensated = compensated;
    let mut timed = machine::Timed::default();
    (timed.trip, timed.held_s, timed.refused_s) = (tripped, reset_held_s, reset_refused_s);
    let question = family::Told {
        nameplate,
        load_a,
        ambient_k: ambient_c.map(|c| c + 273.15),
        start: start.map(|steps| Programme::steps(steps, Repeat::Once)),
        sits: match on {
            None => None,
            Some("box") => Some(machine::Sits::InABox),
            Some("motor") => Some(machine::Sits::OnTheMachine),
            Some(other) => {
                return Err(input(format!(
                    "on = {other}: it sits on a motor or in a box"
                )));
            }
        },
        timed,
    };
    let answer = py
        .detach(|| relatch::wait(&question.question()))
        .map_err(failed)?;
    told(
        present::wait_json(&answer),
        &present::wait_full_blocks(&answer),
    )
}

/// A scenario over one to three of its paths; the third text is a row a point, as CSV.
#[pyfunction]
fn sweep(
    py: Python<'_>,
    text: &str,
    over: Vec<String>,
    together: bool,
    metals: bool,
) -> PyResult<(String, String, String)> {
    let over: Vec<&str> = over.iter().map(String::as_str).collect();
    let sweep = Sweep::new(("the scenario", text), &over, together).map_err(input)?;
    let swept = py.detach(|| sweep.with_metals(metals).run(&mut |_| {}));
    let (json, html) = told(present::sweep_json(&swept), &present::sweep_blocks(&swept))?;
    Ok((json, html, present::sweep_csv(&swept).map_err(failed)?))
}

/// Scenarios, each a name and a text, beside each other.
#[pyfunction]
fn compare(py: Python<'_>, scenarios: Vec<(String, String)>) -> PyResult<Told> {
    let pairs: Vec<(&str, &str)> = scenarios.iter().map(|(n, t)| (&**n, &**t)).collect();
    for (name, text) in &pairs {
        read(name, text)?;
    }
    let outcome = py.detach(|| relatch::compare(&pairs));
    let outcome = outcome.map_err(|error| failed(error.to_string()))?;
    told(
        present::compare_json(&outcome),
        &present::compare_blocks(&outcome),
    )
}

/// Units that differ by their tolerances.
#[pyfunction]
fn population(
    py: Python<'_>,
    name: &str,
    text: &str,
    units: u64,
    sensitivity_rows: u64,
    seed: u64,
    surrogate: bool,
) -> PyResult<Told> {
    let scenario = read(name, text)?;
    let settings = Settings::new(units, seed, Design::Sobol, sensitivity_rows, false, None);
    let settings = settings.map_err(input)?.by_surrogate(surrogate);
    let lot = py.detach(|| in_memory(&scenario, &settings));
    let lot = lot.map_err(|e| if e.is_input() { input(e) } else { failed(e) })?;
    told(present::vary_json(&lot), &present::vary_blocks(&lot))
}

/// Failures per year of units that differ and wear.
#[pyfunction]
fn failures(
    py: Python<'_>,
    name: &str,
    text: &str,
    years: f64,
    units: u64,
    seed: u64,
) -> PyResult<Told> {
    let scenario = read(name, text)?;
    let mut options = relatch::FailuresOptions::default();
    (options.years, options.units, options.seed) = (years, units, seed);
    let outcome = py.detach(|| relatch::failures(&scenario, &options));
    let outcome = outcome.map_err(|e| if e.is_input() { input(e) } else { failed(e) })?;
    told(
        present::failures_json(&outcome),
        &present::failures_blocks(&outcome),
    )
}

/// Years of duty.
#[pyfunction]
fn age(py: Python<'_>, name: &str, text: &str, years: f64) -> PyResult<Told> {
    let scenario = read(name, text)?;
    let mut options = relatch::AgeOptions::default();
    options.years = Some(years);
    let outcome = py
        .detach(|| relatch::age(&scenario, &options))
        .map_err(failed)?;
    told(present::age_json(&outcome), &present::age_blocks(&outcome))
}

/// Parts that follow a datasheet; the third text is the best of them as a scenario.
#[pyfunction]
fn fit(py: Python<'_>, path: &str, seed: u64) -> PyResult<(String, String, Option<String>)> {
    let sheet = evidence::read_datasheet(Path::new(path)).map_err(input)?;
    let answer = py.detach(|| relatch::fit(&sheet, machine::Effort::default(), seed));
    let answer = answer.map_err(failed)?;
    let (json, html) = told(present::fit_json(&answer), &present::fit_blocks(&answer))?;
    Ok((json, html, answer.scenario))
}

/// The part that meets targets; the third text is that part as a scenario.
#[pyfunction]
fn design(
    py: Python<'_>,
    path: &str,
    units: u64,
    seed: u64,
    map: Option<[String; 2]>,
    trade: Option<[usize; 2]>,
    metals: bool,
) -> PyResult<(String, String, String)> {
    let targets = study::design::read(Path::new(path)).map_err(input)?;
    let mut asked = Asked::default();
    (asked.units, asked.seed, asked.map, asked.trade) = (units, seed, map, trade);
    asked.metals = metals;
    let found = py
        .detach(|| relatch::design(&targets, &asked))
        .map_err(input)?;
    let (json, html) = told(
        present::design_json(&found),
        &present::design_blocks(&found),
    )?;
    Ok((json, html, found.scenario_text.clone()))
}

/// What is wrong with a machine, from a case file (its logs lie beside it).
#[pyfunction]
fn diagnose(py: Python<'_>, path: &str, seed: u64) -> PyResult<Told> {
    let case = evidence::read(Path::new(path)).map_err(input)?;
    let diagnosis = py
        .detach(|| relatch::diagnose(&case, seed))
        .map_err(failed)?;
    told(
        present::diagnosis_json(&diagnosis),
        &present::diagnosis_blocks(&diagnosis, &case),
    )
}

/// The engine of `relatch`.
#[pymodule]
fn _engine(module: &Bound<'_, PyModule>) -> PyResult<()> {
    module.add("InputError", module.py().get_type::<InputError>())?;
    module.add("ComputeError", module.py().get_type::<ComputeError>())?;
    module.add("__version__", env!("CARGO_PKG_VERSION"))?;
    macro_rules! functions {
        ($($name:ident)*) => { $(module.add_function(wrap_pyfunction!($name, module)?)?;)* };
    }
    functions! {
        load check starter set predict wait sweep compare population failures age fit design diagnose
    }
    Ok(())
}
