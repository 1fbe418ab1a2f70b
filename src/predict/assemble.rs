//! A scenario in, an [`Outcome`] out.

use super::aftermath::{cool_down, repeated_resets};
use super::ambient::with_corners;
use super::case::Case;
use super::cautions::cautions;
use super::cross_check::cross_check;
use super::curve::{Sketch, characteristic, sketch};
use super::cycling::cycling;
use super::dial::{dial_record, turned};
use super::fidelity::{Converged, Ladder};
use super::film::{cooled, film, frame_times};
use super::history::play;
use super::magnet::{magnetic, strike};
use super::metals::Nominal;
use super::outcome::{
    Characteristic, ErrorEstimate, FORMAT, Governs, HeatFlow, Moment, NotModelled, Outcome,
};
use super::part::describe;
use super::poles::poles_record;
use super::record::Recorder;
use super::records::{
    energy_defect, relatch_wait, reset_record, shapes_of, snapshot_times, trip_record, trip_time,
};
use super::run::{RunAnswer, run, run_on};
use super::snap_picture::snap_picture;
use super::stress::stress_across;
use super::tables::{ambient_correction, preload_shift, premature_reset, trip_point_record};
use super::thin::thin;
use super::trip_point::trip_point;
use super::warnings::{
    THROUGH_MATTERS, accuracy_reached, at_release, check_ranges, of_the_model, over_the_run,
    through_part,
};
use super::{Halt, PredictError, Progress, parallel};
use crate::answer::{TripTime, Wait};
use crate::device::{Device, Model};
use crate::load::Programme;
use crate::scenario::{MachineCase, Mechanism, Scenario, ThroughThickness};

/// Most states of a time series: enough for any drawing, small enough to open in a spreadsheet.
const MOST_STATES: usize = 6000;
/// Most entries of the account of the heat.
const MOST_FLOWS: usize = 1200;

/// Whether the answers are asked again for what is known of the metals.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
#[non_exhaustive]
pub enum AskMetals {
    /// With the tables, for parts that are marched in registers: some hundredths of a second.
    #[default]
    WithTables,
    /// For parts that are marched in registers, with tables or without.
    WhereCheap,
    /// For every part.
    Always,
}

