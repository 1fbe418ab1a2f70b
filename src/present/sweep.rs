//! A sweep: its record as JSON, its points as CSV and as blocks.

use super::block::{Block, Table};
use super::cautions::in_words;
use super::csv::{CsvError, maybe, table, trip_tag};
use super::json::{beside_answers, beside_codes, serialised};
use super::number::{NONE, as_read, plain};
use super::run::cautions_at;
use super::summaries::answered;
use super::words;
use crate::answer::{Place, TripTime, Wait};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::language::recorded;
use crate::quantity::Dimension;
use crate::study::population::si_suffix;
use crate::study::summary::Summary;
use crate::study::sweep::{Axis, Point, PointAnswer, SweepOutcome};

/// Most points on a screen.
const MOST_ROWS: usize = 24;
/// Columns of the answers.
const ANSWERS: [&str; 11] = [
    "answer",
    "trip_time_s",
    "trip_point_a",
    "relatch_wait_s",
    "ready_wait_s",
    "per_percent_preload_a",
    "preload_share",
    "strip_peak_c",
    "stress_over_yield",
    "drop_at_rated_mv",
    "trip_time_relative_error",
];

/// Columns of what is known of the metals, where that was asked: nine of ten draws lie within.
const KNOWN: [&str; 6] = [
    "trip_time_low_s",
    "trip_time_high_s",
    "trip_point_low_a",
    "trip_point_high_a",
    "relatch_wait_low_s",
    "relatch_wait_high_s",
];

/// The record as indented JSON with a final newline.
///
/// # Errors
/// When it cannot be serialised.
pub fn sweep_json(outcome: &SweepOutcome) -> Result<String, serde_json::Error> {
    recorded(|| {
        let mut value = serde_json::to_value(outcome)?;
        beside_answers(&mut value);
        beside_codes(&mut value, "cautions", &outcome.cautions, |c| {
            words::caution(*c).into()
        });
        serialised(&value)
    })
}

/// One row a point: the numbers moved, in SI units (temperatures in degrees Celsius), and the
/// answers. What never comes reads "never", and why a number is missing stands at the end.
///
/// # Errors
/// When the CSV writer fails.
pub fn sweep_csv(outcome: &SweepOutcome) -> Result<String, CsvError> {
    recorded(|| {
        let paths = outcome.axes.iter().map(column);
        let asked = outcome.points.iter().filter_map(Point::summary);
        let with_metals = asked.into_iter().any(|s| s.metal_data.is_some());
        let known: &[&str] = if with_metals { &KNOWN } else { &[] };
        let header: Vec<String> = std::iter::once("point".to_owned())
            .chain(paths)
            .chain(ANSWERS.iter().chain(known).map(|name| (*name).to_owned()))
            .chain(["note".to_owned()])
            .collect();
        let header: Vec<&str> = header.iter().map(String::as_str).collect();
        let rows = outcome.points.iter().map(|point| {
            let mut row = vec![point.number.to_string()];
            let moved = outcome.axes.iter().zip(&point.at);
            row.extend(
                moved.map(|(axis, at)| match (axis.dimension, axis.si.get(*at)) {
                    (Some(Dimension::Temperature), Some(k)) => maybe(Some(celsius_of(*k))),
                    (Some(_), number) => maybe(number.copied()),
                    _ => axis.values[*at].clone(),
                }),
            );
            row.extend(answers(point));
            if with_metals {
                row.extend(known_of(point));
            }
            row.push(why(point).unwrap_or_default());
            row
        });
        table(&header, rows)
    })
}

/// A temperature in degrees Celsius, without what the subtraction adds in the last digits.
fn celsius_of(kelvin: f64) -> f64 {
    (1e9 * (kelvin - ZERO_CELSIUS_K)).round() / 1e9
}

/// Ends of the bands that the metals' data leave.
fn known_of(point: &Point) -> Vec<String> {
    let data = point.summary().and_then(|s| s.metal_data.as_ref());
    let bands = data.map(|d| [&d.trip_time_s, &d.trip_point_a, &d.relatch_wait_s]);
    let Some(bands) = bands else {
        return vec![String::new(); KNOWN.len()];
    };
    let ends = bands.into_iter().flat_map(|known| match known.band() {
        Some(band) => [
            maybe(Some(band.low)),
            band.high
                .map_or("never".to_owned(), |high| maybe(Some(high))),
        ],
        None => [String::new(), String::new()],
    });
    ends.collect()
}

/// What a path is called in a table.
fn column(axis: &Axis) -> String {
    let path = axis.path.clone();
    match axis.dimension {
        Some(Dimension::Temperature) => format!("{path}_c"),
        Some(dimension) if !si_suffix(dimension).is_empty() => {
            format!("{path}_{}", si_suffix(dimension))
        }
        _ => path,
    }
}

