//! Failures per year as blocks, as JSON and as tables: each way of failing with its years, then
//! what to tighten.

use super::block::{Block, Table};
use super::cautions::in_words;
use super::csv::{CsvError, cell, maybe, table};
use super::json::{beside_codes, serialised, with_text};
use super::number::{NONE, plain, significant};
use super::run::cautions_at;
use super::words;
use crate::answer::Place;
use crate::present::language::recorded;
use crate::study::failures::{FailuresOutcome, SavedRecord, WayRecord, YearRecord};
use serde_json::json;

/// Numbers listed that are worth tightening.
const MOST_SAVED: usize = 6;
/// Rows of years.
const MOST_ROWS: usize = 7;
/// A number that saves less than this part of the failures is not listed.
const LEAST_SAVED: f64 = 0.005;

/// What a person reads.
pub fn failures_blocks(outcome: &FailuresOutcome) -> Vec<Block> {
    let list = in_words(&outcome.cautions);
    let below = say!(
        "{}; {} years; wear: {}; relatch {}{}",
        words::part_line(outcome.rated_current_a, outcome.mechanism, outcome.reset),
        plain(outcome.years),
        outcome.constants_from,
        outcome.version,
        words::changed(&outcome.changed)
    );
    let mut blocks = vec![
        Block::title(&outcome.scenario, below),
        cautions_at(&list, &[Place::Top]),
    ];
    let ways = outcome.ways.iter().enumerate();
    blocks.extend(ways.map(|(k, way)| {
        let question = format!("{}  {}", k + 1, words::failure_asked(way.failure));
        Block::answer(question, of_way(outcome, way))
    }));
    if let Some(returned) = &outcome.returned {
        blocks.push(Block::heading(word!("Parts that came back")));
        blocks.push(Block::facts(
            returned
                .iter()
                .map(|r| (words::failure_short(r.failure), words::returned(r))),
        ));
    }
    blocks.push(Block::heading(word!("How sure")));
    let drawn: Vec<String> = outcome.drawn.iter().map(words::drawn).collect();
    let left_out: Vec<&str> = outcome
        .not_modelled
        .iter()
        .map(|what| words::age_not_modelled(*what))
        .collect();
    let mut sure = vec![(word!("Computed"), words::failures_computed(outcome))];
    sure.push((word!("Drawn"), drawn.join("; ")));
    sure.push((word!("Not modelled"), left_out.join("; ")));
    blocks.push(Block::facts(sure));
    blocks.push(Block::warnings(
        outcome.warnings.iter().map(words::failures_warning),
    ));
    blocks.push(Block::heading(word!("Cautions")));
    let places = [Place::BeforeWaits, Place::Testing, Place::End];
    blocks.push(cautions_at(&list, &places));
    blocks
}

fn of_way(outcome: &FailuresOutcome, way: &WayRecord) -> Vec<Block> {
    let mut blocks = vec![Block::sentence(words::nearest_failing(way, outcome.years))];
    let none = way.by_year.last().is_none_or(|y| y.failed.share == 0.0);
    if none {
        let most = way.by_year.last().map_or(1.0, |y| y.failed.high);
        let text = say!(
            "No draw fails so: below {} of a million in {} years.",
            words::million(most),
            plain(outcome.years)
        );
        blocks.push(Block::sentence(text));
        return blocks;
    }
    let rows = &way.by_year;
    let per_year = rows
        .iter()
        .map(|y| y.per_year.as_ref().map_or(NONE.into(), words::of_a_million));
    // Of units that still served: the hazard, which tells wearing out from weeding out.
    let hazard = |y: &YearRecord| y.hazard_per_year.map_or(NONE.into(), words::million);
    // Said above the table: where a question stands over it, a caption does not.
    let above = |caption: String| Block::sentence(format!("{caption}:"));
    blocks.push(above(words::failures_caption(outcome.confidence)));
    let years = Table::new("")
        .numbers(word!("Years"), rows.iter().map(|y| plain(y.years)))
        .numbers(
            word!("failed by then"),
            rows.iter().map(|y| words::of_a_million(&y.failed)),
        )
        .numbers(word!("fail a year"), per_year)
        .numbers(word!("of those left"), rows.iter().map(hazard));
    blocks.push(years.at_most(MOST_ROWS).into());
    let all = rows.last().map_or(0.0, |y| y.failed.share);
    let worth: Vec<&SavedRecord> = way
        .saved
        .iter()
        .filter(|s| s.saved.share > LEAST_SAVED * all && s.saved.low > 0.0)
        .take(MOST_SAVED)
        .collect();
    if !worth.is_empty() {
        let percent =
            |s: &&SavedRecord| format!("{} %", significant(100.0 * s.saved.share / all, 2));
        let million = |s: &&SavedRecord| words::of_a_million(&s.saved);
        let caption = say!(
            "Which spread to halve: failures saved in {} years",
            plain(outcome.years)
        );
        blocks.push(above(caption));
        let table = Table::new("")
            .text(word!("Spread of"), worth.iter().map(|s| s.path.clone()))
            .numbers(word!("of a million"), worth.iter().map(million))
            .numbers(word!("share"), worth.iter().map(percent));
        blocks.push(table.into());
    }
    blocks
}

