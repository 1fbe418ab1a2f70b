//! The strip of sound parts through a recorded log: current above, share of the way to release below, with the trips
//! that were found and those that a sound part would have made. Gaps of the log stay gaps.

use super::area::{Area, Point};
use super::axis::Axis;
use super::canvas::{Anchor, Canvas, sheet};
use super::clip;
use super::flags::{Flag, Flags};
use super::label::Labels;
use super::panel::Panel;
use super::stretch::time_unit;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::diagnose::{LogPicture, LogPictures, PicturePoint, SoundTrip};
use crate::evidence::LogFindings;
use crate::present::number::{duration, plain};
use crate::present::verdict::percent;
use plotters::style::Color;

const LEFT: f64 = 230.0;
const RIGHT: f64 = 2330.0;
const TOP: f64 = 220.0;
const BOTTOM: f64 = 1370.0;
const BETWEEN: f64 = 40.0;
/// Share of the height for the current.
const UPPER_SHARE: f64 = 0.36;
/// The lower axis reaches at least and at most so far, % of the way.
const LEAST_HIGH: f64 = 115.0;
const MOST_HIGH: f64 = 180.0;
/// Trips found that get words; the others get their line.
const WORDS: usize = 4;
/// Moments further apart than this on the sheet are drawn as two.
const APART: f64 = 10.0;

/// Draws the strip through a log; `None` where the log holds nothing that a part could carry.
///
/// # Errors
/// When it cannot be drawn.
pub fn log_figure(
    through: &LogPictures,
    log: &LogFindings,
    rated_current_a: f64,
) -> Result<Option<Figure>, PlotError> {
    let picture = &through.recorded;
    let first_s = log.course.condensed.starts_at_s;
    let last_s = picture.points.last().map_or(first_s, |p| p.time_s);
    if picture.points.len() < 2 || !(last_s > first_s) {
        return Ok(None);
    }
    let title = "The strip through the log".to_owned();
    let drawing = Drawing {
        picture,
        most: through.most.as_ref(),
        log,
        rated_current_a,
        first_s,
        last_s,
    };
    let raw = sheet(|canvas| drawing.draw(canvas))?;
    vector::finish("strip_through_log", title, drawing.description(), &raw)
        .and_then(super::cautioned)
        .map(Some)
}

struct Drawing<'a> {
    picture: &'a LogPicture,
    /// The same with the most heat that averages allow.
    most: Option<&'a LogPicture>,
    log: &'a LogFindings,
    rated_current_a: f64,
    first_s: f64,
    last_s: f64,
}

/// The two panels, and seconds in the unit of their time.
struct Panels {
    upper: Panel,
    lower: Panel,
    unit_s: f64,
}

