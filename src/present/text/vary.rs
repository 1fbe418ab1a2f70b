//! A population on a screen: late and early first, then the scatter, then what matters.

use super::page::Page;
use crate::present::number::{NONE, duration, give_or_take, plain, significant};
use crate::study::population::{Quantile, Rate, SingleUnit, SpreadRecord, VaryOutcome};

/// Inputs listed under "what matters".
const MOST_INPUTS: usize = 8;

/// What a person reads after a population is computed.
pub fn vary_text(outcome: &VaryOutcome) -> String {
    let mut page = Page::default();
    head(&mut page, outcome);
    demands(&mut page, outcome);
    scatter(&mut page, outcome);
    matters(&mut page, outcome);
    sure(&mut page, outcome);
    if !outcome.warnings.is_empty() {
        page.heading("Warnings");
        for warning in &outcome.warnings {
            page.wrap("  * ", warning);
        }
    }
    page.heading("Cautions");
    for caution in &outcome.cautions {
        page.wrap("  ! ", caution);
    }
    page.finish()
}

fn head(page: &mut Page, outcome: &VaryOutcome) {
    page.wrap("", &outcome.scenario);
    page.wrap(
        "",
        &format!(
            "{} units, {} design, seed {} | rated {} A, air {} °C | relatch {}",
            outcome.units,
            outcome.design,
            outcome.seed,
            plain(outcome.rated_current_a),
            plain(outcome.ambient_c),
            outcome.version
        ),
    );
    let setting = match &outcome.setting {
        Some(words) => format!("Each unit's {words}."),
        None => "No factory setting: clearances are as they come.".to_owned(),
    };
    page.wrap("", &setting);
}

fn demands(page: &mut Page, outcome: &VaryOutcome) {
    page.heading("1  Too late, or too early?");
    let load = &outcome.load;
    page.wrap(
        "  ",
        &format!(
            "This load, {} A ({} x rated): {}.",
            significant(load.current_a, 3),
            significant(load.multiple, 3),
            load.demand
        ),
    );
    if let Some(rate) = &load.fails_to_protect {
        page.item("Fails to protect", &rate_words(rate, outcome.confidence));
    }
    if let Some(rate) = &load.nuisance {
        page.item("Trips without need", &rate_words(rate, outcome.confidence));
    }
    if outcome.limits.is_empty() {
        return;
    }
    page.wrap(
        "  ",
        &format!(
            "Against published limits at {} °C, in parentheses the {} % interval:",
            outcome.limits.first().map_or(0.0, |l| l.ambient_c),
            plain(100.0 * outcome.confidence)
        ),
    );
    let row = |text: &str, late: &str, early: &str| format!("  {text:<44}{late:>26}{early:>26}");
    page.push(row("", "late", "early"));
    for limit in &outcome.limits {
        let late = limit
            .at_most_s
            .map_or(NONE.to_owned(), |_| cell(&limit.sides.late));
        let carried = limit.at_most_s.is_none();
        let early = if carried || limit.at_least_s.is_some() {
            cell(&limit.sides.early)
        } else {
            NONE.to_owned()
        };
        if limit.text.chars().count() > 44 {
            page.wrap("  ", &limit.text);
            page.push(row("", &late, &early));
        } else {
            page.push(row(&limit.text, &late, &early));
        }
    }
    if let Some(any) = &outcome.any_limit {
        page.push(row("at any of them", &cell(&any.late), &cell(&any.early)));
    }
    if let Some(source) = &outcome.limits_source {
        page.wrap("  Limits: ", source);
    }
}

