//! The strip of sound parts through a recorded log: current above, share of the way to release
//! below, with the trips that were found and those that a sound part would have made. Gaps of the
//! log stay gaps.

use super::Figure;
use super::area::Area;
use super::stretch::time_unit;
use crate::answer::Caution;
use crate::diagnose::{LogPicture, LogPictures, PicturePoint, SoundTrip};
use crate::evidence::LogFindings;
use crate::present::chart::clip;
use crate::present::chart::style::*;
use crate::present::chart::{
    Axis, Bar, Chart, Column, Datum, Flag, Foot, Height, Item, Line, Mark, Panel, Shape, fill,
};
use crate::present::number::percent;
use crate::present::number::{duration, plain};
use crate::present::words;
use std::iter;

/// The lower axis reaches at least and at most so far, % of the way.
const LEAST_HIGH: f64 = 115.0;
const MOST_HIGH: f64 = 180.0;
/// Trips found that get words; the others get their line.
const WORDS: usize = 4;
/// Moments further apart than this part of the log are drawn as two.
const APART: f64 = 0.005;

/// Draws the strip through a log; `None` where the log holds nothing that a part could carry.
pub fn log_figure(
    through: &LogPictures,
    log: &LogFindings,
    (rated_current_a, cautions): (f64, &[Caution]),
) -> Option<Figure> {
    let picture = &through.recorded;
    let first_s = log.course.condensed.starts_at_s;
    let last_s = picture.points.last().map_or(first_s, |p| p.time_s);
    if picture.points.len() < 2 || !(last_s > first_s) {
        return None;
    }
    let drawing = Drawing {
        picture,
        most: through.most.as_ref(),
        log,
        rated_current_a,
        first_s,
        last_s,
    };
    let chart = drawing.chart().described(drawing.description())?;
    Some(chart.carrying(cautions))
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

impl Drawing<'_> {
    fn description(&self) -> String {
        let gaps = match self.log.course.gaps_s.len() {
            0 => "",
            _ => word!(" Gaps of the log are shaded, and the curves are broken there."),
        };
        say!(
            "Upper panel: recorded current against time since the first row of {}. Lower panel: share of the way to \
             release that the strip of {} sound parts has gone, median and the band of 90 % of them, with the line of \
             release; {}. {}. {}{gaps}",
            self.log.file,
            self.picture.parts,
            match self.log.trips.len() {
                0 => word!("no trip was found in the log").to_owned(),
                1 => word!("the trip found in the log is marked through both").to_owned(),
                n => say!("the {n} trips found in the log are marked through both"; n),
            },
            self.remarks(),
            match self.most {
                Some(most) => say!(
                    "With the averages as they are: {} With the most heat that they allow: {}",
                    words::log_picture(self.picture),
                    words::log_picture(most)
                ),
                None => words::log_picture(self.picture),
            }
        ; gaps)
    }

    /// Trips that sound parts would have made: with the current as recorded, or where it holds
    /// averages with the most heat.
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
        let mut told = vec![say!(
            "{} sound parts, cold at the first row, air {} °C",
            self.picture.parts,
            plain((10.0 * self.picture.ambient_c).round() / 10.0)
        )];
        if self.log.averages() {
            told.push(match self.most {
                Some(_) => word!("averages hide heat: between the two lies the truth").to_owned(),
                None => {
                    word!("averages hide heat: this is the least there can have been").to_owned()
                }
            });
        }
        if self.log.too_slow() {
            told.push(word!("rows too far apart to show starts").to_owned());
        }
        if self.sound_trips().len() > 1 {
            told.push(word!("diamonds: share of sound parts that would trip").to_owned());
        }
        if !self.log.course.gaps_s.is_empty() {
            told.push(word!("gaps filled with the largest current before them").to_owned());
        }
        told.join("; ")
    }

    fn chart(&self) -> Chart {
        let mut column = Column::of(vec![
            self.current().high(Height::Share(0.36)),
            self.way().high(Height::Share(0.64)),
        ]);
        column.flags = self.flags();
        let mut notes = vec![self.remarks()];
        if self.points().any(|p| p.used.high > 1.0) {
            let text = word!("Above 100 %: the strip would have bent on, had it not released");
            notes.push(text.to_owned());
        }
        let title = word!("The strip through the log");
        Chart::new(
            "strip_through_log",
            title,
            self.log.file.as_str(),
            vec![column],
        )
        .with_foot(notes.into_iter().map(Foot::Note).collect())
    }

    /// A moment on the axis of time, in the unit of its title.
    fn at(&self, time_s: f64) -> f64 {
        (time_s - self.first_s) / time_unit(self.last_s - self.first_s).0
    }

    fn axis(&self) -> Axis {
        let unit = time_unit(self.last_s - self.first_s).1;
        let title = say!("Time since the first row, {unit}"; unit);
        Axis::linear(title, 0.0, self.at(self.last_s), 10)
    }

    /// The trips found: when each happened at the earliest, and at the latest where that is another
    /// moment.
    fn flags(&self) -> Vec<Flag> {
        let mut flags = Vec::new();
        for (k, trip) in self.log.trips.iter().enumerate() {
            let [earliest_s, latest_s] = [trip.not_before_s, trip.not_after_s];
            let [from, to] = [earliest_s, latest_s].map(|s| duration(s - self.first_s, 3));
            let is_wide = latest_s - earliest_s > APART * (self.last_s - self.first_s);
            let text = match is_wide {
                _ if k >= WORDS => String::new(),
                true => say!("trip found, {from} to {to}"; from, to),
                false => say!("trip found, {from}"; from),
            };
            let flag = |time_s: f64, text: String| Flag {
                x: self.at(time_s),
                text,
                stroke: stroke(PLUM, 4, DASH_DOT),
            };
            flags.push(flag(earliest_s, text));
            if is_wide && latest_s <= self.last_s {
                flags.push(flag(latest_s, String::new()));
            }
        }
        flags
    }

    /// Shaded, with a word where there is room for it; labels keep out of them.
    fn gaps<'w>(
        &'w self,
        y: &'w Axis,
        words: &'w [&'static str],
    ) -> impl Iterator<Item = Item> + 'w {
        let narrow_s = 1e-3 * (self.last_s - self.first_s);
        self.log.course.gaps_s.iter().map(move |(from_s, to_s)| {
            let ends = [*from_s, to_s.max(from_s + narrow_s)].map(|s| self.at(s));
            let mut bar = Bar::new([(ends[0], y.low), (ends[1], y.high)], fill(QUIET, 0.2));
            bar.border = Some(stroke(QUIET, 2, DOTTED));
            bar.words = words.to_vec();
            bar.into()
        })
    }

    /// A curve over time, broken in gaps.
    fn line(&self, data: &[Datum], stroke: Stroke) -> Line {
        let pieces = outside(data, &self.log.course.gaps_s);
        let points = pieces.join(&(f64::NAN, f64::NAN));
        Line::new(
            points.iter().map(|(s, y)| (self.at(*s), *y)).collect(),
            stroke,
        )
    }

    fn current(&self) -> Panel {
        let largest_a = self.points().map(|p| p.current_a).fold(0.0, f64::max);
        let high = 1.15 * largest_a.max(self.rated_current_a);
        let y = Axis::linear(word!("Current, A"), 0.0, high, 5);
        let mut from_s = self.first_s;
        let mut steps = Vec::with_capacity(2 * self.picture.points.len());
        for p in &self.picture.points {
            steps.push((from_s, p.current_a));
            steps.push((p.time_s, p.current_a));
            from_s = p.time_s;
        }
        let name = if self.log.averages() {
            word!("recorded current, averages")
        } else {
            word!("recorded current, RMS")
        };
        let rated = say!("rated {} A", plain(self.rated_current_a));
        let mut items: Vec<Item> = self.gaps(&y, &[word!("gap")]).collect();
        items.extend([
            Item::level(self.rated_current_a, stroke(QUIET, 4, DOTTED), rated),
            self.line(&steps, stroke(INK, 4, SOLID)).named(name).into(),
        ]);
        Panel::new(self.axis(), y, items)
    }

    fn way(&self) -> Panel {
        let finite = |of: fn(&PicturePoint) -> f64| {
            let values = self.points().map(move |p| 100.0 * of(p));
            values.filter(|v| v.is_finite())
        };
        let high = finite(|p| p.used.high).fold(0.0, f64::max);
        // Air colder than that of the rating bends the strip the other way.
        let low = finite(|p| p.used.low).fold(0.0, f64::min);
        let high = (1.06 * high).clamp(LEAST_HIGH, MOST_HIGH);
        let y = Axis::linear(word!("Way to release, %"), 1.06 * low, high, 8);
        let mut items: Vec<Item> = self.gaps(&y, &[]).collect();
        let [low, median, high] = courses(self.picture);
        let gaps = &self.log.course.gaps_s;
        let placed = |piece: &[Datum]| piece.iter().map(|(s, y)| (self.at(*s), *y)).collect();
        for (low, high) in outside(&low, gaps).iter().zip(&outside(&high, gaps)) {
            items.push(Item::band(placed(low), placed(high), fill(LAKE, 0.16)));
        }
        let edge = stroke(LAKE, 3, DASHED);
        let upper = self.line(&high, edge).named(word!("90 % of sound parts"));
        let middle = self
            .line(&median, stroke(LAKE, 7, SOLID))
            .named(word!("median"));
        items.extend([upper, self.line(&low, edge), middle].map(Item::from));
        items.push(Item::level(
            100.0,
            stroke(EMBER, 5, LONG),
            word!("release at 100 %"),
        ));
        // With the most heat that averages allow: the median and the upper edge of its band.
        if let Some(most) = self.most {
            let [_, median, high] = courses(most);
            let middle = self.line(&median, stroke(MOSS, 6, DASH_DOT));
            items.push(self.line(&high, stroke(MOSS, 3, DOTTED)).into());
            items.push(middle.named(word!("median, most heat")).into());
        }
        items.extend(self.sound_trips().iter().map(|t| self.sound_trip(t)));
        if self.sound_trips().is_empty()
            && let Some(closest) = &self.picture.closest
        {
            let at = (self.at(closest.time_s), 100.0 * closest.used.median);
            let text = say!("closest: {} of the way", percent(closest.used.median));
            items.push(Mark::new(at, Shape::Disc(12), LAKE).named(text).into());
        }
        Panel::new(self.axis(), y, items)
    }

    /// Where sound parts would have tripped: a diamond at the median, a bar of 90 %.
    fn sound_trip(&self, trip: &SoundTrip) -> Item {
        // Several would hide one another: they get their share alone.
        let share = percent(trip.share);
        let text = if self.sound_trips().len() == 1 {
            let when = duration(trip.time_s.median - self.first_s, 3);
            match self.picture.trips.is_empty() {
                true => say!("{share} trip with most heat, {when}"; share, when),
                false => say!("{share} of sound parts trip, {when}"; share, when),
            }
        } else {
            share
        };
        let at = (self.at(trip.time_s.median), 100.0);
        let mut mark = Mark::new(at, Shape::Diamond, EMBER).named(text);
        mark.across = Some([trip.time_s.low, trip.time_s.high].map(|s| self.at(s)));
        mark.into()
    }
}

/// Lower edge, median and upper edge of the band, % of the way.
fn courses(picture: &LogPicture) -> [Vec<Datum>; 3] {
    let of = |value: fn(&PicturePoint) -> f64| {
        let points = picture.points.iter();
        points.map(|p| (p.time_s, 100.0 * value(p))).collect()
    };
    [
        of(|p| p.used.low),
        of(|p| p.used.median),
        of(|p| p.used.high),
    ]
}

/// The pieces of a course outside gaps, cut at their edges on the straight line between two
/// moments.
fn outside(course: &[Datum], gaps_s: &[(f64, f64)]) -> Vec<Vec<Datum>> {
    let (before, after) = (f64::NEG_INFINITY, f64::INFINITY);
    let starts = iter::once(before).chain(gaps_s.iter().map(|gap| gap.1));
    let ends = gaps_s.iter().map(|gap| gap.0).chain(iter::once(after));
    let cut = |(from_s, to_s)| clip::line(course, &Area::new(from_s, before, to_s, after));
    let pieces = starts.zip(ends).map(cut);
    pieces.filter(|piece| piece.len() > 1).collect()
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
