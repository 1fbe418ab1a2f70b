//! What was seen, against sound parts of the nameplate and against this part as it now seems: trip time against
//! current, log-log. A small figure for a page of words; its text stays readable at a third of its size.

use super::log_log::{self, NINETY_PERCENT, TimesBand, is_positive};
use super::readings::{Measured, Overlay, Reading};
use super::{Figure, PlotError};
use crate::diagnose::{BandPoint, Diagnosis, EvidencePoint};
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Foot, Key, Panel, Sample, Shape, extent, fill};
use crate::present::number::plain;
use crate::present::verdict::number_of;

pub(super) const SIZE: (i32, i32) = (1250, 700);
/// Longer times are left out where no reading asks for them, s.
const LONGEST_S: f64 = 7200.0;

/// Draws the readings on the characteristic, each with the number of its line in the list of evidence. `None`
/// when there is neither a characteristic nor a reading that can be drawn.
///
/// # Errors
/// When it cannot be drawn.
pub fn diagnosis_figure(diagnosis: &Diagnosis) -> Result<Option<Figure>, PlotError> {
    let Some(mut chart) = chart(diagnosis) else {
        return Ok(None);
    };
    chart.has_header = false;
    chart.size = SIZE;
    chart.described(description(diagnosis))
}

/// The same as a sheet of its own: titled, with a key, each reading in words, and the air it is drawn for.
///
/// # Errors
/// When it cannot be drawn.
pub fn readings_figure(diagnosis: &Diagnosis) -> Result<Option<Figure>, PlotError> {
    let Some(mut chart) = chart(diagnosis) else {
        return Ok(None);
    };
    let celsius = |t: f64| plain((10.0 * t).round() / 10.0);
    let reference = celsius(diagnosis.reference_ambient_c);
    let own = diagnosis.state.air_at_the_part_c.median;
    let own = Some(own).filter(|own| (own - diagnosis.reference_ambient_c).abs() > 2.0);
    let own = own.map_or(String::new(), |own| {
        let sooner = own > diagnosis.reference_ambient_c;
        let sooner = if sooner { "sooner" } else { "later" };
        format!(
            "; the air at the part seems to be {} °C, where it trips {sooner}",
            celsius(own.round())
        )
    });
    let air = format!("Curves from cold, in the reference air of {reference} °C{own}.");
    let patch =
        |band: &TimesBand| Sample::Patch(Some(band.fill), Some(band.median.unwrap_or(band.edge)));
    let keys = vec![
        Key::new(patch(&SOUND), "90 % of sound parts of this nameplate"),
        Key::new(
            patch(&THIS_PART),
            "this part as it now seems, median and 90 %",
        ),
        Key::new(Sample::Shape(Shape::Square, INK), "tripped; bars hold 90 %"),
        Key::new(Sample::Shape(Shape::Upwards, INK), "still closed"),
    ];
    let mut numbered: Vec<(usize, &str)> = diagnosis
        .points
        .iter()
        .filter_map(|p| Some((number_of(diagnosis, &p.label)?, p.label.trim())))
        .collect();
    numbered.sort_unstable();
    numbered.dedup();
    let readings = numbered.into_iter();
    let readings = readings.map(|(n, label)| Key::new(Sample::Letter(n.to_string(), true), label));
    let readings: Vec<Key> = readings.collect();
    let readings = match readings.is_empty() {
        true => Foot::Note("No reading with a current and a time to draw.".to_owned()),
        false => Foot::Keys(readings),
    };
    chart.foot = vec![Foot::Note(air), Foot::Keys(keys), readings];
    chart.described(description(diagnosis))
}