fn answers(point: &Point) -> Vec<String> {
    let never = "never".to_owned();
    let Some(s) = point.summary() else {
        let tag = match point.answer {
            PointAnswer::Impossible { .. } => "impossible",
            _ => "failed",
        };
        let mut row = vec![String::new(); ANSWERS.len()];
        tag.clone_into(&mut row[0]);
        return row;
    };
    let wait = |wait: &Wait| match wait.is_never() {
        true => never.clone(),
        false => maybe(wait.time_s()),
    };
    vec![
        trip_tag(&s.trip_time).to_owned(),
        match s.trip_time {
            TripTime::HoldsForEver => never.clone(),
            _ => maybe(s.trip_time.time_s()),
        },
        maybe(s.trip_point.current_a()),
        wait(&s.relatch_wait),
        wait(&s.ready_wait),
        maybe(s.per_percent_preload_a),
        maybe(s.preload_share),
        maybe(s.strip_peak_c),
        maybe(s.stress_over_yield),
        maybe(s.drop_at_rated_mv),
        maybe(s.trip_time.error_relative()),
    ]
}

/// Why a point lacks numbers.
fn why(point: &Point) -> Option<String> {
    match &point.answer {
        PointAnswer::Answered(s) => words::beside(s),
        PointAnswer::Impossible { why } => Some(words::impossible(why)),
        PointAnswer::Failed { why } => Some(why.clone()),
    }
}

/// What a person reads after a sweep.
pub fn sweep_blocks(outcome: &SweepOutcome) -> Vec<Block> {
    let points = &outcome.points;
    let trips = points.iter().filter_map(Point::summary);
    let trips = trips.filter(|s| s.trip_time.time_s().is_some()).count();
    let below = say!(
        "{} points; rated {} A; relatch {}{}",
        points.len(),
        plain(outcome.rated_current_a),
        outcome.version,
        words::changed(&outcome.changed)
    );
    let list = in_words(&outcome.cautions);
    vec![
        Block::title(&outcome.scenario, below),
        cautions_at(&list, &[Place::Top]),
        Block::sentence(words::swept(points.len(), trips)),
        rows(outcome).at_most(MOST_ROWS).into(),
        Block::note(match points.len() > MOST_ROWS {
            true => words::some_rows(),
            false => "",
        }),
        cautions_at(&list, &[Place::BeforeWaits, Place::BesideWaits, Place::End]),
    ]
}

fn rows(outcome: &SweepOutcome) -> Table {
    let points = &outcome.points;
    let say = |text: &dyn Fn(&Summary) -> String| -> Vec<String> {
        let said = |point: &Point| point.summary().map_or(NONE.to_owned(), text);
        points.iter().map(said).collect()
    };
    let paths: Vec<&str> = outcome.axes.iter().map(|axis| axis.path.as_str()).collect();
    let moved = points.iter().map(|point| {
        let values = outcome.axes.iter().zip(&point.at);
        let values: Vec<String> = values.map(|(axis, k)| as_read(&axis.values[*k])).collect();
        values.join(", ")
    });
    let table = Table::new("").text(paths.join(", "), moved);
    let mut table = answered(table, &say);
    let known = |point: &Point| point.summary().and_then(|s| s.metal_data.clone());
    if points.iter().any(|point| known(point).is_some()) {
        let band =
            |point| known(point).map_or(NONE.to_owned(), |d| words::known_time(&d.trip_time_s));
        table = table.numbers(word!("Trip, metals' data"), points.iter().map(band));
    }
    table.reasons(points.iter().map(why))
}

#[cfg(feature = "figures")]
mod written {
    use super::{SweepOutcome, sweep_csv, sweep_json};
    use crate::present::files::write_into;
    use crate::present::{FilesError, plot, words};
    use std::path::Path;

    /// Writes table, figures and record into the folder of a sweep; the record gets its name last.
    ///
    /// # Errors
    /// An output cannot be rendered, or the disk refuses.
    pub fn write_sweep(
        folder: &Path,
        outcome: &SweepOutcome,
        print: &plot::Print,
    ) -> Result<Vec<String>, FilesError> {
        let failed = |e: &dyn std::fmt::Display| FilesError::Render(e.to_string());
        let table = sweep_csv(outcome).map_err(|e| failed(&e))?;
        let from = words::computed_from(&outcome.scenario);
        let mut contents = plot::files(plot::sweep_figures(outcome), print, &from)?;
        contents.push(("sweep.csv".to_owned(), table.into_bytes()));
        let result = sweep_json(outcome).map_err(|e| failed(&e))?;
        contents.push(("result.json".to_owned(), result.into_bytes()));
        write_into(folder, &contents)
    }
}
#[cfg(feature = "figures")]
pub use written::write_sweep;
