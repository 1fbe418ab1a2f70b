//! One physical design of a family, and its trip times in units of its own.
//!
//! Two similarities make a design serve many nameplates. Multiply all resistances by a factor and
//! divide the square of the current by it: every temperature stays. Multiply all heat capacities by
//! a factor: every time is multiplied by it. So a member is computed once, in its own current and
//! time, and [`super::Part`] places it.

use super::shape::size;
use super::trip_times::{DIRECT, TripTimes, WOUND, ideal};
use crate::device::{Device, Drive, Fineness, Plant};
use crate::load::Programme;
use crate::predict::{Case, Fidelity, Halt, Unwatched, closed_steady, run_on};
use crate::scenario::Before;
use crate::solve::Event;
use crate::statistics::sobol::SobolSequence;

/// Numbers drawn for a member.
pub(super) const DRAWS: usize = 17;
/// Trip point over the rating for which a winding is laid out: the middle of what sheets allow
/// (from memory).
const WOUND_TRIP_MULTIPLE: f64 = 1.22;
/// Largest current that a winding is laid out for, A: beyond, the strip alone would make the heat,
/// and a part of a larger rating is the same one with less resistance.
const WOUND_FOR_A: f64 = 5.0;
/// Grid and tolerance of family runs: a per mille, far below what stop-watches see.
pub(super) const ROUGH_TOLERANCE: f64 = 1e-3;
/// The same with a winding: at the looser one its lag behind the current is missed now and then, by
/// up to 9 %.
const WOUND_TOLERANCE: f64 = 1e-4;
const ROUGH_ORDER: usize = 8;
/// Deflection at which a latch catches again over that at release. Small protectors close 30 +- 15
/// K below opening (a maker's technical notes: 0.40 to 0.80 of the rise for one that opens at 100
/// degC), and UL 1004-3:2012, 29.3 takes closing as three times as loose as opening; discs in
/// service texts stand at 0.56 and 0.61.
const RELATCH: (f64, f64) = (0.3, 0.85);

/// One physical design.
#[derive(Debug, Clone)]
pub struct Member {
    /// The design, as new.
    pub device: Device,
    /// Largest current it holds for ever at the reference air, in its own amperes.
    pub trip_point_a: f64,
    /// Mean rise of the strip over the air at the trip point, K.
    pub rise_k: f64,
    /// Share of the release travel that the preload holds.
    pub preload_share: f64,
    /// Heat at the trip point, W.
    pub power_w: f64,
    /// Voltage across the closed part at the trip point, V, in its own amperes.
    pub drop_v: f64,
    /// Deflection at release as new, m.
    pub release_deflection_m: f64,
    /// Number of its strip in the list of strips.
    pub(super) strip: usize,
    /// Longest of its time constants, s, roughly.
    pub slowest_s: f64,
    pub(super) cold: TripTimes,
}

/// Fineness of family runs of events that come after a time, s.
pub(super) fn rough(device: &Device, own_time_s: f64) -> Fidelity {
    let order = if own_time_s < 0.5 { 14 } else { ROUGH_ORDER };
    Fidelity {
        fineness: Fineness {
            order,
            end_element_m: device.length_m,
        },
        tolerance: if device.winding.is_some() {
            WOUND_TOLERANCE
        } else {
            ROUGH_TOLERANCE
        },
    }
}

/// A number between two on a logarithmic scale.
fn between(low: f64, high: f64, u: f64) -> f64 {
    low * (high / low).powf(u)
}

