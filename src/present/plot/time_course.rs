//! Temperatures and deflection against time, with the moments that matter.

use super::contact_bar;
use super::course_panels::{
    AIR, CASE, CONTACT, Course, Curve, HOTTEST, HOUSING, MEAN, TERMINAL, WINDING,
};
use super::moments::moments;
use super::release::release_height_mm;
use super::stretch::{Stretch, excerpt, stretches};
use crate::predict::Outcome;
use crate::present::chart::style::*;
use crate::present::chart::{Chart, Column, Height, extent};
use crate::present::number::{duration, finite};

const CURVES: [Curve; 8] = [
    HOTTEST, MEAN, CONTACT, TERMINAL, AIR, WINDING, HOUSING, CASE,
];

/// Draws the figure; `None` without a time series.
pub(super) fn figure(outcome: &Outcome) -> Option<Chart> {
    let (first, last) = extent(outcome.series.iter().map(|s| s.time_s)).unwrap_or((0.0, 0.0));
    if outcome.series.len() < 2 || last <= first {
        return None;
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
    let title = word!("Temperature and deflection against time");
    let subtitle = format!("{}{note}", outcome.scenario);
    let mut chart = Chart::new("time_course", title, subtitle, columns);
    chart.is_split = true;
    chart.described(description(outcome, &note))
}

fn description(outcome: &Outcome, note: &str) -> String {
    let trip = match finite(outcome.trip.time_s()) {
        Some(0.0) => word!("It releases as soon as the load starts.").to_owned(),
        Some(t) => say!("It releases {} after the load starts.", duration(t, 3)),
        None => word!("It does not release.").to_owned(),
    };
    say!(
        "Upper panel: temperatures of the protector against time. Lower panel: deflection at the \
         push point against time with the deflections of release and relatch{note}. {trip}"
    ; note, trip)
}

fn column(outcome: &Outcome, stretch: &Stretch) -> Column {
    let all = outcome.series.iter();
    let course = Course {
        all: &outcome.series,
        shown: all.filter(|s| stretch.holds(s.time_s)).collect(),
        x: stretch.axis(),
        at: &|time_s| stretch.at(time_s),
    };
    let part = &outcome.part;
    let levels = [
        (
            word!("release"),
            release_height_mm(part),
            stroke(EMBER, 4, DASHED),
        ),
        (
            word!("relatch"),
            part.relatch_travel_mm,
            stroke(MOSS, 4, DASH_DOT),
        ),
    ];
    let mut column = Column::of(vec![
        course
            .temperatures(outcome, &CURVES, (8, 0.12))
            .high(Height::Share(0.55)),
        contact_bar::panel(stretch.axis(), &course.shown, |t| stretch.at(t)),
        course
            .deflection(outcome, &levels, (7, 0.08), &[0.0])
            .high(Height::Share(0.45)),
    ]);
    column.flags = moments(outcome, stretch);
    column
}
