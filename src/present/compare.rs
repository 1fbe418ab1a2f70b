//! A comparison: its record as JSON and as blocks.

use super::block::{Block, Table};
use super::cautions::in_words;
use super::json::{beside_answers, beside_codes, serialised};
use super::language::worded;
use super::number::{NONE, signed};
use super::run::cautions_at;
use super::summaries::answered;
use super::words;
use crate::answer::Place;
use crate::present::language::recorded;
use crate::study::compare::{Cause, Change, CompareOutcome, Compared};
use crate::study::summary::Summary;

/// Path, value in the first and value in the other.
type Key = (String, Option<String>, Option<String>);
/// An answer in which scenarios are compared: what it is called, and its number.
type Answer = (&'static str, fn(&Summary) -> Option<f64>);

const ANSWERS: [Answer; 4] = [
    (noted!("Trip time, s"), |s| s.trip_time.time_s()),
    (noted!("Trip point, A"), |s| s.trip_point.current_a()),
    (noted!("Reset after, s"), |s| s.relatch_wait.time_s()),
    (noted!("Start after, s"), |s| s.ready_wait.time_s()),
];

/// The record as indented JSON with a final newline.
///
/// # Errors
/// When it cannot be serialised.
pub fn compare_json(outcome: &CompareOutcome) -> Result<String, serde_json::Error> {
    recorded(|| {
        let mut value = serde_json::to_value(outcome)?;
        beside_answers(&mut value);
        beside_codes(&mut value, "cautions", &outcome.cautions, |c| {
            words::caution(*c).into()
        });
        serialised(&value)
    })
}

/// What a person reads of a comparison.
pub fn compare_blocks(outcome: &CompareOutcome) -> Vec<Block> {
    let names: Vec<&str> = outcome.scenarios.iter().map(|s| s.name.as_str()).collect();
    let list = in_words(&outcome.cautions);
    let mut blocks = vec![
        Block::title(names.join(" | "), say!("relatch {}", outcome.version)),
        cautions_at(&list, &[Place::Top]),
        answers(&outcome.scenarios).into(),
    ];
    let known = |s: &Compared| {
        Some((
            s.name.clone(),
            words::metal_data(s.summary.metal_data.as_ref()?),
        ))
    };
    let known: Vec<(String, String)> = outcome.scenarios.iter().filter_map(known).collect();
    if !known.is_empty() {
        blocks.push(Block::heading(word!("Metals' data")));
        blocks.push(Block::facts(known));
    }
    let [first, ..] = outcome.scenarios.as_slice() else {
        return blocks;
    };
    for cause in &outcome.causes {
        let other = &outcome.scenarios[cause.scenario];
        blocks.push(Block::heading(words::from_to(&first.name, &other.name)));
        blocks.push(match cause.changes.is_empty() {
            true => Block::sentence(words::same()),
            false => causes(first, other, cause).into(),
        });
    }
    blocks.push(Block::note(words::one_at_a_time()));
    blocks.push(cautions_at(
        &list,
        &[Place::BeforeWaits, Place::BesideWaits, Place::End],
    ));
    blocks
}

fn answers(scenarios: &[Compared]) -> Table {
    let say = |text: &dyn Fn(&Summary) -> String| -> Vec<String> {
        scenarios.iter().map(|s| text(&s.summary)).collect()
    };
    let table = Table::new("")
        .across()
        .text(word!("Scenario"), scenarios.iter().map(|s| s.name.clone()));
    answered(table, &say).reasons(scenarios.iter().map(|s| words::beside(&s.summary)))
}

/// One row a difference, then what they do together, then what is left over the sum.
fn causes(first: &Compared, other: &Compared, cause: &Cause) -> Table {
    let changes = &cause.changes;
    let keys = |change: &Change, part: &dyn Fn(&Key) -> String| {
        let all: Vec<String> = change.keys.iter().map(part).collect();
        words::several(&all)
    };
    let side = |value: &Option<String>| value.clone().unwrap_or(NONE.to_owned());
    let last = [words::together(), words::interaction()].map(str::to_owned);
    let names = changes.iter().map(|c| keys(c, &|k| k.0.clone()));
    let from = changes
        .iter()
        .map(|c| keys(c, &|k| words::short(&side(&k.1))));
    let to = changes
        .iter()
        .map(|c| keys(c, &|k| words::short(&side(&k.2))));
    let mut table = Table::new("")
        .text(word!("Changed alone"), names.chain(last))
        .text(word!("From"), from.chain([String::new(), String::new()]))
        .text(word!("To"), to.chain([String::new(), String::new()]));
    for (heading, answer) in ANSWERS {
        let alone: Vec<Option<f64>> = changes
            .iter()
            .map(|c| c.effect(&first.summary, answer))
            .collect();
        let whole = answer(&other.summary)
            .zip(answer(&first.summary))
            .map(|(b, a)| b - a);
        let sum: Option<f64> = alone.iter().copied().sum();
        let rest = whole.zip(sum).map(|(whole, sum)| whole - sum);
        let size = answer(&first.summary).map_or(1.0, f64::abs);
        let cell = |effect: Option<f64>| match effect {
            // Below what the numbers are computed to.
            Some(effect) if effect.abs() < 1e-4 * size => "0".to_owned(),
            Some(effect) => signed(effect, 3),
            None => NONE.to_owned(),
        };
        table = table.numbers(
            worded(heading),
            alone.into_iter().chain([whole, rest]).map(cell),
        );
    }
    table.reasons(changes.iter().map(|change| match &change.summary {
        None => Some(words::not_alone().to_owned()),
        Some(s) => words::beside(s),
    }))
}
