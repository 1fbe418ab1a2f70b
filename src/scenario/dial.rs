//! A dial by which the rated current of a part is set: its numbers, and their keys in `[dial]`.

use super::Scenario;
use super::rows::Need::{Needed, Or};
use super::rows::{Fields, Row, Slot, inside, number, table};
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::quantity::Dimension as D;

/// A cam that moves the latch away from the strip. Every mark has the travel with which the part as
/// new, in its reference air, just trips at a multiple of the mark.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct Dial {
    /// Lowest mark, A.
    pub lowest_a: f64,
    /// Highest mark, A.
    pub highest_a: f64,
    /// Trip point in parts of the mark.
    pub trips_at: f64,
}

const MARK: Bounds = Bounds::between(0.01, 10_000.0, "dials reach from some 0.1 A to some 100 A");

#[rustfmt::skip]
pub(super) const DIAL: &[Row] = &[
    number("lowest", "its lowest mark", D::Current, MARK, Needed, inside!(dial.lowest_a)),
    number("highest", "its highest mark", D::Current, MARK, Needed, inside!(dial.highest_a)),
    number("trips_at", "trip point in parts of the mark", D::Fraction,
        Bounds::between(1.01, 1.5, "1.05 to 1.20 is usual"),
        Or(1.12), inside!(dial.trips_at)).beside(),
];

/// Read `[dial]`, once rating and release are known; false after a problem.
pub(super) fn dial(root: &TableReader<'_>, s: &mut Scenario) -> bool {
    if !root.has("dial") {
        return true;
    }
    let Some(t) = root.table("dial") else {
        return false;
    };
    s.dial = Some(Dial {
        lowest_a: f64::NAN,
        highest_a: f64::NAN,
        trips_at: f64::NAN,
    });
    let well = Fields::new(&t, table("dial")).read(s);
    t.finish();
    well && goes_together(&t, s)
}

/// Report what cannot be; false after a problem.
fn goes_together(t: &TableReader<'_>, s: &Scenario) -> bool {
    let Some(dial) = &s.dial else { return false };
    let problem = |key: &str, text: String, help: &str| {
        t.report(Problem::new(t.span_of(key), text).help(help.to_owned()));
        false
    };
    let mut well = true;
    if dial.highest_a <= dial.lowest_a {
        let text = "the highest mark of a dial lies above its lowest".to_owned();
        well &= problem("highest", text, "are `lowest` and `highest` exchanged?");
    }
    let rated_a = s.protector.rated_current_a;
    if well && !(dial.lowest_a..=dial.highest_a).contains(&rated_a) {
        let text = format!("the part is set to {rated_a} A, which is not on its dial");
        let help = "`rated_current` of [protector] is the mark to which the dial is turned";
        well &= problem("", text, help);
    }
    if s.release.mechanism.latch().is_none() {
        let text = "a dial moves a latch, which snap blades and discs have not".to_owned();
        well &= problem("", text, "remove [dial], or use [latch]");
    }
    well
}
