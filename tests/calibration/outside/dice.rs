//! Draws of one case (G. Steele, D. Lea and C. Flood, 2014: a counter, mixed), or numbers that are
//! given: whoever asks what dice would have made a machine walks about in those.

use relatch::internals::statistics::normal;
use std::cell::Cell;

pub struct Dice {
    state: Cell<u64>,
    /// Numbers from 0 to 1 that are thrown one after the other, while there are any.
    given: Vec<f64>,
}

impl Dice {
    pub fn new(seed: u64) -> Self {
        // Neighbouring seeds start far apart.
        let dice = Dice {
            state: Cell::new(seed.wrapping_mul(0xd134_2543_de82_ef95)),
            given: Vec::new(),
        };
        let start = dice.bits() ^ dice.bits().rotate_left(32);
        dice.state.set(start);
        dice
    }

    /// Throws the numbers given; after the last they begin again.
    pub fn given(numbers: &[f64]) -> Self {
        Dice {
            state: Cell::new(0),
            given: numbers.to_vec(),
        }
    }

    fn bits(&self) -> u64 {
        let s = self.state.get().wrapping_add(0x9e37_79b9_7f4a_7c15);
        self.state.set(s);
        let s = (s ^ (s >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let s = (s ^ (s >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        s ^ (s >> 31)
    }

    pub fn uniform(&self) -> f64 {
        if !self.given.is_empty() {
            let k = self.state.get();
            self.state.set(k + 1);
            return self.given[k as usize % self.given.len()];
        }
        (self.bits() >> 11) as f64 / (1u64 << 53) as f64
    }

    pub fn between(&self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.uniform()
    }

    pub fn log_between(&self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp()
    }

    /// Twelve uniform numbers make one that is normal enough; of given ones each makes one.
    pub fn normal(&self) -> f64 {
        if !self.given.is_empty() {
            return normal::quantile(self.uniform().clamp(1e-9, 1.0 - 1e-9));
        }
        (0..12).map(|_| self.uniform()).sum::<f64>() - 6.0
    }

    pub fn flip(&self, probability: f64) -> bool {
        self.uniform() < probability
    }

    pub fn one<T: Copy>(&self, of: &[T]) -> T {
        of[((self.uniform() * of.len() as f64) as usize).min(of.len() - 1)]
    }
}