/// The record as indented JSON with a final newline.
///
/// # Errors
/// When it cannot be serialised.
pub fn failures_json(outcome: &FailuresOutcome) -> Result<String, serde_json::Error> {
    recorded(|| {
        let mut value = serde_json::to_value(outcome)?;
        beside_codes(
            &mut value,
            "warnings",
            &outcome.warnings,
            words::failures_warning,
        );
        beside_codes(&mut value, "not_modelled", &outcome.not_modelled, |n| {
            words::age_not_modelled(*n).into()
        });
        beside_codes(&mut value, "cautions", &outcome.cautions, |c| {
            words::caution(*c).into()
        });
        let mut say = |path: &str, text: String| with_text(&mut value, path, "text", json!(text));
        say("/computed", words::failures_computed(outcome));
        for (k, drawn) in outcome.drawn.iter().enumerate() {
            say(&format!("/drawn/{k}"), words::drawn(drawn));
        }
        for (k, way) in outcome.ways.iter().enumerate() {
            say(
                &format!("/ways/{k}"),
                words::failure_asked(way.failure).into(),
            );
        }
        for (k, record) in outcome.returned.iter().flatten().enumerate() {
            say(&format!("/returned/{k}"), words::returned(record));
        }
        serialised(&value)
    })
}

/// Failures year by year, one row a way and year.
///
/// # Errors
/// When the CSV writer fails.
pub fn failures_csv(outcome: &FailuresOutcome) -> Result<String, CsvError> {
    recorded(|| {
        let header = [
            "failure",
            "years",
            "failed_share",
            "failed_share_low",
            "failed_share_high",
            "per_year_share",
            "per_year_share_low",
            "per_year_share_high",
            "hazard_per_year",
        ];
        let rows = outcome.ways.iter().flat_map(|way| {
            way.by_year.iter().map(|y| {
                let per_year = y.per_year;
                vec![
                    code(way),
                    cell(y.years),
                    cell(y.failed.share),
                    cell(y.failed.low),
                    cell(y.failed.high),
                    maybe(per_year.map(|p| p.share)),
                    maybe(per_year.map(|p| p.low)),
                    maybe(per_year.map(|p| p.high)),
                    maybe(y.hazard_per_year),
                ]
            })
        });
        table(&header, rows)
    })
}

/// What half of each spread saves.
///
/// # Errors
/// When the CSV writer fails.
pub fn saved_csv(outcome: &FailuresOutcome) -> Result<String, CsvError> {
    recorded(|| {
        let header = [
            "failure",
            "path",
            "saved_share",
            "saved_share_low",
            "saved_share_high",
        ];
        let rows = outcome.ways.iter().flat_map(|way| {
            way.saved.iter().map(|s| {
                let ends = [s.saved.share, s.saved.low, s.saved.high].map(cell);
                [code(way), s.path.clone()]
                    .into_iter()
                    .chain(ends)
                    .collect()
            })
        });
        table(&header, rows)
    })
}

fn code(way: &WayRecord) -> String {
    let value = serde_json::to_value(way.failure).unwrap_or_default();
    value.as_str().unwrap_or_default().to_owned()
}

#[cfg(feature = "figures")]
mod written {
    use super::{failures_csv, failures_json, saved_csv};
    use crate::present::files::{FilesError, Folder, Written, write_all};
    use crate::present::{plot, words};
    use crate::study::failures::FailuresOutcome;

    /// Renders and writes `result.json`, the tables and the figures.
    ///
    /// # Errors
    /// The folder is refused, an output cannot be rendered, or the disk refuses.
    pub fn write_failures(
        outcome: &FailuresOutcome,
        folder: &Folder,
        print: &plot::Print,
    ) -> Result<Written, FilesError> {
        let failed = |e: &dyn std::fmt::Display| FilesError::Render(e.to_string());
        let source = words::computed_from(&outcome.scenario);
        let mut list = plot::files(plot::failures_figures(outcome), print, &source)?;
        let mut add = |name: &str, text: String| list.push((name.to_owned(), text.into_bytes()));
        add(
            "failures.csv",
            failures_csv(outcome).map_err(|e| failed(&e))?,
        );
        add("saved.csv", saved_csv(outcome).map_err(|e| failed(&e))?);
        add(
            "result.json",
            failures_json(outcome).map_err(|e| failed(&e))?,
        );
        write_all(&list, folder)
    }
}
#[cfg(feature = "figures")]
pub use written::write_failures;
