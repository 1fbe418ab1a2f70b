//! A random order of 0 to n − 1 that is looked up place by place, in constant memory however large
//! n.
//!
//! Up to 2¹⁶ places by R. Durstenfeld's shuffle (Comm. ACM 7 (1964) 420), which makes all orders
//! equally likely. Above by a balanced Feistel cipher on ⌈√n⌉ × ⌈√n⌉ with cycle walking (J. Black &
//! P. Rogaway, "Ciphers with Arbitrary Finite Domains", CT-RSA 2002, from memory), whose rounds are
//! Philox blocks. The cipher is no choice for small n: its orders of nine are all even, and what is
//! left of them for five is far from equally likely.

use super::error::StatisticsError;
use super::stream::{Purpose, Stream};

/// Four make a cipher indistinguishable from chance in theory (M. Luby & C. Rackoff, 1988).
const ROUNDS: u64 = 8;
/// The largest order that is kept as a list.
const LISTED: u64 = 1 << 16;

/// A one-to-one map of 0 to n − 1 onto itself, drawn by a seed.
///
/// ```
/// use relatch::internals::statistics::{permutation::Permutation, stream::Purpose};
/// let order = Permutation::new(1_000_000, 2024, Purpose::other(1), 0)?;
/// assert!(order.of(5) < 1_000_000 && order.of(5) != order.of(6));
/// # Ok::<(), relatch::internals::statistics::StatisticsError>(())
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
    /// The permutation of `n` places that belongs to a seed, a purpose and a number (say, of the
    /// input).
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
    /// Walks on until back inside; ends, because the cipher is one-to-one and the start itself is
    /// inside.
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
