//! Drift over the years: trip point against the carried current, preload left, trip time, with bands; what no test
//! covers is shaded.

use super::area::Area;
use super::axis::Axis;
use super::canvas::{Anchor, Canvas, sheet};
use super::label::Labels;
use super::panel::Panel;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::present::number::{finite, plain, significant};
use crate::study::ageing::{AgeOutcome, DriftRow};
use plotters::style::{Color, RGBColor};

const TOP: f64 = 190.0;
const BOTTOM: f64 = 1270.0;
/// Ground of a stretch that no test covers.
const UNTESTED: RGBColor = RGBColor(243, 239, 232);
const BAND: RGBColor = RGBColor(205, 220, 236);
const BAND_MOSS: RGBColor = RGBColor(204, 228, 219);

/// One panel.
struct Course<'a> {
    title: &'a str,
    value: fn(&DriftRow) -> Option<f64>,
    band: fn(&DriftRow) -> Option<[f64; 3]>,
    stroke: Stroke,
    ground: RGBColor,
    level: Option<(f64, String)>,
}

/// Draws the figure; `None` with fewer than two rows.
pub(super) fn figure(outcome: &AgeOutcome) -> Result<Option<Figure>, PlotError> {
    if outcome.drift.len() < 2 {
        return Ok(None);
    }
    let title = "Wear over the years".to_owned();
    let carried = outcome.sensitivity.state.as_ref().and_then(|name| {
        let state = outcome.duty.iter().find(|d| d.state == *name)?;
        Some((
            state.current_a,
            format!("carried: {} A", significant(state.current_a, 3)),
        ))
    });
    let has_service = outcome
        .drift
        .iter()
        .any(|r| r.trip_point_in_service_a.is_some());
    let point = if has_service {
        Course {
            title: "Trip point in service, A",
            value: |r| r.trip_point_in_service_a,
            band: |r| r.trip_point_band_a,
            stroke: stroke(LAKE, 6, SOLID),
            ground: BAND,
            level: carried,
        }
    } else {
        Course {
            title: "Trip point, A",
            value: |r| r.trip_point_a,
            band: |_| None,
            stroke: stroke(LAKE, 6, SOLID),
            ground: BAND,
            level: Some((outcome.rated_current_a, "rated".into())),
        }
    };
    let preload = Course {
        title: "Preload left, %",
        value: |r| r.preload_left.map(|v| 100.0 * v),
        band: |r| r.preload_left_band.map(|b| b.map(|v| 100.0 * v)),
        stroke: stroke(MOSS, 6, DASHED),
        ground: BAND_MOSS,
        level: None,
    };
    let time = Course {
        title: "Trip at 2 x rated, s",
        value: |r| r.trip_time_2x_s,
        band: |_| None,
        stroke: stroke(PLUM, 6, DASH_DOT),
        ground: BAND,
        level: time_limit(outcome),
    };
    let service = match (&outcome.dates.trips_in_service, &outcome.sensitivity.state) {
        (date, _) if date.years == Some(0.0) => {
            let at = date.at.as_deref().unwrap_or("its duty");
            format!(" | the new part already trips: {at}")
        }
        (_, Some(state)) => format!(" | in service: {state}"),
        (_, None) => String::new(),
    };
    let subtitle = format!("{}{service}", outcome.scenario);
    let raw = sheet(|canvas| {
        canvas.header(&title, &subtitle)?;
        let area = |left, top, right, bottom| Area {
            left,
            top,
            right,
            bottom,
        };
        let half = 0.5 * (TOP + BOTTOM);
        point.draw(canvas, outcome, area(230.0, TOP, 1130.0, BOTTOM), true)?;
        preload.draw(
            canvas,
            outcome,
            area(1420.0, TOP, 2330.0, half - 25.0),
            false,
        )?;
        time.draw(
            canvas,
            outcome,
            area(1420.0, half + 25.0, 2330.0, BOTTOM),
            true,
        )?;
        key(canvas, outcome)
    })?;
    let description = "Trip point in service against years, with the current that is carried; preload left and \
        trip time at twice the rating against years. Bands hold 5 to 95 % of units drawn from the uncertain \
        constants; the shaded stretch is beyond what a test covers.";
    vector::finish("drift", title, description.to_owned(), &raw).map(Some)
}

/// The limit of the trip time that the drift comes nearer to, if there is one.
fn time_limit(outcome: &AgeOutcome) -> Option<(f64, String)> {
    let times = || {
        outcome
            .drift
            .iter()
            .filter_map(|r| finite(r.trip_time_2x_s))
    };
    let (first, last) = (times().next()?, times().next_back()?);
    let [least, most] = outcome.trip_time_2x_limits_s;
    if last > first {
        most.map(|s| (s, format!("limit: at most {} s", plain(s))))
    } else {
        least.map(|s| (s, format!("limit: at least {} s", plain(s))))
    }
}

