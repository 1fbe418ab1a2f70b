//! Decides how the times of a log are written, and which number of a date is the day.

use super::assumption::{Assumption, DatesShow, TimesAre};
use super::calendar::{Date, DateOrder};
use super::clock::{self, Stamp};
use super::error::{Planned, ask};
use super::header::Heading;
use super::layout::TimeForm;
use crate::diagnostic::Problem;
use crate::quantity::Dimension;
use std::ops::Range;

/// One time of the probe: its text and place.
pub(super) struct Sample<'t> {
    pub text: &'t str,
    pub span: Range<usize>,
}

/// Decides between day-first and month-first from all dates of the probe.
///
/// # Errors
/// A question when the dates do not say; a problem when they contradict each other.
pub(super) fn date_order(
    samples: &[Sample],
    given: Option<DateOrder>,
    assumptions: &mut Vec<Assumption>,
) -> Planned<DateOrder> {
    let open: Vec<(u32, u32, u32, u8, &Sample)> = samples
        .iter()
        .filter_map(|s| match clock::stamp(s.text.as_bytes())?.date? {
            Date::Open(a, b, y, mark) => Some((a, b, y, mark, s)),
            Date::Certain(..) => None,
        })
        .collect();
    let Some(&(a, b, y, mark, shown)) = open.first() else {
        return Ok(given.unwrap_or(DateOrder::DayFirst));
    };
    if let Some(order) = given {
        return Ok(order);
    }
    let day_first = open.iter().find(|(a, ..)| *a > 12);
    let month_first = open.iter().find(|(_, b, ..)| *b > 12);
    match (day_first, month_first) {
        (Some((.., one)), Some((.., other))) => {
            return ask(Problem::new(
                one.span.clone(),
                "the order of day and month changes within the log",
            )
            .label("the day is first here")
            .also(other.span.clone(), "the month is first here")
            .help("export with dates as `2024-03-05`, or split the log where the order changes"));
        }
        (Some((.., s)), None) => {
            let only = DatesShow::OneReading(s.text.into());
            assumptions.push(Assumption::Dates(DateOrder::DayFirst, only));
            return Ok(DateOrder::DayFirst);
        }
        (None, Some((.., s))) => {
            let only = DatesShow::OneReading(s.text.into());
            assumptions.push(Assumption::Dates(DateOrder::MonthFirst, only));
            return Ok(DateOrder::MonthFirst);
        }
        (None, None) => {}
    }
    if let Some((order, from, to)) = by_midnights(&open) {
        let next = DatesShow::Midnight(from.to_string(), to.to_string());
        assumptions.push(Assumption::Dates(order, next));
        return Ok(order);
    }
    if mark == b'.' {
        assumptions.push(Assumption::Dates(DateOrder::DayFirst, DatesShow::Points));
        return Ok(DateOrder::DayFirst);
    }
    if a == b && open.iter().all(|(a, b, ..)| a == b) {
        return Ok(DateOrder::DayFirst);
    }
    let either = |m: u32, d: u32| format!("{y:04}-{m:02}-{d:02}");
    let mut question = Problem::new(
        shown.span.clone(),
        format!(
            "is `{}` the {} or the {}?",
            shown.text,
            either(b, a),
            either(a, b)
        ),
    )
    .label("no date of the log's first lines has a day above 12")
    .note("a wrong guess would shift the log against trip notes, weather and other logs by months")
    .help("`dates = \"day first\"` or `dates = \"month first\"`, or export with dates as `2024-03-05`");
    let is_half_day = |s: &Sample| {
        let clock = clock::stamp(s.text.as_bytes()).and_then(|stamp| stamp.clock);
        clock.is_some_and(|clock| clock.half_day)
    };
    if samples.iter().any(is_half_day) {
        question = question.note("clocks of twelve hours are usual where the month is first");
    }
    ask(question)
}

type Open<'s, 't> = (u32, u32, u32, u8, &'s Sample<'t>);

/// From one row to the next the day goes on by one; a month does so only with the day back at one.
fn by_midnights<'t>(open: &[Open<'_, 't>]) -> Option<(DateOrder, &'t str, &'t str)> {
    let mut votes = (0, 0);
    let mut shown = None;
    for pair in open.windows(2) {
        let ((a0, b0, y0, _, s0), (a1, b1, y1, _, s1)) = (&pair[0], &pair[1]);
        if y0 != y1 || (a0, b0) == (a1, b1) {
            continue;
        }
        if a1 == &(a0 + 1) && b1 == b0 {
            votes.0 += 1;
        } else if b1 == &(b0 + 1) && a1 == a0 {
            votes.1 += 1;
        } else {
            continue;
        }
        shown.get_or_insert((s0.text, s1.text));
    }
    let (from, to) = shown?;
    match votes {
        (1.., 0) => Some((DateOrder::DayFirst, from, to)),
        (0, 1..) => Some((DateOrder::MonthFirst, from, to)),
        _ => None,
    }
}

/// The form of times without dates: clocks or numbers.
///
/// # Errors
/// When neither is found.
pub(super) fn form(
    samples: &[Sample],
    numbers: &[f64],
    heading: Option<&Heading>,
    assumptions: &mut Vec<Assumption>,
) -> Planned<TimeForm> {
    let stamps: Vec<Stamp> = samples
        .iter()
        .filter_map(|s| clock::stamp(s.text.as_bytes()))
        .collect();
    if stamps.len() > numbers.len() {
        return Ok(clock_form(&stamps, assumptions));
    }
    if numbers.is_empty() {
        let problem = match samples.first() {
            Some(s) => Problem::new(s.span.clone(), "the times cannot be read")
                .label("a time of the first row"),
            None => {
                Problem::new(0..0, "the times cannot be read").label("no time in the first rows")
            }
        };
        return ask(problem.help(
            "write times as `2024-03-05 14:00:00`, `14:00:00`, `1.02:11:00`, or as a number with \
             its unit in the header",
        ));
    }
    if let Some(unit) = heading
        .and_then(|h| h.unit.as_ref())
        .filter(|u| u.dimension == Dimension::Time)
    {
        return Ok(TimeForm::Number {
            scale_s: unit.scale,
            since_1970: false,
        });
    }
    let first = numbers[0].abs();
    let dated = heading.is_some_and(|h| h.name.to_lowercase().contains("dat"));
    let (scale_s, times) = match first {
        1e11..1e14 => (1e-3, TimesAre::UnixMilliseconds),
        1e9..1e11 => (1.0, TimesAre::UnixSeconds),
        2e4..8e4 if dated => (86_400.0, TimesAre::SpreadsheetDays),
        _ => (1.0, TimesAre::Seconds),
    };
    assumptions.push(Assumption::Times(times));
    Ok(TimeForm::Number {
        scale_s,
        since_1970: (1e9..1e14).contains(&first),
    })
}

fn clock_form(stamps: &[Stamp], assumptions: &mut Vec<Assumption>) -> TimeForm {
    let mut clocks = stamps.iter().filter_map(|s| s.clock);
    let two = stamps.iter().filter_map(|s| s.clock).all(|c| c.parts == 2);
    let minutes_first = two && clocks.any(|c| !c.half_day && (c.first > 23 || c.fraction));
    if two {
        assumptions.push(Assumption::TwoParts { minutes_first });
    }
    TimeForm::Clock { minutes_first }
}
