//! A spring-loaded latch that the strip pushes free: its numbers, and their keys in `[latch]`.

use super::Mechanism;
use crate::document::Bounds;
use crate::quantity::Dimension as D;
use crate::scenario::rows::Need::{May, Needed, Or};
use crate::scenario::rows::{RELEASE, Row, Slot, Table, contact_loss, kind, number, preload_loss};

/// A spring-loaded latch pushed by the strip.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct Latch {
    /// Clearance before the latch is pushed free, m.
    pub release_travel_m: f64,
    /// Deflection at or below which it relatches, m.
    pub relatch_travel_m: f64,
    /// Latch spring preload as new, N.
    pub preload_n: f64,
    /// Share of the preload felt at the push point.
    pub lever_ratio: f64,
    /// Friction: 1 as new, above 1 a late part.
    pub release_force_factor: f64,
    /// Force that does not come from the spring, N.
    pub constant_force_n: f64,
    /// Length of a strip of the same layers that carries no current, feels the air of the housing
    /// and moves the latch along with the strip, m; `None`: warm air brings it nearer to release.
    pub compensating_m: Option<f64>,
}

impl Latch {
    /// Of which nothing is known yet.
    pub(super) const UNREAD: Latch = Latch {
        release_travel_m: f64::NAN,
        relatch_travel_m: f64::NAN,
        preload_n: f64::NAN,
        lever_ratio: f64::NAN,
        release_force_factor: f64::NAN,
        constant_force_n: f64::NAN,
        compensating_m: None,
    };

    /// What the preload adds to the force that releases it, N, when a part of it is lost.
    pub fn preload_force_n(&self, loss: f64) -> f64 {
        self.release_force_factor * self.lever_ratio * self.preload_n * (1.0 - loss)
    }

    /// Force that the strip must overcome to release it, N, when a part of the preload is lost.
    pub fn force_n(&self, loss: f64) -> f64 {
        self.preload_force_n(loss) + self.constant_force_n
    }

    /// A screw that moves the latch against the strip moves release and relatch alike.
    pub fn widen(&mut self, by_m: f64) {
        self.release_travel_m += by_m;
        self.relatch_travel_m += by_m;
    }
}

const FORCE: Bounds = Bounds::not_negative(1000.0, "latch forces lie between 0.2 N and 20 N");

/// Its table.
pub(in crate::scenario) const TABLE: Table = Table {
    path: "latch",
    about: "a spring-loaded latch that the strip pushes free",
    list: false,
    needed: false,
    count: |s| usize::from(matches!(s.release.mechanism, Mechanism::Latch(_))),
    rows: &[LATCH, RELEASE],
};

#[rustfmt::skip]
const LATCH: &[Row] = &[
    number("release_travel", "clearance before the latch is pushed free", D::Length,
        Bounds::between(1e-6, 0.05, "releases are pushed 0.3 mm to 15 mm"),
        Needed, kind!(release.mechanism => Mechanism::Latch, release_travel_m)).beside(),
    number("relatch_travel", "deflection at which it catches again", D::Length,
        Bounds::between(-0.05, 0.05, "relatch lies below the release travel"),
        Needed, kind!(release.mechanism => Mechanism::Latch, relatch_travel_m)).beside(),
    number("preload", "latch spring preload as new", D::Force, FORCE,
        Or(0.0), kind!(release.mechanism => Mechanism::Latch, preload_n)).beside(),
    number("lever_ratio", "share of the preload felt at the push point", D::Fraction,
        Bounds::positive(10.0, "the share of the preload felt at the push point"),
        Or(1.0), kind!(release.mechanism => Mechanism::Latch, lever_ratio)).beside(),
    number("release_force_factor", "release force against a part as new", D::Fraction,
        Bounds::positive(20.0, "1 as new, above 1 for a part that releases late"),
        Or(1.0), kind!(release.mechanism => Mechanism::Latch, release_force_factor)).beside(),
    number("constant_force", "force that is not the spring's", D::Force, FORCE,
        Or(0.0), kind!(release.mechanism => Mechanism::Latch, constant_force_n)).beside(),
    number("compensating_strip", "length of a strip that follows the housing's air and moves the latch", D::Length,
        Bounds::positive(0.5, "about as long as the strip that releases it, or shorter with a lever"),
        May, Slot::Maybe(|s, _| s.release.mechanism.latch_mut().map(|l| &mut l.compensating_m))).alone(),
    preload_loss().beside(),
    contact_loss("latch.preload_loss"),
];
