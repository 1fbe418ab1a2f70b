//! A population as blocks: late and early first, then the scatter, then what matters.

use crate::answer::Place;
use crate::present::block::{Block, Table};
use crate::present::cautions::in_words;
use crate::present::json::{beside_codes, serialised, with_text};
use crate::present::language::{recorded, worded};
use crate::present::number::{NONE, duration, give_or_take, plain, power_of_ten, significant};
use crate::present::run::cautions_at;
use crate::present::words;
use crate::study::population::{Rate, SingleUnit, SpreadRecord, VaryOutcome};
use serde_json::json;

/// Inputs listed under "what matters".
const MOST_INPUTS: usize = 8;

/// The record as indented JSON with a final newline, each caution with its words.
///
/// # Errors
/// When it cannot be serialised.
pub fn vary_json(outcome: &VaryOutcome) -> Result<String, serde_json::Error> {
    recorded(|| {
        let mut value = serde_json::to_value(outcome)?;
        beside_codes(&mut value, "cautions", &outcome.cautions, |c| {
            words::caution(*c).into()
        });
        beside_codes(
            &mut value,
            "warnings",
            &outcome.warnings,
            words::vary_warning,
        );
        beside_codes(&mut value, "inputs", &outcome.inputs, words::input);
        beside_codes(&mut value, "limits", &outcome.limits, |l| {
            words::demand(l.demand)
        });
        let mut say =
            |path: String, text: String| with_text(&mut value, &path, "text", json!(text));
        if let Some(set) = &outcome.setting {
            say("/setting".to_owned(), words::set_at(set));
        }
        let demand = words::load_demand(&outcome.load);
        say("/load/demand".to_owned(), demand);
        for (k, bar) in outcome.tornado.iter().enumerate() {
            let texts = bar.ends.map(|end| words::end(end, bar.dimension));
            with_text(&mut value, &format!("/tornado/{k}"), "texts", json!(texts));
        }
        serialised(&value)
    })
}

/// What a person reads after a population is computed.
pub fn vary_blocks(outcome: &VaryOutcome) -> Vec<Block> {
    let list = in_words(&outcome.cautions);
    let mut blocks = head(outcome).to_vec();
    blocks.push(cautions_at(&list, &[Place::Top]));
    blocks.push(demands(outcome));
    blocks.push(Block::heading(word!("2  How widely do they scatter?")));
    blocks.push(scatter(outcome).into());
    blocks.push(Block::heading(word!("3  Which tolerance matters?")));
    blocks.extend(matters(outcome));
    blocks.push(Block::heading(word!("How sure")));
    blocks.push(Block::facts(sure(outcome)));
    blocks.push(Block::warnings(
        outcome.warnings.iter().map(words::vary_warning),
    ));
    blocks.push(Block::heading(word!("Cautions")));
    blocks.push(cautions_at(&list, &[Place::End]));
    blocks
}

fn head(outcome: &VaryOutcome) -> [Block; 2] {
    let below = say!(
        "{} units, {} design, seed {}; rated {} A, air {} °C; relatch {}{}",
        outcome.units,
        outcome.design,
        outcome.seed,
        plain(outcome.rated_current_a),
        plain(outcome.ambient_c),
        outcome.version,
        words::changed(&outcome.changed)
    );
    let setting = match &outcome.setting {
        Some(set) => say!("Each unit's {}.", words::set_at(set)),
        None => word!("No factory setting: clearances are as they come.").to_owned(),
    };
    [
        Block::title(&outcome.scenario, below),
        Block::sentence(setting),
    ]
}

fn demands(outcome: &VaryOutcome) -> Block {
    let load = &outcome.load;
    let mut blocks = vec![Block::sentence(say!(
        "This load, {} A ({} x rated): {}.",
        significant(load.current_a, 3),
        significant(load.multiple, 3),
        words::load_demand(load)
    ))];
    let rates = [
        (word!("Fails to protect"), &load.fails_to_protect),
        (word!("Trips without need"), &load.nuisance),
    ];
    let known = rates.into_iter().filter_map(|(name, rate)| {
        let rate = rate.as_ref()?;
        Some((name, rate_words(rate, outcome.confidence)))
    });
    blocks.push(Block::facts(known));
    if let Some(first) = outcome.limits.first() {
        let caption = say!(
            "Against published limits at {} °C, in parentheses the {} % interval",
            plain(first.ambient_c),
            plain(100.0 * outcome.confidence)
        );
        blocks.push(limits(outcome, caption).into());
        if outcome.limits.iter().any(|l| l.missed_by_nominal) {
            let text = word!("* Missed by the nominal unit itself; left out of the last row.");
            blocks.push(Block::sentence(text));
        }
        let source = outcome.limits_source.as_ref();
        let source = source.map(|source| worded(source));
        blocks.extend(source.map(|source| Block::sentence(say!("Limits: {source}"; source))));
    }
    let elements = outcome.instantaneous.iter();
    blocks.extend(elements.map(|found| Block::sentence(words::instantaneous(found))));
    Block::answer(word!("1  Too late, or too early?"), blocks)
}

