//! `[population]`: how units of one design differ, how they are set, and what is expected of them.

use super::metals::unknown_name;
use super::rows::{Fields, table};
use super::{Place, Scenario};
use crate::diagnostic::{Problem, nearest};
use crate::document::{Noted, TableReader};
use crate::quantity::Dimension;
use std::ops::Range;

/// What the file says of a population; empty where it says nothing.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Population {
    /// Spreads beyond what the tolerances in the file say.
    pub spreads: Vec<Spread>,
    /// Batches in which units share parts.
    pub batches: Vec<Batch>,
    /// Factory setting of the clearance.
    pub setting: Option<FactorySetting>,
    /// Under the load: it must have tripped by then, s.
    pub trips_within_s: Option<f64>,
    /// Under the load: it must not have tripped before, s (infinite: for ever).
    pub holds_for_s: Option<f64>,
}

/// How one number differs from unit to unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spread {
    /// Which number.
    pub place: Place,
    /// Shape of the distribution.
    pub shape: Shape,
    /// Standard uncertainties from the middle beyond which parts were sorted out (infinite: none).
    pub cut_at: f64,
    /// Relative standard uncertainty where none is written beside the number.
    pub relative: Option<f64>,
    /// Batch that shares it, and the share of the variance that lies between batches.
    pub shared: Option<(usize, f64)>,
}

/// Shape of a distribution; its mean is the number in the file, its standard deviation the standard
/// uncertainty.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shape {
    /// Normal.
    Normal,
    /// Equally likely within the root of three standard uncertainties (GUM, JCGM 100:2008, 4.3.7).
    Uniform,
    /// The logarithm is normal.
    Lognormal,
}

/// Units that share one coil of strip, one lot of springs.
#[derive(Debug, Clone, PartialEq)]
pub struct Batch {
    /// Name.
    pub name: String,
    /// Units made of one batch.
    pub units: u64,
}

/// Each unit's clearance is set so that it trips at a current after a time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FactorySetting {
    /// A.
    pub current_a: f64,
    /// s.
    pub time_s: f64,
    /// K.
    pub ambient_k: f64,
    /// Relative standard uncertainty of the time at which it is set.
    pub time_error: f64,
}

impl Population {
    /// The spread given for a place, if any.
    pub fn spread(&self, place: Place) -> Option<&Spread> {
        self.spreads.iter().find(|s| s.place == place)
    }
}

/// Least share of a distribution that may lie outside the possible: more is refused.
pub const MOST_CUT_SIGMAS: f64 = 2.0;

/// Why a normal or uniform spread of a number is impossible, in words.
pub fn impossible(place: Place, shape: Shape, value: f64, deviation: f64) -> Option<String> {
    let (least, most) = place.bounds().ends();
    let reach = match shape {
        Shape::Lognormal if value > 0.0 => return None,
        Shape::Lognormal => return Some("a lognormal spread needs a number above zero".into()),
        Shape::Uniform => 3f64.sqrt(),
        Shape::Normal => MOST_CUT_SIGMAS,
    };
    let (low, high) = (value - reach * deviation, value + reach * deviation);
    let percent = 100.0 * deviation / value.abs().max(1e-300);
    if low < least {
        Some(format!(
            "a spread of {percent:.0} % makes too many impossible parts: {} standard uncertainties \
             below the middle it is {}",
            crate::quantity::format_number(reach),
            if least == 0.0 {
                "negative"
            } else {
                "below what is possible"
            }
        ))
    } else if high > most {
        Some(format!(
            "a spread of {percent:.0} % makes too many impossible parts: {} standard uncertainties \
             above the middle it is beyond {}",
            crate::quantity::format_number(reach),
            most
        ))
    } else {
        None
    }
}

/// Read `[population]` of a scenario that is otherwise whole.
pub(super) fn population(t: &TableReader<'_>, scenario: &Scenario) -> Option<Population> {
    let f = Fields::new(t, table("population"));
    let batches = batches(t);
    let within = f.maybe("trips_within");
    let holds = f.maybe("holds_for");
    if let (Some(Some(within)), Some(Some(holds))) = (within, holds)
        && holds >= within
    {
        t.report(
            Problem::new(
                t.span_of("holds_for"),
                "nothing can hold for longer than it takes to trip",
            )
            .label("not before `trips_within`")
            .also(t.span_of("trips_within"), "must have tripped by then"),
        );
        return None;
    }
    let setting = if t.has("setting") {
        t.table("setting")
            .and_then(|t| setting(&t, scenario))
            .map(Some)
    } else {
        Some(None)
    };
    let spreads = spreads(t, scenario, batches.as_deref());
    t.finish();
    Some(Population {
        spreads: spreads?,
        batches: batches?,
        setting: setting?,
        trips_within_s: within?,
        holds_for_s: holds?,
    })
}

