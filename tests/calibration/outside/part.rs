//! A protector as two bodies: a strip that makes the heat, and what carries and surrounds it.
//!
//! This model shares nothing with the one that is judged: no beam, no radiation, no housing, no
//! family of designs. The strip releases at a temperature above the reference air; preload shifts
//! that temperature.

use super::dice::Dice;

/// Air that ratings are stated for, degC.
pub const REFERENCE_C: f64 = 23.0;

/// How a part is made.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Kind {
    /// The strip carries the current.
    Direct,
    /// The same with a copper core.
    Copper,
    /// A winding heats the strip.
    Wound,
    /// A blade that snaps.
    Snap,
}

/// A part as new, and what became of it.
#[derive(Debug, Clone)]
pub struct Part {
    pub kind: Kind,
    pub rated_a: f64,
    /// Trip point in the reference air over the rating.
    trip_multiple: f64,
    /// Rise of the strip at release, K.
    release_k: f64,
    /// Part of that which the preload takes.
    preload_share: f64,
    /// Rise at which it holds again over the rise at release.
    relatch: f64,
    /// Rise of the body over that of the strip when all is steady.
    body: f64,
    strip_s: f64,
    body_s: f64,
    /// Of the resistance, 1/K.
    coefficient: f64,
    /// Heat of a sound part at rated current, W.
    pub sound_w: f64,
    /// Preload lost.
    pub loss: f64,
    /// Factor on the force that releases it.
    pub force: f64,
    /// Heat of a bad joint at rated current, W.
    pub joint_w: f64,
}

/// A stretch of current: for how long, s, and how much, A.
pub type Stretch = (f64, f64);

/// Strip and body above the air, K.
#[derive(Debug, Clone, Copy)]
pub struct Warm {
    pub strip_k: f64,
    pub body_k: f64,
}

impl Warm {
    pub const COLD: Warm = Warm {
        strip_k: 0.0,
        body_k: 0.0,
    };
}

impl Part {
    pub fn draw(dice: &Dice, rated_a: f64) -> Part {
        let kind = match dice.uniform() {
            _ if rated_a < 5.0 => Kind::Wound,
            u if u < 0.45 => Kind::Direct,
            u if u < 0.8 => Kind::Copper,
            _ => Kind::Snap,
        };
        let coefficient = match kind {
            Kind::Direct | Kind::Snap => dice.between(3e-4, 1.2e-3),
            Kind::Copper => dice.between(1.5e-3, 3.5e-3),
            Kind::Wound => dice.between(0.0, 2e-4),
        };
        let drop_v = match kind {
            Kind::Direct | Kind::Snap => dice.between(0.06, 0.16),
            Kind::Copper => dice.between(0.04, 0.10),
            Kind::Wound => dice.between(0.3, 1.1),
        };
        let strip_s = dice.log_between(7.0, 70.0);
        Part {
            kind,
            rated_a,
            trip_multiple: dice.between(1.05, 1.35),
            release_k: dice.between(45.0, 120.0),
            preload_share: dice.between(0.1, 0.6),
            relatch: dice.between(0.4, 0.8),
            body: dice.between(0.12, 0.45),
            strip_s,
            body_s: strip_s * dice.log_between(3.0, 12.0),
            coefficient,
            sound_w: drop_v * rated_a,
            loss: 0.0,
            force: 1.0,
            joint_w: 0.0,
        }
    }

    /// Rise of the strip above the reference air at which it releases, K.
    pub fn threshold_k(&self) -> f64 {
        self.release_k * (1.0 - self.preload_share * (1.0 - self.force * (1.0 - self.loss)))
    }

    /// How much later it releases than as new, as a factor on the way.
    pub fn later(&self) -> f64 {
        self.threshold_k() / self.release_k
    }

    /// The same part as new and well connected.
    pub fn as_new(&self) -> Part {
        Part {
            loss: 0.0,
            force: 1.0,
            joint_w: 0.0,
            ..self.clone()
        }
    }

    /// Away from its joints.
    pub fn unwired(&self) -> Part {
        Part {
            joint_w: 0.0,
            ..self.clone()
        }
    }

    /// Its sister: of the same lot, as new, with the same joint.
    pub fn sister(&self, dice: &Dice) -> Part {
        let stretch = 1.0 + 0.08 * dice.normal();
        Part {
            trip_multiple: self.trip_multiple * (1.0 + 0.025 * dice.normal()),
            strip_s: self.strip_s * stretch,
            body_s: self.body_s * stretch,
            loss: 0.0,
            force: 1.0,
            ..self.clone()
        }
    }

    /// Resistance over that in the reference air when cold.
    fn warmer(&self, above_reference_k: f64) -> f64 {
        (1.0 + self.coefficient * above_reference_k) / (1.0 + self.coefficient * self.release_k)
    }

    /// Millivolt drop across the warm, closed part under a current, V.
    pub fn drop_v(&self, current_a: f64) -> f64 {
        (self.sound_w + self.joint_w) / self.rated_a * (current_a / self.rated_a)
    }

    /// Terminal at the joint above the other one, K.
    pub fn terminals_k(&self, current_a: f64) -> f64 {
        let x = current_a / self.rated_a;
        3.5 * (self.joint_w / self.sound_w) * x * x * (self.release_k / 40.0)
    }

    /// Carries stretches of current in some air until it releases; returns when, if it does, and
    /// how warm it is then.
    pub fn carry(&self, from: Warm, load: &[Stretch], air_c: f64) -> (Option<f64>, Warm) {
        let limit_k = self.threshold_k() - (air_c - REFERENCE_C);
        let mut warm = from;
        let mut before_s = 0.0;
        for (duration_s, current_a) in load {
            let course = self.course(warm, *current_a, air_c);
            if let Some(t) = course.reaches(limit_k, 1.0, *duration_s) {
                return (Some(before_s + t), course.at(t));
            }
            warm = course.at(*duration_s);
            before_s += duration_s;
        }
        (None, warm)
    }