impl Member {
    /// Member number `k`; `None` when the draws make no protector (too soft, never released).
    pub(super) fn draw(
        strips: &[Device],
        rated_current_a: f64,
        reference_k: f64,
        sequence: &SobolSequence,
        k: u64,
    ) -> Option<Member> {
        let u = |d: usize| sequence.coordinate(k, d);
        let strip = k as usize % strips.len().max(1);
        let mut device = strips.get(strip)?.clone();
        let q = size(rated_current_a);
        device.length_m = (22e-3 + 22e-3 * u(0)) * q.powf(0.2);
        device.push_point_m = device.length_m;
        device.clamped.heat_capacity_j_per_k = q * between(1.5, 8.0, u(1));
        device.clamped.conductance_w_per_k = q * between(0.012, 0.08, u(2));
        device.moving.heat_capacity_j_per_k = q * between(0.15, 0.6, u(3));
        device.moving.conductance_w_per_k = q * between(0.001, 0.005, u(4));
        device.fixed.heat_capacity_j_per_k = q * between(1.5, 6.0, u(5));
        device.fixed.conductance_w_per_k = q * between(0.012, 0.08, u(6));
        if let Some(housing) = &mut device.housing {
            housing.heat_capacity_j_per_k = q * between(4.0, 25.0, u(7));
            housing.conductance_w_per_k = q * between(0.03, 0.2, u(8));
        }
        let strip_ohm = device.laws.line(330.0).resistance * device.length_m;
        device.clamped.resistance_ohm = strip_ohm * between(0.02, 0.15, u(9));
        device.contact.resistance_ohm = strip_ohm * between(0.02, 0.15, u(10));
        if let Some(winding) = &mut device.winding {
            winding.heat_capacity_j_per_k = q * between(0.06, 0.3, u(14));
            winding.conductance_to_strip_w_per_k = q * between(0.05, 0.2, u(15));
            winding.conductance_to_air_w_per_k = q * between(0.002, 0.01, u(16));
        }
        let rise_k = 55.0 + 70.0 * u(11);
        let preload_share = 0.1 + 0.7 * u(12);
        let relatch_part = RELATCH.0 + (RELATCH.1 - RELATCH.0) * u(13);
        let mut member = Member::adjusted(
            device,
            rated_current_a.min(WOUND_FOR_A),
            reference_k,
            rise_k,
            preload_share,
            relatch_part,
        )?;
        member.strip = strip;
        Some(member)
    }

    /// A design whose latch is adjusted to a rise of the strip at the trip point.
    fn adjusted(
        device: Device,
        rated_current_a: f64,
        reference_k: f64,
        wanted_rise_k: f64,
        preload_share: f64,
        relatch_part: f64,
    ) -> Option<Member> {
        let device = with_latch(device, 0.0, 0.0, 0.0);
        let heated = if device.winding.is_some() {
            by_resistance(device, rated_current_a, reference_k, wanted_rise_k)?
        } else {
            by_current(device, reference_k, wanted_rise_k)?
        };
        let Heated {
            device,
            current_a,
            near,
            rise_k,
        } = heated;
        let fineness = rough(&device, f64::INFINITY).fineness;
        let free = device.on(fineness);
        let y = closed_steady(&free, current_a, reference_k, &near).ok()??;
        let drive = Drive::constant(current_a, reference_k);
        let excess = |model: &crate::device::Model| {
            let plant = Plant { model, drive };
            plant.release().value(0.0, &y)
        };
        let deflection_m = excess(&free);
        let device = with_latch(device, 0.0, 0.0, 1.0);
        let pushed = device.on(fineness);
        let compliance = deflection_m - excess(&pushed);
        let usable = deflection_m > 1e-5 && compliance > 0.0;
        if !usable {
            return None;
        }
        let device = with_latch(
            device,
            (1.0 - preload_share) * deflection_m,
            relatch_part * deflection_m,
            preload_share * deflection_m / compliance,
        );
        let resistance = |t: f64| device.resistance_ohm(t);
        let ohm = resistance(reference_k + rise_k);
        let heat = [
            device.housing.map_or(0.0, |h| {
                h.heat_capacity_j_per_k / h.conductance_w_per_k.max(1e-9)
            }),
            device.clamped.heat_capacity_j_per_k / device.clamped.conductance_w_per_k.max(1e-9),
        ];
        Some(Member {
            cold: cold_times(&device, current_a, reference_k)?,
            trip_point_a: current_a,
            rise_k,
            preload_share,
            power_w: current_a * current_a * ohm,
            drop_v: current_a * ohm,
            release_deflection_m: deflection_m,
            strip: 0,
            slowest_s: heat[0].max(heat[1]),
            device,
        })
    }

    /// Time scale of its trips, in its own seconds: that of a body with one time constant that
    /// takes as long at twice the trip point.
    pub fn time_scale_s(&self) -> f64 {
        self.cold_trip_s(2.0) / ideal(2.0)
    }

    /// Cold trip time at a multiple of the trip point at the reference air, as new, in its own
    /// seconds; infinite at or below the trip point.
    pub fn cold_trip_s(&self, multiple: f64) -> f64 {
        self.cold.at(multiple)
    }
}

