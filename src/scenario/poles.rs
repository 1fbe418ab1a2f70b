//! Poles beside one another on one trip bar: their numbers, and their keys in `[poles]` and
//! `[[poles.pole]]`.

use super::rows::Need::{May, Or};
use super::rows::{Fields, Row, Slot, inside, number, table, words};
use super::{Mechanism, Scenario, ThroughThickness};
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::quantity::Dimension as D;
use serde::{Deserialize, Serialize};

/// Most poles of a part.
pub const MOST_POLES: usize = 4;

/// Poles of one build beside one another; the tables of strip, contacts and housing describe each
/// of them.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Poles {
    /// How their strips release the part.
    pub bar: BarKind,
    /// Arm with which the hindmost strip holds the second bar back; 0 unless differential.
    pub lever: f64,
    /// Play of the strips in the slots of the second bar, m.
    pub slot_play_m: f64,
    /// Through the wall between two neighbouring air pockets, W/K; infinite: one air space.
    pub wall_w_per_k: f64,
    /// Between neighbouring clamped terminals, W/K.
    pub clamped_w_per_k: f64,
    /// Between neighbouring fixed contacts, W/K.
    pub fixed_w_per_k: f64,
    /// Current of the load that flows on in the other poles when one phase is lost, against before.
    pub lost_phase_factor: f64,
    /// One by one, in order.
    pub each: Vec<Pole>,
}

/// What is a pole's own.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Pole {
    /// Its current against the load's.
    pub current_factor: f64,
    /// From its air pocket to the surroundings, W/K; `None`: as the housing.
    pub housing_w_per_k: Option<f64>,
    /// What it travels beyond the others before it pushes, m.
    pub own_travel_m: f64,
}

/// How the strips of several poles release a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum BarKind {
    /// One rigid bar and one latch: pushes add.
    Sum,
    /// Poles with latches of their own and a common trip.
    Any,
    /// Two bars and a lever: trips sooner when the strips bend unevenly.
    Differential,
}

impl Poles {
    const UNREAD: Poles = Poles {
        bar: BarKind::Sum,
        lever: f64::NAN,
        slot_play_m: f64::NAN,
        wall_w_per_k: f64::NAN,
        clamped_w_per_k: f64::NAN,
        fixed_w_per_k: f64::NAN,
        lost_phase_factor: f64::NAN,
        each: Vec::new(),
    };

    /// Whether all pockets are one air space.
    pub fn has_one_air_space(&self) -> bool {
        self.wall_w_per_k == f64::INFINITY
    }
}

/// A number of the k-th pole.
macro_rules! of_pole {
    ($field:ident) => {
        Slot::Here(|s, k| Some(&mut s.poles.as_mut()?.each.get_mut(k)?.$field))
    };
}

const WALL: Bounds = Bounds::not_negative(100.0, "walls between poles carry 10 mW/K to 1 W/K");

#[rustfmt::skip]
pub(super) const POLES: &[Row] = &[
    words("bar", "how the strips release the part", May, &[
        ("sum", |s, _| set_bar(s, BarKind::Sum)),
        ("any", |s, _| set_bar(s, BarKind::Any)),
        ("differential", |s, _| set_bar(s, BarKind::Differential)),
    ]),
    number("lever", "arm on which the hindmost strip holds back, with a differential bar", D::Fraction,
        Bounds::positive(2.0, "differential levers are 0.3 to 0.6"), May, inside!(poles.lever)).alone(),
    number("slot_play", "play of the strips in the second bar, with a differential bar", D::Length,
        Bounds::not_negative(0.01, "strips have some tenths of a millimetre of play"),
        Or(0.0), inside!(poles.slot_play_m)).alone(),
    number("wall", "through the wall between neighbouring air pockets", D::Conductance, WALL,
        Or(0.0), inside!(poles.wall_w_per_k)).alone().or_word("one air space", f64::INFINITY),
    number("between_clamped_terminals", "between neighbouring clamped terminals", D::Conductance, WALL,
        Or(0.0), inside!(poles.clamped_w_per_k)).alone(),
    number("between_fixed_contacts", "between neighbouring fixed contacts", D::Conductance, WALL,
        Or(0.0), inside!(poles.fixed_w_per_k)).alone(),
    // A motor that goes on giving the same power on two phases draws sqrt 3 times its current:
    // textbook, from memory.
    number("lost_phase_factor", "current of the other poles when a phase is lost, against before", D::Fraction,
        Bounds::between(1.0, 10.0, "1.7 to 2 where the motor runs on"),
        Or(1.732), inside!(poles.lost_phase_factor)).alone(),
];

