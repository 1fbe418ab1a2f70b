//! Rows of `[latch]`: a spring-loaded latch that the strip pushes free.

use super::Need::{Needed, Or};
use super::part::{RELEASE, contact_loss, preload_loss};
use super::{Row, Slot, Table, number, of};
use crate::document::Bounds;
use crate::quantity::Dimension as D;
use crate::scenario::Mechanism;

const FORCE: Bounds = Bounds::not_negative(1000.0, "latch forces lie between 0.2 N and 20 N");

/// The table.
pub(super) const TABLE: Table = Table {
    path: "latch",
    about: "a spring-loaded latch that the strip pushes free",
    list: false,
    needed: false,
    count: |s| usize::from(matches!(s.release.mechanism, Mechanism::Latch { .. })),
    rows: &[LATCH, RELEASE],
};

/// A latch of which nothing is known yet.
pub(in crate::scenario) const UNREAD: Mechanism = Mechanism::Latch {
    release_travel_m: f64::NAN,
    relatch_travel_m: f64::NAN,
    preload_n: f64::NAN,
    lever_ratio: f64::NAN,
    release_force_factor: f64::NAN,
    constant_force_n: f64::NAN,
};

#[rustfmt::skip]
const LATCH: &[Row] = &[
    number("release_travel", "clearance before the latch is pushed free", D::Length,
        Bounds::between(1e-6, 0.05, "releases are pushed 0.3 mm to 15 mm"),
        Needed, of!(release.mechanism => Mechanism::Latch { release_travel_m })).beside(),
    number("relatch_travel", "deflection at which it catches again", D::Length,
        Bounds::between(-0.05, 0.05, "relatch lies below the release travel"),
        Needed, of!(release.mechanism => Mechanism::Latch { relatch_travel_m })).beside(),
    number("preload", "latch spring preload as new", D::Force, FORCE,
        Or(0.0), of!(release.mechanism => Mechanism::Latch { preload_n })).beside(),
    number("lever_ratio", "share of the preload felt at the push point", D::Fraction,
        Bounds::positive(10.0, "the share of the preload felt at the push point"),
        Or(1.0), of!(release.mechanism => Mechanism::Latch { lever_ratio })).beside(),
    number("release_force_factor", "release force against a part as new", D::Fraction,
        Bounds::positive(20.0, "1 as new, above 1 for a part that releases late"),
        Or(1.0), of!(release.mechanism => Mechanism::Latch { release_force_factor })).beside(),
    number("constant_force", "force that is not the spring's", D::Force, FORCE,
        Or(0.0), of!(release.mechanism => Mechanism::Latch { constant_force_n })).beside(),
    preload_loss().beside(),
    contact_loss("latch.preload_loss"),
];