impl Drawing<'_> {
    fn description(&self) -> String {
        let gaps = match self.log.course.gaps_s.len() {
            0 => "",
            _ => " Gaps of the log are shaded, and the curves are broken there.",
        };
        format!(
            "Upper panel: recorded current against time since the first row of {}. Lower panel: share of the way to \
             release that the strip of {} sound parts has gone, median and the band of 90 % of them, with the line of \
             release; {}. {}. {}{gaps}",
            self.log.file,
            self.picture.parts,
            match self.log.trips.len() {
                0 => "no trip was found in the log".to_owned(),
                1 => "the trip found in the log is marked through both".to_owned(),
                n => format!("the {n} trips found in the log are marked through both"),
            },
            self.remarks(),
            match self.most {
                Some(most) => format!(
                    "With the averages as they are: {} With the most heat that they allow: {}",
                    self.picture.sentence, most.sentence
                ),
                None => self.picture.sentence.clone(),
            }
        )
    }

    /// Trips that sound parts would have made: with the current as recorded, or where it holds averages with the most
    /// heat.
    fn sound_trips(&self) -> &[SoundTrip] {
        let recorded = &self.picture.trips;
        match self.most {
            Some(most) if recorded.is_empty() => &most.trips,
            _ => recorded,
        }
    }

    /// All points of the lower panel.
    fn points(&self) -> impl Iterator<Item = &PicturePoint> {
        let most = self.most.iter().flat_map(|m| &m.points);
        self.picture.points.iter().chain(most)
    }

    /// What a reader must know before the curves are believed.
    fn remarks(&self) -> String {
        let mut told = vec![format!(
            "{} sound parts, cold at the first row, air {} °C",
            self.picture.parts,
            plain((10.0 * self.picture.ambient_c).round() / 10.0)
        )];
        if self.log.averages {
            told.push(match self.most {
                Some(_) => "averages hide heat: between the two lies the truth".to_owned(),
                None => "averages hide heat: this is the least there can have been".to_owned(),
            });
        }
        if self.log.too_slow {
            told.push("rows too far apart to show starts".to_owned());
        }
        if self.sound_trips().len() > 1 {
            told.push("diamonds: share of sound parts that would trip".to_owned());
        }
        if !self.log.course.gaps_s.is_empty() {
            told.push("gaps filled with the largest current before them".to_owned());
        }
        told.join("; ")
    }

    fn draw(&self, canvas: &Canvas<'_>) -> Result<(), PlotError> {
        canvas.header("The strip through the log", &self.log.file)?;
        let remarks = canvas.shortened(&self.remarks(), SMALL, f64::from(WIDTH) - 160.0);
        canvas.text(&remarks, (80.0, 168.0), SMALL, QUIET, Anchor::Left)?;
        let mut panels = self.panels();
        let flags = self.flags(canvas, &panels);
        panels.below(TOP + flags.height());
        self.gaps(canvas, &panels)?;
        panels.upper.draw(canvas, false, true)?;
        panels.lower.draw(canvas, true, true)?;
        flags.draw(canvas, panels.upper.frame.top, panels.lower.frame.bottom)?;
        self.current(canvas, &panels, &flags)?;
        self.way(canvas, &panels, &flags)
    }

    fn panels(&self) -> Panels {
        let span_s = self.last_s - self.first_s;
        let (unit_s, unit) = time_unit(span_s);
        let x = Axis::linear(
            format!("Time since the first row, {unit}"),
            0.0,
            span_s / unit_s,
            10,
        );
        let largest_a = self.points().map(|p| p.current_a).fold(0.0, f64::max);
        let high = self
            .points()
            .map(|p| 100.0 * p.used.high)
            .filter(|v| v.is_finite())
            .fold(0.0, f64::max);
        // Air colder than that of the rating bends the strip the other way.
        let low = self
            .points()
            .map(|p| 100.0 * p.used.low)
            .filter(|v| v.is_finite())
            .fold(0.0, f64::min);
        let frame = |top: f64, bottom: f64| Area {
            left: LEFT,
            top,
            right: RIGHT,
            bottom,
        };
        Panels {
            upper: Panel {
                frame: frame(TOP, BOTTOM),
                x: x.clone(),
                y: Axis::linear(
                    "Current, A",
                    0.0,
                    1.15 * largest_a.max(self.rated_current_a),
                    5,
                ),
            },
            lower: Panel {
                frame: frame(TOP, BOTTOM),
                x,
                y: Axis::linear(
                    "Way to release, %",
                    1.06 * low,
                    (1.06 * high).clamp(LEAST_HIGH, MOST_HIGH),
                    8,
                ),
            },
            unit_s,
        }
    }

    /// The trips found: when each happened at the earliest, and at the latest where that is another moment.
    fn flags(&self, canvas: &Canvas<'_>, panels: &Panels) -> Flags {
        let mut flags = Vec::new();
        for (k, trip) in self.log.trips.iter().enumerate() {
            let after_s = [trip.not_before_s, trip.not_after_s].map(|s| s - self.first_s);
            let [x, latest] = after_s.map(|s| panels.upper.across(s / panels.unit_s));
            let [from, to] = after_s.map(|s| duration(s, 3));
            let is_wide = latest > x + APART;
            let text = match is_wide {
                _ if k >= WORDS => String::new(),
                true => format!("trip found, {from} to {to}"),
                false => format!("trip found, {from}"),
            };
            let stroke = stroke(PLUM, 4, DASH_DOT);
            flags.push(Flag { x, text, stroke });
            if is_wide && latest <= RIGHT {
                flags.push(Flag {
                    x: latest,
                    text: String::new(),
                    stroke,
                });
            }
        }
        Flags::place(canvas, flags, LEFT - 40.0, RIGHT + 40.0)
    }

    /// Shaded through both panels, with a word where there is room for it.
    fn gaps(&self, canvas: &Canvas<'_>, panels: &Panels) -> Result<(), PlotError> {
        for (left, right) in self.gaps_across(panels) {
            for frame in [panels.upper.frame, panels.lower.frame] {
                let corners = [
                    (left, frame.top),
                    (right, frame.top),
                    (right, frame.bottom),
                    (left, frame.bottom),
                ];
                canvas.tint(&corners, &QUIET.mix(0.2))?;
                for x in [left, right] {
                    let edge = [(x, frame.top), (x, frame.bottom)];
                    canvas.line(&edge, stroke(QUIET, 2, DOTTED))?;
                }
            }
            if canvas.width("gap", SMALL) + 12.0 < right - left {
                let at = (0.5 * (left + right), panels.upper.frame.bottom - 26.0);
                canvas.text("gap", at, SMALL, INK, Anchor::Centre)?;
            }
        }
        Ok(())
    }

    /// Where the gaps lie on the sheet, left and right.
    fn gaps_across(&self, panels: &Panels) -> Vec<(f64, f64)> {
        let across = |s: f64| {
            let x = panels.upper.across((s - self.first_s) / panels.unit_s);
            x.clamp(LEFT, RIGHT)
        };
        let gaps = self.log.course.gaps_s.iter();
        gaps.map(|(from_s, to_s)| (across(*from_s), across(*to_s).max(across(*from_s) + 2.0)))
            .collect()
    }

    /// Labels keep out of gaps.
    fn block_gaps(&self, panels: &Panels, panel: &Panel, labels: &mut Labels) {
        for (left, right) in self.gaps_across(panels) {
            labels.block(Area {
                left,
                right,
                ..panel.frame
            });
        }
    }

    /// A curve over time, broken in gaps and cut at its panel.
    fn curve(&self, panels: &Panels, panel: &Panel, data: &[(f64, f64)]) -> Vec<Point> {
        let pieces: Vec<Vec<Point>> = outside(data, &self.log.course.gaps_s)
            .into_iter()
            .map(|piece| {
                let at = |(s, y): &(f64, f64)| panel.at((s - self.first_s) / panels.unit_s, *y);
                let piece: Vec<Point> = piece.iter().map(at).collect();
                clip::line(&piece, &panel.frame)
            })
            .collect();
        pieces.join(&(f64::NAN, f64::NAN))
    }

    fn current(
        &self,
        canvas: &Canvas<'_>,
        panels: &Panels,
        flags: &Flags,
    ) -> Result<(), PlotError> {
        let panel = &panels.upper;
        let mut labels = Labels::inside(&[panel.frame]);
        let rated = panel.level(canvas, self.rated_current_a, stroke(QUIET, 4, DOTTED))?;
        let rated = labels.helper(&rated);
        let mut from_s = self.first_s;
        let mut steps = Vec::with_capacity(2 * self.picture.points.len());
        for p in &self.picture.points {
            steps.push((from_s, p.current_a));
            steps.push((p.time_s, p.current_a));
            from_s = p.time_s;
        }
        let line = self.curve(panels, panel, &steps);
        canvas.line(&line, stroke(INK, 4, SOLID))?;
        let number = labels.curve(&line);
        for pole in flags.poles(panel.frame.top, panel.frame.bottom) {
            labels.helper(&pole);
        }
        self.block_gaps(panels, panel, &mut labels);
        let name = if self.log.averages {
            "recorded current, averages"
        } else {
            "recorded current, RMS"
        };
        labels.beside(canvas, number, name, INK)?;
        let text = format!("rated {} A", plain(self.rated_current_a));
        labels.beside(canvas, rated, &text, QUIET)
    }

    fn way(&self, canvas: &Canvas<'_>, panels: &Panels, flags: &Flags) -> Result<(), PlotError> {
        let panel = &panels.lower;
        let points = &self.picture.points;
        let of = |value: fn(&PicturePoint) -> f64| -> Vec<(f64, f64)> {
            points
                .iter()
                .map(|p| (p.time_s, 100.0 * value(p)))
                .collect()
        };
        let (low, median, high) = (
            of(|p| p.used.low),
            of(|p| p.used.median),
            of(|p| p.used.high),
        );
        let gaps = &self.log.course.gaps_s;
        for (low, high) in outside(&low, gaps).iter().zip(&outside(&high, gaps)) {
            let outline: Vec<Point> = low
                .iter()
                .chain(high.iter().rev())
                .map(|(s, y)| panel.at((s - self.first_s) / panels.unit_s, *y))
                .collect();
            canvas.tint(&clip::polygon(&outline, &panel.frame), &LAKE.mix(0.16))?;
        }
        let mut labels = Labels::inside(&[panel.frame]);
        let mut edges = Vec::new();
        for edge in [&high, &low] {
            let line = self.curve(panels, panel, edge);
            canvas.line(&line, stroke(LAKE, 3, DASHED))?;
            edges.push(labels.curve(&line));
        }
        let line = self.curve(panels, panel, &median);
        canvas.line(&line, stroke(LAKE, 7, SOLID))?;
        let middle = labels.curve(&line);
        self.block_gaps(panels, panel, &mut labels);
        let release = panel.level(canvas, 100.0, stroke(EMBER, 5, LONG))?;
        let release = labels.helper(&release);
        for pole in flags.poles(panel.frame.top, panel.frame.bottom) {
            labels.helper(&pole);
        }
        self.most_heat(canvas, panels, &mut labels)?;
        for trip in self.sound_trips() {
            self.sound_trip(canvas, panels, &mut labels, trip)?;
        }
        if self.sound_trips().is_empty()
            && let Some(closest) = &self.picture.closest
        {
            let at = panel.at(
                (closest.time_s - self.first_s) / panels.unit_s,
                100.0 * closest.used.median,
            );
            canvas.disc(at, 12, LAKE)?;
            let text = format!("closest: {} of the way", percent(closest.used.median));
            labels.at(canvas, at, &text, LAKE)?;
        }
        labels.beside(canvas, release, "release", EMBER)?;
        labels.beside(canvas, edges[0], "90 % of sound parts", LAKE)?;
        labels.beside(canvas, middle, "median", LAKE)
    }

    /// The strip with the most heat that averages allow: its median and the upper edge of its band.
    fn most_heat(
        &self,
        canvas: &Canvas<'_>,
        panels: &Panels,
        labels: &mut Labels,
    ) -> Result<(), PlotError> {
        let Some(most) = self.most else {
            return Ok(());
        };
        let of =
            |value: fn(&PicturePoint) -> f64, stroke: Stroke| -> Result<Vec<Point>, PlotError> {
                let course: Vec<(f64, f64)> = most
                    .points
                    .iter()
                    .map(|p| (p.time_s, 100.0 * value(p)))
                    .collect();
                let line = self.curve(panels, &panels.lower, &course);
                canvas.line(&line, stroke)?;
                Ok(line)
            };
        let high = of(|p| p.used.high, stroke(MOSS, 3, DOTTED))?;
        let median = of(|p| p.used.median, stroke(MOSS, 6, DASH_DOT))?;
        labels.curve(&high);
        let number = labels.curve(&median);
        labels.beside(canvas, number, "median, most heat", MOSS)
    }

    /// Where sound parts would have tripped: a diamond at the median, a bar of 90 %.
    fn sound_trip(
        &self,
        canvas: &Canvas<'_>,
        panels: &Panels,
        labels: &mut Labels,
        trip: &SoundTrip,
    ) -> Result<(), PlotError> {
        let panel = &panels.lower;
        let at = |s: f64| panel.at((s - self.first_s) / panels.unit_s, 100.0);
        let [low, middle, high] = [trip.time_s.low, trip.time_s.median, trip.time_s.high].map(at);
        let bar = clip::line(&[low, high], &panel.frame);
        canvas.line(&bar, stroke(EMBER, 10, SOLID))?;
        let (x, y) = middle;
        let half = 17.0;
        let diamond = [(x, y - half), (x + half, y), (x, y + half), (x - half, y)];
        labels.block(Area {
            left: x - half,
            top: y - half,
            right: x + half,
            bottom: y + half,
        });
        // Several would hide one another: they get their share alone.
        let share = percent(trip.share);
        let text = if self.sound_trips().len() == 1 {
            let when = duration(trip.time_s.median - self.first_s, 3);
            let heat = if self.picture.trips.is_empty() {
                " with the most heat"
            } else {
                ""
            };
            format!("{share} of sound parts would trip{heat}, {when}")
        } else {
            share
        };
        labels.at(canvas, middle, &text, EMBER)?;
        // Over the ground of the words, where they had to stand close.
        canvas.polygon(&diamond, EMBER)
    }
}

