//! What a path is moved over, in words: `strip.width=4 mm to 8 mm in 9`, `... in 9 by ratio`,
//! `load.current=12 A, 15 A`.

use crate::diagnostic::{Problem, Report};
use crate::quantity::{Dimension, Quantity, format_in_file};
use crate::scenario::{ReadError, kind_at};
use serde::{Deserialize, Serialize};

/// A path of the scenario and the values that it takes, in order.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Axis {
    /// Path in the file.
    pub path: String,
    /// Kind of number; `None`: words.
    pub dimension: Option<Dimension>,
    /// The values as a scenario has them.
    pub values: Vec<String>,
    /// The same in SI units; nothing for words.
    pub si: Vec<f64>,
    /// Whether it is a range and not a list.
    pub is_range: bool,
}

/// What was asked for, before its values are made.
#[derive(Debug)]
pub(super) struct Over {
    path: String,
    dimension: Option<Dimension>,
    values: Values,
}

#[derive(Debug)]
enum Values {
    List(Vec<(String, f64)>),
    /// Ends in SI, how many, and whether in equal ratios.
    Range([f64; 2], u64, bool),
}

impl Over {
    /// Reads `PATH=VALUES`.
    ///
    /// # Errors
    /// No such path (with the nearest), no such numbers, or nothing after the path.
    pub(super) fn read(text: &str) -> Result<Over, ReadError> {
        let report =
            |problem: Box<Problem>| ReadError::Content(Report::new("--over", text, vec![*problem]));
        let (path, rest) = text.split_once('=').ok_or_else(|| {
            report(Box::new(
                Problem::new(0..text.len(), "a path and its values are meant")
                    .help("write for example \"strip.width=4 mm to 8 mm in 9\""),
            ))
        })?;
        let start = path.len() + 1;
        let dimension = kind_at(path.trim()).map_err(report)?;
        let values = match (dimension, rest.split_once(" to ")) {
            (Some(dimension), Some((low, rest_after))) => {
                range(dimension, low, rest_after, start).map_err(report)?
            }
            _ => Values::List(list(dimension, rest, start).map_err(report)?),
        };
        Ok(Over {
            path: path.trim().to_owned(),
            dimension,
            values,
        })
    }

    /// How many values.
    pub(super) fn count(&self) -> u64 {
        match &self.values {
            Values::List(list) => list.len() as u64,
            Values::Range(_, count, _) => *count,
        }
    }

    /// The path with its values.
    pub(super) fn axis(self) -> Axis {
        let is_range = matches!(self.values, Values::Range(..));
        let (values, si) = match self.values {
            Values::List(list) => list.into_iter().unzip(),
            Values::Range([low, high], count, by_ratio) => {
                let at = |k: u64| {
                    let part = k as f64 / (count - 1) as f64;
                    match by_ratio {
                        true => low * (high / low).powf(part),
                        false => low + (high - low) * part,
                    }
                };
                let said = |k| format_in_file(at(k), self.dimension.unwrap_or(Dimension::Fraction));
                let values: Vec<String> = (0..count).map(said).collect();
                // What is computed is what is said, to its last digit.
                let read = |(k, text): (usize, &String)| {
                    si(text, self.dimension).unwrap_or_else(|| at(k as u64))
                };
                let numbers = values.iter().enumerate().map(read).collect();
                (values, numbers)
            }
        };
        Axis {
            path: self.path,
            dimension: self.dimension,
            si: match self.dimension {
                Some(_) => si,
                None => Vec::new(),
            },
            values,
            is_range,
        }
    }
}

fn si(text: &str, dimension: Option<Dimension>) -> Option<f64> {
    Some(clean(Quantity::read(text, dimension?).ok()?.value_si))
}

/// Without the dust of binary arithmetic: 0.018 instead of 0.018000000000000002.
fn clean(value: f64) -> f64 {
    format!("{value:.11e}").parse().unwrap_or(value)
}

/// One number at a place of the text.
fn number(text: &str, dimension: Dimension, start: usize) -> Result<f64, Box<Problem>> {
    let at = start + text.len() - text.trim_start().len();
    let text = text.trim();
    Quantity::read(text, dimension)
        .map(|quantity| clean(quantity.value_si))
        .map_err(|e| {
            let end = at + text.len().max(1);
            Box::new(
                Problem::new(at..end, format!("{} belongs here", dimension.name()))
                    .label(e.found())
                    .help(e.help()),
            )
        })
}

fn list(
    dimension: Option<Dimension>,
    text: &str,
    start: usize,
) -> Result<Vec<(String, f64)>, Box<Problem>> {
    let mut from = start;
    let mut values = Vec::new();
    for item in text.split(',') {
        if item.trim().is_empty() {
            return Err(Box::new(
                Problem::new(from..from + item.len().max(1), "a value is missing here")
                    .help("write values with commas between them, or \"A to B in 9\""),
            ));
        }
        let value = match dimension {
            Some(dimension) => number(item, dimension, from)?,
            None => 0.0,
        };
        values.push((item.trim().to_owned(), value));
        from += item.len() + 1;
    }
    Ok(values)
}

/// `8 mm in 9 by ratio` after `4 mm to`.
fn range(
    dimension: Dimension,
    low: &str,
    rest: &str,
    start: usize,
) -> Result<Values, Box<Problem>> {
    let after = start + low.len() + " to ".len();
    let whole = start..after + rest.len();
    let Some((high, many)) = rest.split_once(" in ") else {
        return Err(Box::new(
            Problem::new(whole, "how many values the range has is missing")
                .help("write for example \"4 mm to 8 mm in 9\", or \"... in 9 by ratio\""),
        ));
    };
    let ends = [
        number(low, dimension, start)?,
        number(high, dimension, after)?,
    ];
    let at = after + high.len() + " in ".len();
    let (count, by_ratio) = match many.trim().strip_suffix("by ratio") {
        Some(count) => (count.trim(), true),
        None => (many.trim(), false),
    };
    let count = match count.parse::<u64>() {
        Ok(count) if count >= 2 => count,
        _ => {
            return Err(Box::new(
                Problem::new(at..at + many.len().max(1), "not a number of values")
                    .help("a whole number from 2 is meant, and `by ratio` may follow it"),
            ));
        }
    };
    if by_ratio && !(ends[0] > 0.0 && ends[1] > 0.0) {
        return Err(Box::new(
            Problem::new(whole, "equal ratios need two ends above zero")
                .help("leave `by ratio` out, or begin above zero"),
        ));
    }
    Ok(Values::Range(ends, count, by_ratio))
}
