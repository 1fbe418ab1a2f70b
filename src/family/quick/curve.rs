//! What a step of current makes of a member of a family.

use super::Steps;
use crate::family::Placing;
use crate::family::member::{Member, cold_times};
use crate::family::part::{Part, Wear};
use crate::family::trip_times::BACKWARDS;

/// Points of a step response.
const POINTS: usize = 56;
/// After so many time constants more the way is complete: a hundred-millionth may be lacking.
const DONE: f64 = 16.0;
/// Heats of the joint that its share is measured with, over the heat of the part at its trip point.
pub const TRIAL_JOINTS: [f64; 2] = [0.4, 2.0];
/// Up to here it is followed between them and beyond: 0 at the lesser, 1 at the greater one.
pub const FURTHEST: f64 = 1.5;
/// Heat of the joint that the warmth of the terminals is measured with.
const TRIAL_JOINT: f64 = 0.2;
/// Lost preload and warmer air, K, that their effects are measured with.
const TRIAL_LOSS: f64 = 0.6;
const TRIAL_AIR_K: f64 = 45.0;

/// Step response of one member in its own seconds.
#[derive(Debug, Clone)]
pub struct Curve {
    /// Logarithm of the first time, and the distance of the points.
    first: f64,
    apart: f64,
    /// Share of the way to release at the trip point's current after each time.
    share: [f64; POINTS],
    /// The last time, s, and the rate at which what is lacking goes after it, 1/s.
    last_s: f64,
    rest_per_s: f64,
    pub rise_k: f64,
    pub preload_share: f64,
    pub power_w: f64,
    /// Steady heat goes with this power of the way: still air carries warmth away the better the
    /// warmer it is.
    pub exponent: f64,
    /// Warmer air counts more than its warmth, as a part of it for each kelvin.
    pub air_per_k: f64,
    /// The same by a joint's heat as large as the part's own, for each of the heats it was measured
    /// with.
    joint: [[f64; POINTS]; TRIAL_JOINTS.len()],
    /// Time constant of its terminal, s.
    pub joint_s: f64,
    /// Time constant of the other terminal, s.
    pub fixed_s: f64,
    /// Rises of both terminals at the trip point: of a sound part, and by a joint's heat as large
    /// as the part's own, K.
    pub sound_k: [f64; 2],
    pub joint_k: [f64; 2],
}

/// What a load has made of a member by some time: sums of squares of current, A^2, times what each step
/// has reached by the strip's heat and by a joint's at both heats that it was measured with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reached {
    /// By what came before the load.
    pub past: [f64; 3],
    /// By the load.
    pub gone: [f64; 3],
    /// What a step at the load's beginning has reached by the strip's heat.
    pub strip: f64,
}

impl Reached {
    /// A part of the way from one to another.
    pub fn towards(&self, to: &Reached, part: f64) -> Reached {
        let between = |from: f64, to: f64| from + part * (to - from);
        Reached {
            past: std::array::from_fn(|k| between(self.past[k], to.past[k])),
            gone: std::array::from_fn(|k| between(self.gone[k], to.gone[k])),
            strip: between(self.strip, to.strip),
        }
    }
}

