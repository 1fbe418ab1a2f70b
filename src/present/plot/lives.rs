//! Distribution of lives: share of units that have failed, late and early apart, and the fitted
//! Weibull curve.

use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Datum, Foot, Item, Line, Panel, extent};
use crate::present::number::significant;
use crate::study::ageing::{AgeOutcome, LifeSummary};

/// Draws the figure; `None` when no unit failed after its first day.
pub(super) fn figure(outcome: &AgeOutcome) -> Option<Chart> {
    let lives = &outcome.lives;
    let late = word!("late: no longer protects as its limits demand");
    let all = [
        (late, &lives.late, stroke(EMBER, 7, SOLID)),
        (
            word!("early: trips its own load"),
            &lives.early,
            stroke(LAKE, 7, LONG),
        ),
    ];
    let years = all.iter().flat_map(|(_, s, _)| points(s)).map(|(y, _)| y);
    let (low, high) = extent(years)?;
    let x = Axis::log(
        word!("Years of duty"),
        low.min(0.5 * outcome.horizon_years) * 0.8,
        (high.max(outcome.horizon_years) * 1.25).min(outcome.searched_years * 1.05),
    );
    let mut items = vec![Item::upright(
        outcome.horizon_years,
        stroke(QUIET, 4, DOTTED),
        word!("horizon"),
    )];
    let mut none = Vec::new();
    for (name, summary, stroke) in all {
        let data = points(summary);
        if data.len() > 1 {
            items.push(Line::new(data, stroke).named(name).into());
            items.extend(fit(&x, summary));
        } else if summary.is_some() {
            none.push(say!("{name}: (almost) none within the time searched"; name));
        }
    }
    let y = Axis::linear(word!("Units that have failed, %"), 0.0, 104.0, 5);
    let subtitle = say!(
        "{} | {} units, seed {}; late and early are two questions and are never added up",
        outcome.scenario,
        lives.units,
        lives.seed
    );
    let title = word!("Lives of units with uncertain constants");
    let columns = vec![Column::of(vec![Panel::new(x, y, items)])];
    Chart::new("lives", title, subtitle, columns)
        .with_foot(vec![Foot::Note(none.join("; "))])
        .described(
            word!("Share of drawn units that have failed against years, for the late and the early direction, \
             each with its fitted Weibull distribution."),
        )
}

/// Years and percent that failed.
fn points(summary: &Option<LifeSummary>) -> Vec<Datum> {
    let curve = summary.iter().flat_map(|s| &s.curve);
    let after_new = curve.filter(|(years, _)| *years > 0.0);
    after_new
        .map(|(years, share)| (*years, 100.0 * share))
        .collect()
}

/// The fitted curve, dotted.
fn fit(x: &Axis, summary: &Option<LifeSummary>) -> Option<Item> {
    let summary = summary.as_ref()?;
    let w = summary.weibull.as_ref()?;
    // Units that fail new are not part of the fit.
    let units = summary
        .curve
        .last()
        .map_or(1.0, |(_, share)| summary.failed as f64 / share.max(1e-12));
    let new = summary.failed_new as f64 / units;
    let at = |k: i32| {
        let years = x.value(f64::from(k) / 160.0);
        let failed = -(-(years / w.scale_years[0]).powf(w.shape[0])).exp_m1();
        (years, 100.0 * (new + (1.0 - new) * failed))
    };
    let verdict = match w.fits {
        Some(false) => word!(", does not fit"),
        _ => "",
    };
    let text = say!("Weibull, shape {}{verdict}", significant(w.shape[0], 2); verdict);
    let line = Line::new((0..=160).map(at).collect(), stroke(PLUM, 4, DOTTED));
    Some(line.named(text).into())
}
