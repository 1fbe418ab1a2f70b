//! A fit as one screenful: what is published beside what the fitted parts do.

use super::page::Page;
use crate::family::{FitAnswer, FitRow, Kept, Printed, Spread};
use crate::present::number::{NONE, plain, round_duration as time, significant};

/// A fit for a person, at most 100 columns wide.
pub fn fit_text(answer: &FitAnswer) -> String {
    let mut page = Page::default();
    page.wrap("", &answer.title);
    page.wrap(
        "",
        &format!(
            "{} A at {} °C of air | {} designs, {} placings kept the limits, worth {} equal draws of {} designs",
            plain(answer.rated_current_a),
            plain((answer.reference_ambient_c * 100.0).round() / 100.0),
            answer.designs,
            answer.considered,
            significant(answer.effective_number, 2),
            significant(answer.effective_designs, 2),
        ),
    );
    if answer.effective_designs < 5.0 {
        page.wrap(
            "! ",
            "Few designs follow these values: the ranges are too narrow. Check the values, or give them larger \
             uncertainties.",
        );
    }
    page.heading("Published, and what parts that follow it do (median, 90 % of them)");
    let mut rows = vec![(
        "x rated",
        ["from", "published", "low", "median", "high", "best", ""]
            .map(str::to_owned)
            .to_vec(),
    )];
    let names: Vec<String> = answer
        .rows
        .iter()
        .map(|r| plain(round3(r.multiple)))
        .collect();
    rows.extend(
        answer
            .rows
            .iter()
            .zip(&names)
            .map(|(row, name)| (name.as_str(), cells(row))),
    );
    page.table(&rows);
    let missed = answer.rows.iter().filter(|r| r.kept != Kept::Yes).count();
    if missed > 0 {
        page.wrap(
            "! ",
            &format!(
                "The best part misses {missed} of {} published values: no thermal part of this family may follow \
                 them all (a magnetic release, another kind of release, or a slip in the numbers).",
                answer.rows.len()
            ),
        );
    }
    page.heading("What follows from it");
    let amperes = |a: f64| format!("{} A", significant(a, 3));
    page.item(
        "Trip point",
        &format!(
            "{}; {} x rated",
            range(&answer.trip_point_a, amperes),
            range(&answer.trip_multiple, |m| significant(m, 3))
        ),
    );
    page.item(
        "Time constant",
        &format!(
            "{} (one body, from twice the trip point)",
            range(&answer.time_constant_s, time)
        ),
    );
    page.item("Slowest time constant", &range(&answer.slowest_s, time));
    let printed = answer.printed_resistance_ohm.map_or(String::new(), |r| {
        format!("; published {} mΩ", significant(1e3 * r, 3))
    });
    page.item(
        "Resistance",
        &format!(
            "{}{printed}",
            range(&answer.resistance_ohm, |r| format!(
                "{} mΩ",
                significant(1e3 * r, 3)
            ))
        ),
    );
    let never = if answer.never_resets > 0.0 {
        format!("; {} % never", significant(100.0 * answer.never_resets, 2))
    } else {
        String::new()
    };
    page.item(
        "Reset after a trip at 2 x",
        &format!(
            "{}{never}",
            answer
                .reset_s
                .as_ref()
                .map_or(NONE.into(), |s| range(s, time))
        ),
    );
    for row in &answer.air {
        let printed = row.printed.map_or("not published".to_owned(), |f| {
            format!("published {}", significant(f, 3))
        });
        let usable = row
            .usable
            .as_ref()
            .map_or("none".to_owned(), |s| range(s, |f| significant(f, 3)));
        page.item(
            &format!("Usable current at {} °C", significant(row.ambient_c, 3)),
            &format!("{usable} of that at the reference; {printed}"),
        );
    }
    page.heading("What the published values leave open");
    page.item(
        "Preload share",
        &format!(
            "{} of the release travel; {} before anything was weighed",
            range(&answer.preload.share, percent),
            range(&answer.preload.before, percent)
        ),
    );
    for line in &answer.open {
        page.wrap("  * ", line);
    }
    for line in &answer.assumed {
        page.wrap("  assumed: ", line);
    }
    page.heading("Cautions");
    for line in &answer.cautions {
        page.wrap("  ! ", line);
    }
    page.finish()
}

fn cells(row: &FitRow) -> Vec<String> {
    let from = if row.after_multiple > 0.0 {
        format!("{} x", plain(round3(row.after_multiple)))
    } else {
        "cold".to_owned()
    };
    let published = match row.printed {
        Printed::Carried => "carried".to_owned(),
        Printed::Point { time_s, relative } => {
            format!("{} ± {} %", time(time_s), significant(100.0 * relative, 2))
        }
        Printed::Window {
            at_least_s,
            at_most_s,
        } => match at_most_s {
            Some(most) if at_least_s > 0.0 => format!("{} to {}", time(at_least_s), time(most)),
            Some(most) => format!("by {}", time(most)),
            None => format!("not before {}", time(at_least_s)),
        },
    };
    let published = if row.assumed {
        format!("(assumed) {published}")
    } else {
        published
    };
    let [low, median, high] = match &row.trip_s {
        // The slowest ones hold.
        Some(s) if row.holds > 0.0 => [
            time(s.low),
            if row.holds >= 0.5 {
                "holds".into()
            } else {
                time(s.median)
            },
            "holds".into(),
        ],
        Some(s) => [time(s.low), time(s.median), time(s.high)],
        None => ["holds", "holds", "holds"].map(str::to_owned),
    };
    let best = row.best_s.map_or("holds".to_owned(), time);
    let mark = match row.kept {
        Kept::Yes => "",
        Kept::TooSoon => "too soon",
        Kept::TooLate => "too late",
    };
    vec![from, published, low, median, high, best, mark.to_owned()]
}

fn range(spread: &Spread, show: impl Fn(f64) -> String) -> String {
    format!(
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
