//! A domed disc that snaps: its numbers, and their keys in `[disc]`.

use super::Mechanism;
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::quantity::Dimension as D;
use crate::scenario::rows::Need::{May, Needed, Or};
use crate::scenario::rows::{
    RELEASE, Row, Slot, Table, contact_loss, kind, number, preload_loss, words,
};
use crate::scenario::{Scenario, Strip};
use std::f64::consts::PI;

/// A round dome of layers that rests on its rim and snaps.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
pub struct Disc {
    /// Radius, m.
    pub radius_m: f64,
    /// Rise of the middle over the rim as made, towards the first-listed side, m.
    pub rise_m: f64,
    /// Radius of the contact at its middle, m; of one that bridges two contacts, of what presses
    /// there.
    pub contact_radius_m: f64,
    /// Resistance between two contacts on its rim, whose heat is even over its area, ohm; `None`:
    /// the current flows between rim and middle.
    pub bridge_ohm: Option<f64>,
    /// Poisson's ratio of all layers.
    pub poisson: f64,
    /// Force on the contact as new, closed, towards the dome, N.
    pub contact_force_n: f64,
    /// The same with the contacts open, N.
    pub open_force_n: f64,
    /// Closings at the fault current for which its contacts are rated.
    pub rated_closings: Option<f64>,
    /// Whether the rim rests and is free to slide and turn; other rims and shapes are refused.
    pub is_modelled: bool,
}

impl Disc {
    /// Of which nothing is known yet.
    pub(in crate::scenario) const UNREAD: Disc = Disc {
        radius_m: f64::NAN,
        rise_m: f64::NAN,
        contact_radius_m: f64::NAN,
        bridge_ohm: None,
        poisson: f64::NAN,
        contact_force_n: f64::NAN,
        open_force_n: f64::NAN,
        rated_closings: None,
        is_modelled: true,
    };

    /// Distance along a radius from the rim to the contact, m.
    pub fn length_m(&self) -> f64 {
        self.radius_m - self.contact_radius_m
    }

    /// Length of the rim, m.
    pub fn width_m(&self) -> f64 {
        2.0 * PI * self.radius_m
    }

    /// What a strip says of its size, of a disc.
    pub(super) fn lay_out(&self, strip: &mut Strip) {
        strip.length_m = self.length_m();
        strip.push_point_m = strip.length_m;
        strip.width_m = self.width_m();
        (strip.initial_curvature_per_m, strip.current_share) = (0.0, 1.0);
    }
}

/// Its table.
pub(in crate::scenario) const TABLE: Table = Table {
    path: "disc",
    about: "a domed disc that snaps",
    list: false,
    needed: false,
    count: |s| usize::from(matches!(s.release.mechanism, Mechanism::Disc(_))),
    rows: &[DISC, RELEASE],
};

fn refuse(s: &mut Scenario) {
    if let Mechanism::Disc(disc) = &mut s.release.mechanism {
        disc.is_modelled = false;
    }
}

/// Rims and shapes that are refused by name.
const RIMS: [&str; 3] = ["resting", "clamped", "held"];
const SHAPES: [&str; 3] = ["round", "perforated", "rectangular"];

#[rustfmt::skip]
const DISC: &[Row] = &[
    number("radius", "radius", D::Length, Bounds::between(1e-3, 0.1, "discs have 4 mm to 30 mm"),
        Needed, kind!(release.mechanism => Mechanism::Disc, radius_m)).alone(),
    number("rise", "rise of the middle over the rim as made", D::Length,
        Bounds::positive(0.02, "discs rise 0.3 mm to 1 mm, 2 to 4 times their thickness"),
        Needed, kind!(release.mechanism => Mechanism::Disc, rise_m)).alone(),
    number("contact_radius", "radius of the contact at its middle", D::Length,
        Bounds::positive(0.05, "contacts have 1 mm to 3 mm"),
        Needed, kind!(release.mechanism => Mechanism::Disc, contact_radius_m)).alone(),
    number("bridge_resistance", "between two contacts on its rim, where it bridges them", D::Resistance,
        Bounds::positive(10.0, "discs have 0.5 mohm to 20 mohm"),
        May, Slot::Maybe(|s, _| match &mut s.release.mechanism {
            Mechanism::Disc(disc) => Some(&mut disc.bridge_ohm),
            _ => None,
        })).alone(),
    number("poisson_ratio", "Poisson's ratio of all layers", D::Fraction,
        Bounds::between(0.0, 0.49, "metals lie between 0.25 and 0.35"),
        Or(0.3), kind!(release.mechanism => Mechanism::Disc, poisson)).alone(),
    number("contact_force", "force on its closed contact as new", D::Force,
        Bounds::not_negative(100.0, "contact forces lie between 0.05 N and 5 N"),
        Or(0.0), kind!(release.mechanism => Mechanism::Disc, contact_force_n)).alone(),
    number("open_force", "force at its middle with the contacts open", D::Force,
        Bounds::not_negative(100.0, "most discs stand free when they are open"),
        Or(0.0), kind!(release.mechanism => Mechanism::Disc, open_force_n)).alone(),
    number("rated_closings", "closings at the fault current its contacts are rated for", D::Fraction,
        Bounds::positive(1e8, "discs are rated for 6000 to 100000 operations (from memory)"),
        May, Slot::Maybe(|s, _| match &mut s.release.mechanism {
            Mechanism::Disc(disc) => Some(&mut disc.rated_closings),
            _ => None,
        })),
    words("rim", "how the rim is held", May, &[
        (RIMS[0], |_, _| ()), (RIMS[1], |s, _| refuse(s)), (RIMS[2], |s, _| refuse(s)),
    ]),
    words("shape", "its shape from above", May, &[
        (SHAPES[0], |_, _| ()), (SHAPES[1], |s, _| refuse(s)), (SHAPES[2], |s, _| refuse(s)),
    ]),
    preload_loss().alone(),
    contact_loss("disc.preload_loss"),
];

