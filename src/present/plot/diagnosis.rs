//! What was seen, against sound parts of the nameplate and against this part as it now seems: trip time against
//! current, log-log. A small figure for a page of words; its text stays readable at a third of its size.

use super::area::Area;
use super::axis::{Axis, extent};
use super::canvas::{Anchor, Canvas, sheet};
use super::characteristic::{minutes_and_hours, multiples};
use super::label::Labels;
use super::panel::Panel;
use super::readings::{Measured, Overlay, Reading};
use super::style::{BODY, DASHED, DOTTED, EMBER, LAKE, QUIET, stroke};
use super::times_band::{NINETY_PERCENT, TimesBand};
use super::{Figure, PlotError, vector};
use crate::diagnose::{BandPoint, Diagnosis, EvidencePoint};
use crate::present::number::plain;
use crate::present::verdict::number_of;

pub(super) const SIZE: (i32, i32) = (1250, 700);
const FRAME: Area = Area {
    left: 168.0,
    top: 76.0,
    right: 1096.0,
    bottom: 584.0,
};
/// Longer times are left out where no reading asks for them, s.
const LONGEST_S: f64 = 7200.0;

/// Draws the readings on the characteristic, each with the number of its line in the list of evidence. `None`
/// when there is neither a characteristic nor a reading that can be drawn.
///
/// # Errors
/// When it cannot be drawn.
pub fn diagnosis_figure(diagnosis: &Diagnosis) -> Result<Option<Figure>, PlotError> {
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
        return Ok(None);
    }
    let panel = panel(diagnosis, &band, &overlay);
    let raw = sheet(|canvas| draw(canvas, &panel, diagnosis, &band, &overlay))?;
    let description = format!(
        "Time to trip from cold against current on logarithmic axes. A light area with broken edges is where 90 % of \
         sound parts of this nameplate trip; an area with unbroken edges and a thick line is this part as it now \
         seems.{}",
        overlay.words()
    );
    let title = "Readings on the characteristic".to_owned();
    vector::finish_part("readings", title, description, &raw, SIZE).map(Some)
}

fn is_positive(value: f64) -> bool {
    value.is_finite() && value > 0.0
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
    Panel {
        frame: FRAME,
        x: Axis::log("Current, A", i_low, i_high),
        y: Axis::log("Time to trip from cold, s", t_low * 0.6, t_high * 2.2),
    }
}

const SOUND: TimesBand = TimesBand {
    colour: LAKE,
    tint: 0.12,
    edge: stroke(LAKE, 4, DASHED),
    median: None,
};
const THIS_PART: TimesBand = TimesBand {
    colour: EMBER,
    tint: 0.26,
    edge: stroke(EMBER, 2, &[]),
    median: Some(stroke(EMBER, 8, &[])),
};

fn draw(
    canvas: &Canvas<'_>,
    panel: &Panel,
    diagnosis: &Diagnosis,
    band: &[&BandPoint],
    overlay: &Overlay,
) -> Result<(), PlotError> {
    panel.draw(canvas, true, true)?;
    minutes_and_hours(canvas, panel)?;
    multiples(canvas, panel, diagnosis.rated_current_a)?;
    let mut labels = Labels::inside(&[panel.frame]);
    let times = |of: fn(&BandPoint) -> [Option<f64>; 3]| -> Vec<(f64, [Option<f64>; 3])> {
        band.iter().map(|p| (p.current_a, of(p))).collect()
    };
    let sound = SOUND.draw(canvas, panel, &mut labels, &times(|p| p.sound_s))?;
    let this = THIS_PART.draw(canvas, panel, &mut labels, &times(|p| p.this_part_s))?;
    rating(canvas, panel, &mut labels, diagnosis.rated_current_a)?;
    overlay.draw_readings(canvas, panel, &mut labels)?;
    let named = [
        (this, "this part now", THIS_PART.colour),
        (sound, "sound parts", SOUND.colour),
    ];
    for (curve, name, colour) in named {
        if let Some(curve) = curve {
            labels.beside(canvas, curve, name, colour)?;
        }
    }
    Ok(())
}

fn rating(
    canvas: &Canvas<'_>,
    panel: &Panel,
    labels: &mut Labels,
    rated_a: f64,
) -> Result<(), PlotError> {
    let line = panel.upright(canvas, rated_a, stroke(QUIET, 4, DOTTED))?;
    labels.helper(&line);
    let text = format!("rated {} A", plain(rated_a));
    let x = panel.across(rated_a) - 0.8 * BODY;
    let bottom = panel.frame.bottom - 16.0;
    canvas.upwards(&text, (x, bottom), BODY, QUIET, Anchor::Left)?;
    labels.block(Area {
        left: x - 0.6 * BODY,
        top: bottom - canvas.width(&text, BODY),
        right: x + 0.6 * BODY,
        bottom,
    });
    Ok(())
}
