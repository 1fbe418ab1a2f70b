//! Years of wear as blocks: late first, then early, what moves the life, the drift, the duty.

#[cfg(feature = "figures")]
mod files;
mod lives;
mod record;

#[cfg(feature = "figures")]
pub use files::write_age;
pub use record::{age_json, drift_csv, lives_csv};

use super::block::{Block, Table};
use super::cautions::in_words;
use super::number::{NONE, digits, fixed, plain, significant};
use super::run::cautions_at;
use super::words;
use crate::answer::{Held, Place, TripTime};
use crate::study::ageing::{AgeOutcome, Covered, DriftRow, Sensitivity};

/// Most rows of the drift.
const MOST_ROWS: usize = 9;

/// What a person reads after an ageing study.
pub fn age_blocks(outcome: &AgeOutcome) -> Vec<Block> {
    let list = in_words(&outcome.cautions);
    let mut blocks = vec![head(outcome), cautions_at(&list, &[Place::Top])];
    blocks.extend(lives::late_and_early(outcome));
    blocks.push(sensitivity(outcome));
    blocks.push(Block::heading(word!("4  Drift")));
    blocks.push(drift(outcome).into());
    blocks.push(Block::sentence(say!(
        "All from cold in air of {} °C, the reference; \"in service\" in the air of the duty.",
        plain(outcome.reference_ambient_c)
    )));
    blocks.push(Block::sentence(covered(outcome)));
    blocks.push(Block::heading(word!(
        "5  What the spring goes through in a year"
    )));
    blocks.extend(duty(outcome));
    blocks.push(Block::heading(word!("6  How sure")));
    blocks.push(Block::facts(sure(outcome)));
    let warnings = outcome.warnings.iter().map(words::age_warning);
    blocks.push(Block::warnings(warnings));
    blocks.push(Block::heading(word!("Cautions")));
    let places = [Place::BeforeWaits, Place::Testing, Place::End];
    blocks.push(cautions_at(&list, &places));
    blocks
}

fn head(outcome: &AgeOutcome) -> Block {
    let below = say!(
        "{}; wear over {} years; constants: {}; relatch {}{}",
        words::part_line(outcome.rated_current_a, outcome.mechanism, outcome.reset),
        plain(outcome.horizon_years),
        outcome.constants_from,
        outcome.version,
        words::changed(&outcome.changed)
    );
    Block::title(&outcome.scenario, below)
}

fn change(fraction: f64) -> String {
    let direction = if fraction < 0.0 {
        word!("shorter")
    } else {
        word!("longer")
    };
    format!("{} % {direction}", significant(100.0 * fraction.abs(), 2))
}

fn sensitivity(outcome: &AgeOutcome) -> Block {
    let s = &outcome.sensitivity;
    let mut said = vec![of_life(s)];
    said.push(say!(
        "1 % larger coefficient of relaxation also takes {} % of the preload more in {} years.",
        significant(-100.0 * s.preload_change_for_1_percent_coefficient, 2),
        plain(outcome.horizon_years)
    ));
    if let (Some(hand), Some(state)) = (s.current_in_hand_at_horizon, &s.state) {
        said.push(say!(
            "After {} years it holds {} times the current of \"{state}\".",
            plain(outcome.horizon_years),
            significant(hand, 4)
        ; state));
    }
    let said = said.into_iter().map(Block::sentence);
    Block::answer(word!("3  What moves the life in service?"), said)
}

fn of_life(s: &Sensitivity) -> String {
    let Some(current) = s.life_change_for_0_02_percent_current else {
        let why = s
            .missing
            .as_ref()
            .map_or(word!("not known").into(), words::no_sensitivity);
        return say!("No sensitivity of a life in service: {why}."; why);
    };
    let percent = (s.per_current.unwrap_or(0.0) * 0.01f64.ln_1p()).exp_m1();
    let coefficient = s.life_change_for_1_percent_coefficient;
    let coefficient = coefficient.map_or(String::new(), |coefficient| {
        say!(
            " 1 % larger coefficient of relaxation: {}. A life is never known better than this.",
            change(coefficient)
        )
    });
    say!(
        "0.02 % more current: {}; 1 % more current: {}.{coefficient}",
        change(current),
        change(percent)
    ; coefficient)
}

