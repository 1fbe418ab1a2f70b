//! Time to trip against current, log-log, a line for each set of loaded poles.

use super::log_log::{self, is_positive};
use crate::predict::{CurvePoint, Outcome, PoleSet};
use crate::present::chart::style::*;
use crate::present::chart::{Chart, Column, Line, Mark, Shape};
use crate::present::number::{duration, plain, significant};
use crate::present::words;

/// Of lines for all poles, two of them, one of them.
const ALL: Stroke = stroke(LAKE, 8, SOLID);
const PAIR: Stroke = stroke(EMBER, 6, DASHED);
const SINGLE: Stroke = stroke(PLUM, 5, DOTTED);

/// Draws the figure; `None` where the poles were not timed.
pub(super) fn figure(outcome: &Outcome) -> Option<Chart> {
    let poles = outcome.poles.as_ref()?;
    let timed = |p: &&CurvePoint| p.time.time_s().is_some_and(is_positive);
    let all = || poles.sets.iter().flat_map(|s| s.cold.iter().filter(timed));
    if all().count() < 2 {
        return None;
    }
    let rated_a = outcome.part.rated_current_a;
    let losses = poles.lost_phase.iter();
    let lost: Vec<(f64, f64)> = losses
        .filter_map(|l| {
            Some((
                l.current_a,
                l.trip_time.time_s().filter(|t| is_positive(*t))?,
            ))
        })
        .collect();
    let currents = all().map(|p| p.current_a).chain([rated_a]);
    let times = all().filter_map(|p| p.time.time_s());
    let times = times.chain(lost.iter().map(|l| l.1));
    let mut panel = log_log::with_multiples(log_log::panel(currents, times, Vec::new()), rated_a);
    panel.items.push(log_log::rating(rated_a));
    for set in &poles.sets {
        let stroke = match set.loaded.len() {
            n if n == poles.count => ALL,
            1 => SINGLE,
            _ => PAIR,
        };
        let points = set.cold.iter().map(|p| {
            let time = p.time.time_s().filter(|t| is_positive(*t));
            (p.current_a, time.unwrap_or(f64::NAN))
        });
        let line = Line::new(points.collect(), stroke).named(words::loaded(set, poles));
        panel.items.push(line.into());
    }
    // Of poles alike every loss is nearly the same: one mark says it.
    if let Some(at) = lost.first() {
        let text = say!("phase lost in mid-run: {}", duration(at.1, 3));
        panel
            .items
            .push(Mark::new(*at, Shape::Ring, INK).named(text).into());
    }
    let subtitle = say!(
        "{}: {} (air {} °C, cold)",
        outcome.scenario,
        words::bar(poles.bar),
        plain(outcome.part.ambient_c)
    );
    let title = word!("Trip times by loaded poles");
    let columns = vec![Column::of(vec![panel])];
    let mut chart = Chart::new("loaded_poles", title, subtitle, columns);
    chart.description = description(&poles.sets, |s| words::loaded(s, poles));
    Some(chart)
}

fn description(sets: &[PoleSet], name: impl Fn(&PoleSet) -> String) -> String {
    let held = sets.iter().filter_map(|set| {
        let current_a = set.trip_point.current_a()?;
        Some(say!("{} up to {} A", name(set), significant(current_a, 4)))
    });
    let held: Vec<String> = held.collect();
    say!(
        "Time to trip against current on logarithmic axes, a line for each set of loaded poles. \
         Held for ever: {}.",
        held.join(", ")
    )
}