fn scatter(page: &mut Page, outcome: &VaryOutcome) {
    page.heading("2  How widely do they scatter?");
    let row = |cells: [String; 6]| {
        let [name, nominal, low, middle, high, deviation] = cells;
        format!("  {name:<24}{nominal:>11}{low:>13}{middle:>13}{high:>13}{deviation:>21}")
    };
    let words = |texts: [&str; 6]| row(texts.map(str::to_owned));
    page.push(words([
        "",
        "nominal",
        "5 %",
        "50 %",
        "95 %",
        "std. deviation",
    ]));
    let ampere = |v: f64| format!("{} A", significant(v, 4));
    let time = |v: f64| duration(v, 3);
    let length = |v: f64| format!("{} mm", significant(v, 4));
    type Say<'s> = &'s dyn Fn(f64) -> String;
    let short = |unit: &'static str| move |v: f64| format!("{} {unit}", significant(v, 2));
    let (short_a, short_s, short_mm) = (short("A"), short("s"), short("mm"));
    let all: [(&str, &SpreadRecord, Say<'_>, Say<'_>); 4] = [
        ("Trip point", &outcome.trip_point_a, &ampere, &short_a),
        (
            "Trip time, this load",
            &outcome.trip_time_s,
            &time,
            &short_s,
        ),
        (
            "Wait for the reset",
            &outcome.relatch_wait_s,
            &time,
            &short_s,
        ),
        ("Clearance", &outcome.clearance_mm, &length, &short_mm),
    ];
    for (name, spread, say, deviation) in all {
        if spread.quantiles.is_empty() {
            continue;
        }
        let at = |k: usize| {
            let q: Option<&Quantile> = spread.quantiles.get(k);
            q.map_or(NONE.to_owned(), |q| q.value.map_or("never".to_owned(), say))
        };
        let relative = spread
            .deviation
            .zip(spread.mean)
            .filter(|(_, mean)| *mean != 0.0)
            .map_or(String::new(), |(d, m)| {
                format!(" ({} %)", significant(100.0 * d / m.abs(), 2))
            });
        page.push(row([
            name.to_owned(),
            spread.nominal.map_or(NONE.to_owned(), say),
            at(0),
            at(1),
            at(2),
            format!(
                "{}{relative}",
                spread.deviation.map_or(NONE.to_owned(), deviation)
            ),
        ]));
    }
}

fn matters(page: &mut Page, outcome: &VaryOutcome) {
    page.heading("3  Which tolerance matters?");
    let row = |path: &str, tolerance: &str, cells: [String; 3]| {
        let [point, time, swing] = cells;
        format!("  {path:<30}{tolerance:>10}{point:>18}{time:>18}{swing:>20}")
    };
    page.push(row(
        "",
        "tolerance",
        [
            "of the trip point".to_owned(),
            "of the trip time".to_owned(),
            "trip point, 5-95 %".to_owned(),
        ],
    ));
    let index = |quantity: usize, path: &str| {
        let all = outcome
            .sensitivity
            .get(quantity)
            .map(|s| s.indices.as_slice());
        all.unwrap_or_default()
            .iter()
            .find(|i| i.path == path)
            .map_or(NONE.to_owned(), |i| {
                let half = 0.5 * (i.total_interval.1 - i.total_interval.0);
                give_or_take(100.0 * i.total, 100.0 * half, "%")
            })
    };
    for bar in outcome.tornado.iter().take(MOST_INPUTS) {
        let input = outcome.inputs.iter().find(|i| i.path == bar.path);
        let tolerance = input.map_or(String::new(), |i| match i.relative {
            Some(r) => format!("{} %", significant(100.0 * r, 2)),
            None => i.deviation.clone(),
        });
        let swing = match bar.trip_points_a {
            [Some(a), Some(b)] => format!("{} to {} A", significant(a, 4), significant(b, 4)),
            _ => NONE.to_owned(),
        };
        page.push(row(
            &bar.path,
            &tolerance,
            [index(0, &bar.path), index(1, &bar.path), swing],
        ));
    }
    if outcome.tornado.len() > MOST_INPUTS {
        page.wrap("  ", "Further inputs: result.json.");
    }
    page.wrap(
        "  ",
        "Shares of the variance that would stay if all other inputs were known (total Sobol index); they \
         may add up to more than 100 %.",
    );
}

