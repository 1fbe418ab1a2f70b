//! Temperatures and deflection against time, with the moments that matter.

use super::moments::moments;
use super::release::release_height_mm;
use super::stretch::{Stretch, excerpt, stretches};
use super::{Figure, PlotError, contact_bar};
use crate::predict::{Outcome, State};
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Height, Item, Line, Panel, extent};
use crate::present::number::{duration, finite, significant};

/// Name, line and value.
type Curve = (&'static str, Stroke, fn(&State) -> f64);

const CURVES: [Curve; 7] = [
    ("hottest point", stroke(EMBER, 6, SOLID), |s| s.strip_peak_c),
    ("strip mean", stroke(LAKE, 5, DASHED), |s| s.strip_mean_c),
    ("moving contact", stroke(MOSS, 4, DASH_DOT), |s| {
        s.moving_contact_c
    }),
    ("clamped terminal", stroke(CLAY, 4, LONG), |s| {
        s.clamped_terminal_c
    }),
    ("air", stroke(QUIET, 4, DOTTED), |s| s.ambient_c),
    ("winding", stroke(PLUM, 5, TWO_DOTS), |s| {
        s.winding_c.unwrap_or(f64::NAN)
    }),
    ("housing air", stroke(INK, 4, SPARSE), |s| {
        s.housing_c.unwrap_or(f64::NAN)
    }),
];

/// Draws the figure; `None` without a time series.
pub(super) fn figure(outcome: &Outcome) -> Result<Option<Figure>, PlotError> {
    let (first, last) = extent(outcome.series.iter().map(|s| s.time_s)).unwrap_or((0.0, 0.0));
    if outcome.series.len() < 2 || last <= first {
        return Ok(None);
    }
    let excerpt = excerpt(outcome);
    let (first, last) = excerpt
        .as_ref()
        .map_or((first, last), |e| (e.from_s, e.to_s));
    let note = excerpt
        .map(|e| format!(" ({})", e.text))
        .unwrap_or_default();
    let columns = stretches(outcome, first, last);
    let columns = columns.iter().map(|s| column(outcome, s)).collect();
    let title = "Temperature and deflection against time";
    let subtitle = format!("{}{note}", outcome.scenario);
    let mut chart = Chart::new("time_course", title, subtitle, columns);
    chart.is_split = true;
    chart.cautions = super::again(outcome);
    chart.described(description(outcome, &note))
}

fn description(outcome: &Outcome, note: &str) -> String {
    let trip = match finite(outcome.trip.time_s()) {
        Some(t) => format!("It releases {} after the load starts.", duration(t, 3)),
        None => "It does not release.".to_owned(),
    };
    format!(
        "Upper panel: temperatures of the protector against time. Lower panel: deflection at the \
         push point against time with the deflections of release and relatch{note}. {trip}"
    )
}

fn column(outcome: &Outcome, stretch: &Stretch) -> Column {
    let states: Vec<&State> = outcome
        .series
        .iter()
        .filter(|s| stretch.holds(s.time_s))
        .collect();
    let line = |stroke, value: fn(&State) -> f64| {
        let points = states.iter().map(|s| (stretch.at(s.time_s), value(s)));
        Line::new(points.collect(), stroke)
    };
    let all = || outcome.series.iter();
    let shown = |c: &&Curve| all().any(|s| (c.2)(s).is_finite());
    let curves: Vec<&Curve> = CURVES.iter().filter(shown).collect();
    let temperatures = all().flat_map(|s| curves.iter().map(move |c| (c.2)(s)));
    let upper = Panel::new(
        stretch.axis(),
        Axis::airy("Temperature, °C", temperatures, 8, 0.12),
        curves
            .iter()
            .map(|(name, stroke, value)| line(*stroke, *value).named(*name).into())
            .collect(),
    );
    let part = &outcome.part;
    let levels = [
        ("release", release_height_mm(part), stroke(EMBER, 4, DASHED)),
        ("relatch", part.relatch_travel_mm, stroke(MOSS, 4, DASH_DOT)),
    ];
    let level = |(name, value, stroke): &(&str, Option<f64>, Stroke)| {
        let value = finite(*value)?;
        let text = format!("{name} at {} mm", significant(value, 3));
        Some(Item::level(value, *stroke, text))
    };
    let mut items: Vec<Item> = levels.iter().filter_map(level).collect();
    items.push(line(stroke(LAKE, 6, SOLID), |s| s.tip_deflection_mm).into());
    let heights = levels.iter().filter_map(|l| l.1).chain([0.0]);
    let deflections = all().map(|s| s.tip_deflection_mm).chain(heights);
    let lower = Panel::new(
        stretch.axis(),
        Axis::around(super::deflection_title(outcome), deflections, 7),
        items,
    );
    let mut column = Column::of(vec![
        upper.high(Height::Share(0.55)),
        contact_bar::panel(stretch.axis(), &states, |t| stretch.at(t)),
        lower.high(Height::Share(0.45)),
    ]);
    column.flags = moments(outcome, stretch);
    column
}