/// What to compute beyond the main answers.
#[derive(Debug, Clone, Default)]
#[non_exhaustive]
pub struct Options {
    /// Compute the time-current characteristic.
    pub characteristic: bool,
    /// Currents of the characteristic, A; `None`: chosen.
    pub currents_a: Option<Vec<f64>>,
    /// Fraction of rated current of the hot curve (0.8 when 0).
    pub hot_fraction: f64,
    /// Compute the trip time again by explicit steps.
    pub cross_check: bool,
    /// Leave out the tables (preload shift, ambient correction, premature reset).
    pub without_tables: bool,
    /// When the answers are asked again for what is known of the metals.
    pub metals: AskMetals,
    /// Keep the frames of a moving picture.
    pub film: bool,
    /// Leave out the recorded course: series, states, events and the energy account are empty then,
    /// the shapes are those at the start and at the end of carrying, and ranges and limits are held
    /// against the states at the start, at release and at open contacts alone.
    pub without_course: bool,
    /// A few points of the cold curve in place of the whole characteristic.
    pub sketch: Option<Sketch>,
    /// When to give up.
    pub halt: Halt,
}

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
    let case = Case {
        halt: options.halt.clone(),
        ..case_of(scenario)
    };
    progress("trip and reset wait", 0.0);
    let (device, main) = main_run(scenario, &case)?;
    let model = device.on(main.fidelity.fineness);
    let mut recorder = Recorder::new(4, scenario.ask.states_at_s.clone());
    let opening_s = device.release.opening_time_s;
    // The moments drawn are those of the load itself, whatever the history plays.
    let mut of_the_load = Recorder::new(1, Vec::new());
    let events = if options.without_course {
        recorder.glance(&model, &case, &scenario.load, &main.value)?;
        Vec::new()
    } else {
        let mut wanted = snapshot_times(&main.value, opening_s);
        if options.film {
            wanted.extend(frame_times(&main.value, &scenario.load, &device.release));
            wanted.sort_by(|a, b| a.0.total_cmp(&b.0));
        }
        if scenario.history.is_empty() {
            recorder.snap_at(wanted);
            recorder.keep_heat();
        } else {
            of_the_load.snap_at(wanted);
            of_the_load.keep_heat();
            let watch = &mut of_the_load;
            run_on(
                &model,
                RECORDED_TOLERANCE,
                &case,
                &scenario.load,
                true,
                watch,
            )?;
        }
        play(
            &model,
            RECORDED_TOLERANCE,
            &case,
            &scenario.load,
            &scenario.history,
            &mut recorder,
        )?
    };

    progress("trip point", 0.1);
    let point = trip_point_record(&device, &case)?;
    let mut warnings = Vec::new();
    check_ranges(
        &device,
        scenario.strip.allow_extrapolation,
        recorder.range_k,
        &mut warnings,
    )?;
    let squared = strip_current_squared(&device, scenario, &main.value);
    of_the_model(scenario, &model, &main.value.state, &mut warnings);
    let errors = [main.error_relative, point.error_relative];
    accuracy_reached(case.accuracy, errors, &mut warnings);
    if main.value.trip_time_s.is_some() {
        let mechanism = model.mechanism();
        let rotation = mechanism.rotation_rad(&model, &main.value.state, squared);
        at_release(&model, &main.value.state, squared, rotation, &mut warnings);
    }
    over_the_run(
        &device,
        recorder.winding_k,
        recorder.contact_v,
        &mut warnings,
    );

    let limits = scenario.limits();
    progress("start-up", 0.2);
    let (reset, sketched) = parallel::both(
        || reset_record(scenario, &device, &case, &main),
        || {
            let asked = options.sketch.as_ref()?;
            let held = point.held();
            let allowed = scenario.strip.allow_extrapolation;
            Some(sketch(&device, &case, held, asked, limits, allowed))
        },
    );
    let reset = reset?;
    let moment = if main.value.trip_time_s.is_some() {
        Moment::Release
    } else {
        Moment::End
    };
    // Of a disc the shell carries stress that the layers alone do not know.
    let stress = (device.disc().is_none())
        .then(|| stress_across(&model, &main.value.state, squared, moment));
    let (cool_down, repeated_resets, snap) = if options.without_tables {
        (Vec::new(), Vec::new(), None)
    } else {
        (
            cool_down(&model, RECORDED_TOLERANCE, &case, &main.value, &reset)?,
            repeated_resets(&main, &model, &case, &scenario.load)?,
            snap_picture(&model, case.ambient_k()),
        )
    };
    let (premature_reset, preload_shift, ambient_correction) = if options.without_tables {
        (Vec::new(), Vec::new(), Vec::new())
    } else {
        // The part as it is stands in the table too.
        let own = device.release.preload_loss;
        let mut losses = scenario.ask.losses.clone();
        if !losses.iter().any(|l| (l - own).abs() < 1e-9) {
            losses.push(own);
            losses.sort_by(f64::total_cmp);
        }
        (
            premature_reset(
                &device,
                &case,
                &scenario.load,
                &scenario.ask.waits_s,
                &main.value,
            )?,
            preload_shift(&device, &case, &scenario.load, &losses, progress)?,
            ambient_correction(
                &device,
                &case,
                &scenario.load,
                &scenario.ask.ambients_k,
                scenario.protector.reference_ambient_k,
                progress,
            )?,
        )
    };
    let metal_data = match options.metals {
        AskMetals::Always => true,
        AskMetals::WhereCheap => device.goes_fast(),
        AskMetals::WithTables => device.goes_fast() && !options.without_tables,
    };
    let metal_data = if metal_data {
        progress("what is known of the metals", 0.7);
        let nominal = Nominal {
            trip_point_a: point.record.held().map(|held| held.current_a),
            trips: main.value.trip_time_s.is_some(),
            start_governs: reset.governs.is_some_and(|g| g != Governs::Relatch),
            fidelity: main.fidelity,
        };
        let set = turned(scenario)?;
        Some(super::metals::metal_data(&set, &case, &nominal)?)
    } else {
        None
    };
    let characteristic = if options.characteristic {
        let hot = if options.hot_fraction > 0.0 {
            options.hot_fraction
        } else {
            0.8
        };
        Some(characteristic(
            &device,
            &case,
            options.currents_a.as_deref(),
            hot,
            limits,
            scenario.strip.allow_extrapolation,
            progress,
        )?)
    } else {
        sketched.transpose()?
    };
    let timed_at = |c: &Characteristic| c.cold.iter().map(|p| p.current_a).collect::<Vec<f64>>();
    let timed_at = (characteristic.as_ref())
        .filter(|_| options.characteristic)
        .map_or_else(Vec::new, timed_at);
    let poles = match options.without_tables && !options.characteristic {
        true => None,
        false => poles_record(scenario, &device, &case, point.held(), &timed_at)?,
    };
    let dial = match options.without_tables && !options.characteristic {
        true => None,
        false => dial_record(scenario)?,
    };
    let cycling = match options.without_tables || main.value.relatch_wait_s.is_none() {
        true => None,
        false => cycling(&model, &case, &scenario.load)?,
    };
    // The part is described on a grid fine enough for steady states, whatever the run needed.
    let part_model = Model::new(
        &device,
        Ladder::new(&device, f64::INFINITY, case.accuracy)
            .rung(2)
            .fineness,
    );
    let compliance = match (&main.value.trip_time_s, &point.at) {
        (Some(_), _) | (None, None) => model.compliance_m_per_n(&main.value.state),
        (None, Some((point_model, state))) => point_model.compliance_m_per_n(state),
    };
    let part = describe(scenario, &part_model, &case, compliance)?;
    let cross_check_relative = match main.value.trip_time_s {
        Some(t) if options.cross_check => {
            cross_check(&device, &case, &scenario.load, main.fidelity, t)?
        }
        _ => None,
    };
    let error = main.error_relative.filter(|e| e.is_finite());
    let energy_in = recorder.energy.in_j;
    recorder.thin(MOST_STATES);
    // Without a course the recorder itself has seen the moments of the load.
    let recorder_saw_the_load = scenario.history.is_empty() || options.without_course;
    let heat = if recorder_saw_the_load {
        std::mem::take(&mut recorder.heat)
    } else {
        std::mem::take(&mut of_the_load.heat)
    };
    let heat = of_one_trip(heat, &main.value, &device);
    let (snapshots, end_s) = if recorder_saw_the_load {
        (
            &recorder.snapshots,
            events.last().map_or(f64::INFINITY, |e| e.time_s),
        )
    } else {
        (&of_the_load.snapshots, f64::INFINITY)
    };
    let shapes = shapes_of(&model, snapshots, end_s);
    let film = options.film.then(|| film(&model, snapshots));
    let strike = match (options.film, scenario.magnetic, &scenario.closing) {
        (true, Some(built), Some(closing)) => strike(built, closing),
        _ => None,
    };
    let trip = trip_record(scenario, &case, &model, &main.value, squared)?;
    let with_table = options.characteristic || !options.without_tables;
    let magnetic = magnetic(scenario, &device, &case, &trip, with_table)?;
    let mut outcome = Outcome {
        format: FORMAT,
        version: env!("CARGO_PKG_VERSION").into(),
        scenario: scenario.name(),
        shows: scenario.shows.clone(),
        changed: scenario.changed.clone(),
        part,
        error_estimate: ErrorEstimate {
            trip_time_relative: main.value.trip_time_s.and(error),
            trip_point_relative: point.error_relative,
            relatch_wait_relative: main.value.relatch_wait_s.and(error),
            cross_check_relative,
            energy_balance_relative: (energy_in > 0.0)
                .then(|| energy_defect(&model, &recorder) / energy_in),
            computed_with: main.fidelity.computed_with(device.length_m),
        },
        metal_data,
        trip,
        magnetic,
        trip_point: point.record,
        reset,
        poles,
        dial,
        cycling,
        premature_reset,
        preload_shift,
        ambient_correction,
        states: recorder.states,
        events,
        shapes,
        series: recorder.series,
        heat,
        cool_down,
        repeated_resets,
        stress,
        snap,
        film,
        strike,
        characteristic,
        warnings,
        not_modelled: not_modelled(scenario),
        cautions: Vec::new(),
        citations: scenario.sources.clone(),
    };
    outcome.cautions = cautions(&outcome);
    Ok(outcome)
}

