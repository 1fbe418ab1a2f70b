//! Trips of a part by superposition: a few per cent off, a thousand times sooner than a simulation.
//!
//! Good for looking where a simulation is worth its time, never for an answer. Heat in the strip,
//! heat in a joint and warmer air each add their share of the way to release. What a step of
//! current adds is read off the member's own cold trip times, with a joint and without, so it is
//! right where it matters: at release.

mod curve;
mod fixed;

pub use fixed::Fixed;

use super::Placing;
use super::member::Member;
use super::nameplate::Nameplate;
use super::part::{Drawn, Wear};
use crate::predict::parallel;
use curve::{Curve, FURTHEST, Reached, TRIAL_JOINTS, nearly_ln};

/// Superposition knows what warmer air takes of the way to this part of it: as much as makes seeds agree
/// where hardly any way is left.
const OFF: f64 = 0.08;
/// Where less of the way is left than this the air alone may release it.
const LEAST_LEFT: f64 = 0.04;
/// The least factor on a load that is told from none, as a logarithm.
const LEAST: f64 = -6.0;

/// Step responses of the members of a family.
#[derive(Debug, Clone)]
pub struct Quick {
    curves: Vec<Curve>,
    reference_k: f64,
    rated_a: f64,
    paces: (f64, f64),
}

/// A part whose trips can be asked for.
#[derive(Debug, Clone, Copy)]
pub struct QuickPart<'a> {
    curve: &'a Curve,
    member: usize,
    pace: f64,
    trip_a: f64,
    /// Way to release as a part of that of a new part.
    travel: f64,
    /// Heat of the joint over that of the part, both at the trip point.
    joint: f64,
    /// Where that lies between the trial ones, on a logarithmic scale.
    between: f64,
    reference_k: f64,
}

/// What a part carries: durations, s, and currents, A.
#[derive(Debug, Clone, Copy)]
pub struct Steps<'a> {
    /// Current that it had carried for long, A; 0: cold.
    pub before_a: f64,
    /// What came after that and before the time that counts.
    pub past: &'a [(f64, f64)],
    /// What it carries from time 0; the last goes on for ever.
    pub load: &'a [(f64, f64)],
    /// The same followed once for all, where every part carries it.
    pub fixed: Option<&'a Fixed>,
}

impl<'a> Steps<'a> {
    /// A load from cold.
    pub fn cold(load: &'a [(f64, f64)]) -> Steps<'a> {
        Steps {
            before_a: 0.0,
            past: &[],
            load,
            fixed: None,
        }
    }
}

impl Quick {
    /// Step responses of the members of a family, whose paces lie within two.
    pub fn of(members: &[Member], nameplate: &Nameplate, paces: (f64, f64)) -> Quick {
        let reference_k = nameplate.reference_ambient_k;
        Quick {
            curves: parallel::map(members, |m| Curve::of(m, reference_k), &mut |_| {}),
            reference_k,
            rated_a: nameplate.rated_current_a,
            paces,
        }
    }

    /// How much a joint's heat as large as the part's own drives the terminals apart at the trip
    /// point, K: of the member in the middle.
    pub fn joint_apart_k(&self) -> f64 {
        let mut apart: Vec<f64> = self
            .curves
            .iter()
            .map(|c| c.joint_k[0] - c.joint_k[1])
            .collect();
        apart.sort_by(f64::total_cmp);
        apart.get(apart.len() / 2).map_or(1.0, |k| k.max(1.0))
    }

    /// A part of the family in some state.
    pub fn part(&self, drawn: Drawn, wear: Wear) -> QuickPart<'_> {
        let curve = &self.curves[drawn.member];
        let Placing {
            trip_multiple,
            pace,
        } = drawn.placing;
        let share = curve.preload_share;
        // The joint's heat is stated at rated current.
        let joint = wear.joint_w * trip_multiple * trip_multiple / curve.power_w;
        let [less, more] = TRIAL_JOINTS;
        let between = (joint.max(1e-9) / less).ln() / (more / less).ln();
        QuickPart {
            curve,
            member: drawn.member,
            pace,
            trip_a: trip_multiple * self.rated_a,
            travel: (1.0 - share) * wear.travel_factor
                + share * (1.0 - wear.loss) * wear.force_factor,
            joint,
            between: between.clamp(0.0, FURTHEST),
            reference_k: self.reference_k,
        }
    }
}

/// When each step of a load ends that a smaller one follows, s: only there may it have tripped sooner
/// than later.
pub fn falls(load: &[(f64, f64)]) -> impl Iterator<Item = f64> {
    let mut end_s = 0.0;
    load.windows(2).filter_map(move |pair| {
        end_s += pair[0].0;
        (pair[1].1 < pair[0].1).then_some(end_s)
    })
}

/// The least factor of that at a time, s, and those at ends before it, and when that is.
fn soonest(there: f64, ends: impl Iterator<Item = (f64, f64)>, time_s: f64) -> (f64, f64) {
    let before = ends.take_while(|(end_s, _)| *end_s < time_s);
    before.fold((there, time_s), |least, (end_s, there)| {
        if there < least.0 {
            (there, end_s)
        } else {
            least
        }
    })
}

/// What a body with one time constant has reached after a time.
fn warmed(time_s: f64, constant_s: f64) -> f64 {
    if constant_s > 0.0 {
        -(-time_s / constant_s).exp_m1()
    } else {
        1.0
    }
}

