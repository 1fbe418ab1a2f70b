//! Bands of the characteristic of a population, log-log, with the published limits.

use super::log_log::{self, Limit};
use crate::present::chart::style::*;
use crate::present::chart::{Chart, Column, Foot, Item, Key, Line, Sample, fill};
use crate::present::number::{plain, significant};
use crate::present::words;
use crate::study::population::{BandRecord, LimitRecord, VaryOutcome};

/// Draws the figure; `None` where no unit of any band trips.
pub(super) fn figure(outcome: &VaryOutcome) -> Option<Chart> {
    let bands: Vec<&BandRecord> = outcome
        .bands
        .iter()
        .filter(|b| at(b, 0).is_some())
        .collect();
    if bands.len() < 2 {
        return None;
    }
    let rated = outcome.rated_current_a;
    let limits: Vec<Limit> = outcome.limits.iter().map(|l| limit(l, outcome)).collect();
    let currents = bands
        .iter()
        .map(|b| b.current_a)
        .chain([rated])
        .chain(limits.iter().map(|l| l.current));
    let asked = limits.iter().flat_map(|l| [l.at_least_s, l.at_most_s]);
    let times = bands.iter().flat_map(|b| (0..3).filter_map(|k| at(b, k)));
    let mut panel = log_log::panel(currents, times.chain(asked.flatten()), Vec::new());
    let edge = |k: usize, held: f64| -> Vec<(f64, f64)> {
        let points = bands
            .iter()
            .map(|b| (b.current_a, at(b, k).unwrap_or(held)));
        points.collect()
    };
    // Where the slow units never trip the band is open upwards.
    let high = edge(2, f64::INFINITY);
    panel.items = vec![
        Item::band(edge(0, f64::NAN), high, fill(LAKE, 0.2)),
        log_log::rating(rated),
    ];
    let lines = [
        (0, word!("5 % trip sooner"), stroke(EMBER, 6, DASHED)),
        (1, word!("median"), stroke(LAKE, 7, SOLID)),
        (2, word!("5 % trip later"), stroke(PLUM, 6, DASH_DOT)),
    ];
    for (k, name, stroke) in lines {
        panel
            .items
            .push(Line::new(edge(k, f64::NAN), stroke).named(name).into());
    }
    panel
        .items
        .extend(log_log::limits(&limits, panel.y.value(0.9)));
    let setting = if outcome.setting.is_some() {
        word!("set at the factory")
    } else {
        word!("not set")
    };
    let subtitle = say!(
        "{}: {} units {setting}, from cold in air of {} °C",
        outcome.scenario,
        outcome.units,
        plain(outcome.ambient_c)
    ; setting);
    let columns = vec![Column::of(vec![panel])];
    Chart::new("bands", word!("Bands of the characteristic"), subtitle, columns)
        .with_foot(key(outcome))
        .described(say!(
            "Time to trip against current on logarithmic axes for {} units: the median as an unbroken line, the 5 % and \
             the 95 % quantile as broken ones with the band between them shaded; {} published limits are marked.",
            outcome.units,
            outcome.limits.len()
        ))
}

/// A quantile, where it is finite and above zero.
fn at(band: &BandRecord, k: usize) -> Option<f64> {
    band.quantiles
        .get(k)
        .and_then(|q| q.value)
        .filter(|v| *v > 0.0)
}

fn limit(limit: &LimitRecord, outcome: &VaryOutcome) -> Limit {
    Limit {
        current: limit.demand.multiple * outcome.rated_current_a,
        at_least_s: limit.demand.at_least_s,
        at_most_s: limit.demand.at_most_s,
        is_comparable: (limit.ambient_c - outcome.ambient_c).abs() <= 0.5
            && limit.demand.poles.is_none(),
    }
}

fn key(outcome: &VaryOutcome) -> Vec<Foot> {
    let percent = |share: f64| {
        if share == 0.0 {
            "0 %".to_owned()
        } else {
            format!("{} %", significant(100.0 * share, 2))
        }
    };
    let mut keys = Vec::new();
    for (k, l) in outcome.limits.iter().enumerate() {
        let sides = &l.sides;
        let late = match l.demand.at_most_s {
            Some(_) => say!("; late {}", percent(sides.late.share)),
            None => String::new(),
        };
        let early = if l.demand.at_least_s.is_some() || l.demand.at_most_s.is_none() {
            say!("; early {}", percent(sides.early.share))
        } else {
            String::new()
        };
        let text = say!(
            "{} at {} °C{late}{early}",
            words::demand(l.demand),
            plain(l.ambient_c)
        ; late, early);
        let met = sides.late.units == 0 && sides.early.units == 0;
        keys.push(Key::new(Sample::Letter(log_log::letter(k), met), text));
    }
    let source = outcome.limits_source.iter().filter(|_| !keys.is_empty());
    let source: Vec<Foot> = source
        .map(|source| Foot::Note(say!("Source: {source}"; source)))
        .collect();
    [vec![Foot::Keys(keys)], source]
        .into_iter()
        .flatten()
        .collect()
}
