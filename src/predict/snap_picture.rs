//! A blade or a disc that snaps, at one temperature throughout: energy against rise, and where it
//! can stand.

use super::outcome::{BranchPoint, EnergyCurve, SnapMoment, SnapPicture};
use super::trip_point::{relatch_temperature_k, trip_temperature_k};
use crate::device::Model;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::{Disc, Mechanism, SnapBlade};
use std::f64::consts::PI;

/// Rises at which the force on a blade is looked at.
const RISES: usize = 96;
/// Temperatures between the two snaps.
const BETWEEN: usize = 32;

/// The picture; `None` for a latch and for what never snaps through.
pub(super) fn snap_picture(model: &Model, ambient_k: f64) -> Option<SnapPicture> {
    let mechanism = &model.device.release.mechanism;
    if !matches!(mechanism, Mechanism::SnapBlade(_) | Mechanism::Disc(_)) {
        return None;
    }
    let trip_k = trip_temperature_k(model)?;
    let reset_k = relatch_temperature_k(model);
    let low_k = reset_k.unwrap_or(ambient_k - 40.0).min(trip_k - 1.0);
    let gap_k = trip_k - low_k;
    let from_k = ambient_k.min(low_k - 0.15 * gap_k);
    let to_k = trip_k + 0.25 * gap_k;
    let snaps: Box<dyn Snaps + '_> = match mechanism {
        Mechanism::SnapBlade(blade) => Box::new(Blade::between(blade, model, [from_k, to_k])?),
        Mechanism::Disc(disc) if !disc.creeps(model) => Box::new((disc, model)),
        _ => return None,
    };
    let mut temperatures: Vec<f64> = Vec::new();
    let below = (0..8).map(|k| from_k + (low_k - from_k) * f64::from(k) / 8.0);
    // Close together near the snaps, where the branches turn.
    let between =
        (0..=BETWEEN).map(|k| low_k + gap_k * 0.5 * (1.0 - (PI * k as f64 / BETWEEN as f64).cos()));
    let above = (1..=8).map(|k| trip_k + (to_k - trip_k) * f64::from(k) / 8.0);
    temperatures.extend(below.chain(between).chain(above));
    let branches = temperatures
        .into_iter()
        .map(|t| branch_point(t, &snaps.stands(t)))
        .collect();
    let mut moments = vec![(SnapMoment::Cold, ambient_k)];
    if let Some(reset_k) = reset_k {
        if reset_k > ambient_k + 1.0 {
            moments.push((SnapMoment::SnapsBack, reset_k));
        }
        moments.push((SnapMoment::HalfWay, 0.5 * (reset_k + trip_k)));
    }
    moments.push((SnapMoment::SnapsThrough, trip_k));
    let energy = moments
        .into_iter()
        .map(|(moment, t)| {
            let (rise_mm, energy_mj) = snaps.energies(t).into_iter().unzip();
            let stands = snaps.stands(t).into_iter().filter(|r| r.is_stable);
            EnergyCurve {
                moment,
                temperature_c: t - ZERO_CELSIUS_K,
                rise_mm,
                energy_mj,
                stands_at_mm: stands.map(|r| 1e3 * r.rise_m).collect(),
            }
        })
        .collect();
    Some(SnapPicture {
        energy,
        branches,
        trip_temperature_c: trip_k - ZERO_CELSIUS_K,
        reset_temperature_c: reset_k.map(|t| t - ZERO_CELSIUS_K),
    })
}

/// A rise at which nothing has to hold it, and whether it stands there by itself.
struct Root {
    rise_m: f64,
    is_stable: bool,
}

/// What snaps, at a temperature.
trait Snaps {
    /// Where it can stand.
    fn stands(&self, at_k: f64) -> Vec<Root>;
    /// Rises, mm, from below and energies above the flat one, mJ.
    fn energies(&self, at_k: f64) -> Vec<(f64, f64)>;
}

fn branch_point(at_k: f64, all: &[Root]) -> BranchPoint {
    let rise = |keep: &dyn Fn(&Root) -> bool| all.iter().find(|r| keep(r)).map(|r| 1e3 * r.rise_m);
    let unstable = rise(&|r| !r.is_stable);
    let middle_mm = unstable.unwrap_or(0.0);
    BranchPoint {
        temperature_c: at_k - ZERO_CELSIUS_K,
        closed_mm: rise(&|r| r.is_stable && 1e3 * r.rise_m > middle_mm),
        unstable_mm: unstable,
        snapped_mm: rise(&|r| r.is_stable && 1e3 * r.rise_m < middle_mm),
    }
}

/// A blade, and the largest rise that is looked at.
struct Blade<'a> {
    blade: &'a SnapBlade,
    model: &'a Model,
    largest_m: f64,
}

impl<'a> Blade<'a> {
    fn between(blade: &'a SnapBlade, model: &'a Model, ends_k: [f64; 2]) -> Option<Self> {
        let rises = ends_k.into_iter().flat_map(|t| {
            let y = model.uniform(t);
            [true, false].map(|closed| blade.standing_rise_m(model, &y, 0.0, closed))
        });
        let largest_m = 1.25 * rises.flatten().map(f64::abs).fold(0.0, f64::max);
        (largest_m > 0.0 && largest_m.is_finite()).then_some(Self {
            blade,
            model,
            largest_m,
        })
    }

    fn with_force<R>(&self, at_k: f64, f: impl FnOnce(&dyn Fn(f64) -> f64) -> R) -> R {
        let y = self.model.uniform(at_k);
        self.blade.with_holding_force(self.model, &y, f)
    }
}

impl Snaps for Blade<'_> {
    fn stands(&self, at_k: f64) -> Vec<Root> {
        self.with_force(at_k, |force| roots(force, self.largest_m))
    }

    /// The force integrated from the flat blade by Simpson's rule.
    fn energies(&self, at_k: f64) -> Vec<(f64, f64)> {
        self.with_force(at_k, |force| {
            let step = self.largest_m / 48.0;
            let side = |sign: f64| {
                let mut energy = 0.0;
                (1..=48)
                    .map(|k| {
                        let (a, b) = (sign * step * f64::from(k - 1), sign * step * f64::from(k));
                        energy +=
                            (b - a) / 6.0 * (force(a) + 4.0 * force(0.5 * (a + b)) + force(b));
                        (1e3 * b, 1e3 * energy)
                    })
                    .collect::<Vec<_>>()
            };
            let (left, right) = (side(-1.0), side(1.0));
            let points = left.into_iter().rev().chain([(0.0, 0.0)]).chain(right);
            points.collect()
        })
    }
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

impl Snaps for (&Disc, &Model) {
    /// Between the shapes of the landscape, where what they lack passes nothing.
    fn stands(&self, at_k: f64) -> Vec<Root> {
        let held = self.0.turns_over(self.1, at_k);
        let pairs = held.windows(2);
        pairs
            .filter(|w| (w[0].lacks < 0.0) != (w[1].lacks < 0.0))
            .map(|w| Root {
                rise_m: w[0].rise_m
                    + (w[1].rise_m - w[0].rise_m) * w[0].lacks / (w[0].lacks - w[1].lacks),
                is_stable: w[0].lacks < 0.0,
            })
            .collect()
    }

    fn energies(&self, at_k: f64) -> Vec<(f64, f64)> {
        let held = self.0.turns_over(self.1, at_k).into_iter().rev();
        held.map(|h| (1e3 * h.rise_m, 1e3 * h.energy_j)).collect()
    }
}
