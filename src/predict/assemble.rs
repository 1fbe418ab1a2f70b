//! A scenario in, an [`Outcome`] out.

use super::aftermath::{cool_down, repeated_resets};
use super::cautions::cautions;
use super::cycling::cycling;
use super::dial::dial_record;
use super::known::Known;
use super::magnet::magnetic;
use super::main_run::{case_of, main_run};
use super::not_modelled::not_modelled;
use super::options::Options;
use super::outcome::{FORMAT, Outcome};
use super::poles::poles_record;
use super::recorded::{RECORDED_TOLERANCE, Recorded};
use super::records::{reset_record, trip_record};
use super::snap_picture::snap_picture;
use super::{PredictError, Progress, parallel};
use crate::answer::Caution;
use crate::scenario::Scenario;

/// Predict everything a scenario asks for.
///
/// # Errors
/// A property needed outside its range, a hot start beyond release, an impossible history, or a
/// failure of the integration.
pub fn predict(
    scenario: &Scenario,
    options: &Options,
    progress: &mut Progress<'_>,
) -> Result<Outcome, PredictError> {
    let mut case = case_of(scenario);
    case.halt.clone_from(&options.halt);
    let case = &case;
    progress("trip and reset wait", 0.0);
    let (device, run) = main_run(scenario, case)?;
    let model = &device.on(run.fidelity.fineness);
    let main = &run.value;
    let mut recorded = Recorded::of(scenario, model, case, main, options)?;
    progress("trip point", 0.1);
    let known = Known::of(scenario, options, case, &device, model, &run)?;
    let warnings = known.warnings(&recorded.played)?;
    progress("start-up", 0.2);
    let (reset, sketched) = parallel::both(
        || reset_record(scenario, &device, case, &run),
        || known.sketched(),
    );
    let reset = reset?;
    let with_tables = !options.without_tables;
    let (mut cool, mut resets, mut snap) = Default::default();
    if with_tables {
        cool = cool_down(model, RECORDED_TOLERANCE, case, main, &reset)?;
        resets = repeated_resets(&run, model, case, &scenario.load)?;
        snap = snap_picture(model, case.ambient_k());
    }
    let tables = known.tables(progress)?;
    let metal_data = known.metal_data(&reset, progress)?;
    let characteristic = match options.characteristic {
        true => Some(known.characteristic(progress)?),
        false => sketched.transpose()?,
    };
    let has_limits = options.sketch.is_some_and(|s| s.hot_fraction.is_some());
    let is_shown = options.characteristic || has_limits;
    let comes_late = !is_shown && known.comes_late()?;
    let at_length = with_tables || options.characteristic;
    let (mut poles, mut dial) = Default::default();
    if at_length {
        let timed_a = known.timed_a(characteristic.as_ref());
        poles = poles_record(scenario, &device, case, known.point.held(), &timed_a)?;
        dial = dial_record(scenario)?;
    }
    let cycles = with_tables && main.relatch_wait_s.is_some();
    let cycling = match cycles {
        true => cycling(model, case, &scenario.load)?,
        false => None,
    };
    let part = known.part()?;
    let error_estimate = known.error_estimate(recorded.energy_balance(model))?;
    let trip = trip_record(scenario, case, model, main, known.squared)?;
    let hot_sketch = options.sketch.as_ref().and_then(|s| s.hot_fraction);
    let with_times = at_length || hot_sketch.is_some();
    let magnetic = magnetic(scenario, &device, case, &trip, with_times)?;
    let mut outcome = Outcome {
        format: FORMAT,
        version: env!("CARGO_PKG_VERSION").into(),
        scenario: scenario.name(),
        shows: scenario.shows.clone(),
        used_for: scenario.used_for,
        changed: scenario.changed.clone(),
        part,
        error_estimate,
        metal_data,
        trip,
        magnetic,
        reset,
        poles,
        dial,
        cycling,
        premature_reset: tables.premature_reset,
        preload_shift: tables.preload_shift,
        ambient_correction: tables.ambient_correction,
        heat: recorded.heat(main, &device),
        shapes: recorded.shapes(model),
        film: options.film.then(|| recorded.film(model)),
        states: std::mem::take(&mut recorded.played.states),
        series: std::mem::take(&mut recorded.played.series),
        events: recorded.events,
        strike: known.strike(),
        cool_down: cool,
        repeated_resets: resets,
        stress: known.stress(),
        snap,
        trip_point: known.point.record,
        characteristic,
        warnings,
        not_modelled: not_modelled(scenario),
        cautions: Vec::new(),
        citations: scenario.sources.clone(),
    };
    outcome.cautions = cautions(&outcome);
    if comes_late && !outcome.cautions.contains(&Caution::NotProtected) {
        outcome.cautions.insert(0, Caution::NotProtected);
    }
    Ok(outcome)
}