    /// Cools without current until it holds again; `None` when it never does. It is tried again and
    /// again.
    pub fn relatches(&self, from: Warm, air_c: f64) -> Option<f64> {
        let limit_k = self.relatch * self.threshold_k() - (air_c - REFERENCE_C);
        let course = self.course(from, 0.0, air_c);
        let holds_s = course.reaches(limit_k, -1.0, 40.0 * self.body_s)?;
        let every_s = 0.02 * self.strip_s;
        Some((holds_s / every_s).ceil() * every_s)
    }

    /// The course under one current: two linear equations.
    fn course(&self, from: Warm, current_a: f64, air_c: f64) -> Course {
        let (up, down) = (1.0 / (1.0 - self.body), 1.0 / self.body);
        let x = current_a / self.rated_a;
        let cold = x * x * self.release_k / (self.trip_multiple * self.trip_multiple);
        let per_k = cold * self.coefficient / (1.0 + self.coefficient * self.release_k);
        let heat = cold * self.warmer(air_c - REFERENCE_C);
        let joint = cold * self.joint_w / self.sound_w;
        let (strip, body) = (self.strip_s * up, self.body_s * down);
        let rates = [
            [(per_k - up) / strip, up / strip],
            [up / body, -(up + down) / body],
        ];
        Course::new(rates, [heat / strip, joint / body], from)
    }
}

/// Strip and body under one current: two exponentials about a state that would not change.
struct Course {
    /// That state, and what each exponential adds to it, of the strip and of the body, K.
    strip: [f64; 3],
    body: [f64; 3],
    /// The slow rate (it may grow) and the fast one, 1/s.
    rates: [f64; 2],
}

impl Course {
    fn new([[a, b], [c, d]]: [[f64; 2]; 2], [e, f]: [f64; 2], from: Warm) -> Course {
        let still = a * d - b * c;
        let (strip, body) = ((b * f - d * e) / still, (c * e - a * f) / still);
        let (middle, half) = (0.5 * (a + d), (0.25 * (a - d) * (a - d) + b * c).sqrt());
        let (slow, fast) = (middle + half, middle - half);
        let (x, y) = (from.strip_k - strip, from.body_k - body);
        let slow_x = ((a - fast) * x + b * y) / (slow - fast);
        let slow_y = (c * x + (d - fast) * y) / (slow - fast);
        Course {
            strip: [strip, slow_x, x - slow_x],
            body: [body, slow_y, y - slow_y],
            rates: [slow, fast],
        }
    }

    fn at(&self, time_s: f64) -> Warm {
        let [slow, fast] = self.rates.map(|r| (r * time_s).exp());
        let of = |[still, one, other]: [f64; 3]| still + one * slow + other * fast;
        Warm {
            strip_k: of(self.strip),
            body_k: of(self.body),
        }
    }

    /// When the strip first comes to a limit, from below (`sense` 1) or from above (-1).
    fn reaches(&self, limit_k: f64, sense: f64, within_s: f64) -> Option<f64> {
        let short_k = |t: f64| sense * (limit_k - self.at(t).strip_k);
        let [slow, fast] = self.rates;
        // What leaves the limit, as after a trip, has not come to it.
        let comes = sense * (self.strip[1] * slow + self.strip[2] * fast) > 0.0;
        if short_k(0.0) <= 0.0 && comes {
            return Some(0.0);
        }
        // Where it turns, if it does.
        let turn_s = (-self.strip[2] * fast / (self.strip[1] * slow)).ln() / (slow - fast);
        let mut from_s = 0.0;
        for to_s in [turn_s, within_s] {
            if !(to_s > from_s && to_s <= within_s) {
                continue;
            }
            if short_k(to_s) <= 0.0 {
                let (mut low, mut high) = (from_s, to_s);
                while high - low > 1e-7 * high {
                    let middle = 0.5 * (low + high);
                    if short_k(middle) > 0.0 {
                        low = middle;
                    } else {
                        high = middle;
                    }
                }
                return Some(high);
            }
            from_s = to_s;
        }
        None
    }
}

#[test]
fn the_course_obeys_its_equations_and_reaches_a_limit_when_it_is_there() {
    let rates = [[-0.03, 0.05], [0.004, -0.02]];
    let drive = [2.0, 0.1];
    let from = Warm {
        strip_k: 40.0,
        body_k: 1.0,
    };
    let course = Course::new(rates, drive, from);
    for t in [0.0, 3.0, 40.0, 300.0] {
        let (now, before, after) = (course.at(t), course.at(t - 1e-3), course.at(t + 1e-3));
        let strip = rates[0][0] * now.strip_k + rates[0][1] * now.body_k + drive[0];
        let body = rates[1][0] * now.strip_k + rates[1][1] * now.body_k + drive[1];
        assert!(((after.strip_k - before.strip_k) / 2e-3 - strip).abs() < 1e-6);
        assert!(((after.body_k - before.body_k) / 2e-3 - body).abs() < 1e-6);
    }
    assert!((course.at(0.0).strip_k - 40.0).abs() < 1e-9);
    let t = course.reaches(50.0, 1.0, 1e4).expect("it gets there");
    assert!((course.at(t).strip_k - 50.0).abs() < 1e-4 && course.at(0.9 * t).strip_k < 50.0);
    assert_eq!(course.reaches(50.0, 1.0, 0.9 * t), None);
    assert_eq!(course.reaches(-5.0, -1.0, 1e4), None);
}
