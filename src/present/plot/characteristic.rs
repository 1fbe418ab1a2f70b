//! Time-current characteristic, log-log: cold and hot start, trip point, rating, published limits.

use super::log_log::{self, Limit, is_positive};
use super::magnetic;
use crate::predict::{Characteristic, CurvePoint, LimitCheck, Outcome, Trip};
use crate::present::chart::style::*;
use crate::present::chart::{Chart, Column, Datum, Foot, Item, Key, Line, Mark, Sample, Shape};
use crate::present::limits::{shared_source, verdict};
use crate::present::number::{duration, finite, plain, significant};
use crate::present::words;

/// Draws the figure; `None` without a characteristic that trips anywhere.
pub(super) fn figure(outcome: &Outcome) -> Option<Chart> {
    chart(outcome, None)
}

/// The chart, with what the constant load `load_a` does on it even where it does not trip; `None`
/// as above.
pub(super) fn chart(outcome: &Outcome, load_a: Option<f64>) -> Option<Chart> {
    let curve = outcome.characteristic.as_ref()?;
    let trips = |p: &&CurvePoint| p.time.time_s().is_some_and(is_positive);
    let tripping: Vec<&CurvePoint> = curve.cold.iter().chain(&curve.hot).filter(trips).collect();
    if tripping.len() < 2 {
        return None;
    }
    let rated = outcome.part.rated_current_a;
    let limits = &curve.limits;
    let currents = tripping
        .iter()
        .map(|p| p.current_a)
        .chain([rated])
        .chain(curve.trip_point.current_a())
        .chain(limits.iter().map(|l| l.demand.multiple * rated))
        .chain(load_a);
    let magnetic = outcome.magnetic.as_ref();
    let instant = magnetic.map_or_else(Vec::new, |m| magnetic::extent(m, rated));
    let currents = currents.chain(instant.iter().map(|p| p.0));
    let asked = limits
        .iter()
        .flat_map(|l| [l.demand.at_least_s, l.demand.at_most_s]);
    let times = tripping
        .iter()
        .filter_map(|p| p.time.time_s())
        .chain(asked.flatten())
        .chain(instant.iter().map(|p| p.1));
    let mut panel = log_log::with_multiples(log_log::panel(currents, times, Vec::new()), rated);
    let own = own_load(outcome, load_a, panel.y.low);
    let heights = own.iter().map(|own| own.0.1);
    panel.y = panel.y.with_lane(words::never(), heights);
    if let Some(magnetic) = magnetic {
        let drawn = magnetic::items(magnetic, rated, panel.y.low);
        panel.items.extend(drawn);
    }
    panel.items.push(log_log::rating(rated));
    if let Some(current) = finite(curve.trip_point.current_a()) {
        let text = say!("trip point {} A: held up to here", significant(current, 4));
        panel
            .items
            .push(Item::written(current, stroke(PLUM, 4, DASH_DOT), text));
    }
    let lines = [
        (
            &curve.cold,
            word!("cold start").to_owned(),
            stroke(LAKE, 7, SOLID),
        ),
        (&curve.hot, hot_name(curve, rated), stroke(EMBER, 6, DASHED)),
    ];
    for (points, name, stroke) in lines {
        let time = |p: &CurvePoint| p.time.time_s().filter(|t| is_positive(*t));
        let points = points
            .iter()
            .map(|p| (p.current_a, time(p).unwrap_or(f64::NAN)));
        panel
            .items
            .push(Line::new(points.collect(), stroke).named(name).into());
    }
    let holds_at_s = panel.y.value(0.9);
    let marks: Vec<Limit> = limits.iter().map(|l| limit(l, rated, curve)).collect();
    panel.items.extend(log_log::limits(&marks, holds_at_s));
    if let Some((at, words)) = &own {
        panel.items.push(
            Mark::new(*at, Shape::Ring, INK)
                .named(words.as_str())
                .into(),
        );
    }
    let hot = match words::no_hot_curve(curve) {
        Some(reason) => say!("; no hot curve: {reason}"; reason),
        None => String::new(),
    };
    let subtitle = say!(
        "{} (air {} °C{hot})",
        outcome.scenario,
        plain(curve.ambient_c)
    ; hot);
    let title = word!("Time-current characteristic");
    let own = own.map_or(
        String::new(),
        |(_, words)| say!(" A ring marks {words}."; words),
    );
    let columns = vec![Column::of(vec![panel])];
    let mut foot = key(curve);
    foot.extend(magnetic.into_iter().flat_map(magnetic::notes));
    let mut chart = Chart::new("characteristic", title, subtitle, columns).with_foot(foot);
    chart.description = format!("{}{own}", description(curve));
    Some(chart)
}