/// The characteristic with the readings; `None` without either.
fn chart(diagnosis: &Diagnosis) -> Option<Chart> {
    let overlay = overlay(diagnosis);
    let band: Vec<&BandPoint> = diagnosis
        .characteristic
        .iter()
        .filter(|p| is_positive(p.current_a))
        .collect();
    let times = |p: &&&BandPoint| p.sound_s.iter().chain(&p.this_part_s).any(Option::is_some);
    if !is_positive(diagnosis.rated_current_a)
        || band.iter().filter(times).count() < 2 && overlay.currents().next().is_none()
    {
        return None;
    }
    let mut panel = panel(diagnosis, &band, &overlay);
    let times = |of: fn(&BandPoint) -> [Option<f64>; 3]| -> Vec<(f64, [Option<f64>; 3])> {
        band.iter().map(|p| (p.current_a, of(p))).collect()
    };
    panel.items = SOUND.items("sound parts", &times(|p| p.sound_s));
    let this = THIS_PART.items("this part now", &times(|p| p.this_part_s));
    panel.items.extend(this);
    panel.items.push(log_log::rating(diagnosis.rated_current_a));
    panel.items.extend(overlay.reading_items());
    let columns = vec![Column::of(vec![panel])];
    let title = "Readings on the characteristic";
    Some(Chart::new(
        "readings",
        title,
        diagnosis.case.as_str(),
        columns,
    ))
}

fn description(diagnosis: &Diagnosis) -> String {
    format!(
        "Time to trip from cold against current on logarithmic axes. A light area with broken edges is where 90 % of \
         sound parts of this nameplate trip; an area with unbroken edges and a thick line is this part as it now \
         seems.{}",
        overlay(diagnosis).words()
    )
}

fn overlay(diagnosis: &Diagnosis) -> Overlay {
    let reading = |point: &EvidencePoint| {
        let half = |u: f64| {
            if is_positive(u) {
                NINETY_PERCENT * u
            } else {
                0.0
            }
        };
        let measured = if point.held {
            Measured::Held {
                for_s: point.time_s,
            }
        } else {
            Measured::Tripped {
                time_s: point.time_s,
                error_s: half(point.time_relative * point.time_s),
            }
        };
        Reading {
            current_a: point.current_a,
            current_error_a: half(point.current_uncertainty_a),
            measured,
            name: number_of(diagnosis, &point.label).map_or(String::new(), |n| n.to_string()),
        }
    };
    Overlay {
        readings: diagnosis.points.iter().map(reading).collect(),
        band: None,
    }
}

/// Ranges that hold the rating, the readings, and the characteristic around them.
fn panel(diagnosis: &Diagnosis, band: &[&BandPoint], overlay: &Overlay) -> Panel {
    let rated = diagnosis.rated_current_a;
    let currents = overlay.currents().chain([0.8 * rated, 3.0 * rated]);
    let (i_low, i_high) = extent(currents).unwrap_or((rated, 3.0 * rated));
    let (i_low, i_high) = (i_low * 0.88, i_high * 1.14);
    let shown = band
        .iter()
        .filter(|p| (i_low..=i_high).contains(&p.current_a));
    let times = shown
        .flat_map(|p| p.sound_s.iter().chain(&p.this_part_s))
        .flatten()
        .map(|t| t.min(LONGEST_S))
        .chain(overlay.times())
        .filter(|t| is_positive(*t));
    let (t_low, t_high) = extent(times).unwrap_or((1.0, 1000.0));
    let mut panel = log_log::panel([].into_iter(), [].into_iter(), Vec::new());
    panel.x = Axis::log("Current, A", i_low, i_high);
    panel.y = Axis::log("Time to trip from cold, s", t_low * 0.6, t_high * 2.2);
    log_log::with_multiples(panel, rated)
}

const SOUND: TimesBand = TimesBand {
    fill: fill(LAKE, 0.12),
    edge: stroke(LAKE, 4, DASHED),
    median: None,
};
const THIS_PART: TimesBand = TimesBand {
    fill: fill(EMBER, 0.26),
    edge: stroke(EMBER, 2, SOLID),
    median: Some(stroke(EMBER, 8, SOLID)),
};