/// Share of the curvature that heat across the layers makes at release, from which on it is
/// followed where it matters in the main run: a half of what matters there.
const ACROSS_COUNTS: f64 = 0.5 * THROUGH_MATTERS;

/// Local tolerance of the run whose course is recorded: it takes its steps the general way.
pub(super) const RECORDED_TOLERANCE: f64 = 2e-8;

/// What stays the same through all predictions of a scenario.
pub(crate) fn case_of(scenario: &Scenario) -> Case {
    let corners = match &scenario.machine_case {
        Some(MachineCase::Given(points)) => points.as_slice(),
        _ => &[],
    };
    Case {
        ambient: with_corners(scenario.surroundings.ambient.clone(), corners),
        before: scenario.before,
        rated_current_a: scenario.protector.rated_current_a,
        accuracy: scenario.ask.accuracy,
        longest_s: scenario.ask.longest_s,
        halt: Halt::default(),
    }
}

/// The main run, on the device with heat across the layers resolved where that matters.
///
/// # Errors
/// As [`predict`].
pub fn main_run(
    scenario: &Scenario,
    case: &Case,
) -> Result<(Device, Converged<RunAnswer>), PredictError> {
    let set = turned(scenario)?;
    let device = Device::new(&set)?;
    let main =
        run(&device, case, &scenario.load, true).map_err(|e| with_trip_point(e, &device, case))?;
    if scenario.strip.through_thickness != ThroughThickness::Auto {
        return Ok((device, main));
    }
    let model = device.on(main.fidelity.fineness);
    let squared = strip_current_squared(&device, scenario, &main.value);
    let (part, _) = through_part(&model, &main.value.state, squared);
    if part.abs() < THROUGH_MATTERS || device.poles.is_some() || device.disc().is_some() {
        return Ok((device, main));
    }
    let resolved = device.resolved(squared * ACROSS_COUNTS / part.abs());
    let main = run(&resolved, case, &scenario.load, true)?;
    Ok((resolved, main))
}

