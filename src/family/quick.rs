//! Trips of a part by superposition: a few per cent off, a thousand times sooner than a simulation.
//!
//! Good for looking where a simulation is worth its time, never for an answer. Heat in the strip,
//! heat in a joint and warmer air each add their share of the way to release. What a step of
//! current adds is read off the member's own cold trip times, with a joint and without, so it is
//! right where it matters: at release.

use super::Placing;
use super::member::{Member, cold_times};
use super::part::{Part, Wear};
use super::prior::{Drawn, Family};
use super::trip_times::BACKWARDS;
use crate::predict::parallel;

/// Points of a step response.
const POINTS: usize = 56;
/// Heats of the joint that its share is measured with, over the heat of the part at its trip point.
const TRIAL_JOINTS: [f64; 2] = [0.4, 2.0];
/// Up to here it is followed between them and beyond: 0 at the lesser, 1 at the greater one.
const FURTHEST: f64 = 1.5;
/// Heat of the joint that the warmth of the terminals is measured with.
const TRIAL_JOINT: f64 = 0.2;
/// Lost preload and warmer air, K, that their effects are measured with.
const TRIAL_LOSS: f64 = 0.6;
const TRIAL_AIR_K: f64 = 45.0;
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
}

/// Step response of one member in its own seconds.
#[derive(Debug, Clone)]
struct Curve {
    /// Logarithm of the first time, and the distance of the points.
    first: f64,
    apart: f64,
    /// Share of the way to release at the trip point's current after each time.
    share: [f64; POINTS],
    rise_k: f64,
    preload_share: f64,
    power_w: f64,
    /// Steady heat goes with this power of the way: still air carries warmth away the better the
    /// warmer it is.
    exponent: f64,
    /// Warmer air counts more than its warmth, as a part of it for each kelvin.
    air_per_k: f64,
    /// The same by a joint's heat as large as the part's own, for each of the heats it was measured
    /// with.
    joint: [[f64; POINTS]; TRIAL_JOINTS.len()],
    /// Time constant of its terminal, s.
    joint_s: f64,
    /// Time constant of the other terminal, s.
    fixed_s: f64,
    /// Rises of both terminals at the trip point: of a sound part, and by a joint's heat as large
    /// as the part's own, K.
    sound_k: [f64; 2],
    joint_k: [f64; 2],
}

/// A part whose trips can be asked for.
#[derive(Debug, Clone, Copy)]
pub struct QuickPart<'a> {
    curve: &'a Curve,
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
}