/// Cold trip times against the current, at the reference air.
pub(super) fn cold_times(
    device: &Device,
    trip_point_a: f64,
    reference_k: f64,
) -> Option<TripTimes> {
    let case = cold_case(reference_k);
    let between: &[f64] = if device.winding.is_some() {
        &WOUND
    } else {
        &DIRECT
    };
    TripTimes::of(between, |multiple| {
        let guess_s = if multiple > 4.0 { 0.1 } else { 10.0 };
        let fidelity = rough(device, guess_s);
        let model = device.on(fidelity.fineness);
        let load = Programme::constant(multiple * trip_point_a);
        let tolerance = fidelity.tolerance;
        let answer = run_on(&model, tolerance, &case, &load, false, &mut Unwatched).ok()?;
        Some(answer.trip_time_s.unwrap_or(f64::INFINITY))
    })
}

/// A design without a latch, at the current of its trip point.
struct Heated {
    device: Device,
    current_a: f64,
    /// A state near the steady one.
    near: Vec<f64>,
    rise_k: f64,
}

/// The current that heats a strip to a rise.
fn by_current(device: Device, reference_k: f64, wanted_rise_k: f64) -> Option<Heated> {
    let free = device.on(rough(&device, f64::INFINITY).fineness);
    let cold = free.uniform(reference_k);
    let strip_ohm = device.laws.line(330.0).resistance * device.length_m;
    let mut current_a = (0.6 / strip_ohm).sqrt();
    let mut near = cold.clone();
    let mut rise_k = 0.0;
    // The rise goes nearly as the square of the current.
    for _ in 0..3 {
        let y = closed_steady(&free, current_a, reference_k, &near).ok()??;
        rise_k = mean_rise(&free, &y, reference_k);
        if (rise_k / wanted_rise_k - 1.0).abs() < 0.03 {
            near = y;
            break;
        }
        current_a *= (wanted_rise_k / rise_k).clamp(0.05, 20.0).sqrt();
        near = cold.clone();
    }
    Some(Heated {
        device,
        current_a,
        near,
        rise_k,
    })
}

/// The winding that heats a strip to a rise at the trip point of its rating: the metals stay
/// metals. `None` where the strip makes most of the heat itself.
fn by_resistance(
    mut device: Device,
    rated_current_a: f64,
    reference_k: f64,
    wanted_rise_k: f64,
) -> Option<Heated> {
    let current_a = WOUND_TRIP_MULTIPLE * rated_current_a;
    let strip_ohm = device.laws.line(330.0).resistance * device.length_m;
    let mut winding_ohm = 0.6 / (current_a * current_a);
    for _ in 0..6 {
        if !(winding_ohm > strip_ohm) {
            return None;
        }
        // A clone, so that no grid of the old winding is kept.
        device = device.clone();
        device.winding.as_mut()?.resistance_ohm = winding_ohm;
        let free = device.on(rough(&device, f64::INFINITY).fineness);
        let near =
            closed_steady(&free, current_a, reference_k, &free.uniform(reference_k)).ok()??;
        let rise_k = mean_rise(&free, &near, reference_k);
        let ratio = wanted_rise_k / rise_k;
        if (ratio - 1.0).abs() < 0.03 {
            return Some(Heated {
                device,
                current_a,
                near,
                rise_k,
            });
        }
        // The rise goes nearly as the heat, that of the strip included.
        winding_ohm = (winding_ohm + strip_ohm) * ratio.clamp(0.05, 20.0) - strip_ohm;
    }
    None
}

/// A run from cold at constant air.
pub(super) fn cold_case(ambient_k: f64) -> Case {
    Case {
        ambient: vec![(0.0, ambient_k)],
        before: Before::Cold,
        rated_current_a: 1.0,
        accuracy: 1e-3,
        longest_s: 1e7,
        halt: Halt::default(),
    }
}

/// The device with another latch (a clone, so that no grid of the old one is kept).
fn with_latch(device: Device, release_m: f64, relatch_m: f64, force_n: f64) -> Device {
    let mut device = device.clone();
    if let Some(latch) = device.release.mechanism.latch_mut() {
        latch.release_travel_m = release_m;
        latch.relatch_travel_m = relatch_m;
        latch.preload_n = force_n;
        latch.lever_ratio = 1.0;
    }
    device
}

/// Mean rise of the strip over the air, K.
fn mean_rise(model: &crate::device::Model, y: &[f64], ambient_k: f64) -> f64 {
    let weights = &model.grid.weight_m;
    let sum: f64 = weights
        .iter()
        .zip(y)
        .map(|(w, t)| w * (t - ambient_k))
        .sum();
    sum / weights.iter().sum::<f64>()
}
