//! `[duty]`: seasons, shifts, and how often the part is moved. Calendars that cannot be are refused.

use super::ageing::{Duty, Season, Shift, ShiftAir};
use super::bounds::AMBIENT;
use super::metals::unknown_name;
use crate::diagnostic::Problem;
use crate::document::{Bounds, Read, TableReader};
use crate::quantity::Dimension;
use std::ops::Range;

const DAY_S: f64 = 86_400.0;
/// Most entries of a calendar: beyond, no person has written it.
const MOST: usize = 60;

/// Read `[duty]`.
pub(super) fn duty(t: &TableReader<'_>, rated_a: Option<f64>) -> Option<Duty> {
    let seasons = seasons(t);
    let names: Option<Vec<&str>> = seasons
        .as_ref()
        .map(|list| list.iter().map(|s| s.name.as_str()).collect());
    let shifts = shifts(t, rated_a, names.as_deref());
    let idle_held = held(t, "held_when_idle");
    let every = |key| {
        if t.has(key) {
            t.optional(
                key,
                Dimension::Time,
                Bounds::between(1.0, 1e11, "for example \"2 week\""),
            )
            .map(|r| Some(r.value))
        } else {
            Some(None)
        }
    };
    let trips = every("trips_every");
    let operations = every("operations_every");
    let exercise = every("exercise_every");
    t.finish();
    Some(Duty {
        seasons: seasons?,
        shifts: shifts?,
        idle_held: idle_held?,
        trips_every_s: trips?,
        operations_every_s: operations?,
        exercise_every_s: exercise?,
    })
}

fn held(t: &TableReader<'_>, key: &'static str) -> Option<bool> {
    if t.has(key) {
        t.boolean(key).map(|r| r.value)
    } else {
        Some(true)
    }
}

/// `[[duty.season]]`, or one `ambient` all year.
fn seasons(t: &TableReader<'_>) -> Option<Vec<Season>> {
    match (t.has("ambient"), t.has("season")) {
        (true, false) => {
            let ambient = t.optional("ambient", Dimension::Temperature, AMBIENT)?;
            return Some(vec![Season {
                name: "all year".into(),
                share: 1.0,
                ambient_k: ambient.value,
            }]);
        }
        (false, false) => {
            t.lacks(
                &["ambient", "season"],
                Problem::new(t.span(), "[duty] does not say what air the part is in")
                    .label("needs `ambient` or [[duty.season]]")
                    .help(
                        "`ambient = \"25 degC\"` all year, or seasons with `months` and `ambient`",
                    ),
            );
            return None;
        }
        (true, true) => {
            t.report(
                Problem::new(
                    t.span_of("ambient"),
                    "give `ambient` or [[duty.season]], not both",
                )
                .label("all year")
                .help("each season has an ambient of its own"),
            );
        }
        (false, true) => {}
    }
    let tables = t.tables("season");
    if tables.len() > MOST {
        t.report(Problem::new(
            t.span_of("season"),
            format!("a year has more than {MOST} seasons here"),
        ));
        return None;
    }
    let read: Vec<Option<(Season, Range<usize>)>> = tables.iter().map(season).collect();
    let read: Vec<(Season, Range<usize>)> = read.into_iter().collect::<Option<_>>()?;
    let sum: f64 = read.iter().map(|(s, _)| s.share).sum();
    if read.is_empty() {
        return None;
    }
    if (sum - 1.0).abs() > 1e-3 {
        let shares: Vec<String> = read
            .iter()
            .map(|(s, _)| {
                format!("{} {:.4}", s.name, 12.0 * s.share)
                    .trim_end_matches('0')
                    .trim_end_matches('.')
                    .to_owned()
            })
            .collect();
        let last = read.last().map_or(t.span(), |(_, span)| span.clone());
        t.report(
            Problem::new(last, "the seasons do not add up to a year")
                .label(format!("{:.2} months together", 12.0 * sum))
                .note(format!("in months: {}", shares.join(", ")))
                .help("the months of all seasons together are 12, their shares 100 %"),
        );
        return None;
    }
    Some(
        read.into_iter()
            .map(|(s, _)| Season {
                share: s.share / sum,
                ..s
            })
            .collect(),
    )
}

fn season(t: &TableReader<'_>) -> Option<(Season, Range<usize>)> {
    let name = t.required_text("name", "\"summer\"");
    let (months, share) = (t.has("months"), t.has("share"));
    let part = match (months, share) {
        (true, false) => t
            .fraction("months", Bounds::positive(12.0, "a year has 12 months"))
            .map(|r| (r.value / 12.0, r.span)),
        (false, true) => t
            .fraction("share", Bounds::positive(1.0, "the share of the year"))
            .map(|r| (r.value, r.span)),
        _ => {
            let problem = Problem::new(
                t.span(),
                "a season needs either `months` or `share` of the year",
            )
            .help("`months = 3`, or `share = \"25 %\"`");
            if months {
                t.report(problem);
            } else {
                t.lacks(&["months", "share"], problem);
            }
            None
        }
    };
    let ambient = t.required("ambient", Dimension::Temperature, AMBIENT);
    t.finish();
    let (share, span) = part?;
    Some((
        Season {
            name: name?.value,
            share,
            ambient_k: ambient?.value,
        },
        span,
    ))
}

