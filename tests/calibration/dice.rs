//! Draws of one case.

use relatch::internals::diagnose::Density;
use relatch::internals::statistics::{normal, stream::Stream};
use std::cell::Cell;

/// Draws one number after the other from a stream.
pub struct Dice<'a> {
    pub stream: &'a Stream,
    next: Cell<u32>,
}

impl<'a> Dice<'a> {
    pub fn new(stream: &'a Stream) -> Dice<'a> {
        Dice {
            stream,
            next: Cell::new(2000),
        }
    }

    /// How many numbers were drawn.
    pub fn drawn(&self) -> u32 {
        self.next.get()
    }

    pub fn uniform(&self) -> f64 {
        let k = self.next.get();
        self.next.set(k + 1);
        self.stream.uniform(k)
    }

    pub fn normal(&self) -> f64 {
        normal::quantile(self.uniform())
    }

    pub fn flip(&self, probability: f64) -> bool {
        self.uniform() < probability
    }

    pub fn of(&self, density: &Density) -> f64 {
        let choice = self.uniform();
        density.at(choice, self.uniform())
    }

    /// Cut normal.
    pub fn cut(&self, mean: f64, deviation: f64, low: f64, high: f64) -> f64 {
        self.of(&Density::cut(mean, deviation, low, high))
    }
}