fn drift(outcome: &AgeOutcome) -> Table {
    let rows = &outcome.drift;
    let digits = digits(outcome.error_estimate.rows_relative).min(3);
    let of = |cell: &dyn Fn(&DriftRow) -> Option<String>| -> Vec<String> {
        let cells = rows.iter().map(cell);
        cells
            .map(|c| c.unwrap_or_else(|| NONE.to_owned()))
            .collect()
    };
    let current = |held: &Option<Held>| held.as_ref().map(|h| words::held(h, digits));
    let time = |time: &Option<TripTime>| time.as_ref().map(|t| words::trip_time(t, 3));
    let is_stuck = rows
        .iter()
        .any(|r| r.stuck_factor.is_some_and(|f| f != 1.0));
    let stuck = |r: &DriftRow| {
        let factor = r.stuck_factor.filter(|_| is_stuck)?;
        Some(format!("x {}", significant(factor, digits)))
    };
    let left = |r: &DriftRow| Some(format!("{} %", significant(100.0 * r.preload_left?, 3)));
    let years = rows.iter().map(|r| {
        let mark = if r.extrapolated { "*" } else { "" };
        format!("{}{mark}", plain(r.years))
    });
    Table::new("")
        .across()
        .numbers(word!("Years"), years)
        .numbers(word!("Preload left"), of(&left))
        .numbers(word!("Release force"), of(&stuck))
        .numbers(word!("Trip point"), of(&|r| current(&r.trip_point)))
        .numbers(
            word!("in service"),
            of(&|r| current(&r.trip_point_in_service)),
        )
        .numbers(word!("Trip at 2 x rated"), of(&|r| time(&r.trip_time_2x)))
        .numbers(word!("Trip at 6 x rated"), of(&|r| time(&r.trip_time_6x)))
        .numbers(
            word!("Wait for the reset"),
            of(&|r| r.relatch_wait.as_ref().map(|w| words::wait(w, 3))),
        )
        .reasons(rows.iter().map(why))
        .at_most(MOST_ROWS)
}

/// Why a row lacks numbers.
fn why(row: &DriftRow) -> Option<String> {
    match (&row.trip_point, &row.trip_time_2x, &row.relatch_wait) {
        (Some(point), Some(trip), Some(wait)) => words::row_why(point, trip, wait),
        _ => row.missing.as_ref().map(words::no_row),
    }
}

fn covered(outcome: &AgeOutcome) -> String {
    let text = words::covered(&outcome.covered);
    match outcome.covered.until_years() {
        Some(y) if y < outcome.horizon_years => say!(
            "* extrapolated, from {} on: until then {text}.",
            words::years(y)
        ; text),
        Some(y) => say!("Nothing is extrapolated: {text} (to {}).", words::years(y); text),
        None => match outcome.covered {
            Covered::NoTest => format!("* {text}."),
            _ => say!("* extrapolated: {text}."; text),
        },
    }
}

fn duty(outcome: &AgeOutcome) -> [Block; 2] {
    let said = say!(
        "{} h under stress a year; spring beside: {}; {}.",
        fixed(outcome.held_hours_a_year, 0),
        words::spring(&outcome.spring_beside),
        words::relaxation(&outcome.law)
    );
    let states = &outcome.duty;
    let celsius = |value: f64, decimals: usize| format!("{} °C", fixed(value, decimals));
    let current = states.iter().map(|d| match d.current_a > 0.0 {
        true => format!("{} A", significant(d.current_a, 3)),
        false => "0 A".to_owned(),
    });
    let share = states
        .iter()
        .map(|d| format!("{} %", fixed(100.0 * d.relaxation_share, 1)));
    let table = Table::new("")
        .text(word!("State"), states.iter().map(|d| d.state.clone()))
        .numbers(
            word!("hours"),
            states.iter().map(|d| fixed(d.hours_a_year, 0)),
        )
        .numbers(word!("current"), current)
        .numbers(word!("air"), states.iter().map(|d| celsius(d.ambient_c, 0)))
        .numbers(
            word!("spring"),
            states.iter().map(|d| celsius(d.spring_new_c, 1)),
        )
        .numbers(
            word!("in the end"),
            states.iter().map(|d| celsius(d.spring_end_c, 1)),
        )
        .numbers(word!("of the loss"), share);
    [Block::sentence(said), table.into()]
}

fn sure(outcome: &AgeOutcome) -> Vec<(&'static str, String)> {
    let e = &outcome.error_estimate;
    let rows = e
        .rows_relative
        .map_or(word!("not known").into(), |r| significant(r, 1));
    let error = say!(
        "preload left {} %, spring {} K, drift {rows}; {}",
        significant(100.0 * e.preload_left, 1),
        significant(e.spring_temperature_k, 1),
        words::age_effort(&e.computed_with)
    ; rows);
    let lives = &outcome.lives;
    let drawn: Vec<String> = lives.drawn.iter().map(words::drawn).collect();
    let units = match lives.missing {
        Some(why) => (word!("No spread of lives"), words::no_lives(why).to_owned()),
        None => (
            word!("Drawn"),
            say!(
                "{} units, seed {}: {}",
                lives.units,
                lives.seed,
                drawn.join("; ")
            ),
        ),
    };
    let left_out: Vec<&str> = outcome
        .not_modelled
        .iter()
        .map(|what| words::age_not_modelled(*what))
        .collect();
    vec![
        (word!("Numerical error"), error),
        units,
        (word!("Not modelled"), left_out.join("; ")),
    ]
}