/// Keys of a strip that a disc has not.
const OF_STRIPS: [&str; 8] = [
    "length",
    "width",
    "push_point",
    "initial_curvature",
    "section",
    "current_share",
    "shunt_heat_to",
    "through_thickness",
];

/// Report keys of `[strip]` that belong to a strip; false after a problem.
pub(in crate::scenario) fn has_no_strip_keys(t: &TableReader<'_>) -> bool {
    let there: Vec<&str> = OF_STRIPS.into_iter().filter(|key| t.has(key)).collect();
    for key in &there {
        t.report(
            Problem::new(t.span_of(key), format!("a disc has no `{key}`"))
                .label("this belongs to a strip")
                .help(
                    "its size stands in [disc]: `radius`, `rise` and `contact_radius`; of \
                       [strip] it takes the layers, `flat_temperature` and `allow_extrapolation`",
                ),
        );
    }
    there.is_empty()
}

/// Report a disc that cannot be, or is not modelled; false after a problem.
pub(super) fn is_possible(t: &TableReader<'_>, s: &Scenario) -> bool {
    let Mechanism::Disc(disc) = &s.release.mechanism else {
        return true;
    };
    let mut well = true;
    let mut problem = |key: &str, text: String, help: &str| {
        t.report(Problem::new(t.span_of(key), text).help(help.to_owned()));
        well = false;
    };
    if !disc.is_modelled {
        let named = |key, words: [&str; 3]| {
            let word = t.word(key)?;
            words[1..].contains(&word).then(|| (key, word.to_owned()))
        };
        let all = [named("rim", RIMS), named("shape", SHAPES)];
        for (key, word) in all.into_iter().flatten() {
            let (text, help) = match word.as_str() {
                "clamped" => (
                    "a disc clamped all round is not modelled: even heating does not move it",
                    "a disc that snaps rests on its rim, free to slide and turn",
                ),
                "held" => (
                    "a disc whose rim is held from sliding is not modelled",
                    "it snaps at other temperatures than one that rests free on its rim",
                ),
                "perforated" => (
                    "a perforated disc is not modelled",
                    "a hole at the middle or slots at the rim change stiffness, heat and snap",
                ),
                _ => (
                    "a rectangular disc is not modelled",
                    "the shell that is computed is round",
                ),
            };
            problem(key, text.to_owned(), help);
        }
    }
    let part = disc.contact_radius_m / disc.radius_m;
    if !(0.02..=0.8).contains(&part) {
        let text = "the contact must be smaller than the disc: 0.02 to 0.8 of its `radius`";
        problem("contact_radius", text.to_owned(), "are the units right?");
    }
    let thickness: f64 = s.strip.layers.iter().map(|l| l.thickness_m).sum();
    if thickness > 0.1 * disc.radius_m {
        let text = "the disc is a block: its radius is less than ten times its thickness";
        problem("radius", text.to_owned(), "shell theory needs a thin disc");
    }
    if disc.rise_m > 0.2 * disc.radius_m {
        let text = "the dome is too high for a shallow shell: more than 0.2 of its radius";
        problem(
            "rise",
            text.to_owned(),
            "discs rise 2 to 4 times their thickness",
        );
    } else if thickness > 0.0 && disc.rise_m > MOST_RISE * thickness {
        let text = format!("the dome is higher than {MOST_RISE} times its thickness");
        let help =
            "so high a dome buckles into other shapes than round ones, which are not modelled";
        problem("rise", text, help);
    }
    well
}

/// Highest rise over thickness that is followed.
const MOST_RISE: f64 = 6.0;