fn sure(page: &mut Page, outcome: &VaryOutcome) {
    page.heading("How sure");
    let accuracy = &outcome.accuracy;
    let how = if accuracy.side_by_side {
        format!(
            "units side by side to {:.0e}, trimmed by at most {:.1e} to the nominal unit alone; {} asked alone",
            accuracy.relative, accuracy.largest_trim, outcome.asked_alone
        )
    } else {
        format!("every unit alone, to {:.0e}", accuracy.relative)
    };
    page.item("Numerics", &how);
    let batches: Vec<String> = outcome
        .inputs
        .iter()
        .filter_map(|i| {
            let shared = i.shared?;
            Some(format!(
                "{} {:.0} % by {}",
                i.path,
                100.0 * shared,
                i.batch.clone()?
            ))
        })
        .collect();
    if !batches.is_empty() {
        page.item("Shared in batches", &batches.join("; "));
        let words = format!(
            "units of one batch are alike: {} of them say as much as {} independent ones, and the \
             intervals allow for it",
            outcome.units, outcome.effective_units
        );
        page.item("", &words);
    }
    page.item(
        "Not in it",
        "what moves all units alike: alloy data, heat given to still air, the model itself",
    );
    if outcome.failed > 0 {
        page.item(
            "Units without answers",
            &format!("{} of {}", outcome.failed, outcome.units),
        );
        for (reason, count) in &outcome.reasons {
            page.wrap("    ", &format!("{count} x {reason}"));
        }
        if let Some(first) = outcome.failures.first() {
            page.wrap("    ", &format!("in full: --unit {}", first.unit));
        }
    }
}

fn percent(share: f64) -> String {
    if share == 0.0 {
        "0 %".to_owned()
    } else {
        format!("{} %", significant(100.0 * share, 2))
    }
}

fn cell(rate: &Rate) -> String {
    format!(
        "{} ({} to {})",
        percent(rate.share),
        percent(rate.low),
        percent(rate.high)
    )
}

fn rate_words(rate: &Rate, confidence: f64) -> String {
    format!(
        "{} of {}: {}; {} % interval {} to {}",
        rate.units,
        rate.of,
        percent(rate.share),
        plain(100.0 * confidence),
        percent(rate.low),
        percent(rate.high)
    )
}

/// One unit in full.
pub fn single_text(unit: &SingleUnit) -> String {
    let mut page = Page::default();
    page.wrap("", &format!("{}, unit {}", unit.scenario, unit.unit));
    page.heading("Its numbers");
    for (path, _, words) in &unit.inputs {
        page.item(path, words);
    }
    page.heading("Its answers");
    if let Some(why) = &unit.failed {
        page.wrap("  ", &format!("None: {why}."));
        return page.finish();
    }
    let or =
        |v: Option<f64>, say: &dyn Fn(f64) -> String, other: &str| v.map_or(other.to_owned(), say);
    let time = |v: f64| duration(v, 4);
    page.item(
        "Clearance",
        &or(
            unit.clearance_mm,
            &|v| format!("{} mm", significant(v, 4)),
            NONE,
        ),
    );
    page.item(
        "Trip point",
        &or(
            unit.trip_point_a,
            &|v| format!("{} A", significant(v, 4)),
            "none",
        ),
    );
    page.item(
        "Trip time, this load",
        &or(unit.trip_time_s, &time, "holds for ever"),
    );
    page.item("Wait for the reset", &or(unit.relatch_wait_s, &time, NONE));
    for (current_a, time_s) in &unit.bands {
        page.item(
            &format!("Trip time at {} A", significant(*current_a, 4)),
            &or(*time_s, &time, "holds for ever"),
        );
    }
    if unit.asked_alone {
        page.wrap("  ", "It had to be asked alone.");
    }
    page.finish()
}
