//! A trip bar that the strips of several poles push: a latch, and how their pushes reach it. No
//! table of its own: a device makes it of `[latch]` and `[poles]`.

use super::Latch;
use crate::scenario::{BarKind, MOST_POLES, Poles};

/// A latch on a trip bar.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct Bar {
    /// The latch: its clearance is that of every strip, or the travel of a differential lever.
    pub latch: Latch,
    /// How the strips push it.
    pub kind: BarKind,
    /// Arm on which the hindmost strip holds back (differential).
    pub lever: f64,
    /// Play in the slots of the second bar, m.
    pub slot_play_m: f64,
    /// Poles.
    pub count: usize,
    /// What each strip travels beyond the others before it pushes, m.
    pub own_travel_m: [f64; MOST_POLES],
}

impl Bar {
    /// The bar of some poles on a latch.
    pub fn new(latch: Latch, poles: &Poles) -> Bar {
        let mut own_travel_m = [0.0; MOST_POLES];
        for (own, pole) in own_travel_m.iter_mut().zip(&poles.each) {
            *own = pole.own_travel_m;
        }
        Bar {
            latch,
            kind: poles.bar,
            lever: if poles.lever.is_nan() {
                0.0
            } else {
                poles.lever
            },
            slot_play_m: poles.slot_play_m,
            count: poles.each.len(),
            own_travel_m,
        }
    }
}
