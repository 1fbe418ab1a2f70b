//! `[protector]`: what is printed on it and on its sheet.

use super::common::{AIR, AMPERES, one_of, with_tolerance};
use crate::diagnostic::{Problem, nearest};
use crate::document::{Bounds, TableReader};
use crate::evidence::heated;
use crate::family::{AirRow, Assumed, Nameplate, Point, Window};
use crate::quantity::{Dimension, format_number};
use crate::scenario::MOST_POLES;
use crate::standards::{self, Band};

const RATING: Bounds = Bounds::between(
    *Nameplate::RATINGS_A.start(),
    *Nameplate::RATINGS_A.end(),
    "rated currents lie between 0.05 A and 10 kA",
);
const MULTIPLE: Bounds = Bounds::between(
    0.2,
    100.0,
    "a multiple of the rated current, for example 2.0",
);

/// How the marking beside the drawing is written, and whether it agrees.
pub(in crate::evidence) const MARKING: [(&str, bool); 2] = [
    ("agrees with the drawing", true),
    ("differs from the drawing", false),
];

/// What the table says beside the nameplate.
pub(super) struct Printed {
    pub nameplate: Nameplate,
    pub marking_agrees: Option<bool>,
    /// How many poles it has.
    pub poles: Option<u32>,
    /// Whether its poles are compared, so that it trips sooner when one carries nothing.
    pub notices_lost_phase: bool,
}

pub(super) fn protector(t: &TableReader<'_>) -> Option<Printed> {
    let rated = t.required("rating", Dimension::Current, RATING);
    if let Some(kind) = t.text("kind", "\"strip\"")
        && let Err(why) = heated(&kind.value)
    {
        t.report(Problem::new(kind.span, "this protector cannot be weighed").label(why));
    }
    let reference = t.optional("reference_air", Dimension::Temperature, AIR);
    let compensated = t.boolean("compensated");
    let set = t.optional("setting", Dimension::Current, RATING);
    let poles = t
        .has("poles")
        .then(|| t.whole("poles", MOST_POLES as u32))
        .flatten();
    let pole = t.text("pole", "\"L2\"");
    if let (Some(rated), Some(set)) = (&rated, &set)
        && !is_setting(set.value, rated.value)
    {
        t.report(
            Problem::new(
                set.span.clone(),
                "a dial is set below the largest current that it is marked with",
            )
            .also(rated.span.clone(), "the rating")
            .help("`rating` is the largest current of the dial, `setting` where it stands"),
        );
    }
    let printed_a = rated.as_ref().map(|r| r.value);
    let rated_a = set.map(|s| s.value).or(printed_a);
    let limits = limits(t, rated_a);
    let windows: Vec<_> = t
        .tables("window")
        .iter()
        .map(|w| window(w, rated_a))
        .collect();
    let points: Vec<_> = t
        .tables("point")
        .iter()
        .map(|p| point(p, rated_a))
        .collect();
    let air_table = air_table(t);
    let resistance = with_tolerance(
        t,
        "resistance",
        Dimension::Resistance,
        Bounds::positive(1e4, "between the terminals of the closed part"),
    );
    let resets_itself = t.choice_or("resets", &[("by hand", false), ("by itself", true)], false);
    let instantaneous = t.choice("instantaneous", &Band::NAMES);
    let notices_lost_phase = t.boolean("notices_lost_phase");
    let marking_agrees = t.choice("marking", &MARKING);
    t.finish();

    let printed_a = rated?.value;
    let mut nameplate = Nameplate::of_rating(rated_a.unwrap_or(printed_a));
    let poles = poles.map(|p| p.value);
    marked(
        &mut nameplate,
        printed_a,
        poles,
        pole.map(|p| p.value.trim().to_owned()),
    );
    let windows: Vec<Window> = windows.into_iter().collect::<Option<_>>()?;
    match limits? {
        Some(table) => {
            nameplate = nameplate.with_limits(table);
            nameplate.windows.extend(windows);
            if reference.is_none() {
                nameplate = nameplate.at_air_of(table);
            }
        }
        None if !windows.is_empty() => nameplate = nameplate.with_windows(windows),
        None => {}
    }
    if let Some(reference) = reference {
        nameplate = nameplate.at_reference(reference.value);
    }
    match compensated {
        Some(c) => nameplate.compensated = c.value,
        None => nameplate.assumed.push(Assumed::NotCompensated),
    }
    nameplate.points = points.into_iter().collect::<Option<_>>()?;
    nameplate.air_table = air_table?;
    nameplate.resistance_ohm =
        resistance.map(|(r, u)| (r.value, u.map_or(USUAL_RESISTANCE, |u| u / r.value)));
    nameplate.resets_itself = resets_itself?;
    nameplate.instantaneous = instantaneous.map(|band| band.value);
    Some(Printed {
        nameplate,
        marking_agrees: marking_agrees.map(|m| m.value),
        poles,
        notices_lost_phase: notices_lost_phase.is_some_and(|n| n.value),
    })
}