/// When a constant current in place of the load trips it, and how long it must cool then.
///
/// # Errors
/// As [`predict`].
pub(crate) fn under(scenario: &Scenario, current_a: f64) -> Result<(TripTime, Wait), PredictError> {
    let scenario = Scenario {
        load: Programme::constant(current_a),
        ..scenario.clone()
    };
    let case = case_of(&scenario);
    let (_, main) = main_run(&scenario, &case)?;
    let time = trip_time(&main, &scenario.load, &case);
    Ok((time, relatch_wait(&main.value)))
}

/// A start beyond release is explained better with the trip point beside it.
fn with_trip_point(error: PredictError, device: &Device, case: &Case) -> PredictError {
    match error {
        PredictError::HotBeyondRelease { current_a, .. } => {
            let point = trip_point(device, case.ambient_k(), case.rated_current_a, 1e-4);
            let trip_point_a = point.ok().and_then(|p| p.value.current_a());
            PredictError::HotBeyondRelease {
                current_a,
                trip_point_a,
            }
        }
        other => other,
    }
}

fn strip_current_squared(device: &Device, scenario: &Scenario, main: &RunAnswer) -> f64 {
    // Just before the end: at a corner of the programme the earlier piece is the one that released.
    let t = main.end_s * (1.0 - 1e-12);
    (device.current_share * scenario.load.piece_after(t).at(t).0).powi(2)
}

/// The account of the heat up to the first relatch and a little further; to the relatch itself
/// where the contacts close there.
fn of_one_trip(heat: Vec<HeatFlow>, main: &RunAnswer, device: &Device) -> Vec<HeatFlow> {
    let opened_s = main.trip_time_s.map(|t| t + device.release.opening_time_s);
    let beyond = cooled(&device.release);
    let end_s = opened_s
        .zip(main.relatch_wait_s)
        .map_or(f64::INFINITY, |(opened, wait)| opened + beyond * wait);
    let inside = |h: &HeatFlow| h.time_s <= end_s * (1.0 + 1e-9);
    let mut heat: Vec<HeatFlow> = heat.into_iter().filter(inside).collect();
    thin(&mut heat, MOST_FLOWS, |a, b| {
        let (a, b) = (a.electrical_w, b.electrical_w);
        (a - b).abs() > 0.3 * a.abs().max(b.abs())
    });
    heat
}

fn not_modelled(scenario: &Scenario) -> Vec<NotModelled> {
    let mut list = vec![NotModelled::Arc];
    list.extend(match scenario.magnetic {
        None => [NotModelled::MagneticForces].as_slice(),
        Some(_) => &[NotModelled::EddyCurrents, NotModelled::BlowOff],
    });
    if scenario.poles.is_none() {
        list.push(NotModelled::NeighbouringPoles);
    }
    let latch = scenario.release.mechanism.latch();
    if latch.is_some_and(|l| l.compensating_m.is_some()) {
        list.push(NotModelled::SlowCompensation);
    }
    list.push(NotModelled::UnitSpread);
    match scenario.release.mechanism {
        Mechanism::SnapBlade(_) => list.push(NotModelled::FadingContactForce),
        Mechanism::Disc(_) => {
            list.extend([NotModelled::FadingContactForce, NotModelled::UnevenDisc]);
            if matches!(scenario.machine_case, Some(MachineCase::Motor { .. })) {
                list.push(NotModelled::WindingOfMotor);
            }
        }
        _ => {}
    }
    if scenario.strip.current_share < 1.0 && scenario.strip.shunt_heat_to.is_none() {
        list.push(NotModelled::ShuntHeat);
    }
    list
}
