//! A protector as two bodies: a strip that makes the heat, and what carries and surrounds it.
//!
//! This model shares nothing with the one that is judged: no beam, no radiation, no housing, no family of designs. The
//! strip releases at a temperature above the reference air; preload shifts that temperature.

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

    /// Carries stretches of current in some air until it releases; returns when, if it does, and how warm it is then.
    pub fn carry(&self, from: Warm, load: &[Stretch], air_c: f64) -> (Option<f64>, Warm) {
        let limit_k = self.threshold_k() - (air_c - REFERENCE_C);
        let mut warm = from;
        let mut now_s = 0.0;
        for (duration_s, current_a) in load {
            let mut left_s = *duration_s;
            while left_s > 1e-9 {
                let rate = self.rate(warm, *current_a, air_c);
                // Half a per cent of the way, or a hundredth of the time constant, whichever takes longer.
                let step_s = (0.002 * self.release_k / rate.strip_k.abs().max(1e-9))
                    .clamp(1e-3, 0.03 * self.strip_s)
                    .min(left_s);
                let middle = warm.on(&rate, 0.5 * step_s);
                let rate = self.rate(middle, *current_a, air_c);
                let next = warm.on(&rate, step_s);
                if next.strip_k >= limit_k {
                    let part = (limit_k - warm.strip_k) / (next.strip_k - warm.strip_k);
                    return (Some(now_s + part.clamp(0.0, 1.0) * step_s), next);
                }
                warm = next;
                now_s += step_s;
                left_s -= step_s;
                if rate.strip_k.abs() * self.body_s < 1e-3 && rate.body_k.abs() * self.body_s < 1e-3
                {
                    now_s += left_s;
                    break;
                }
            }
        }
        (None, warm)
    }

    /// Cools without current until it holds again; `None` when it never does.
    pub fn relatches(&self, from: Warm, air_c: f64) -> Option<f64> {
        let limit_k = self.relatch * self.threshold_k() - (air_c - REFERENCE_C);
        let mut warm = from;
        let mut now_s = 0.0;
        while warm.strip_k > limit_k {
            if now_s > 40.0 * self.body_s {
                return None;
            }
            let step_s = 0.02 * self.strip_s;
            warm = warm.on(&self.rate(warm, 0.0, air_c), step_s);
            now_s += step_s;
        }
        Some(now_s)
    }

    fn rate(&self, at: Warm, current_a: f64, air_c: f64) -> Warm {
        let (up, down) = (1.0 / (1.0 - self.body), 1.0 / self.body);
        let x = current_a / self.rated_a;
        let cold = self.release_k / (self.trip_multiple * self.trip_multiple);
        let heat = cold * x * x * self.warmer(at.strip_k + air_c - REFERENCE_C);
        let joint = cold * x * x * self.joint_w / self.sound_w;
        let flow = up * (at.strip_k - at.body_k);
        Warm {
            strip_k: (heat - flow) / (self.strip_s * up),
            body_k: (joint + flow - down * at.body_k) / (self.body_s * down),
        }
    }
}

impl Warm {
    fn on(self, rate: &Warm, time_s: f64) -> Warm {
        Warm {
            strip_k: self.strip_k + rate.strip_k * time_s,
            body_k: self.body_k + rate.body_k * time_s,
        }
    }
}