/// Whether a dial marked up to a rating can stand at a current.
pub(in crate::evidence) fn is_setting(set_a: f64, rating_a: f64) -> bool {
    (0.2 * rating_a..=rating_a).contains(&set_a)
}

/// Notes what a dial and several poles mean for a nameplate.
pub(in crate::evidence) fn marked(
    nameplate: &mut Nameplate,
    printed_a: f64,
    poles: Option<u32>,
    pole: Option<String>,
) {
    let setting_a = nameplate.rated_current_a;
    if setting_a < printed_a {
        nameplate.assumed.push(Assumed::SetByDial {
            rating_a: printed_a,
            setting_a,
        });
    }
    if pole.is_some() || poles.is_some_and(|n| n > 1) {
        nameplate.assumed.push(Assumed::OnePole { poles, pole });
    }
}

/// Relative standard uncertainty of a printed resistance that states none. Common practice, no
/// source.
const USUAL_RESISTANCE: f64 = 0.1;
/// Relative standard uncertainty of a typical trip time that states none. Common practice, no
/// source.
const USUAL_POINT: f64 = 0.2;

/// `Some(None)`: none named; `None`: a problem.
fn limits(
    t: &TableReader<'_>,
    rated_a: Option<f64>,
) -> Option<Option<&'static standards::PublishedLimits>> {
    if !t.has("limits") {
        return Some(None);
    }
    let read = t.text("limits", "\"equipment breaker window\"")?;
    let Some(table) = Nameplate::limits_named(&read.value) else {
        let known: Vec<&str> = standards::LIMITS.iter().map(|l| l.name).collect();
        let mut problem = Problem::new(
            read.span,
            format!("no table of published limits is called \"{}\"", read.value),
        )
        .label("unknown");
        if let Some(near) = nearest(&read.value, known.iter().copied()) {
            problem = problem.help(format!("did you mean \"{near}\"?"));
        }
        t.report(problem.help(format!("known: {}", known.join(", "))));
        return None;
    };
    if let Some(rated) = rated_a
        && rated > table.up_to_a
    {
        t.report(
            Problem::new(
                read.span,
                format!("these limits hold up to {} A", table.up_to_a),
            )
            .label(format!("the part is rated {rated} A"))
            .help("leave `limits` out, or give what its own sheet prints as [[protector.window]]"),
        );
        return None;
    }
    Some(Some(table))
}

/// `multiple = 2.0`, or `current = "20 A"` over the rating.
fn multiple(t: &TableReader<'_>, rated_a: Option<f64>) -> Option<f64> {
    match one_of(
        t,
        &["multiple", "current"],
        "at which current",
        "multiple = 2.0",
    )? {
        "multiple" => t.fraction("multiple", MULTIPLE).map(|m| m.value),
        _ => {
            let current = t.optional("current", Dimension::Current, AMPERES)?;
            let multiple = current.value / rated_a?;
            if !MULTIPLE.allows(multiple) {
                t.report(
                    Problem::new(current.span, "no sheet prints a trip time for this current")
                        .label(format!("{} times the rating", format_number(multiple))),
                );
                return None;
            }
            Some(multiple)
        }
    }
}

fn after_multiple(t: &TableReader<'_>) -> Option<f64> {
    let most = Bounds::not_negative(
        3.0,
        "the load before it over the rated current, for example 0.8",
    );
    t.or("hot_from", Dimension::Fraction, most, 0.0)
}

