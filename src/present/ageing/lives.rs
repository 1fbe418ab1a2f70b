//! The two questions about a life: late, and early. They are never added up.

use crate::present::block::Block;
use crate::present::language::worded;
use crate::present::number::{fixed, plain, significant};
use crate::present::words;
use crate::statistics::rates::Rate;
use crate::study::ageing::{AgeOutcome, ByYear, LifeSummary, WeibullRecord};

/// Years of which the probability is shown, beside the horizon.
const SHOWN: [f64; 4] = [1.0, 5.0, 10.0, 20.0];

type Facts = Vec<(&'static str, String)>;

/// Both.
pub(super) fn late_and_early(outcome: &AgeOutcome) -> [Block; 2] {
    let (dates, lives) = (&outcome.dates, &outcome.lives);
    let mut late = vec![(
        word!("Leaves its limits late"),
        words::date(&dates.leaves_limits_late),
    )];
    let limits = outcome.limits.as_deref().map(worded);
    late.extend(limits.map(|name| (word!("Limits"), name.to_owned())));
    let missed = outcome.missed_as_new.iter();
    late.extend(missed.map(|row| (word!("Missed as new"), words::demand_in_air(*row))));
    late.extend(spread(outcome, lives.late.as_ref(), |y| y.late));
    let mut early = vec![
        (
            word!("Trips in service"),
            words::date(&dates.trips_in_service),
        ),
        (
            word!("Leaves its limits early"),
            words::date(&dates.leaves_limits_early),
        ),
    ];
    if dates.preload_gone.years().is_some() {
        early.push((word!("Preload gone"), words::date(&dates.preload_gone)));
    }
    early.extend(spread(outcome, lives.early.as_ref(), |y| y.early));
    [
        Block::answer(
            word!("1  LATE: when does it no longer protect?"),
            [Block::facts(late)],
        ),
        Block::answer(
            word!("2  EARLY: when does it trip its own load?"),
            [Block::facts(early)],
        ),
    ]
}

/// Quantiles, probability by year and fit of one direction.
fn spread(
    outcome: &AgeOutcome,
    summary: Option<&LifeSummary>,
    pick: fn(&ByYear) -> Option<Rate>,
) -> Facts {
    let Some(summary) = summary else {
        return Facts::new();
    };
    let beyond = say!("over {}", plain(outcome.searched_years));
    let quantiles = summary
        .quantiles_years
        .map(|v| v.map_or(beyond.clone(), |v| significant(v, 3)));
    vec![
        (
            word!("Life, 5 / 50 / 95 %"),
            say!("{} years", quantiles.join(" / ")),
        ),
        probability(outcome, pick),
        (word!("Weibull"), fit(outcome, summary)),
    ]
}

fn probability(outcome: &AgeOutcome, pick: fn(&ByYear) -> Option<Rate>) -> (&'static str, String) {
    let by_year = &outcome.lives.by_year;
    if let Some((last, share)) = by_year.last().and_then(|y| Some((y, pick(y)?)))
        && share.share == 0.0
    {
        let none = say!(
            "none of {} units by year {} (at most {} %)",
            outcome.lives.units,
            plain(last.years),
            fixed(100.0 * share.high, 1)
        );
        return (word!("Probability"), none);
    }
    let is_shown = |y: f64| SHOWN.contains(&y) || y == outcome.horizon_years;
    let shown = by_year.iter().filter(|y| is_shown(y.years));
    let said: Vec<String> = shown
        .filter_map(|y| Some(say!("year {}: {}", plain(y.years), percent(&pick(y)?))))
        .collect();
    (word!("Probability by"), said.join(", "))
}

fn percent(share: &Rate) -> String {
    // Drawn units never make certain.
    let one = |v: f64| match 100.0 * v {
        p if p >= 99.95 => say!("above {} %", fixed(99.9, 1)),
        p if p < 0.05 => say!("below {} %", fixed(0.1, 1)),
        p => format!("{} %", fixed(p, 1)),
    };
    say!(
        "{} ({} to {})",
        one(share.share),
        one(share.low),
        one(share.high)
    )
}

fn fit(outcome: &AgeOutcome, summary: &LifeSummary) -> String {
    match (&summary.weibull, &summary.no_fit) {
        (Some(w), _) => say!(
            "shape {}, scale {} years, tenth failed {} years; {}",
            significant(w.shape[0], 3),
            significant(w.scale_years[0], 3),
            significant(w.b10_years, 3),
            goodness(w)
        ),
        (None, Some(why)) => words::no_fit(why, summary.failed_new, outcome.searched_years),
        (None, None) => word!("not known").to_owned(),
    }
}

fn goodness(w: &WeibullRecord) -> String {
    match (w.fits, w.probability) {
        (Some(true), Some(p)) => say!("fits (p {})", significant(p, 2)),
        (Some(false), Some(p)) => say!(
            "does NOT fit (p {}): use the quantiles, not the fit",
            significant(p, 2)
        ),
        _ => word!("goodness not known").to_owned(),
    }
}
