//! `[duty]`: seasons, shifts, and how often the part is moved. Calendars that cannot be are
//! refused.

use super::Scenario;
use super::ageing::{Season, Shift, ShiftAir};
use super::metals::unknown_name;
use super::rows::{Fields, table};
use crate::diagnostic::Problem;
use crate::document::TableReader;
use std::ops::Range;

const DAY_S: f64 = 86_400.0;
/// Most entries of a calendar: beyond, no person has written it.
const MOST: usize = 60;

/// Read `[duty]`; false only after a problem.
pub(super) fn duty(t: &TableReader<'_>, s: &mut Scenario) -> bool {
    let f = Fields::new(t, table("duty"));
    let seasons = seasons(&f);
    let names: Option<Vec<&str>> = seasons
        .as_ref()
        .map(|list| list.iter().map(|s| s.name.as_str()).collect());
    let mut well = shifts(t, names.as_deref(), s);
    well &= f.read(s);
    t.finish();
    match (&mut s.ageing, seasons) {
        (Some(ageing), Some(seasons)) => ageing.duty.seasons = seasons,
        _ => return false,
    }
    well
}

/// `[[duty.season]]`, or one `ambient` all year.
fn seasons(f: &Fields<'_, '_>) -> Option<Vec<Season>> {
    let t = f.t;
    match (t.has("ambient"), t.has("season")) {
        (true, false) => {
            let ambient = f.number("ambient")?;
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
    let f = Fields::new(t, table("duty.season"));
    let name = f.text("name");
    let (months, share) = (t.has("months"), t.has("share"));
    let part = match (months, share) {
        (true, false) => f.number("months").map(|r| (r.value / 12.0, r.span)),
        (false, true) => f.number("share").map(|r| (r.value, r.span)),
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
    let ambient = f.needed("ambient");
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

/// Read `[[duty.shift]]`; `seasons`: their names, `None` where they have problems of their own.
fn shifts(t: &TableReader<'_>, seasons: Option<&[&str]>, s: &mut Scenario) -> bool {
    if !t.has("shift") {
        return true;
    }
    let tables = t.tables("shift");
    if tables.len() > MOST {
        t.report(Problem::new(
            t.span_of("shift"),
            format!("a week has more than {MOST} shifts here"),
        ));
        return false;
    }
    let mut well = !tables.is_empty();
    for (k, t) in tables.iter().enumerate() {
        if let Some(ageing) = &mut s.ageing {
            ageing.duty.shifts.push(UNREAD);
        }
        well &= shift(&Fields::entry(t, table("duty.shift"), k), k, seasons, s);
    }
    let places: Vec<Range<usize>> = tables.iter().map(|t| t.span_of("daily")).collect();
    well && s.ageing.as_ref().is_some_and(|ageing| {
        let shifts: Vec<(&Shift, &Range<usize>)> = ageing.duty.shifts.iter().zip(&places).collect();
        fits(t, &shifts, seasons.map_or(1, <[&str]>::len))
    })
}

/// A shift of which nothing is known yet.
const UNREAD: Shift = Shift {
    name: String::new(),
    daily_s: f64::NAN,
    days_a_week: f64::NAN,
    current_a: f64::NAN,
    air: ShiftAir::WarmerBy(0.0),
    season: None,
    held: true,
};

fn shift(f: &Fields<'_, '_>, k: usize, seasons: Option<&[&str]>, s: &mut Scenario) -> bool {
    let t = f.t;
    let well = f.read(s);
    let name = f.text("name");
    let current = current(f, s.protector.rated_current_a);
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
        (true, false) => f.number("ambient").map(|r| ShiftAir::At(r.value)),
        _ => f.number_or_default("warmer_by").map(ShiftAir::WarmerBy),
    };
    let season = match f.text_if_any("season") {
        None if t.has("season") => None,
        None => Some(None),
        Some(read) => seasons.and_then(|known| {
            let found = known.iter().position(|s| *s == read.value);
            if found.is_none() {
                t.report(unknown_name(read.span, "season", &read.value, known));
            }
            found.map(Some)
        }),
    };
    t.finish();
    let shift = s.ageing.as_mut().and_then(|a| a.duty.shifts.get_mut(k));
    match (shift, name, current, air, season) {
        (Some(shift), Some(name), Some(current_a), Some(air), Some(season)) => {
            *shift = Shift {
                name: name.value,
                current_a,
                air,
                season,
                ..shift.clone()
            };
            well
        }
        _ => false,
    }
}

/// `current`, or `times_rated`.
fn current(f: &Fields<'_, '_>, rated_a: f64) -> Option<f64> {
    let t = f.t;
    match (t.has("current"), t.has("times_rated")) {
        (true, false) => f.number("current").map(|r| r.value),
        (false, true) => f.number("times_rated").map(|r| r.value * rated_a),
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
fn fits(t: &TableReader<'_>, shifts: &[(&Shift, &Range<usize>)], seasons: usize) -> bool {
    const SLACK: f64 = 1.0 + 1e-9;
    for season in 0..seasons {
        let here: Vec<(&Shift, &Range<usize>)> = shifts
            .iter()
            .filter(|(shift, _)| shift.season.is_none_or(|s| s == season))
            .copied()
            .collect();
        for (k, (a, at)) in here.iter().enumerate() {
            for (b, same_days) in &here[..k] {
                let daily = a.daily_s + b.daily_s;
                if a.days_a_week + b.days_a_week > 7.0 * SLACK && daily > DAY_S * SLACK {
                    t.report(
                        Problem::new((*at).clone(), "a day would have more than 24 h")
                            .label(format!("with it {:.1} h", daily / 3600.0))
                            .also((*same_days).clone(), "falls on the same days")
                            .help("shorten one of the shifts, or give them fewer `days_a_week`"),
                    );
                    return false;
                }
            }
        }
        let week: f64 = here.iter().map(|(shift, _)| shift.share()).sum();
        if week > SLACK
            && let Some((_, last)) = here.last()
        {
            t.report(
                Problem::new((*last).clone(), "the shifts fill more than a week")
                    .label(format!("with it {:.1} h a week", 168.0 * week))
                    .help("a week has 168 h"),
            );
            return false;
        }
    }
    true
}