impl QuickPart<'_> {
    /// Heat that a current makes, over that at the trip point.
    fn heat(&self, current_a: f64) -> f64 {
        (current_a / self.trip_a).powi(2)
    }

    /// Way that is left at an air temperature, over that of a new part at the reference air.
    fn way(&self, air_k: f64) -> f64 {
        let warmer_k = air_k - self.reference_k;
        self.travel - warmer_k * (1.0 + self.curve.air_per_k * warmer_k) / self.curve.rise_k
    }

    /// Share of the way by heats of both kinds, A^2.
    fn gained(&self, [strip, less, more]: [f64; 3]) -> f64 {
        (strip + self.joint * (less + self.between * (more - less))) / (self.trip_a * self.trip_a)
    }

    /// Logarithm of the factor on the load with which it would be released just at a time.
    fn factor_of(&self, way: f64, reached: &Reached) -> f64 {
        let left = way - self.gained(reached.past);
        if left <= 0.0 {
            return LEAST;
        }
        let load = self.gained(reached.gone);
        if load > 0.0 {
            // In a short time nothing is carried away, and heat goes with the way itself.
            let more = (self.curve.exponent - 1.0) * reached.strip.sqrt() * way.ln();
            (0.5 * (nearly_ln(left / load) + more)).max(LEAST)
        } else {
            f64::INFINITY
        }
    }

    fn reached(&self, steps: &Steps<'_>, time_s: f64) -> Reached {
        let fixed = steps.fixed;
        let there = fixed.and_then(|f| f.reached(self.member, self.pace, time_s));
        there.unwrap_or_else(|| self.curve.reached(steps, self.pace, time_s))
    }

    /// Logarithm of the factor on the load with which it would just trip by a time, s, and the time
    /// at which it then would: that very time, or the end of an earlier step.
    pub fn factor(&self, steps: &Steps<'_>, air_k: f64, time_s: f64) -> (f64, f64) {
        self.factor_after(self.ends(steps, air_k), steps, air_k, time_s)
    }

    /// How far the logarithm of the factor may be off at a time, s: what is off is the way that the air
    /// takes, and the less of it is left for the load, the larger a part of that it is.
    pub fn doubt(&self, steps: &Steps<'_>, air_k: f64, time_s: f64) -> f64 {
        let way = self.way(air_k);
        let past = Steps {
            load: &[],
            ..*steps
        };
        let left = way - self.gained(self.reached(&past, time_s).past);
        0.5 * OFF * (self.travel - way).abs() / left.max(LEAST_LEFT)
    }

    /// The [`falls`] of the load, s, with the factor there. Whoever asks for many times of one load keeps
    /// them.
    pub fn ends(&self, steps: &Steps<'_>, air_k: f64) -> impl Iterator<Item = (f64, f64)> {
        let way = self.way(air_k);
        falls(steps.load)
            .map(move |end_s| (end_s, self.factor_of(way, &self.reached(steps, end_s))))
    }

    /// [`QuickPart::factor`] where the ends of the steps are known.
    pub fn factor_after(
        &self,
        ends: impl Iterator<Item = (f64, f64)>,
        steps: &Steps<'_>,
        air_k: f64,
        time_s: f64,
    ) -> (f64, f64) {
        let there = self.factor_of(self.way(air_k), &self.reached(steps, time_s));
        soonest(there, ends, time_s)
    }

    /// Rise of the clamped terminal and of that of the fixed contact after a time under a load from
    /// cold, K.
    pub fn terminals_k(&self, steps: &Steps<'_>, time_s: f64) -> [f64; 2] {
        let mut sums = [0.0; 2];
        let (mut last, mut begin) = (0.0, 0.0);
        for (duration_s, current_a) in steps.load {
            if begin >= time_s {
                break;
            }
            let heat = self.heat(*current_a);
            let own_s = (time_s - begin) / self.pace;
            let [strip, ..] = self.curve.after(own_s);
            let clamped = warmed(own_s, self.curve.joint_s);
            let fixed = warmed(own_s, self.curve.fixed_s);
            let rise = |k: usize, warm: f64| {
                (self.curve.sound_k[k] * 0.5 * (1.0 + strip) + self.joint * self.curve.joint_k[k])
                    * warm
            };
            sums[0] += (heat - last) * rise(0, clamped);
            sums[1] += (heat - last) * rise(1, fixed);
            last = heat;
            begin += duration_s;
        }
        sums
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::{Carries, Family, Part};
    use crate::load::Programme;

    #[test]
    fn a_joint_counts_as_the_engine_says() {
        let plate = Nameplate::of_rating(10.0);
        let family = Family::new(&plate, 16).expect("a family");
        let quick = family.quick();
        let air_k = plate.reference_ambient_k;
        let placing = Placing {
            trip_multiple: 1.2,
            pace: 1.0,
        };
        let (mut compared, mut squares) = (0.0, 0.0);
        for (k, member) in family.members().iter().enumerate() {
            for joint in [0.25, 0.8, 3.0] {
                let wear = Wear {
                    joint_w: joint * member.power_w / (1.2 * 1.2),
                    ..Wear::NONE
                };
                let part = Part::new(member, placing, wear, 10.0, 10.0);
                let trip_a = part.trip_point_a(air_k).expect("a trip point");
                for load_a in [1.05 * trip_a, 1.4 * trip_a, 2.5 * trip_a] {
                    let air = [(0.0, air_k)];
                    let Some(Carries::Trips(time_s)) =
                        part.cold(&air).carry(&Programme::constant(load_a), 1e6)
                    else {
                        panic!("{load_a} A does not trip");
                    };
                    let drawn = Drawn { member: k, placing };
                    let load = [(f64::INFINITY, load_a)];
                    let (factor, _) =
                        quick
                            .part(drawn, wear)
                            .factor(&Steps::cold(&load), air_k, time_s);
                    assert!(factor.abs() < 0.005, "{joint} {load_a} {time_s} {factor}");
                    compared += 1.0;
                    squares += factor * factor;
                }
            }
        }
        let usual = f64::sqrt(squares / compared);
        assert!(usual < 0.001, "{usual}");
    }
}
