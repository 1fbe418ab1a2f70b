//! The times of a log, from its first lines.

use super::assumption::Assumption;
use super::clock;
use super::draft::{Draft, span};
use super::error::{Planned, ask};
use super::layout::{Column, Layout, TimeForm};
use super::span::StampAt;
use super::times;
use crate::diagnostic::Problem;
use crate::quantity::{Dimension, Quantity};

/// `Start` or `Ende` in the name of the time column.
pub(super) fn stamp_at(d: &Draft) -> StampAt {
    let name = d
        .columns
        .time
        .and_then(|i| d.heading(i))
        .map(|h| h.name.to_lowercase());
    let says = |n: &String| {
        n.split(|c: char| !c.is_alphanumeric())
            .any(|w| matches!(w, "end" | "ende" | "fin" | "bis"))
    };
    if name.as_ref().is_some_and(says) {
        StampAt::End
    } else {
        StampAt::Start
    }
}

/// The first zone that the times of the probe state.
pub(super) fn zone_s(d: &Draft) -> Option<i32> {
    let columns = [d.columns.time, d.columns.time_of_day];
    let mut samples = columns.into_iter().flatten().flat_map(|i| d.samples(i));
    samples.find_map(|s| clock::stamp(s.text.as_bytes())?.offset_s)
}

/// How the times are written, and their column.
pub(super) fn time_form(
    d: &Draft,
    assumptions: &mut Vec<Assumption>,
) -> Planned<(TimeForm, Option<Column>)> {
    let Some(i) = d.columns.time else {
        let stated = d
            .options
            .interval_s
            .or_else(|| stated_interval(d, assumptions));
        return match stated {
            Some(interval_s) => Ok((TimeForm::Even { interval_s }, None)),
            None => ask(
                Problem::new(span(d.probe, d.shape.first), "no column of times was found")
                    .label("the first row")
                    .help("say how far apart the rows are, or name the column of the time"),
            ),
        };
    };
    let column = d.column(i, Dimension::Time);
    let samples = d.samples(i);
    let dated = samples
        .iter()
        .filter(|s| clock::stamp(s.text.as_bytes()).is_some_and(|s| s.date.is_some()));
    if dated.count() * 2 > samples.len() {
        let order = times::date_order(&samples, d.options.date_order, assumptions)?;
        return Ok((TimeForm::Calendar { order }, Some(column)));
    }
    let bare = Column {
        scale: 1.0,
        zero: 0.0,
        ..column.clone()
    };
    let form = times::form(&samples, &d.numbers(&bare), d.heading(i), assumptions)?;
    Ok((form, Some(column)))
}

/// `Sample rate: 2 kHz` or `Interval;200 ms` in the lines above the data.
fn stated_interval(d: &Draft, assumptions: &mut Vec<Assumption>) -> Option<f64> {
    const WORDS: [&str; 7] = [
        "rate",
        "interval",
        "period",
        "takt",
        "abtast",
        "intervall",
        "cadence",
    ];
    for at in 0..d.shape.header.unwrap_or(d.shape.first) {
        let line = d.probe.line(at);
        let lower = line.to_lowercase();
        if !WORDS.iter().any(|w| lower.contains(w)) {
            continue;
        }
        let Some(start) = line.find(|c: char| c.is_ascii_digit()) else {
            continue;
        };
        let text = line[start..]
            .trim_matches([' ', ';', ',', '"', '\t'])
            .replace([';', '\t'], " ");
        // The number and its unit; whatever stands behind them is text.
        let mut words = text.split_whitespace();
        let first = words.next().unwrap_or_default();
        let both = format!("{first} {}", words.next().unwrap_or_default());
        let time = |t: &str| Quantity::read(t, Dimension::Time).ok().map(|q| q.value_si);
        let rate = |t: &str| hertz(t).map(|hz| 1.0 / hz);
        let read = |t: &str| time(t).or_else(|| rate(t));
        let interval = read(&both).or_else(|| read(first));
        if let Some(interval) = interval.filter(|i| *i > 0.0 && i.is_finite()) {
            assumptions.push(Assumption::Even {
                line: at + 1,
                text: line.trim().to_owned(),
            });
            return Some(interval);
        }
    }
    None
}

fn hertz(text: &str) -> Option<f64> {
    let at = text.find(|c: char| c.is_alphabetic())?;
    let number: f64 = text[..at].trim().parse().ok()?;
    match text[at..].trim() {
        "Hz" | "S/s" | "sps" => Some(number),
        "kHz" | "kS/s" => Some(number * 1e3),
        _ => None,
    }
}

/// The times of the first rows, as far as they can be read.
pub(super) fn first_times(d: &Draft, layout: &Layout) -> Vec<f64> {
    let mut reader = super::moment::Moments::new(layout);
    let mut times = Vec::new();
    // The first rows may lack the zone that later ones have.
    reader.offset_s = zone_s(d).unwrap_or(0);
    for (n, at) in d.rows.iter().enumerate() {
        let fields = d.probe.fields(*at, d.shape.delimiter);
        let line = d.probe.line(*at).as_bytes();
        let field = |c: &Option<Column>| -> &[u8] {
            let range = c.as_ref().and_then(|c| fields.get(c.index));
            range.map_or(&[], |r| &line[r.clone()])
        };
        if let Ok(t) = reader.read(field(&layout.time), field(&layout.time_of_day), n as u64) {
            times.push(t);
        }
    }
    times
}