impl Panels {
    /// Both below a height, one above the other.
    fn below(&mut self, top: f64) {
        let height = BOTTOM - top - BETWEEN;
        self.upper.frame.top = top;
        self.upper.frame.bottom = top + UPPER_SHARE * height;
        self.lower.frame.top = self.upper.frame.bottom + BETWEEN;
    }
}

/// The pieces of a course outside gaps, cut at their edges on the straight line between two moments.
fn outside(course: &[(f64, f64)], gaps_s: &[(f64, f64)]) -> Vec<Vec<(f64, f64)>> {
    let mut pieces: Vec<Vec<(f64, f64)>> = vec![Vec::new()];
    for pair in course.windows(2) {
        let ((from_s, from), (to_s, to)) = (pair[0], pair[1]);
        let at = |s: f64| {
            if to_s > from_s {
                from + (to - from) * (s - from_s) / (to_s - from_s)
            } else {
                to
            }
        };
        let mut start_s = from_s;
        for (gap_from_s, gap_to_s) in gaps_s {
            if *gap_to_s <= start_s || *gap_from_s >= to_s {
                continue;
            }
            push(&mut pieces, (start_s, at(start_s)));
            if *gap_from_s > start_s {
                push(&mut pieces, (*gap_from_s, at(*gap_from_s)));
            }
            if pieces.last().is_some_and(|p| !p.is_empty()) {
                pieces.push(Vec::new());
            }
            start_s = gap_to_s.min(to_s);
        }
        let swallowed = gaps_s
            .iter()
            .any(|(f, t)| *f <= start_s && *t >= to_s && to_s > from_s);
        if !swallowed {
            push(&mut pieces, (start_s, at(start_s)));
            push(&mut pieces, (to_s, at(to_s)));
        }
    }
    pieces.retain(|piece| piece.len() > 1);
    pieces
}

