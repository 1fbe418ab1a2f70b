//! A fit as one screenful: what is published beside what the fitted parts do.

use super::block::{Block, Table};
use super::cautions::Caution;
use super::number::{NONE, plain, round_duration as time, significant};
use super::run::cautions_at;
use super::{json, words};
use crate::answer::Place;
use crate::family::{FitAnswer, FitRow, Kept, Printed, Spread};
use crate::present::language::recorded;

/// A fit for a person.
pub fn fit_blocks(answer: &FitAnswer) -> Vec<Block> {
    let cautions: Vec<Caution> = answer.cautions.iter().map(|c| (*c).into()).collect();
    let below = say!(
        "{} A at {} °C of air | {} designs, {} placings kept the limits, worth {} equal draws of {} designs",
        plain(answer.rated_current_a),
        plain((answer.reference_ambient_c * 100.0).round() / 100.0),
        answer.designs,
        answer.considered,
        significant(answer.effective_number, 2),
        significant(answer.effective_designs, 2),
    );
    let mut blocks = vec![
        Block::title(&answer.title, below),
        cautions_at(&cautions, &[Place::Top, Place::BeforeWaits, Place::Testing]),
    ];
    let mut warnings = Vec::new();
    if answer.effective_designs < 5.0 {
        warnings.push(
            word!("Few designs follow these values: the ranges are too narrow. Check the values, or give them larger \
             uncertainties.")
                .to_owned(),
        );
    }
    let missed = answer.rows.iter().filter(|r| r.kept != Kept::Yes).count();
    if missed > 0 {
        warnings.push(say!(
            "The best part misses {missed} of {} published values: no thermal part of this family may follow them all \
             (a magnetic release, another kind of release, or a slip in the numbers).",
            answer.rows.len()
        ; missed));
    }
    blocks.push(published(answer).into());
    blocks.push(Block::warnings(warnings));
    blocks.push(Block::heading(word!("What follows from it")));
    blocks.push(Block::facts(follows(answer)));
    blocks.push(Block::heading(word!(
        "What the published values leave open"
    )));
    let share = say!(
        "{} of the release travel; {} before anything was weighed",
        range(&answer.preload.share, percent),
        range(&answer.preload.before, percent)
    );
    blocks.push(Block::facts([(word!("Preload share"), share)]));
    let open = answer.open.iter().map(|o| words::left_open(*o).to_owned());
    let assumed = answer
        .assumed
        .iter()
        .map(|a| say!("assumed: {}", words::assumed(a)));
    blocks.push(Block::list(open.chain(assumed)));
    blocks.push(Block::heading(word!("Cautions")));
    blocks.push(cautions_at(&cautions, &[Place::End]));
    blocks
}

fn published(answer: &FitAnswer) -> Table {
    let rows: Vec<[String; 8]> = answer.rows.iter().map(cells).collect();
    let column = |k: usize| {
        rows.iter()
            .map(move |row| row[k].clone())
            .collect::<Vec<_>>()
    };
    let headings = [
        word!("x rated"),
        word!("from"),
        word!("published"),
        word!("low"),
        word!("median"),
        word!("high"),
        word!("best"),
    ];
    let table = Table::new(word!(
        "Published, and what parts that follow it do (median, 90 % of them)"
    ));
    let table = headings
        .iter()
        .enumerate()
        .fold(table, |table, (k, heading)| {
            table.numbers(*heading, column(k))
        });
    table.text(word!("best is"), column(7))
}

