//! Numbers as people write them, and how probable it is that they are written so.

use crate::outside::dice::Dice;
use relatch::internals::statistics::normal;

/// A number as it is written, and between which values it was.
#[derive(Debug, Clone)]
pub struct Stated {
    pub text: String,
    low: f64,
    high: f64,
}

impl Stated {
    /// Rounded to so many decimals.
    pub fn rounded(x: f64, decimals: usize) -> Stated {
        let half = 0.5 * 10f64.powi(-(decimals as i32));
        let text = format!("{x:.decimals$}");
        let written: f64 = text.parse().expect("a number");
        Stated {
            text,
            low: written - half,
            high: written + half,
        }
    }

    /// With so many decimals below ten and one fewer from there on.
    pub fn coarser_from_ten(x: f64, decimals: usize) -> Stated {
        let mut stated = Stated::rounded(x, decimals - usize::from(x >= 10.0));
        if x < 10.0 {
            stated.high = stated.high.min(10.0);
        } else {
            stated.low = stated.low.max(10.0);
        }
        stated
    }

    pub fn ends(&self) -> (f64, f64) {
        (self.low, self.high)
    }

    pub fn middle(&self) -> f64 {
        0.5 * (self.low + self.high)
    }

    /// Logarithm of the chance that it is written where it scatters normally about a truth.
    pub fn chance(&self, truth: f64, deviation: f64) -> f64 {
        between(
            (self.low - truth) / deviation,
            (self.high - truth) / deviation,
        )
    }

    /// The same with a scatter that is a part of the truth.
    pub fn chance_within(&self, truth: f64, part: f64) -> f64 {
        self.chance(truth, part * truth)
    }

    /// The same where it lies evenly between two values, with such a scatter besides.
    pub fn chance_spread(&self, from: f64, to: f64, part: f64) -> f64 {
        let [low, high] = [to, from].map(|end| (self.middle() / end - 1.0) / part);
        ((self.high - self.low) / (to - from)).ln() + between(low, high)
    }
}

/// Times as people tell them: 5 % off, and coarse.
pub fn told(dice: &Dice, time_s: f64) -> Stated {
    let t = time_s * (1.0 + TOLD * dice.normal());
    let about = dice.uniform() < 0.3;
    let coarse = |to: f64| (t / to).round().max(1.0) * to;
    // The written number, its unit, how coarse it is and from when to when people talk so, s.
    let (text, written_s, step_s, from_s, to_s): (_, f64, f64, f64, f64) = match about {
        true if t < 5.0 => (
            format!("about {:.1} s", t.max(0.1)),
            t.max(0.1),
            0.1,
            0.0,
            5.0,
        ),
        true if t < 100.0 => (
            format!("about {:.0} s", coarse(5.0)),
            coarse(5.0),
            5.0,
            5.0,
            100.0,
        ),
        true if t < 3600.0 => {
            let text = format!("about {:.0} min", coarse(60.0) / 60.0);
            (text, coarse(60.0), 60.0, 100.0, 3600.0)
        }
        true => {
            let text = format!("about {:.0} h", coarse(3600.0) / 3600.0);
            (text, coarse(3600.0), 3600.0, 3600.0, f64::INFINITY)
        }
        false if t < 10.0 => (format!("{:.1} s", t.max(0.1)), t.max(0.1), 0.1, 0.0, 10.0),
        false if t < 120.0 => (format!("{t:.0} s"), t, 1.0, 10.0, 120.0),
        false => (format!("{:.1} min", t / 60.0), t, 6.0, 120.0, f64::INFINITY),
    };
    let middle_s = (written_s / step_s).round() * step_s;
    let is_least = middle_s < 1.5 * step_s;
    Stated {
        text,
        low: if from_s == 0.0 && is_least {
            f64::NEG_INFINITY
        } else {
            from_s.max(middle_s - 0.5 * step_s)
        },
        high: to_s.min(middle_s + 0.5 * step_s),
    }
}

/// Part of a time that people are off.
pub const TOLD: f64 = 0.05;

/// Logarithm of the chance of a standard normal number between two; far out the leading term of the
/// tail.
pub fn between(low: f64, high: f64) -> f64 {
    // On the side where nothing cancels.
    let (low, high) = if low > 0.0 {
        (-high, -low)
    } else {
        (low, high)
    };
    let p = normal::cdf(high) - normal::cdf(low);
    if p > 1e-290 {
        p.ln()
    } else {
        -0.5 * high * high - high.abs().max(1.0).ln()
    }
}

/// Logarithm of a sum of weights times chances that are given by their logarithms.
pub fn mixed(parts: impl IntoIterator<Item = (f64, f64)>) -> f64 {
    let parts: Vec<(f64, f64)> = parts.into_iter().filter(|p| p.0 > 0.0).collect();
    let most = parts.iter().fold(f64::NEG_INFINITY, |m, p| m.max(p.1));
    if most == f64::NEG_INFINITY {
        return most;
    }
    let sum: f64 = parts.iter().map(|(w, ln)| w * (ln - most).exp()).sum();
    most + sum.ln()
}

/// One of several, each as often.
pub fn one_of(parts: &[f64], of: impl Fn(f64) -> f64) -> f64 {
    mixed(parts.iter().map(|x| (1.0 / parts.len() as f64, of(*x))))
}
