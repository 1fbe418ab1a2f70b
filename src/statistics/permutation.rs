//! A random order of 0 to n − 1 that is looked up place by place, in constant memory however large n.
//!
//! Up to 2¹⁶ places by R. Durstenfeld's shuffle (Comm. ACM 7 (1964) 420), which makes all orders equally likely.
//! Above by a balanced Feistel cipher on ⌈√n⌉ × ⌈√n⌉ with cycle walking (J. Black & P. Rogaway, "Ciphers with
//! Arbitrary Finite Domains", CT-RSA 2002, from memory), whose rounds are Philox blocks. The cipher is no choice
//! for small n: its orders of nine are all even, and what is left of them for five is far from equally likely.

use super::error::StatisticsError;
use super::stream::{Purpose, Stream};

/// Four make a cipher indistinguishable from chance in theory (M. Luby & C. Rackoff, 1988).
const ROUNDS: u64 = 8;
/// The largest order that is kept as a list.
const LISTED: u64 = 1 << 16;

/// A one-to-one map of 0 to n − 1 onto itself, drawn by a seed.
///
/// ```
/// use relatch::statistics::{permutation::Permutation, stream::Purpose};
/// let order = Permutation::new(1_000_000, 2024, Purpose::other(1), 0)?;
/// assert!(order.of(5) < 1_000_000 && order.of(5) != order.of(6));
/// # Ok::<(), relatch::statistics::StatisticsError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Permutation(Form);

#[derive(Debug, Clone, PartialEq, Eq)]
enum Form {
    List(Vec<u32>),
    Cipher(Cipher),
}

#[derive(Debug, Clone, PartialEq, Eq)]
struct Cipher {
    n: u64,
    side: u64,
    seed: u64,
    purpose: Purpose,
    number: u32,
}

impl Permutation {
    /// The permutation of `n` places that belongs to a seed, a purpose and a number (say, of the input).
    ///
    /// # Errors
    ///
    /// No place, or more than 2⁵².
    pub fn new(n: u64, seed: u64, purpose: Purpose, number: u32) -> Result<Self, StatisticsError> {
        if n == 0 {
            return Err(StatisticsError::TooFew {
                what: "places",
                needed: 1,
                given: 0,
            });
        }
        if n > 1 << 52 {
            return Err(StatisticsError::TooMany {
                what: "places",
                limit: 1 << 52,
                given: n,
            });
        }
        if n <= LISTED {
            return Ok(Self(Form::List(shuffled(n as u32, seed, purpose, number))));
        }
        let floor = n.isqrt();
        let side = if floor * floor == n { floor } else { floor + 1 };
        Ok(Self(Form::Cipher(Cipher {
            n,
            side,
            seed,
            purpose,
            number,
        })))
    }

    /// Where place `i` goes; places are counted modulo n.
    #[must_use]
    pub fn of(&self, i: u64) -> u64 {
        match &self.0 {
            Form::List(list) => u64::from(list[(i % list.len() as u64) as usize]),
            Form::Cipher(cipher) => cipher.walk(i % cipher.n),
        }
    }
}

/// From the last place down, each changes with one at or before it.
fn shuffled(n: u32, seed: u64, purpose: Purpose, number: u32) -> Vec<u32> {
    let mut list: Vec<u32> = (0..n).collect();
    for i in (1..n).rev() {
        let stream = Stream::new(seed, purpose, u64::from(i));
        let j = stream.below(number, u64::from(i) + 1);
        list.swap(i as usize, j as usize);
    }
    list
}

impl Cipher {
    /// Walks on until back inside; ends, because the cipher is one-to-one and the start itself is inside.
    fn walk(&self, i: u64) -> u64 {
        let mut at = self.step(i);
        while at >= self.n {
            at = self.step(at);
        }
        at
    }

    fn step(&self, i: u64) -> u64 {
        let (mut left, mut right) = (i / self.side, i % self.side);
        for round in 0..ROUNDS {
            // A half is at most 2²⁶: the round has room above it.
            let stream = Stream::new(self.seed, self.purpose, round << 32 | right);
            let turned = (left + stream.below(self.number, self.side)) % self.side;
            (left, right) = (right, turned);
        }
        left * self.side + right
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_to_one_for_every_size() {
        for n in (1..40).chain([1000, LISTED, LISTED + 1, 90_000]) {
            let p = Permutation::new(n, 7, Purpose::LATIN_ORDER, 0).unwrap();
            let mut all: Vec<u64> = (0..n).map(|i| p.of(i)).collect();
            all.sort_unstable();
            assert!(all.iter().enumerate().all(|(i, &x)| x == i as u64), "{n}");
        }
    }

    /// All orders of three, four and five are equally likely over the seeds. Chi-square bounds that are passed one
    /// time in a thousand: 20.5, 49.7 and 173.6 for 5, 23 and 119 degrees of freedom.
    #[test]
    fn all_orders_are_equally_likely() {
        for (n, orders, bound) in [(3_u64, 6_u32, 20.5), (4, 24, 49.7), (5, 120, 173.6)] {
            let seeds = 200 * orders;
            let mut counts = std::collections::BTreeMap::new();
            for seed in 0..seeds {
                let p = Permutation::new(n, u64::from(seed), Purpose::LATIN_ORDER, 3).unwrap();
                let order: Vec<u64> = (0..n).map(|i| p.of(i)).collect();
                *counts.entry(order).or_insert(0_u32) += 1;
            }
            assert_eq!(counts.len() as u32, orders);
            let chi2: f64 = counts
                .values()
                .map(|&c| (f64::from(c) - 200.0).powi(2) / 200.0)
                .sum();
            assert!(chi2 < bound, "{n}: {chi2}");
        }
    }

    /// The cipher too looks like chance: no more fixed places and neighbours kept than one each is the rule.
    #[test]
    fn the_cipher_keeps_nothing_in_place() {
        let (n, mut fixed, mut neighbours) = (LISTED + 1, 0, 0);
        for seed in 0..20 {
            let p = Permutation::new(n, seed, Purpose::LATIN_ORDER, 0).unwrap();
            for i in 0..n - 1 {
                fixed += u32::from(p.of(i) == i);
                neighbours += u32::from(p.of(i) + 1 == p.of(i + 1));
            }
        }
        // Each is Poisson of mean 20: above 40 one time in 30 000, below 5 likewise.
        assert!((5..=40).contains(&fixed), "{fixed}");
        assert!((5..=40).contains(&neighbours), "{neighbours}");
    }

    #[test]
    fn sizes_that_are_refused() {
        assert!(Permutation::new(0, 0, Purpose::LATIN_ORDER, 0).is_err());
        assert!(Permutation::new((1 << 52) + 1, 0, Purpose::LATIN_ORDER, 0).is_err());
        let largest = Permutation::new(1 << 52, 0, Purpose::LATIN_ORDER, 0).unwrap();
        assert!(largest.of(u64::MAX) < 1 << 52);
    }
}