fn push(pieces: &mut [Vec<(f64, f64)>], point: (f64, f64)) {
    if let Some(piece) = pieces.last_mut()
        && piece.last() != Some(&point)
    {
        piece.push(point);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_course_is_broken_where_the_log_has_gaps() {
        let course = [(0.0, 0.0), (10.0, 10.0), (20.0, 10.0)];
        assert_eq!(outside(&course, &[]), [course.to_vec()]);
        assert_eq!(
            outside(&course, &[(4.0, 6.0)]),
            [
                vec![(0.0, 0.0), (4.0, 4.0)],
                vec![(6.0, 6.0), (10.0, 10.0), (20.0, 10.0)]
            ]
        );
        // Over a moment of the course, at its start, over all of it, several in one step.
        assert_eq!(
            outside(&course, &[(8.0, 15.0)]),
            [
                vec![(0.0, 0.0), (8.0, 8.0)],
                vec![(15.0, 10.0), (20.0, 10.0)]
            ]
        );
        assert_eq!(
            outside(&course, &[(-5.0, 12.0)]),
            [vec![(12.0, 10.0), (20.0, 10.0)]]
        );
        assert!(outside(&course, &[(-5.0, 50.0)]).is_empty());
        assert_eq!(outside(&course, &[(1.0, 2.0), (3.0, 4.0)]).len(), 3);
        // Upright steps stay upright.
        let steps = [(0.0, 5.0), (10.0, 5.0), (10.0, 9.0), (20.0, 9.0)];
        assert_eq!(outside(&steps, &[]), [steps.to_vec()]);
    }
}