/// "hot start, after 8 A (80 % of rated)"
fn hot_name(curve: &Characteristic, rated_a: f64) -> String {
    say!(
        "hot start, after {} A ({} % of rated)",
        significant(curve.hot_fraction * rated_a, 3),
        plain(curve.hot_fraction * 100.0)
    )
}

fn description(curve: &Characteristic) -> String {
    let held = match finite(curve.trip_point.current_a()) {
        Some(current) => say!("{} A is held for ever.", significant(current, 4)),
        None => word!("No trip point is known.").to_owned(),
    };
    let hot = match curve.hot.is_empty() {
        true => String::new(),
        false => say!(
            " and after {} % of the rated current (broken line)",
            plain(curve.hot_fraction * 100.0)
        ),
    };
    let limits = match curve.limits.len() {
        0 => String::new(),
        count => say!(" {count} published limits are marked."; count),
    };
    say!(
        "Time to trip against current on logarithmic axes, from the cold state (unbroken \
         line){hot}. {held}{limits}"
    ; hot, held, limits)
}

/// Place and words of what the run's own load does; what trips at once stands at `bottom_s`.
fn own_load(outcome: &Outcome, load_a: Option<f64>, bottom_s: f64) -> Option<(Datum, String)> {
    let (current, time, does) = match &outcome.trip {
        Trip::AtOnce(release) => (release.current_a, bottom_s, words::at_once().to_owned()),
        Trip::After(release) => (
            release.current_a,
            release.time_s,
            duration(release.time_s, 3),
        ),
        Trip::HoldsForEver { .. } => (load_a?, f64::INFINITY, word!("held for ever").to_owned()),
        Trip::NotWithin { .. } => return None,
    };
    let words = say!("this load: {} A, {does}", significant(current, 3); does);
    Some(((current, time), words))
}

fn is_same_air(limit: &LimitCheck, curve: &Characteristic) -> bool {
    (limit.ambient_c - curve.ambient_c).abs() <= 0.5
}

fn limit(limit: &LimitCheck, rated_a: f64, curve: &Characteristic) -> Limit {
    Limit {
        current: limit.demand.multiple * rated_a,
        at_least_s: limit.demand.at_least_s,
        at_most_s: limit.demand.at_most_s,
        is_comparable: is_same_air(limit, curve) && limit.demand.poles.is_none(),
    }
}

/// One entry a limit, and what a reader must know of them all.
fn key(curve: &Characteristic) -> Vec<Foot> {
    let limits = &curve.limits;
    let source = shared_source(limits);
    let entry = |(k, limit): (usize, &LimitCheck)| {
        let words = verdict(limit, source.is_some());
        let sample = Sample::Letter(log_log::letter(k), limit.met);
        Key::new(sample, words)
    };
    let mut foot = Vec::new();
    if limits.iter().any(|l| !is_same_air(l, curve)) {
        foot.push(Foot::Note(say!(
            "Grey limits are for other air than the curve (the curve: at {} °C); what this part \
             does at theirs is said here:",
            plain(curve.ambient_c)
        )));
    }
    foot.push(Foot::Keys(limits.iter().enumerate().map(entry).collect()));
    if let Some(source) = source {
        foot.push(Foot::Note(say!("Source: {source}"; source)));
    }
    foot
}
