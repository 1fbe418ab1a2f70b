//! Where idle ends and load begins, from the log itself.

use super::span::Span;

/// Bins in a decade of current.
const IN_A_DECADE: f64 = 30.0;
/// Smaller currents count as none, A.
const LEAST_A: f64 = 1e-3;
const BINS: usize = 240;
/// Load is looked for above this part of the highest level: below lie leakage and the last digit.
const FLOOR: f64 = 0.02;
/// The valley between idle and load lies below this part of the highest level.
const CEILING: f64 = 0.6;
/// A level is real when the current keeps to it for this part of the time.
const NEGLIGIBLE: f64 = 1e-4;

/// Thresholds between idle and load, with hysteresis.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thresholds {
    /// Load begins above this, A.
    pub on_a: f64,
    /// Load ends below this, A.
    pub off_a: f64,
}

/// How long the current of a log was at which level: what the thresholds are found from. Its memory
/// is constant.
#[derive(Debug, Clone, PartialEq)]
pub struct Levels {
    time_s: Vec<f64>,
    none_s: f64,
    largest_a: f64,
}

impl Default for Levels {
    fn default() -> Self {
        Levels {
            time_s: vec![0.0; BINS],
            none_s: 0.0,
            largest_a: 0.0,
        }
    }
}

fn level_a(bin: usize) -> f64 {
    LEAST_A * 10f64.powf(bin as f64 / IN_A_DECADE)
}

fn bin(current_a: f64) -> usize {
    ((current_a / LEAST_A).log10() * IN_A_DECADE).clamp(0.0, BINS as f64 - 1.0) as usize
}

impl Levels {
    /// Adds a span.
    pub fn add(&mut self, span: &Span) {
        let Some(c) = span.current else { return };
        self.largest_a = self.largest_a.max(c.value);
        if c.value < LEAST_A {
            self.none_s += span.length_s();
        } else {
            self.time_s[bin(c.value)] += span.length_s();
        }
    }

    /// The thresholds: the middle of the widest empty stretch of levels (in ratio) between 2 % and
    /// 60 % of the highest level, with a quarter of hysteresis. Where no stretch is empty, a tenth
    /// of the highest. Common practice of setting levels by eye, put into numbers; no source.
    ///
    /// `None` when no current ever flowed.
    pub fn thresholds(&self) -> Option<Thresholds> {
        let all: f64 = self.none_s + self.time_s.iter().sum::<f64>();
        let real = |b: &usize| self.time_s[*b] > NEGLIGIBLE * all;
        let top = (0..BINS).rev().find(real).map_or(self.largest_a, level_a);
        if !(top > LEAST_A) {
            return None;
        }
        let (low, high) = (bin(FLOOR * top), bin(CEILING * top));
        let mut widest = low..low;
        let mut start = low;
        for b in low..=high {
            if b == high || real(&b) {
                if b - start > widest.len() {
                    widest = start..b;
                }
                start = b + 1;
            }
        }
        let middle = if widest.len() < 3 {
            0.1 * top
        } else {
            (level_a(widest.start) * level_a(widest.end)).sqrt()
        };
        Some(Thresholds {
            on_a: 1.12 * middle,
            off_a: middle / 1.12,
        })
    }
}