fn window(t: &TableReader<'_>, rated_a: Option<f64>) -> Option<Window> {
    let multiple = multiple(t, rated_a);
    let carried = if t.has("carried") {
        t.boolean("carried")
    } else {
        None
    };
    let least = limit(t, "at_least");
    let most = limit(t, "at_most");
    let after_multiple = after_multiple(t);
    if !t.has("carried") && !t.has("at_least") && !t.has("at_most") {
        t.lacks(
            &["at_least", "at_most", "carried"],
            Problem::new(t.span(), format!("{} has no time", t.name())).help(
                "`at_least = \"4 s\"`, `at_most = \"40 s\"`, or `carried = true` for a current \
                 that never trips it",
            ),
        );
        t.finish();
        return None;
    }
    let is_carried = carried.is_some_and(|c| c.value);
    let (least_s, most_s) = (least?, most?);
    if is_carried && (t.has("at_least") || t.has("at_most")) {
        t.report(Problem::new(
            t.span_of("carried"),
            "a current that is carried for ever has no trip time",
        ));
    } else if let (Some(a), Some(b)) = (least_s, most_s)
        && a >= b
    {
        t.report(
            Problem::new(t.span_of("at_most"), "`at_most` must lie above `at_least`")
                .also(t.span_of("at_least"), "not below it"),
        );
    }
    t.finish();
    Some(Window {
        multiple: multiple?,
        at_least_s: if is_carried {
            f64::INFINITY
        } else {
            least_s.unwrap_or(0.0)
        },
        at_most_s: if is_carried {
            f64::INFINITY
        } else {
            most_s.unwrap_or(f64::INFINITY)
        },
        after_multiple: after_multiple?,
    })
}

/// A printed time, exact; `Some(None)` when it is not there.
fn limit(t: &TableReader<'_>, key: &'static str) -> Option<Option<f64>> {
    if !t.has(key) {
        return Some(None);
    }
    super::common::time(t, key).map(|r| Some(r.value.value))
}

fn point(t: &TableReader<'_>, rated_a: Option<f64>) -> Option<Point> {
    let multiple = multiple(t, rated_a);
    if !t.has("time") {
        t.missing("time", "\"12 s +- 20 %\"");
    }
    let time = super::common::time(t, "time");
    let written = t.text("time", "\"12 s\"").map(|r| r.value);
    let after_multiple = after_multiple(t);
    t.finish();
    let time_s = time?.value;
    // A printed time has no stop-watch: only a tolerance that is written counts.
    let stated =
        written.is_some_and(|w| w.contains("+-") || w.contains("+/-") || w.contains('\u{b1}'));
    Some(Point {
        multiple: multiple?,
        time_s: time_s.value,
        relative: if stated {
            time_s.relative()
        } else {
            USUAL_POINT
        },
        after_multiple: after_multiple?,
    })
}

/// Usable current over rated current against air; it must fall as the air gets hotter.
fn air_table(t: &TableReader<'_>) -> Option<Vec<AirRow>> {
    if !t.has("air_table") {
        return Some(Vec::new());
    }
    let factor = Bounds::between(
        0.05,
        5.0,
        "usable current over rated current, for example 0.85",
    );
    let pairs = t.pairs(
        "air_table",
        (Dimension::Temperature, Dimension::Fraction),
        (AIR, factor),
    )?;
    for pair in pairs.windows(2) {
        let ((air, factor), (hotter, less)) = (&pair[0], &pair[1]);
        if hotter.value <= air.value {
            t.report(
                Problem::new(
                    hotter.span.clone(),
                    "the temperatures of an air table must rise",
                )
                .label("not above the one before"),
            );
            return None;
        }
        if less.value > factor.value {
            t.report(
                Problem::new(
                    less.span.clone(),
                    "the usable current cannot rise with hotter air",
                )
                .label("above the one before")
                .note("some sheets print the rating that is needed for a load instead: that rises")
                .help("then turn every number over: write 1 / factor"),
            );
            return None;
        }
    }
    Some(
        pairs
            .into_iter()
            .map(|(air, factor)| AirRow {
                ambient_k: air.value,
                factor: factor.value,
            })
            .collect(),
    )
}
