//! A screenful about years of wear: late first, then early, what moves the life, the drift, the duty.

use super::page::Page;
use crate::present::number::{digits, duration, finite, fixed, plain, significant};
use crate::study::ageing::{AgeOutcome, Date, DriftRow, LifeSummary, Share};

/// Most columns of the drift.
const COLUMNS: usize = 9;

/// What a person reads after an ageing study, at most 100 columns wide.
pub fn age_text(outcome: &AgeOutcome) -> String {
    let mut page = Page::default();
    page.wrap("", &outcome.scenario);
    page.wrap(
        "",
        &format!(
            "{} A {} | wear over {} years | constants: {} | relatch {}",
            plain(outcome.rated_current_a),
            outcome.mechanism,
            plain(outcome.horizon_years),
            outcome.constants_from,
            outcome.version
        ),
    );
    page.blank();
    for caution in outcome.cautions.iter().take(urgent(outcome)) {
        page.wrap("! ", caution);
    }
    late(&mut page, outcome);
    early(&mut page, outcome);
    sensitivity(&mut page, outcome);
    drift(&mut page, outcome);
    duty(&mut page, outcome);
    sure(&mut page, outcome);
    page.heading("Cautions");
    for caution in outcome.cautions.iter().skip(urgent(outcome)) {
        page.wrap("  ! ", caution);
    }
    page.finish()
}

/// How many cautions stand at the top: those about not switching on, with those about a late part before them.
fn urgent(outcome: &AgeOutcome) -> usize {
    let late = outcome
        .cautions
        .iter()
        .take_while(|c| c.starts_with("LATE"));
    late.count() + 2
}

fn years(value: f64) -> String {
    if value > 0.0 && value * 8766.0 < 1.0 {
        "less than an hour".to_owned()
    } else if value > 0.0 && value < 0.1 {
        format!("{} days", significant(value * 365.25, 2))
    } else {
        format!("{} years", significant(value, 3))
    }
}

fn date(date: &Date) -> String {
    match date.years {
        Some(0.0) => format!(
            "0 years: {}{}",
            date.reason.as_deref().unwrap_or("the new part already"),
            date.at
                .as_ref()
                .map(|at| format!(" ({at})"))
                .unwrap_or_default()
        ),
        Some(y) => {
            let error = finite(date.error_years)
                .map(|e| {
                    let below = e < 1.0 / 365.25;
                    let size = if below {
                        "below a day".to_owned()
                    } else {
                        years(e)
                    };
                    format!(" (numerical error {size})")
                })
                .unwrap_or_default();
            let at = date
                .at
                .as_ref()
                .map(|at| format!("; {at}"))
                .unwrap_or_default();
            format!("{}{at}{error}", years(y))
        }
        None => date.reason.clone().unwrap_or_default(),
    }
}

fn percent(share: &Share) -> String {
    let one = |v: f64| fixed(100.0 * v, 1);
    format!(
        "{} ({}-{}) %",
        one(share.share),
        one(share.low),
        one(share.high)
    )
}

fn late(page: &mut Page, outcome: &AgeOutcome) {
    page.heading("1  LATE: when does it no longer protect?");
    page.item(
        "Leaves its limits late",
        &date(&outcome.dates.leaves_limits_late),
    );
    if let Some(limits) = &outcome.limits {
        page.item("Limits", limits);
    }
    spread(page, outcome, outcome.lives.late.as_ref(), |y| y.late);
}

fn early(page: &mut Page, outcome: &AgeOutcome) {
    page.heading("2  EARLY: when does it trip its own load?");
    page.item("Trips in service", &date(&outcome.dates.trips_in_service));
    page.item(
        "Leaves its limits early",
        &date(&outcome.dates.leaves_limits_early),
    );
    if outcome.dates.preload_gone.years.is_some() {
        page.item("Preload gone", &date(&outcome.dates.preload_gone));
    }
    spread(page, outcome, outcome.lives.early.as_ref(), |y| y.early);
}