#[rustfmt::skip]
pub(super) const POLE: &[Row] = &[
    number("current", "its current against the load's", D::Fraction,
        Bounds::between(0.0, 10.0, "1 where it carries the load's current, 0 where it carries none"),
        Or(1.0), of_pole!(current_factor)).alone(),
    number("housing_conductance", "from its air pocket to the surroundings", D::Conductance,
        Bounds::positive(100.0, "housings give off 0.02 to 1 W/K a pole"),
        May, Slot::Maybe(|s, k| s.poles.as_mut()?.each.get_mut(k).map(|p| &mut p.housing_w_per_k))).alone(),
    number("own_travel", "travel before it pushes, beyond the release travel", D::Length,
        Bounds::between(-0.01, 0.01, "poles are set alike within tenths of a millimetre"),
        Or(0.0), of_pole!(own_travel_m)).alone(),
];

fn set_bar(s: &mut Scenario, bar: BarKind) {
    if let Some(poles) = &mut s.poles {
        poles.bar = bar;
    }
}

/// Read `[poles]`, once strip, housing and release are known; false after a problem.
pub(super) fn poles(root: &TableReader<'_>, s: &mut Scenario) -> bool {
    if !root.has("poles") {
        return true;
    }
    let Some(t) = root.table("poles") else {
        return false;
    };
    s.poles = Some(Poles::UNREAD);
    let mut well = Fields::new(&t, table("poles")).read(s);
    for (k, entry) in t.tables("pole").iter().enumerate() {
        if let Some(poles) = &mut s.poles {
            poles.each.push(Pole {
                current_factor: f64::NAN,
                housing_w_per_k: None,
                own_travel_m: f64::NAN,
            });
        }
        well &= Fields::entry(entry, table("poles.pole"), k).read(s);
        entry.finish();
    }
    t.finish();
    well && goes_together(&t, s) && close_together(root, s)
}

/// Every pole of a part has the instantaneous element, and three of them close together.
fn close_together(root: &TableReader<'_>, s: &mut Scenario) -> bool {
    let (Some(closing), Some(poles)) = (&mut s.closing, &s.poles) else {
        return true;
    };
    let live = poles.each.iter().filter(|p| p.current_factor > 0.0).count();
    let Some(t) = root.table("closing").filter(|t| t.has("poles")) else {
        closing.poles = if live >= 3 { 3 } else { 1 };
        return true;
    };
    let well = closing.poles as usize <= live;
    if !well {
        let text = format!(
            "{} poles close, but {live} of this part carry current",
            closing.poles
        );
        let help = "leave `poles` out of [closing]: it goes by [poles] then";
        t.report(Problem::new(t.span_of("poles"), text).help(help));
    }
    well
}

/// Report what cannot be; false after a problem.
fn goes_together(t: &TableReader<'_>, s: &Scenario) -> bool {
    let Some(poles) = &s.poles else { return false };
    let problem = |key: &'static str, text: &str, help: &str| {
        let span = if t.has(key) { t.span_of(key) } else { t.span() };
        t.report(Problem::new(span, text.to_owned()).help(help.to_owned()));
        false
    };
    let mut well = true;
    let count = poles.each.len();
    if !(1..=MOST_POLES).contains(&count) {
        let text = format!("a part has 1 to {MOST_POLES} poles; this one has {count}");
        well &= problem("pole", &text, "one [[poles.pole]] for each pole, in order");
    } else if poles.each.iter().all(|p| p.current_factor == 0.0) {
        let help = "at least one pole has a `current` above 0";
        well &= problem("pole", "no pole carries any current", help);
    }
    if !matches!(s.release.mechanism, Mechanism::Latch(_)) {
        let text = "poles push a trip bar, which snap blades and discs have not";
        well &= problem(
            "bar",
            text,
            "poles of snap blades and discs are not modelled: use [latch]",
        );
    }
    if s.strip.through_thickness == ThroughThickness::Resolved {
        let text = "heat across the layers is not resolved in parts of several poles";
        let help =
            "leave `through_thickness` out of [strip]: the answer says where it would matter";
        well &= problem("pole", text, help);
    }
    let pockets = |p: &Pole| p.housing_w_per_k.is_some();
    if s.housing.is_none() && (poles.wall_w_per_k > 0.0 || poles.each.iter().any(pockets)) {
        let text = "heat goes from pocket to pocket, but there is no [housing]";
        well &= problem("wall", text, "add [housing]: the air and walls of one pole");
    }
    match (poles.bar, poles.lever.is_nan()) {
        (BarKind::Differential, true) => {
            let text = "a differential bar needs its `lever`";
            well &= problem(
                "bar",
                text,
                "`lever = 0.5`; 0.3 to 0.6 is usual (from memory)",
            );
        }
        (BarKind::Sum | BarKind::Any, false) => {
            let text = "only a differential bar has a `lever`";
            well &= problem("lever", text, "remove it, or say `bar = \"differential\"`");
        }
        _ => {}
    }
    if poles.bar == BarKind::Differential && count == 1 {
        let text = "a differential bar compares poles, and there is one";
        well &= problem("bar", text, "add the other poles, or say `bar = \"sum\"`");
    }
    well
}