/// A shift, and where its daily time stands.
struct Placed {
    shift: Shift,
    daily: Range<usize>,
}

fn shifts(
    t: &TableReader<'_>,
    rated_a: Option<f64>,
    seasons: Option<&[&str]>,
) -> Option<Vec<Shift>> {
    if !t.has("shift") {
        return Some(Vec::new());
    }
    let tables = t.tables("shift");
    if tables.is_empty() {
        return None;
    }
    if tables.len() > MOST {
        t.report(Problem::new(
            t.span_of("shift"),
            format!("a week has more than {MOST} shifts here"),
        ));
        return None;
    }
    let read: Vec<Option<Placed>> = tables.iter().map(|s| shift(s, rated_a, seasons)).collect();
    let read: Vec<Placed> = read.into_iter().collect::<Option<_>>()?;
    let all_fit = fits(t, &read, seasons.map_or(1, <[&str]>::len));
    all_fit.then(|| read.into_iter().map(|p| p.shift).collect())
}

/// `seasons`: their names; `None` where they have problems of their own.
fn shift(t: &TableReader<'_>, rated_a: Option<f64>, seasons: Option<&[&str]>) -> Option<Placed> {
    let name = t.required_text("name", "\"milking\"");
    let daily = t.required(
        "daily",
        Dimension::Time,
        Bounds::positive(DAY_S, "a day has 24 h"),
    );
    let days = t.or(
        "days_a_week",
        Dimension::Fraction,
        Bounds::positive(7.0, "a week has 7 days"),
        7.0,
    );
    let current = current(t, rated_a);
    let air = match (t.has("ambient"), t.has("warmer_by")) {
        (true, true) => {
            t.report(
                Problem::new(
                    t.span_of("warmer_by"),
                    "give `ambient` or `warmer_by`, not both",
                )
                .label("warmer than the season"),
            );
            None
        }
        (true, false) => t
            .optional("ambient", Dimension::Temperature, AMBIENT)
            .map(|r| ShiftAir::At(r.value)),
        _ => t
            .or(
                "warmer_by",
                Dimension::TemperatureDifference,
                Bounds::between(-50.0, 150.0, "how much the equipment warms the air"),
                0.0,
            )
            .map(ShiftAir::WarmerBy),
    };
    let season = match t.text("season", "\"summer\"") {
        None if t.has("season") => None,
        None => Some(None),
        Some(Read { value, span }) => seasons.and_then(|known| {
            let found = known.iter().position(|s| *s == value);
            if found.is_none() {
                t.report(unknown_name(span, "season", &value, known));
            }
            found.map(Some)
        }),
    };
    let held = held(t, "spring_held");
    t.finish();
    let daily = daily?;
    Some(Placed {
        shift: Shift {
            name: name?.value,
            daily_s: daily.value,
            days_a_week: days?,
            current_a: current?,
            air: air?,
            season: season?,
            held: held?,
        },
        daily: daily.span,
    })
}

/// `current`, or `times_rated`.
fn current(t: &TableReader<'_>, rated_a: Option<f64>) -> Option<f64> {
    match (t.has("current"), t.has("times_rated")) {
        (true, false) => t
            .optional(
                "current",
                Dimension::Current,
                Bounds::not_negative(20_000.0, "is the unit right?"),
            )
            .map(|r| r.value),
        (false, true) => {
            let limit =
                Bounds::not_negative(5.0, "a multiple of the rated current, for example 0.8");
            let multiple = t.fraction("times_rated", limit)?;
            Some(multiple.value * rated_a?)
        }
        (both, _) => {
            let problem = Problem::new(t.span(), "a shift needs either `current` or `times_rated`")
                .help("`current = \"9.2 A\"`, or `times_rated = 0.8`");
            if both {
                t.report(problem);
            } else {
                t.lacks(&["current", "times_rated"], problem);
            }
            None
        }
    }
}

/// Whether all shifts of every season find room in a week of 7 days of 24 h.
fn fits(t: &TableReader<'_>, shifts: &[Placed], seasons: usize) -> bool {
    const SLACK: f64 = 1.0 + 1e-9;
    for season in 0..seasons {
        let here: Vec<&Placed> = shifts
            .iter()
            .filter(|p| p.shift.season.is_none_or(|s| s == season))
            .collect();
        for (k, a) in here.iter().enumerate() {
            for b in &here[..k] {
                let daily = a.shift.daily_s + b.shift.daily_s;
                if a.shift.days_a_week + b.shift.days_a_week > 7.0 * SLACK && daily > DAY_S * SLACK
                {
                    t.report(
                        Problem::new(a.daily.clone(), "a day would have more than 24 h")
                            .label(format!("with it {:.1} h", daily / 3600.0))
                            .also(b.daily.clone(), "falls on the same days")
                            .help("shorten one of the shifts, or give them fewer `days_a_week`"),
                    );
                    return false;
                }
            }
        }
        let week: f64 = here.iter().map(|p| p.shift.share()).sum();
        if week > SLACK
            && let Some(last) = here.last()
        {
            t.report(
                Problem::new(last.daily.clone(), "the shifts fill more than a week")
                    .label(format!("with it {:.1} h a week", 168.0 * week))
                    .help("a week has 168 h"),
            );
            return false;
        }
    }
    true
}
