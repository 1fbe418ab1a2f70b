//! The pool of guesses: where they were drawn, what each makes of the evidence, and the density of the mixture
//! that drew them. What a guess needs more than once is computed once and kept.

use super::cloud::{Cloud, Coordinates, Frame};
use super::latent::{Beliefs, COUNT, Guess};
use super::weigh::{Scales, Weighed};
use crate::predict::parallel;
use crate::statistics::stream::{Purpose, Stream};
use std::ops::Range;

/// One part of the mixture that guesses are drawn from.
pub struct Component {
    from: Source,
    /// How many guesses are drawn from it.
    count: usize,
}

/// Where guesses are drawn from.
enum Source {
    /// The family, and beliefs.
    Beliefs(Box<Beliefs>),
    /// Near what has been found under a hypothesis, in its coordinates.
    Cloud(usize, Box<Cloud>),
}

impl Component {
    /// The family, and beliefs.
    pub fn of_beliefs(beliefs: Beliefs, count: usize) -> Component {
        Component {
            from: Source::Beliefs(Box::new(beliefs)),
            count,
        }
    }

    /// Near what has been found under a hypothesis.
    pub fn of_cloud(hypothesis: usize, cloud: Cloud, count: usize) -> Component {
        Component {
            from: Source::Cloud(hypothesis, Box::new(cloud)),
            count,
        }
    }

    fn draw(&self, scales: &Scales<'_>, frames: &[Frame<'_>], stream: &Stream) -> Option<Guess> {
        match &self.from {
            Source::Beliefs(beliefs) => {
                let drawn = scales.family.draw(stream)?;
                let mut x = [0.0; COUNT];
                for (k, x) in x.iter_mut().enumerate() {
                    let draw = 4 + 2 * k as u32;
                    *x = beliefs[k].at(stream.uniform(draw), stream.uniform(draw + 1));
                }
                Some(Guess { drawn, x })
            }
            Source::Cloud(h, cloud) => cloud.draw(&frames[*h], stream),
        }
    }

    fn log(&self, guess: &Guess, seen: &Seen) -> f64 {
        match &self.from {
            Source::Beliefs(beliefs) => seen.anywhere + log_of(beliefs, guess),
            Source::Cloud(h, cloud) => match &seen.at[*h] {
                Some((at, volume)) => cloud.log(guess.drawn.member, at) + volume,
                None => f64::NEG_INFINITY,
            },
        }
    }
}

/// What every component needs of a guess.
struct Seen {
    /// Logarithm of the density of the family's own draws.
    anywhere: f64,
    /// Coordinates under each hypothesis, and the logarithm of their volume.
    at: Vec<Option<(Coordinates, f64)>>,
}

/// Logarithm of the density of beliefs at a guess.
pub fn log_of(x: &Beliefs, guess: &Guess) -> f64 {
    let mut sum = 0.0;
    for (density, x) in x.iter().zip(&guess.x) {
        sum += density.log(*x);
        if sum == f64::NEG_INFINITY {
            break;
        }
    }
    sum
}

/// Guesses and what is known of them.
pub struct Pool<'a> {
    /// The case and its family.
    pub scales: &'a Scales<'a>,
    frames: &'a [Frame<'a>],
    /// Seed of the draws.
    pub seed: u64,
    components: Vec<Component>,
    /// Guesses.
    pub guesses: Vec<Guess>,
    /// What each makes of the evidence; behind `guesses` until [`Pool::weigh`].
    pub weighed: Vec<Weighed>,
    /// Logarithm of the prior density of each part; behind `guesses` until [`Pool::mix`].
    pub log_part: Vec<f64>,
    /// Logarithm of the mixture's density at each guess; behind `guesses` until [`Pool::mix`].
    pub log_q: Vec<f64>,
    seen: Vec<Seen>,
    /// Components that `log_q` knows.
    mixed: usize,
}

impl<'a> Pool<'a> {
    /// An empty pool.
    pub fn new(scales: &'a Scales<'a>, frames: &'a [Frame<'a>], seed: u64) -> Pool<'a> {
        Pool {
            scales,
            frames,
            seed,
            components: Vec::new(),
            guesses: Vec::new(),
            weighed: Vec::new(),
            log_part: Vec::new(),
            log_q: Vec::new(),
            seen: Vec::new(),
            mixed: 0,
        }
    }

    /// Draws the guesses of a further component; their places in the pool.
    pub fn draw(&mut self, component: Component) -> Range<usize> {
        let (from, number) = (self.guesses.len(), self.components.len());
        for k in 0..component.count {
            let place = (number * 100_000 + k) as u64;
            let stream = Stream::new(self.seed, Purpose::other(40), place);
            self.guesses
                .extend(component.draw(self.scales, self.frames, &stream));
        }
        self.components.push(component);
        from..self.guesses.len()
    }

    /// Weighs what has been drawn; what lies below a likelihood before anything is simulated is not simulated.
    pub fn weigh(&mut self, give_up_below: f64) {
        let scales = self.scales;
        self.weighed.extend(parallel::map(
            &self.guesses[self.weighed.len()..],
            |g| {
                let inside = scales.family.log_drawn_density(g.drawn).is_finite();
                let below = if inside { give_up_below } else { f64::INFINITY };
                scales.weigh(g, below)
            },
            &mut |_| {},
        ));
    }

    /// The best likelihood so far.
    pub fn best(&self) -> f64 {
        self.weighed
            .iter()
            .map(|w| w.log.max(w.log_unexplained))
            .fold(f64::NEG_INFINITY, f64::max)
    }

    /// Brings the density of the mixture up to date for every guess.
    ///
    /// Kept as a running sum of `count * density`, so that each round costs only what is new.
    pub fn mix(&mut self) {
        let (scales, frames) = (self.scales, self.frames);
        let new = parallel::map(
            &self.guesses[self.seen.len()..],
            |guess| {
                let anywhere = scales.family.log_drawn_density(guess.drawn);
                let inside = anywhere.is_finite();
                let seen = Seen {
                    anywhere,
                    // What the family turns away has no weight and needs no density.
                    at: frames
                        .iter()
                        .map(|f| f.coordinates(guess).filter(|_| inside))
                        .collect(),
                };
                (seen, scales.family.log_density(guess.drawn))
            },
            &mut |_| {},
        );
        for (seen, log_part) in new {
            self.seen.push(seen);
            self.log_part.push(log_part);
        }
        let drawn = |components: &[Component]| components.iter().map(|c| c.count).sum::<usize>();
        let before = drawn(&self.components[..self.mixed]) as f64;
        let total = drawn(&self.components) as f64;
        let numbers: Vec<usize> = (0..self.guesses.len()).collect();
        self.log_q = parallel::map(
            &numbers,
            |i| {
                let (start, mut sum) = match self.log_q.get(*i) {
                    Some(log) => (self.mixed, log.exp() * before),
                    None => (0, 0.0),
                };
                for component in &self.components[start..] {
                    let log = component.log(&self.guesses[*i], &self.seen[*i]);
                    sum += component.count as f64 * log.exp();
                }
                (sum / total).ln()
            },
            &mut |_| {},
        );
        self.mixed = self.components.len();
    }

    /// Coordinates of a guess under a hypothesis; `None` outside what is believed.
    pub fn coordinates(&self, guess: usize, hypothesis: usize) -> Option<Coordinates> {
        self.seen[guess].at[hypothesis].map(|(at, _)| at)
    }
}