fn limits(outcome: &VaryOutcome, caption: String) -> Table {
    let mut rows: Vec<[String; 3]> = Vec::new();
    for limit in &outcome.limits {
        let carried = limit.demand.at_most_s.is_none();
        let asks_early = carried || limit.demand.at_least_s.is_some();
        let told = |asked: bool, rate: &Rate| match asked {
            true => cell(rate),
            false => NONE.to_owned(),
        };
        rows.push([
            words::demand(limit.demand) + if limit.missed_by_nominal { " *" } else { "" },
            told(!carried, &limit.sides.late),
            told(asks_early, &limit.sides.early),
        ]);
    }
    if let Some(any) = &outcome.any_limit {
        rows.push([
            word!("at any of them").to_owned(),
            cell(&any.late),
            cell(&any.early),
        ]);
    }
    let column = |k: usize| rows.iter().map(move |row| row[k].clone());
    Table::new(caption)
        .text(word!("Limit"), column(0))
        .numbers(word!("late"), column(1))
        .numbers(word!("early"), column(2))
}

fn scatter(outcome: &VaryOutcome) -> Table {
    let ampere = |v: f64, digits: usize| format!("{} A", significant(v, digits));
    let length = |v: f64, digits: usize| format!("{} mm", significant(v, digits));
    let time = |v: f64, digits: usize| duration(v, digits.min(3));
    type Say<'s> = &'s dyn Fn(f64, usize) -> String;
    let all: [(&str, &SpreadRecord, Say<'_>); 4] = [
        (word!("Trip point"), &outcome.trip_point_a, &ampere),
        (word!("Trip time, this load"), &outcome.trip_time_s, &time),
        (word!("Wait for the reset"), &outcome.relatch_wait_s, &time),
        (word!("Clearance"), &outcome.clearance_mm, &length),
    ];
    let told = all.iter().filter(|(_, s, _)| !s.quantiles.is_empty());
    let reasons: Vec<_> = told.clone().map(|(_, s, _)| of_some(s)).collect();
    let rows: Vec<[String; 6]> = told
        .map(|(name, spread, say)| {
            let or_none = |v: Option<f64>, digits| v.map_or(NONE.to_owned(), |v| say(v, digits));
            let at = |k: usize| match spread.quantiles.get(k) {
                Some(q) => q.value.map_or(words::never().to_owned(), |v| say(v, 4)),
                None => NONE.to_owned(),
            };
            let relative = spread.deviation.zip(spread.mean);
            let relative = relative
                .filter(|(_, mean)| *mean != 0.0)
                .map(|(d, m)| format!(" ({} %)", significant(100.0 * d / m.abs(), 2)));
            let deviation = or_none(spread.deviation, 2) + &relative.unwrap_or_default();
            let nominal = match spread.nominal_never {
                true => words::never().to_owned(),
                false => or_none(spread.nominal, 4),
            };
            [(*name).to_owned(), nominal, at(0), at(1), at(2), deviation]
        })
        .collect();
    let column = |k: usize| rows.iter().map(move |row| row[k].clone());
    Table::new("")
        .text(word!("Of"), column(0))
        .numbers(word!("nominal"), column(1))
        .numbers("5 %", column(2))
        .numbers("50 %", column(3))
        .numbers("95 %", column(4))
        .numbers(word!("std. deviation"), column(5))
        .reasons(reasons)
}

/// Of whom the deviation is, where others never come to it.
fn of_some(spread: &SpreadRecord) -> Option<String> {
    let share = spread.finite as f64 / (spread.finite + spread.never) as f64;
    (spread.never > 0 && spread.finite > 0).then(|| {
        say!(
            "the deviation is that of the {} of units for which it comes",
            percent(share)
        )
    })
}

fn matters(outcome: &VaryOutcome) -> Vec<Block> {
    let bars = &outcome.tornado[..outcome.tornado.len().min(MOST_INPUTS)];
    let index = |quantity: usize| {
        let all = outcome.sensitivity.get(quantity);
        let all = all.map_or(&[][..], |s| &s.indices[..]);
        bars.iter().map(move |bar| {
            let found = all.iter().find(|i| i.path == bar.path);
            found.map_or(NONE.to_owned(), |i| {
                let half = 0.5 * (i.total_interval.1 - i.total_interval.0);
                give_or_take(100.0 * i.total, 100.0 * half, "%")
            })
        })
    };
    let tolerance = bars.iter().map(|bar| {
        let input = outcome.inputs.iter().find(|i| i.path == bar.path);
        input.map_or(String::new(), |i| match i.relative {
            Some(r) => format!("{} %", significant(100.0 * r, 2)),
            None => words::deviation(i),
        })
    });
    let swing = bars.iter().map(|bar| match bar.trip_points_a {
        [Some(a), Some(b)] => say!("{} A to {} A", significant(a, 4), significant(b, 4)),
        _ => NONE.to_owned(),
    });
    let table = Table::new("")
        .text(word!("Input"), bars.iter().map(|bar| bar.path.clone()))
        .numbers(word!("tolerance"), tolerance)
        .numbers(word!("of the trip point"), index(0))
        .numbers(word!("of the trip time"), index(1))
        .numbers(word!("trip point, 5-95 %"), swing);
    let mut blocks = vec![table.into()];
    if outcome.tornado.len() > MOST_INPUTS {
        blocks.push(Block::note(word!("Further inputs: result.json.")));
    }
    blocks.push(Block::note(
        word!("Shares of the variance that would stay if all other inputs were known (total Sobol index); they \
         may add up to more than 100 %."),
    ));
    blocks
}

fn sure(outcome: &VaryOutcome) -> Vec<(&'static str, String)> {
    let accuracy = &outcome.accuracy;
    let how = if accuracy.side_by_side {
        say!(
            "units side by side to {}, trimmed by at most {} to the nominal unit alone; \
             {} asked alone",
            power_of_ten(accuracy.relative, 0),
            power_of_ten(accuracy.largest_trim, 1),
            outcome.asked_alone
        )
    } else {
        say!(
            "every unit alone, to {}",
            power_of_ten(accuracy.relative, 0)
        )
    };
    let mut facts = vec![(word!("Numerics"), how)];
    facts.extend(accuracy.surrogate.map(|found| {
        (
            word!("Polynomials"),
            words::surrogate(&found, outcome.units),
        )
    }));
    let shared = outcome.inputs.iter().filter_map(|i| {
        let (shared, batch) = (i.shared?, i.batch.as_ref()?);
        Some(say!("{} {:.0} % by {batch}", i.path, 100.0 * shared; batch))
    });
    let batches: Vec<String> = shared.collect();
    if !batches.is_empty() {
        let words = say!(
            "{}; units of one batch are alike: {} of them say as much as {} independent ones, and \
             the intervals allow for it",
            batches.join("; "),
            outcome.units,
            outcome.effective_units
        );
        facts.push((word!("Shared in batches"), words));
    }
    let left_out =
        word!("what moves all units alike: alloy data, heat given to still air, the model itself");
    facts.push((word!("Not in it"), left_out.to_owned()));
    if outcome.failed > 0 {
        let mut said = vec![say!("{} of {}", outcome.failed, outcome.units)];
        let reasons = outcome.reasons.iter();
        said.extend(reasons.map(|(reason, count)| format!("{count} x {reason}")));
        let first = outcome.failures.first();
        said.extend(first.map(|first| say!("in full: --unit {}", first.unit)));
        facts.push((word!("Units without answers"), said.join("; ")));
    }
    facts
}

fn percent(share: f64) -> String {
    if share == 0.0 {
        "0 %".to_owned()
    } else {
        format!("{} %", significant(100.0 * share, 2))
    }
}

fn cell(rate: &Rate) -> String {
    say!(
        "{} ({} to {})",
        percent(rate.share),
        percent(rate.low),
        percent(rate.high)
    )
}

fn rate_words(rate: &Rate, confidence: f64) -> String {
    say!(
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
pub fn single_blocks(unit: &SingleUnit) -> Vec<Block> {
    let title = say!("{}, unit {}", unit.scenario, unit.unit);
    let inputs = unit.inputs.iter();
    let mut blocks = vec![
        Block::title(title, ""),
        Block::heading(word!("Its numbers")),
        Block::facts(inputs.map(|(path, _, words)| (path.as_str(), words.as_str()))),
        Block::heading(word!("Its answers")),
    ];
    if let Some(why) = &unit.failed {
        blocks.push(Block::sentence(say!("None: {why}."; why)));
        return blocks;
    }
    let or = |v: Option<f64>, say: &dyn Fn(f64) -> String, other: &str| match v {
        Some(v) => say(v),
        None => other.to_owned(),
    };
    let time = |v: f64| duration(v, 4);
    let in_unit = |unit: &'static str| move |v: f64| format!("{} {unit}", significant(v, 4));
    let mut facts = vec![
        (
            word!("Clearance").to_owned(),
            or(unit.clearance_mm, &in_unit("mm"), NONE),
        ),
        (
            word!("Trip point").to_owned(),
            or(unit.trip_point_a, &in_unit("A"), word!("none")),
        ),
        (
            word!("Trip time, this load").to_owned(),
            or(unit.trip_time_s, &time, word!("holds for ever")),
        ),
        (
            word!("Wait for the reset").to_owned(),
            or(unit.relatch_wait_s, &time, NONE),
        ),
    ];
    facts.extend(unit.bands.iter().map(|(current_a, time_s)| {
        let name = say!("Trip time at {} A", significant(*current_a, 4));
        (name, or(*time_s, &time, word!("holds for ever")))
    }));
    blocks.push(Block::facts(facts));
    if unit.asked_alone {
        blocks.push(Block::note(word!("It had to be asked alone.")));
    }
    blocks
}