fn batches(t: &TableReader<'_>) -> Option<Vec<Batch>> {
    let mut list: Vec<Batch> = Vec::new();
    let mut whole = true;
    for table in t.tables("batch") {
        let name = Fields::new(&table, super::rows::table("population.batch")).text("name");
        if !table.has("units") {
            table.missing("units", "5000");
        }
        let units = table.whole("units", 1_000_000_000);
        table.finish();
        match (name, units) {
            (Some(name), Some(units)) => {
                if list.iter().any(|b| b.name == name.value) {
                    table.report(
                        Problem::new(name.span, "two batches have this name").label("the second"),
                    );
                    whole = false;
                }
                list.push(Batch {
                    name: name.value,
                    units: u64::from(units.value),
                });
            }
            _ => whole = false,
        }
    }
    whole.then_some(list)
}

fn setting(t: &TableReader<'_>, scenario: &Scenario) -> Option<FactorySetting> {
    let f = Fields::new(t, table("population.setting"));
    let current = f.needed("current");
    let time = f.needed("trips_after");
    let ambient = f.maybe("ambient");
    let error = f.number_or_default("time_error");
    t.finish();
    if let Some(current) = &current
        && current.value <= scenario.protector.rated_current_a
    {
        t.report(
            Problem::new(
                current.span.clone(),
                "no part can be set to trip at a current that it must carry",
            )
            .label(format!(
                "the part is rated {} A",
                scenario.protector.rated_current_a
            ))
            .help("set parts at a multiple of the rating, twice for example"),
        );
        return None;
    }
    if scenario.release.mechanism.latch().is_none() {
        t.report(
            Problem::new(t.span(), "only a latch has a clearance that can be set")
                .label("this part has a snap blade"),
        );
        return None;
    }
    Some(FactorySetting {
        current_a: current?.value,
        time_s: time?.value,
        ambient_k: ambient?.unwrap_or(scenario.protector.reference_ambient_k),
        time_error: error?,
    })
}

fn spreads(
    t: &TableReader<'_>,
    scenario: &Scenario,
    batches: Option<&[Batch]>,
) -> Option<Vec<Spread>> {
    let all = Place::all(scenario);
    let mut list: Vec<Spread> = Vec::new();
    let mut whole = true;
    for table in t.tables("spread") {
        match spread(&table, scenario, batches, &all) {
            Some((span, new)) => {
                for s in new {
                    if list.iter().any(|known| known.place == s.place) {
                        table.report(
                            Problem::new(
                                span.clone(),
                                format!("the spread of {} is given twice", s.place.path()),
                            )
                            .label("the second time"),
                        );
                        whole = false;
                    }
                    list.push(s);
                }
            }
            None => whole = false,
        }
    }
    for place in &all {
        if list.iter().any(|s| s.place == *place) {
            continue;
        }
        if let Some(noted) = t.document().tolerance(&place.path())
            && let Some(why) = of_place(*place, Shape::Normal, &noted)
        {
            t.report(refused(noted.span, why));
            whole = false;
        }
    }
    (whole && batches.is_some()).then_some(list)
}

fn of_place(place: Place, shape: Shape, noted: &Noted) -> Option<String> {
    impossible(place, shape, noted.value_si, noted.standard_uncertainty_si)
}

fn refused(span: Range<usize>, why: String) -> Problem {
    Problem::new(span, why).label("impossible tolerance").help(
        "a tolerance is a standard uncertainty, about a third of what a drawing allows; for \
               a long upper tail give `shape = \"lognormal\"` in a [[population.spread]]",
    )
}

type Spreads = (Range<usize>, Vec<Spread>);

