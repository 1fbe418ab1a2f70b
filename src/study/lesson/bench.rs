//! A measuring lesson: a strip on the bench, its currents, and what should be read.

use super::graph::{Kind, at_push, digits};
use super::level::AROUND_MIN;
use super::{Graph, LessonError, Plan, Sheet};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::predict::closed_steady;
use crate::statistics::stream::{Purpose, Stream};
use crate::study::by_hand::unit::{MM, Unit};
use crate::study::by_hand::{At, Explanation, Full};

/// Hottest that the strip of a measuring lesson gets, degC: common practice, no source. Below the
/// boiling point of water.
const HOTTEST_C: f64 = 95.0;
/// How near a current comes to the trip point at most: the contacts stay closed.
const NEAREST: f64 = 0.92;
/// Fewest and most readings.
const READINGS: (usize, usize) = (3, 6);
/// Time constants until a strip has settled to a hundredth, and minutes for reading three meters.
const SETTLED: f64 = 5.0;
const READ_MIN: f64 = 1.5;
/// Points of the full model's curve.
const FULL: usize = 9;

/// What one group measures.
#[derive(Debug, Clone, PartialEq)]
pub struct Bench {
    /// How long to wait at each current, s.
    pub settle_s: f64,
    /// Largest current, A.
    pub most_a: f64,
    /// Hottest place of the strip at that current, degC.
    pub hottest_c: f64,
    /// At each current, in order.
    pub readings: Vec<Reading>,
}

/// What the full model says for one current, in the steady state.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Current, A.
    pub current_a: f64,
    /// Voltage across the strip, V.
    pub voltage_v: f64,
    /// How far its end has moved, m.
    pub deflection_m: f64,
    /// Its hottest place, degC.
    pub hottest_c: f64,
}

/// One sheet a group; their currents differ.
pub(super) fn sheets(
    plan: &Plan,
    explanation: &Explanation,
    full: &Full<'_>,
) -> Result<Vec<Sheet>, LessonError> {
    let tau_s = explanation
        .step("tau_far")
        .map(|s| s.result.value_si)
        .ok_or(LessonError::NeverReleases)?;
    let settle_s = digits(SETTLED * tau_s, 2);
    let each_min = settle_s / 60.0 + READ_MIN;
    // The steps by hand are done while the strip settles.
    let count = (plan.for_work_min() / each_min) as usize;
    if count < READINGS.0 {
        return Err(LessonError::TooSlow {
            needs_min: AROUND_MIN + READINGS.0 as f64 * each_min,
        });
    }
    let count = count.min(READINGS.1);
    let most_a = most_a(full)?;
    let curve = (1..=FULL).map(|k| reading(full, most_a * (k as f64 / FULL as f64).sqrt()));
    let curve = curve.collect::<Result<Vec<_>, _>>()?;
    (0..plan.variants)
        .map(|group| {
            let currents = currents(plan.seed, group as u64, most_a, count);
            let readings = currents.iter().map(|a| reading(full, *a));
            let readings = readings.collect::<Result<Vec<_>, _>>()?;
            let graph = line(explanation, full, &currents, &curve);
            let graph = graph.ok_or(LessonError::NeverReleases)?;
            let sheet = Sheet::posed(plan, explanation.clone(), graph, Vec::new());
            let mut sheet = sheet.ok_or(LessonError::TooFew {
                found: 0,
                wanted: plan.variants,
            })?;
            sheet.number = group + 1;
            sheet.bench = Some(Bench {
                settle_s,
                most_a,
                hottest_c: curve.last().map_or(f64::NAN, |r| r.hottest_c),
                readings,
            });
            Ok(sheet)
        })
        .collect()
}

/// The largest current that keeps the strip latched and cool enough, A.
fn most_a(full: &Full<'_>) -> Result<f64, LessonError> {
    let point = full.point.as_ref().ok_or(LessonError::NeverReleases)?;
    let mut most_a = digits(NEAREST * point.current_a, 2);
    while most_a > 0.0 && reading(full, most_a)?.hottest_c > HOTTEST_C {
        most_a = digits(0.95 * most_a, 2);
    }
    Ok(most_a)
}

/// Currents of a group: equal steps of their squares, each moved a little.
fn currents(seed: u64, group: u64, most_a: f64, count: usize) -> Vec<f64> {
    let stream = Stream::new(seed, Purpose::LESSONS, group);
    let one = |k: usize| {
        let moved = k as f64 - 0.5 * stream.uniform(k as u32);
        digits(most_a * (moved / count as f64).sqrt(), 3)
    };
    (1..=count).map(one).collect()
}

fn reading(full: &Full<'_>, current_a: f64) -> Result<Reading, LessonError> {
    let point = full.point.as_ref().ok_or(LessonError::NeverReleases)?;
    let model = &point.model;
    let state = closed_steady(model, current_a, full.air_k, &model.uniform(full.air_k))?;
    let state = state.ok_or(LessonError::NeverReleases)?;
    let share = model.device.current_share;
    let at = At {
        model: model.clone(),
        state,
        current_a,
    };
    Ok(Reading {
        current_a,
        voltage_v: share * current_a * at.resistance_ohm(),
        deflection_m: model.free_deflection_m(&at.state, current_a * current_a),
        hottest_c: model.peak_k(&at.state) - ZERO_CELSIUS_K,
    })
}

/// The straight line by hand over the square of the current: faces alone give heat off.
fn line(
    explanation: &Explanation,
    full: &Full<'_>,
    currents: &[f64],
    curve: &[Reading],
) -> Option<Graph> {
    let far = if full.device.housing.is_some() {
        "G_s"
    } else {
        "G"
    };
    let heats = explanation.step("Q")?.inputs.iter();
    let heats = heats
        .map(|q| q.symbol.as_str())
        .find(|s| s.starts_with('R'))?;
    let is_bent = full.device.laws.initial_curvature_per_m != 0.0;
    let kind = Kind {
        x: ("J", Unit::of("A²", 1.0)),
        y: ("d", MM),
        formula: match is_bent {
            false => "F L^2 (T_air - T_flat + J R / G) / (2 h)",
            true => "L^2 / 2 (kappa_0 + F (T_air - T_flat + J R / G) / h)",
        },
        names: &[at_push(full), &[("G", far), ("R", heats)]].concat(),
        source: "the tip formula at the rise of one body with one conductance",
    };
    let squared = |current_a: &f64| current_a * current_a;
    let curve = curve.iter();
    let curve = curve.map(|r| (squared(&r.current_a), r.deflection_m));
    kind.graph(
        explanation,
        currents.iter().map(squared),
        curve.collect(),
        None,
    )
}