/// Quantiles, probability by year and fit of one direction.
fn spread(
    page: &mut Page,
    outcome: &AgeOutcome,
    summary: Option<&LifeSummary>,
    pick: fn(&crate::study::ageing::ByYear) -> Option<Share>,
) {
    let Some(summary) = summary else { return };
    let beyond = format!("over {}", plain(outcome.searched_years));
    let shown = |v: Option<f64>| v.map_or(beyond.clone(), |v| significant(v, 3));
    let [a, b, c] = summary.quantiles_years;
    page.item(
        "Life, 5 / 50 / 95 %",
        &format!("{} / {} / {} years", shown(a), shown(b), shown(c)),
    );
    let by: Vec<(String, String)> = outcome
        .lives
        .by_year
        .iter()
        .filter(|y| [1.0, 5.0, 10.0, 20.0].contains(&y.years) || y.years == outcome.horizon_years)
        .filter_map(|y| Some((plain(y.years), percent(&pick(y)?))))
        .collect();
    let text: Vec<String> = by
        .iter()
        .map(|(y, share)| format!("year {y}: {share}"))
        .collect();
    let last = outcome
        .lives
        .by_year
        .last()
        .and_then(|y| Some((y.years, pick(y)?)));
    match last {
        Some((y, share)) if share.share == 0.0 => page.item(
            "Probability",
            &format!(
                "none of {} units by year {} (at most {} %)",
                outcome.lives.units,
                plain(y),
                fixed(100.0 * share.high, 1)
            ),
        ),
        _ => page.item("Probability by", &text.join(", ")),
    }
    match (&summary.weibull, &summary.reason) {
        (Some(w), _) => {
            let good = match (w.fits, w.probability) {
                (Some(true), Some(p)) => format!("fits (p {})", significant(p, 2)),
                (Some(false), Some(p)) => format!(
                    "does NOT fit (p {}): use the quantiles, not the fit",
                    significant(p, 2)
                ),
                _ => "goodness not known".into(),
            };
            page.item(
                "Weibull",
                &format!(
                    "shape {}, scale {} years, tenth failed {} years; {good}",
                    significant(w.shape[0], 3),
                    significant(w.scale_years[0], 3),
                    significant(w.b10_years, 3)
                ),
            );
        }
        (None, Some(reason)) => page.item("Weibull", reason),
        (None, None) => {}
    }
}

fn change(fraction: f64) -> String {
    let direction = if fraction < 0.0 { "shorter" } else { "longer" };
    format!("{} % {direction}", significant(100.0 * fraction.abs(), 2))
}

fn sensitivity(page: &mut Page, outcome: &AgeOutcome) {
    let s = &outcome.sensitivity;
    page.heading("3  What moves the early life");
    match (
        s.life_change_for_0_02_percent_current,
        s.life_change_for_1_percent_coefficient,
    ) {
        (Some(current), coefficient) => {
            page.wrap(
                "  ",
                &format!(
                    "0.02 % more current: {}; 1 % more current: {}.",
                    change(current),
                    change((s.per_current.unwrap_or(0.0) * 0.01f64.ln_1p()).exp_m1())
                ),
            );
            if let Some(coefficient) = coefficient {
                page.wrap(
                    "  ",
                    &format!(
                        "1 % larger coefficient of relaxation: {}. A life is never known better than this.",
                        change(coefficient)
                    ),
                );
            }
        }
        _ => page.wrap(
            "  ",
            &format!(
                "No sensitivity of a life: {}.",
                s.reason.as_deref().unwrap_or("not known")
            ),
        ),
    }
    page.wrap(
        "  ",
        &format!(
            "1 % larger coefficient of relaxation also takes {} % of the preload more in {} years.",
            significant(-100.0 * s.preload_change_for_1_percent_coefficient, 2),
            plain(outcome.horizon_years)
        ),
    );
    if let (Some(hand), Some(state)) = (s.current_in_hand_at_horizon, &s.state) {
        page.wrap(
            "  ",
            &format!(
                "After {} years it holds {} times the current of \"{state}\".",
                plain(outcome.horizon_years),
                significant(hand, 4)
            ),
        );
    }
}