fn spread(
    t: &TableReader<'_>,
    scenario: &Scenario,
    batches: Option<&[Batch]>,
    all: &[Place],
) -> Option<Spreads> {
    let f = Fields::new(t, table("population.spread"));
    let of = f.text("of");
    let shape = match t.has("shape") {
        true => f
            .choice("shape", &[Shape::Normal, Shape::Uniform, Shape::Lognormal])
            .map(|read| read.value),
        false => Some(Shape::Normal),
    };
    let cut = f.number("cut_at");
    if let (Some(cut), Some(shape)) = (&cut, shape)
        && shape != Shape::Normal
    {
        t.report(
            Problem::new(cut.span.clone(), "only a normal spread has tails to cut")
                .help("leave `cut_at` out, or `shape`"),
        );
        return None;
    }
    let relative = f.maybe("uncertainty");
    let shared = shared(&f, batches);
    t.finish();
    let of = of?;
    let wanted = of.value.trim();
    let places: Vec<Place> = all
        .iter()
        .copied()
        .filter(|p| p.family() == wanted || p.path() == wanted)
        .collect();
    if places.is_empty() {
        t.report(unknown_path(&of.span, wanted, all));
        return None;
    }
    let (shape, relative, shared) = (shape?, relative?, shared?);
    let mut numbers = scenario.clone();
    for place in &places {
        let value = place.of(&mut numbers).map_or(0.0, |v| *v);
        let noted = t.document().tolerance(&place.path());
        let deviation = match (relative, &noted) {
            (Some(_), Some(noted)) => {
                t.report(
                    Problem::new(
                        t.span_of("uncertainty"),
                        "the number has a tolerance already",
                    )
                    .label("given again")
                    .also(noted.span.clone(), "written beside the number"),
                );
                return None;
            }
            (Some(_), None) if place.dimension() == Dimension::Temperature || value == 0.0 => {
                t.report(
                    Problem::new(
                        t.span_of("uncertainty"),
                        format!(
                            "a part of {} means nothing",
                            if value == 0.0 {
                                "zero"
                            } else {
                                "a temperature"
                            }
                        ),
                    )
                    .help("write the tolerance beside the number itself: `\"25 degC +- 4 K\"`"),
                );
                return None;
            }
            (Some(relative), None) => relative * value.abs(),
            (None, Some(noted)) => noted.standard_uncertainty_si,
            (None, None) => {
                t.report(
                    Problem::new(
                        of.span.clone(),
                        format!("{} carries no tolerance", place.path()),
                    )
                    .label("nothing to spread")
                    .help(
                        "write one beside the number, as `\"4.3 mm +- 1 %\"`, or add \
                               `uncertainty = \"1 %\"` here",
                    ),
                );
                return None;
            }
        };
        if let Some(why) = impossible(*place, shape, value, deviation) {
            let span = noted.map_or_else(|| t.span_of("uncertainty"), |n| n.span);
            t.report(refused(span, why));
            return None;
        }
    }
    let spreads = places
        .into_iter()
        .map(|place| Spread {
            place,
            shape,
            cut_at: cut.as_ref().map_or(f64::INFINITY, |c| c.value),
            relative,
            shared,
        })
        .collect();
    Some((of.span, spreads))
}

fn unknown_path(span: &Range<usize>, wanted: &str, all: &[Place]) -> Problem {
    let mut known: Vec<String> = Vec::new();
    for place in all {
        for path in [place.family(), place.path()] {
            if !known.contains(&path) {
                known.push(path);
            }
        }
    }
    let problem = Problem::new(
        span.clone(),
        "this file has no number of that path that could differ from unit to unit",
    )
    .label("unknown");
    match nearest(wanted, known.iter().map(String::as_str)) {
        Some(near) => problem.help(format!("did you mean \"{near}\"?")),
        None => {
            let tables: Vec<&str> = known.iter().filter_map(|k| k.split('.').next()).fold(
                Vec::new(),
                |mut tables, t| {
                    if !tables.contains(&t) {
                        tables.push(t);
                    }
                    tables
                },
            );
            problem.help(format!(
                "a path is the table and the key, for example \"strip.width\"; tables: {}",
                tables.join(", ")
            ))
        }
    }
}

/// `Some(None)`: the unit's own; `None`: a problem.
fn shared(f: &Fields<'_, '_>, batches: Option<&[Batch]>) -> Option<Option<(usize, f64)>> {
    let t = f.t;
    let batch = f.text_if_any("batch");
    let has_share = t.has("shared");
    let share = f.number("shared");
    match (batch, has_share) {
        (None, false) => Some(None),
        (None, true) => {
            t.report(
                Problem::new(t.span_of("shared"), "shared with which units?")
                    .help("add `batch = \"...\"` with the name of a [[population.batch]]"),
            );
            None
        }
        (Some(batch), _) => {
            let batches = batches?;
            let names: Vec<&str> = batches.iter().map(|b| b.name.as_str()).collect();
            match names.iter().position(|n| *n == batch.value) {
                Some(k) if !has_share => Some(Some((k, 1.0))),
                Some(k) => Some(Some((k, share?.value))),
                None => {
                    t.report(unknown_name(batch.span, "batch", &batch.value, &names));
                    None
                }
            }
        }
    }
}