impl<'a> Steps<'a> {
    /// A load from cold.
    pub fn cold(load: &'a [(f64, f64)]) -> Steps<'a> {
        Steps {
            before_a: 0.0,
            past: &[],
            load,
        }
    }
}

impl Quick {
    /// Step responses of a family.
    pub fn of(family: &Family) -> Quick {
        let reference_k = family.nameplate().reference_ambient_k;
        Quick {
            curves: parallel::map(family.members(), |m| Curve::of(m, reference_k), &mut |_| {}),
            reference_k,
            rated_a: family.nameplate().rated_current_a,
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

impl Curve {
    fn of(member: &Member, reference_k: f64) -> Curve {
        let slow = member.cold_trip_s(BACKWARDS.0).ln();
        let first = member.cold_trip_s(BACKWARDS.1).ln();
        let apart = (slow - first) / (POINTS - 1) as f64;
        let time_s = |k: usize| (first + apart * k as f64).exp();
        let share: [f64; POINTS] =
            std::array::from_fn(|k| member.cold.multiple(time_s(k)).powi(-2));
        let trip_a = member.trip_point_a;
        let placing = Placing {
            trip_multiple: 1.0,
            pace: 1.0,
        };
        let joint_w = TRIAL_JOINT * member.power_w;
        let part = |wear| Part::new(member, placing, wear, trip_a, 10.0);
        let sound = part(Wear::NONE);
        let with_joint = part(Wear {
            joint_w,
            ..Wear::NONE
        });
        let worn = part(Wear {
            loss: TRIAL_LOSS,
            ..Wear::NONE
        });
        // Steady heat over that of a sound part at the reference air.
        let heat = |part: &Part, air_k: f64| Some((part.trip_point_a(air_k)? / trip_a).powi(2));
        let exponent = heat(&worn, reference_k).map_or(1.0, |h| {
            h.ln() / (1.0 - TRIAL_LOSS * member.preload_share).ln()
        });
        let exponent = exponent.clamp(0.8, 1.5);
        let joint = TRIAL_JOINTS.map(|trial| {
            let part = part(Wear {
                joint_w: trial * member.power_w,
                ..Wear::NONE
            });
            let times = part.trip_point_a(reference_k).and_then(|there_a| {
                let times = cold_times(&part.model().device, there_a, reference_k)?;
                Some((there_a / trip_a, times))
            });
            times.map_or([0.0; POINTS], |(trip_point, times)| {
                std::array::from_fn(|k| {
                    let multiple = trip_point * times.multiple(time_s(k));
                    ((multiple.powi(-2) - share[k]) / trial).max(0.0)
                })
            })
        });
        let warmer_k = TRIAL_AIR_K.min(0.7 * member.rise_k);
        let air_per_k = heat(&sound, reference_k + warmer_k).map_or(0.0, |h| {
            ((1.0 - h.powf(1.0 / exponent)) * member.rise_k / warmer_k - 1.0) / warmer_k
        });
        // Temperatures go with the heat: a little below the trip point, and up from there.
        let rises_k = |part: &Part| {
            let less = 0.7;
            let air = [(0.0, reference_k)];
            let [clamped, fixed, _] = part.hot(&air, less * trip_a)?.temperatures_k();
            Some([clamped, fixed].map(|t| (t - reference_k) / (less * less)))
        };
        let sound_k = rises_k(&sound).unwrap_or_default();
        let with_k = rises_k(&with_joint).unwrap_or(sound_k);
        let device = &member.device;
        let constant_s = |capacity: f64, conductance: f64| capacity / conductance.max(1e-9);
        Curve {
            first,
            apart,
            share,
            rise_k: member.rise_k,
            preload_share: member.preload_share,
            power_w: member.power_w,
            exponent,
            air_per_k,
            joint,
            joint_s: constant_s(
                device.clamped.heat_capacity_j_per_k,
                device.clamped.conductance_w_per_k,
            ),
            fixed_s: constant_s(
                device.fixed.heat_capacity_j_per_k,
                device.fixed.conductance_w_per_k,
            ),
            sound_k,
            joint_k: [0, 1].map(|k| (with_k[k] - sound_k[k]) / TRIAL_JOINT),
        }
    }

    /// What a step has reached after an own time: by the strip's heat, by a joint's as large as the
    /// part's own; `between` the heats of the joint that it was measured with.
    fn after(&self, time_s: f64, between: f64) -> (f64, f64) {
        if time_s <= 0.0 {
            return (0.0, 0.0);
        }
        let log_time = time_s.ln();
        let place = (log_time - self.first) / self.apart;
        let [less, more] = &self.joint;
        let at = |k: usize| (self.share[k], less[k] + between * (more[k] - less[k]));
        if place <= 0.0 {
            let (strip, joint) = at(0);
            // A joint's heat has to come to the strip first.
            let part = (log_time - self.first).exp();
            (strip * part, joint * part * part)
        } else if place >= (POINTS - 1) as f64 {
            (1.0, at(POINTS - 1).1)
        } else {
            let k = place as usize;
            let part = place - k as f64;
            let (from, to) = (at(k), at(k + 1));
            (
                from.0 + part * (to.0 - from.0),
                from.1 + part * (to.1 - from.1),
            )
        }
    }
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
    fn after(&self, time_s: f64) -> (f64, f64) {
        self.curve.after(time_s, self.between)
    }

    /// Heat that a current makes, over that at the trip point.
    fn heat(&self, current_a: f64) -> f64 {
        (current_a / self.trip_a).powi(2)
    }

    /// Way that is left at an air temperature, over that of a new part at the reference air.
    fn way(&self, air_k: f64) -> f64 {
        let warmer_k = air_k - self.reference_k;
        self.travel - warmer_k * (1.0 + self.curve.air_per_k * warmer_k) / self.curve.rise_k
    }

    /// Share of the way by a step of heat from what it has reached by the strip's heat and by a
    /// joint's.
    fn gained(&self, (strip, joint): (f64, f64)) -> f64 {
        strip + self.joint * joint
    }

    /// Share of the way at an own time by what came before the load, when the load's time 0 has
    /// reached `now`.
    fn past(&self, steps: &Steps<'_>, time_s: f64, now: (f64, f64)) -> f64 {
        let mut past = 0.0;
        let mut last = 0.0;
        if steps.before_a > 0.0 {
            last = self.heat(steps.before_a);
            past += last * self.gained(self.after(f64::INFINITY));
        }
        let mut begin = -steps.past.iter().map(|s| s.0).sum::<f64>() / self.pace;
        for (duration_s, current_a) in steps.past {
            let heat = self.heat(*current_a);
            past += (heat - last) * self.gained(self.after(time_s - begin));
            last = heat;
            begin += duration_s / self.pace;
        }
        past - last * self.gained(now)
    }

    /// Share of the way at an own time by the load.
    fn gone(&self, steps: &Steps<'_>, time_s: f64, now: (f64, f64)) -> f64 {
        let mut gone = 0.0;
        let (mut last, mut begin) = (0.0, 0.0);
        for (duration_s, current_a) in steps.load {
            if begin >= time_s {
                break;
            }
            let reached = if begin > 0.0 {
                self.after(time_s - begin)
            } else {
                now
            };
            let heat = self.heat(*current_a);
            gone += (heat - last) * self.gained(reached);
            last = heat;
            begin += duration_s / self.pace;
        }
        gone
    }

    /// Logarithm of the factor on the load with which it would be released just at a time.
    fn factor_at(&self, steps: &Steps<'_>, way: f64, own_s: f64) -> f64 {
        let now = self.after(own_s);
        let left = if steps.before_a > 0.0 || !steps.past.is_empty() {
            way - self.past(steps, own_s, now)
        } else {
            way
        };
        if left <= 0.0 {
            return LEAST;
        }
        let load = self.gone(steps, own_s, now);
        if load > 0.0 {
            // In a short time nothing is carried away, and heat goes with the way itself.
            let more = (self.curve.exponent - 1.0) * now.0.sqrt() * way.ln();
            (0.5 * ((left / load).ln() + more)).max(LEAST)
        } else {
            f64::INFINITY
        }
    }

    /// Logarithm of the factor on the load with which it would just trip by a time, s, and the time
    /// at which it then would: that very time, or the end of an earlier step.
    pub fn factor(&self, steps: &Steps<'_>, air_k: f64, time_s: f64) -> (f64, f64) {
        self.factor_after(self.ends(steps, air_k), steps, air_k, time_s)
    }

    /// How far the logarithm of the factor may be off at a time, s: what is off is the way that the air
    /// takes, and the less of it is left for the load, the larger a part of that it is.
    pub fn doubt(&self, steps: &Steps<'_>, air_k: f64, time_s: f64) -> f64 {
        let own_s = time_s / self.pace;
        let way = self.way(air_k);
        let left = way - self.past(steps, own_s, self.after(own_s));
        0.5 * OFF * (self.travel - way).abs() / left.max(LEAST_LEFT)
    }

    /// The end of each step of the load that a smaller one follows, s, with the factor there: only
    /// there may it have tripped sooner than later. Whoever asks for many times of one load keeps
    /// them.
    pub fn ends(&self, steps: &Steps<'_>, air_k: f64) -> impl Iterator<Item = (f64, f64)> {
        let way = self.way(air_k);
        let mut end_s = 0.0;
        steps.load.windows(2).filter_map(move |pair| {
            end_s += pair[0].0;
            let falls = pair[1].1 < pair[0].1;
            falls.then(|| (end_s, self.factor_at(steps, way, end_s / self.pace)))
        })
    }

    /// [`QuickPart::factor`] where the ends of the steps are known.
    pub fn factor_after(
        &self,
        ends: impl Iterator<Item = (f64, f64)>,
        steps: &Steps<'_>,
        air_k: f64,
        time_s: f64,
    ) -> (f64, f64) {
        let there = self.factor_at(steps, self.way(air_k), time_s / self.pace);
        let before = ends.take_while(|(end_s, _)| *end_s < time_s);
        before.fold((there, time_s), |least, (end_s, there)| {
            if there < least.0 {
                (there, end_s)
            } else {
                least
            }
        })
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
            let (strip, _) = self.after(own_s);
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
    use crate::family::{Carries, Nameplate};
    use crate::load::Programme;

    #[test]
    fn a_joint_counts_as_the_engine_says() {
        let plate = Nameplate::of_rating(10.0);
        let family = Family::new(&plate, 16).expect("a family");
        let quick = Quick::of(&family);
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