fn drift(page: &mut Page, outcome: &AgeOutcome) {
    page.heading("4  Drift");
    let rows = picked(&outcome.drift);
    let digits = digits(outcome.error_estimate.rows_relative).min(3);
    let cells = |cell: &dyn Fn(&DriftRow) -> String| rows.iter().map(|r| cell(r)).collect();
    let number = |v: Option<f64>| v.map_or("–".to_owned(), |v| significant(v, digits));
    let time = |v: Option<f64>| v.map_or("–".to_owned(), |v| duration(v, 3));
    let mut table = vec![
        (
            "Years",
            cells(&|r| {
                let mark = if r.extrapolated { "*" } else { "" };
                format!("{}{mark}", plain(r.years))
            }),
        ),
        (
            "Preload left, %",
            cells(&|r| {
                r.preload_left
                    .map_or("–".into(), |v| significant(100.0 * v, 3))
            }),
        ),
    ];
    if outcome
        .drift
        .iter()
        .any(|r| r.stuck_factor.is_some_and(|f| f != 1.0))
    {
        table.push(("Release force, times", cells(&|r| number(r.stuck_factor))));
    }
    table.extend([
        ("Trip point, A", cells(&|r| number(r.trip_point_a))),
        (
            "  in service, A",
            cells(&|r| number(r.trip_point_in_service_a)),
        ),
        ("Trip at 2 x rated", cells(&|r| time(r.trip_time_2x_s))),
        ("Trip at 6 x rated", cells(&|r| time(r.trip_time_6x_s))),
        ("Wait for the reset", cells(&|r| time(r.relatch_wait_s))),
    ]);
    page.table(&table);
    page.wrap("  ", &covered(outcome));
}

fn covered(outcome: &AgeOutcome) -> String {
    let text = &outcome.covered.text;
    match outcome.covered.until_years {
        Some(y) if y < outcome.horizon_years => {
            format!("* extrapolated, from {} on: until then {text}.", years(y))
        }
        Some(y) => format!("Nothing is extrapolated: {text} (to {}).", years(y)),
        None => format!("* extrapolated: {text}."),
    }
}

/// At most so many rows as fit, first and last among them.
fn picked(rows: &[DriftRow]) -> Vec<&DriftRow> {
    let last = rows.len().saturating_sub(1);
    let count = rows.len().min(COLUMNS);
    let mut list: Vec<&DriftRow> = Vec::new();
    for k in 0..count {
        let at = if count > 1 { k * last / (count - 1) } else { 0 };
        list.push(&rows[at]);
    }
    list
}

fn duty(page: &mut Page, outcome: &AgeOutcome) {
    page.heading("5  What the spring goes through in a year");
    page.wrap(
        "  ",
        &format!(
            "{} h under stress a year; spring beside: {}; {}.",
            fixed(outcome.held_hours_a_year, 0),
            outcome.spring_beside,
            outcome.law
        ),
    );
    let mut rows: Vec<(&str, Vec<String>)> = vec![(
        "",
        [
            "hours",
            "A",
            "air °C",
            "spring °C",
            "in the end",
            "of the loss",
        ]
        .map(str::to_owned)
        .to_vec(),
    )];
    let names: Vec<String> = outcome.duty.iter().map(|d| shortened(&d.state)).collect();
    for (state, name) in outcome.duty.iter().zip(&names) {
        rows.push((
            name.as_str(),
            vec![
                fixed(state.hours_a_year, 0),
                if state.current_a > 0.0 {
                    significant(state.current_a, 3)
                } else {
                    "0".into()
                },
                fixed(state.ambient_c, 0),
                fixed(state.spring_new_c, 1),
                fixed(state.spring_end_c, 1),
                format!("{} %", fixed(100.0 * state.relaxation_share, 1)),
            ],
        ));
    }
    page.table(&rows);
}

/// A name that leaves room for the numbers beside it.
fn shortened(name: &str) -> String {
    const MOST: usize = 36;
    if name.chars().count() <= MOST {
        return name.to_owned();
    }
    let kept: String = name.chars().take(MOST - 1).collect();
    format!("{}…", kept.trim_end())
}

fn sure(page: &mut Page, outcome: &AgeOutcome) {
    page.heading("6  How sure");
    let e = &outcome.error_estimate;
    page.item(
        "Numerical error",
        &format!(
            "preload left {} %, spring {} K, table {}",
            significant(100.0 * e.preload_left, 1),
            significant(e.spring_temperature_k, 1),
            e.rows_relative
                .map_or("not known".into(), |r| significant(r, 1))
        ),
    );
    if outcome.lives.drawn.is_empty() {
        if let Some(reason) = &outcome.lives.reason {
            page.item("No spread of lives", reason);
        }
    } else {
        page.item(
            "Drawn",
            &format!(
                "{} units, seed {}: {}",
                outcome.lives.units,
                outcome.lives.seed,
                outcome.lives.drawn.join("; ")
            ),
        );
    }
    page.item("Not modelled", &outcome.not_modelled.join("; "));
    for warning in &outcome.warnings {
        page.wrap("  * ", warning);
    }
}