/// Names and ranges of what follows.
fn follows(answer: &FitAnswer) -> Vec<(String, String)> {
    let amperes = |a: f64| format!("{} A", significant(a, 3));
    let milliohms = |r: f64| format!("{} mΩ", significant(1e3 * r, 3));
    let of_rated = range(&answer.trip_multiple, |m| significant(m, 3));
    let trip_point = say!(
        "{}; {of_rated} x rated",
        range(&answer.trip_point_a, amperes)
    ; of_rated);
    let constant = range(&answer.time_constant_s, time);
    let printed = answer.printed_resistance_ohm.map(milliohms);
    let printed = printed.map_or(String::new(), |r| say!("; published {r}"; r));
    let reset = answer.reset_s.map_or(NONE.into(), |s| range(&s, time));
    let never = match answer.never_resets {
        share if share > 0.0 => format!("; {} {}", percent(share), words::never()),
        _ => String::new(),
    };
    let mut facts = [
        (word!("Trip point"), trip_point),
        (
            word!("Time constant"),
            say!("{constant} (one body, from twice the trip point)"; constant),
        ),
        (
            word!("Slowest time constant"),
            range(&answer.slowest_s, time),
        ),
        (
            word!("Resistance"),
            format!("{}{printed}", range(&answer.resistance_ohm, milliohms)),
        ),
        (
            word!("Reset after a trip at 2 x"),
            format!("{reset}{never}"),
        ),
    ]
    .map(|(name, value)| (name.to_owned(), value))
    .to_vec();
    facts.extend(answer.air.iter().map(|row| {
        let printed = row.printed.map_or(word!("not published").to_owned(), |f| {
            say!("published {}", significant(f, 3))
        });
        let usable = row.usable.as_ref();
        let usable = usable.map_or(word!("none").to_owned(), |s| {
            range(s, |f| significant(f, 3))
        });
        (
            say!("Usable current at {} °C", significant(row.ambient_c, 3)),
            say!("{usable} of that at the reference; {printed}"; usable, printed),
        )
    }));
    facts
}

/// The answer as JSON, with words beside its codes.
///
/// # Errors
/// When the record cannot be serialised.
pub fn fit_json(answer: &FitAnswer) -> Result<String, serde_json::Error> {
    recorded(|| {
        let mut value = serde_json::to_value(answer)?;
        json::beside_codes(&mut value, "cautions", &answer.cautions, |c| {
            words::caution(*c).into()
        });
        json::beside_codes(&mut value, "assumed", &answer.assumed, words::assumed);
        json::beside_codes(&mut value, "open", &answer.open, |o| {
            words::left_open(*o).into()
        });
        json::serialised(&value)
    })
}

fn cells(row: &FitRow) -> [String; 8] {
    let from = if row.after_multiple > 0.0 {
        format!("{} x", plain(round3(row.after_multiple)))
    } else {
        word!("cold").to_owned()
    };
    let published = match row.printed {
        Printed::Carried => word!("carried").to_owned(),
        Printed::Point { time_s, relative } => {
            format!("{} ± {} %", time(time_s), significant(100.0 * relative, 2))
        }
        Printed::Window {
            at_least_s,
            at_most_s,
        } => match at_most_s {
            Some(most) if at_least_s > 0.0 => say!("{} to {}", time(at_least_s), time(most)),
            Some(most) => say!("by {}", time(most)),
            None => say!("not before {}", time(at_least_s)),
        },
    };
    let published = if row.assumed {
        say!("(assumed) {published}"; published)
    } else {
        published
    };
    let [low, median, high] = match &row.trip_s {
        // The slowest ones hold.
        Some(s) if row.holds > 0.0 => [
            time(s.low),
            if row.holds >= 0.5 {
                word!("holds").into()
            } else {
                time(s.median)
            },
            word!("holds").into(),
        ],
        Some(s) => [time(s.low), time(s.median), time(s.high)],
        None => [word!("holds"), word!("holds"), word!("holds")].map(str::to_owned),
    };
    let best = row.best_s.map_or(word!("holds").to_owned(), time);
    let mark = match row.kept {
        Kept::Yes => "",
        Kept::TooSoon => word!("too soon"),
        Kept::TooLate => word!("too late"),
    };
    let multiple = plain(round3(row.multiple));
    [
        multiple,
        from,
        published,
        low,
        median,
        high,
        best,
        mark.to_owned(),
    ]
}

fn range(spread: &Spread, show: impl Fn(f64) -> String) -> String {
    say!(
        "{} ({} to {})",
        show(spread.median),
        show(spread.low),
        show(spread.high)
    )
}

fn percent(share: f64) -> String {
    format!("{} %", significant(100.0 * share, 2))
}

fn round3(x: f64) -> f64 {
    (1e3 * x).round() / 1e3
}
