//! A snap blade at one temperature throughout: energy against rise, and where it can stand.

use super::outcome::{BladeMoment, BranchPoint, EnergyCurve, SnapPicture};
use super::trip_point::{relatch_temperature_k, trip_temperature_k};
use crate::device::Model;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::{Mechanism, SnapBlade};
use std::f64::consts::PI;

/// Rises at which the force is looked at.
const RISES: usize = 96;
/// Temperatures between the two snaps.
const BETWEEN: usize = 32;

/// The picture of a blade; `None` for a latch and for a blade that never snaps through.
pub(super) fn snap_picture(model: &Model, ambient_k: f64) -> Option<SnapPicture> {
    let Mechanism::SnapBlade(blade) = &model.device.release.mechanism else {
        return None;
    };
    let trip_k = trip_temperature_k(model)?;
    let reset_k = relatch_temperature_k(model);
    let low_k = reset_k.unwrap_or(ambient_k - 40.0).min(trip_k - 1.0);
    let gap_k = trip_k - low_k;
    let from_k = ambient_k.min(low_k - 0.15 * gap_k);
    let to_k = trip_k + 0.25 * gap_k;
    let largest_m = 1.25
        * [from_k, to_k]
            .into_iter()
            .flat_map(|t| {
                let y = model.uniform(t);
                [true, false].map(|closed| blade.standing_rise_m(model, &y, 0.0, closed))
            })
            .flatten()
            .map(f64::abs)
            .fold(0.0, f64::max);
    if !(largest_m > 0.0 && largest_m.is_finite()) {
        return None;
    }
    let mut temperatures: Vec<f64> = Vec::new();
    let below = (0..8).map(|k| from_k + (low_k - from_k) * f64::from(k) / 8.0);
    // Close together near the snaps, where the branches turn.
    let between =
        (0..=BETWEEN).map(|k| low_k + gap_k * 0.5 * (1.0 - (PI * k as f64 / BETWEEN as f64).cos()));
    let above = (1..=8).map(|k| trip_k + (to_k - trip_k) * f64::from(k) / 8.0);
    temperatures.extend(below.chain(between).chain(above));
    let branches = temperatures
        .into_iter()
        .map(|t| branch_point(blade, model, t, largest_m))
        .collect();
    let mut moments = vec![(BladeMoment::Cold, ambient_k)];
    if let Some(reset_k) = reset_k {
        if reset_k > ambient_k + 1.0 {
            moments.push((BladeMoment::SnapsBack, reset_k));
        }
        moments.push((BladeMoment::HalfWay, 0.5 * (reset_k + trip_k)));
    }
    moments.push((BladeMoment::SnapsThrough, trip_k));
    let energy = moments
        .into_iter()
        .map(|(moment, t)| energy_curve(blade, model, moment, t, largest_m))
        .collect();
    Some(SnapPicture {
        energy,
        branches,
        trip_temperature_c: trip_k - ZERO_CELSIUS_K,
        reset_temperature_c: reset_k.map(|t| t - ZERO_CELSIUS_K),
    })
}

/// A root of the force, and whether the blade stands there by itself.
struct Root {
    rise_m: f64,
    is_stable: bool,
}

fn roots(force: &dyn Fn(f64) -> f64, largest_m: f64) -> Vec<Root> {
    let at = |k: usize| largest_m * (2.0 * k as f64 / RISES as f64 - 1.0);
    let mut found = Vec::new();
    let (mut from, mut value) = (at(0), force(at(0)));
    for k in 1..=RISES {
        let (to, next) = (at(k), force(at(k)));
        if value < 0.0 && next >= 0.0 || value >= 0.0 && next < 0.0 {
            let (mut a, mut b) = (from, to);
            for _ in 0..40 {
                let middle = 0.5 * (a + b);
                if (force(middle) < 0.0) == (value < 0.0) {
                    a = middle;
                } else {
                    b = middle;
                }
            }
            found.push(Root {
                rise_m: 0.5 * (a + b),
                is_stable: value < 0.0,
            });
        }
        (from, value) = (to, next);
    }
    found
}

fn branch_point(blade: &SnapBlade, model: &Model, t_k: f64, largest_m: f64) -> BranchPoint {
    let y = model.uniform(t_k);
    blade.with_holding_force(model, &y, |force| {
        let all = roots(force, largest_m);
        let rise =
            |keep: &dyn Fn(&Root) -> bool| all.iter().find(|r| keep(r)).map(|r| 1e3 * r.rise_m);
        let unstable = rise(&|r| !r.is_stable);
        let middle_mm = unstable.unwrap_or(0.0);
        BranchPoint {
            temperature_c: t_k - ZERO_CELSIUS_K,
            closed_mm: rise(&|r| r.is_stable && 1e3 * r.rise_m > middle_mm),
            unstable_mm: unstable,
            snapped_mm: rise(&|r| r.is_stable && 1e3 * r.rise_m < middle_mm),
        }
    })
}

/// The force integrated from the flat blade by Simpson's rule.
fn energy_curve(
    blade: &SnapBlade,
    model: &Model,
    moment: BladeMoment,
    t_k: f64,
    largest_m: f64,
) -> EnergyCurve {
    let y = model.uniform(t_k);
    blade.with_holding_force(model, &y, |force| {
        let step = largest_m / 48.0;
        let side = |sign: f64| {
            let mut energy = 0.0;
            (1..=48)
                .map(|k| {
                    let (a, b) = (sign * step * f64::from(k - 1), sign * step * f64::from(k));
                    energy += (b - a) / 6.0 * (force(a) + 4.0 * force(0.5 * (a + b)) + force(b));
                    (1e3 * b, 1e3 * energy)
                })
                .collect::<Vec<_>>()
        };
        let (left, right) = (side(-1.0), side(1.0));
        let points = left.into_iter().rev().chain([(0.0, 0.0)]).chain(right);
        let (rise_mm, energy_mj) = points.unzip();
        let standing = roots(force, largest_m);
        EnergyCurve {
            moment,
            temperature_c: t_k - ZERO_CELSIUS_K,
            rise_mm,
            energy_mj,
            stands_at_mm: standing
                .iter()
                .filter(|r| r.is_stable)
                .map(|r| 1e3 * r.rise_m)
                .collect(),
        }
    })
}