impl Curve {
    /// Of a member, whose reference air is this, K.
    pub fn of(member: &Member, reference_k: f64) -> Curve {
        let slow = member.cold_trip_s(BACKWARDS.0).ln();
        let first = member.cold_trip_s(BACKWARDS.1).ln();
        let apart = (slow - first) / (POINTS - 1) as f64;
        let time_s = |k: usize| (first + apart * k as f64).exp();
        let share: [f64; POINTS] =
            std::array::from_fn(|k| member.cold.multiple(time_s(k)).powi(-2));
        let lacking = |k: usize| 1.0 - share[k];
        let (before, last) = (POINTS - 2, POINTS - 1);
        let rest_per_s = (lacking(before) / lacking(last)).ln() / (time_s(last) - time_s(before));
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
            last_s: time_s(last),
            rest_per_s: rest_per_s.max(f64::MIN_POSITIVE),
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
    /// part's own at both heats that it was measured with.
    pub fn after(&self, time_s: f64) -> [f64; 3] {
        if time_s <= 0.0 {
            return [0.0; 3];
        }
        let log_time = nearly_ln(time_s);
        let place = (log_time - self.first) / self.apart;
        let [less, more] = &self.joint;
        let at = |k: usize| [self.share[k], less[k], more[k]];
        if place <= 0.0 {
            let [strip, less, more] = at(0);
            // A joint's heat has to come to the strip first.
            let part = (log_time - self.first).exp();
            [strip * part, less * part * part, more * part * part]
        } else if place >= (POINTS - 1) as f64 {
            // What is lacking goes as it went before, and not in a jump: steps that are taken back would
            // show that many times over.
            let [strip, less, more] = at(POINTS - 1);
            let gone = self.rest_per_s * (time_s - self.last_s);
            let lacking = if gone < DONE {
                (1.0 - strip) * (-gone).exp()
            } else {
                0.0
            };
            [1.0 - lacking, less, more]
        } else {
            let k = place as usize;
            let part = place - k as f64;
            let (from, to) = (at(k), at(k + 1));
            std::array::from_fn(|j| from[j] + part * (to[j] - from[j]))
        }
    }

    /// What a load has made of the member by a time, s, at a pace.
    pub fn reached(&self, steps: &Steps<'_>, pace: f64, time_s: f64) -> Reached {
        let own_s = time_s / pace;
        let now = self.after(own_s);
        let mut past = [0.0; 3];
        let mut last = 0.0;
        if steps.before_a > 0.0 {
            last = steps.before_a.powi(2);
            add(&mut past, last, self.after(f64::INFINITY));
        }
        let mut begin = -steps.past.iter().map(|s| s.0).sum::<f64>() / pace;
        for (duration_s, current_a) in steps.past {
            let heat = current_a.powi(2);
            add(&mut past, heat - last, self.after(own_s - begin));
            last = heat;
            begin += duration_s / pace;
        }
        add(&mut past, -last, now);
        let mut gone = [0.0; 3];
        let (mut last, mut begin) = (0.0, 0.0);
        for (duration_s, current_a) in steps.load {
            if begin >= own_s {
                break;
            }
            let reached = if begin > 0.0 {
                self.after(own_s - begin)
            } else {
                now
            };
            let heat = current_a.powi(2);
            add(&mut gone, heat - last, reached);
            last = heat;
            begin += duration_s / pace;
        }
        Reached {
            past,
            gone,
            strip: now[0],
        }
    }
}

fn add(sum: &mut [f64; 3], heat: f64, reached: [f64; 3]) {
    for (s, r) in sum.iter_mut().zip(reached) {
        *s += heat * r;
    }
}

/// Logarithm of a positive number to 3e-8: what is looked up with it is straight between points anyway.
pub fn nearly_ln(x: f64) -> f64 {
    // Mantissas from the root of a half to the root of two; the series of the area tangent.
    let bits = x.to_bits().wrapping_sub(ROOT_HALF);
    let exponent = (bits as i64 >> 52) as f64;
    let mantissa = f64::from_bits((bits & MANTISSA) + ROOT_HALF);
    let z = (mantissa - 1.0) / (mantissa + 1.0);
    let w = z * z;
    let series = 2.0 + w * (2.0 / 3.0 + w * (2.0 / 5.0 + w * (2.0 / 7.0)));
    exponent * std::f64::consts::LN_2 + z * series
}

const ROOT_HALF: u64 = std::f64::consts::FRAC_1_SQRT_2.to_bits();
const MANTISSA: u64 = (1 << 52) - 1;

#[cfg(test)]
mod tests {
    use super::nearly_ln;
    use crate::family::{Family, Nameplate};

    #[test]
    fn a_step_response_goes_on_where_its_table_ends() {
        let family = Family::new(&Nameplate::of_rating(10.0), 16).expect("a family");
        for curve in &family.quick().curves {
            let strip = |k: i32| curve.after(curve.last_s * 1.002_f64.powi(k))[0];
            assert!(strip(0) < 0.995, "{}", strip(0));
            let course: Vec<f64> = (-100..1500).map(strip).collect();
            for pair in course.windows(2) {
                assert!((0.0..2e-4).contains(&(pair[1] - pair[0])), "{pair:?}");
            }
            assert_eq!(course.last(), Some(&1.0));
        }
    }

    #[test]
    fn logarithms_are_near() {
        for k in -4000..4000 {
            let x = 1.003f64.powi(k) * 7.3;
            let off = nearly_ln(x) - x.ln();
            assert!(off.abs() < 4e-8, "{x} {off}");
        }
    }
}