fn key(canvas: &Canvas<'_>, outcome: &AgeOutcome) -> Result<(), PlotError> {
    let y = BOTTOM + 150.0;
    let mut x = 110.0;
    let mut entry = |colour: RGBColor, text: &str| -> Result<(), PlotError> {
        let area = Area {
            left: x,
            top: y - 14.0,
            right: x + 46.0,
            bottom: y + 14.0,
        };
        canvas.rectangle(area, colour.filled())?;
        canvas.text(text, (x + 60.0, y), SMALL, QUIET, Anchor::Left)?;
        x += 60.0 + canvas.width(text, SMALL) + 60.0;
        Ok(())
    };
    if outcome.drift.iter().any(|r| r.preload_left_band.is_some()) {
        entry(BAND, "band: 5 to 95 % of units")?;
    }
    if outcome.drift.iter().any(|r| r.extrapolated) {
        let text = match outcome.covered.until_years {
            Some(years) if years > 0.0 => format!(
                "shaded: extrapolated, beyond {} years: no test has done as much to the spring",
                significant(years, 2)
            ),
            _ => format!("shaded: {}", outcome.covered.text),
        };
        entry(UNTESTED, &canvas.shortened(&text, SMALL, 1500.0))?;
    }
    Ok(())
}

/// The axis of time: years are spaced by the logarithm of one more than four times the years, so that
/// the first year is seen as well as the last.
fn place(years: f64) -> f64 {
    (1.0 + 4.0 * years).log10()
}

fn axis(horizon: f64) -> Axis {
    let high = place(horizon);
    let mut axis = Axis::linear("Years", 0.0, high, 5);
    let marks = [
        0.0, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 30.0, 50.0, 100.0, 200.0,
    ];
    axis.ticks = marks
        .into_iter()
        .map(place)
        .filter(|p| *p <= high * 1.0001)
        .collect();
    axis.minor.clear();
    axis
}

impl Course<'_> {
    fn draw(
        &self,
        canvas: &Canvas<'_>,
        outcome: &AgeOutcome,
        frame: Area,
        with_years: bool,
    ) -> Result<(), PlotError> {
        let rows = &outcome.drift;
        let values = rows
            .iter()
            .flat_map(|r| (self.band)(r).into_iter().flatten().chain((self.value)(r)))
            .chain(self.level.as_ref().map(|l| l.0));
        let panel = Panel {
            frame,
            x: axis(outcome.horizon_years),
            y: Axis::airy(self.title, values, 6, 0.12),
        };
        self.shade(canvas, outcome, &panel)?;
        self.band(canvas, rows, &panel)?;
        panel.draw(canvas, false, true)?;
        if with_years {
            years(canvas, &panel)?;
        }
        let mut labels = Labels::inside(&[frame]);
        let mut named = None;
        if let Some((value, name)) = &self.level {
            let line = panel.level(canvas, *value, stroke(EMBER, 4, DASHED))?;
            named = Some((labels.helper(&line), name));
        }
        let data: Vec<(f64, f64)> = rows
            .iter()
            .map(|r| (place(r.years), finite((self.value)(r)).unwrap_or(f64::NAN)))
            .collect();
        let points = panel.map(&data);
        canvas.line(&points, self.stroke)?;
        labels.curve(&points);
        for point in points.iter().filter(|p| p.1.is_finite()) {
            canvas.disc(*point, 9, self.stroke.colour)?;
        }
        let shown = [0, rows.len() / 2, rows.len() - 1];
        for k in shown {
            if let Some(value) = finite((self.value)(&rows[k])) {
                labels.at(
                    canvas,
                    points[k],
                    &significant(value, 3),
                    self.stroke.colour,
                )?;
            }
        }
        match named {
            Some((number, name)) => labels.beside(canvas, number, name, EMBER),
            None => Ok(()),
        }
    }

    fn shade(
        &self,
        canvas: &Canvas<'_>,
        outcome: &AgeOutcome,
        panel: &Panel,
    ) -> Result<(), PlotError> {
        let from = outcome.covered.until_years.unwrap_or(0.0);
        if from >= outcome.horizon_years {
            return Ok(());
        }
        let area = Area {
            left: panel.across(place(from)),
            ..panel.frame
        };
        canvas.rectangle(area, UNTESTED.filled())
    }

    fn band(&self, canvas: &Canvas<'_>, rows: &[DriftRow], panel: &Panel) -> Result<(), PlotError> {
        let bands: Vec<(f64, [f64; 3])> = rows
            .iter()
            .filter_map(|r| Some((place(r.years), (self.band)(r)?)))
            .collect();
        if bands.len() < 2 {
            return Ok(());
        }
        let low = bands.iter().map(|(x, b)| panel.at(*x, b[0]));
        let high = bands.iter().rev().map(|(x, b)| panel.at(*x, b[2]));
        let outline: Vec<_> = low.chain(high).collect();
        canvas.polygon(&outline, self.ground)
    }
}

/// Numbers of the axis of years.
fn years(canvas: &Canvas<'_>, panel: &Panel) -> Result<(), PlotError> {
    let bottom = panel.frame.bottom;
    let mut last_end = f64::NEG_INFINITY;
    for tick in &panel.x.ticks {
        let x = panel.across(*tick);
        let number = plain((((10f64.powf(*tick) - 1.0) / 4.0) * 1e6).round() / 1e6);
        let half = 0.5 * canvas.width(&number, BODY);
        if x - half > last_end + 14.0 {
            canvas.text(&number, (x, bottom + 32.0), BODY, INK, Anchor::Centre)?;
            last_end = x + half;
        }
    }
    let middle = 0.5 * (panel.frame.left + panel.frame.right);
    canvas.text(
        "Years of duty",
        (middle, bottom + 82.0),
        BODY,
        INK,
        Anchor::Centre,
    )
}
