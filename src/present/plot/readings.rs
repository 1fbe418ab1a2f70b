//! Measured points with their errors, and a band, over a characteristic.

use super::log_log::is_positive;
use crate::present::chart::style::{DOTTED, INK, MOSS, stroke};
use crate::present::chart::{Datum, Item, Line, Mark, Shape, fill};

/// What was seen at one current.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Measured {
    /// It tripped.
    Tripped {
        /// After this time, s (> 0).
        time_s: f64,
        /// Half width of the error bar, s (0 for none).
        error_s: f64,
    },
    /// It was still closed.
    Held {
        /// After this time, s (> 0).
        for_s: f64,
    },
}

/// One measured point.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// A (> 0).
    pub current_a: f64,
    /// Half width of the error bar, A (0 for none).
    pub current_error_a: f64,
    /// What was seen.
    pub measured: Measured,
    /// Name beside the point; may be empty.
    pub name: String,
}

/// Two curves between which times are expected, each (current A, time s) by rising current.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Band {
    /// Name beside the band, as "5 % to 95 %".
    pub name: String,
    /// Shorter times.
    pub low: Vec<(f64, f64)>,
    /// Longer times.
    pub high: Vec<(f64, f64)>,
}

/// What is drawn over a characteristic.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Overlay {
    /// Measured points.
    pub readings: Vec<Reading>,
    /// A band.
    pub band: Option<Band>,
}

impl Reading {
    fn time_s(&self) -> f64 {
        match self.measured {
            Measured::Tripped { time_s, .. } => time_s,
            Measured::Held { for_s } => for_s,
        }
    }

    fn is_drawable(&self) -> bool {
        is_positive(self.current_a) && is_positive(self.time_s())
    }

    /// Ends of the bars: currents and times, kept above zero.
    fn ends(&self) -> ([f64; 2], [f64; 2]) {
        let bar = |value: f64, half: f64| {
            let half = if half.is_finite() { half.abs() } else { 0.0 };
            [(value - half).max(0.2 * value), value + half]
        };
        let error_s = match self.measured {
            Measured::Tripped { error_s, .. } => error_s,
            Measured::Held { .. } => 0.0,
        };
        (
            bar(self.current_a, self.current_error_a),
            bar(self.time_s(), error_s),
        )
    }
}

impl Overlay {
    fn drawable(&self) -> impl Iterator<Item = &Reading> {
        self.readings.iter().filter(|r| r.is_drawable())
    }

    fn edges(&self) -> impl Iterator<Item = (f64, f64)> + '_ {
        let points = self.band.iter().flat_map(|b| b.low.iter().chain(&b.high));
        points
            .copied()
            .filter(|p| is_positive(p.0) && is_positive(p.1))
    }

    /// Currents that the axis must hold.
    pub(super) fn currents(&self) -> impl Iterator<Item = f64> + '_ {
        self.drawable()
            .flat_map(|r| r.ends().0)
            .chain(self.edges().map(|p| p.0))
    }

    /// Times that the axis must hold.
    pub(super) fn times(&self) -> impl Iterator<Item = f64> + '_ {
        self.drawable()
            .flat_map(|r| r.ends().1)
            .chain(self.edges().map(|p| p.1))
    }

    /// For those who cannot see the figure.
    pub(super) fn words(&self) -> String {
        let held = |r: &&Reading| matches!(r.measured, Measured::Held { .. });
        let (held, all) = (
            self.drawable().filter(held).count(),
            self.drawable().count(),
        );
        let mut text = String::new();
        if all > 0 {
            text += &format!(" {all} measured points are marked, {held} of them still closed.");
        }
        if let Some(band) = &self.band {
            text += &format!(" A band is drawn: {}.", band.name);
        }
        text
    }

    /// The band.
    pub(super) fn band_items(&self) -> Vec<Item> {
        let Some(band) = &self.band else {
            return Vec::new();
        };
        let edge = |edge: &[Datum]| -> Vec<Datum> {
            let drawable = edge.iter().filter(|p| is_positive(p.0) && is_positive(p.1));
            drawable.copied().collect()
        };
        let (low, high) = (edge(&band.low), edge(&band.high));
        let line = |edge: &[Datum]| Line::new(edge.to_vec(), stroke(MOSS, 3, DOTTED));
        let (lower, upper) = (line(&low), line(&high).named(band.name.as_str()));
        vec![
            Item::band(low, high, fill(MOSS, 0.16)),
            lower.into(),
            upper.into(),
        ]
    }

    /// A square for a trip, a triangle with an arrow upwards for "still closed".
    pub(super) fn reading_items(&self) -> Vec<Item> {
        let mark = |reading: &Reading| {
            let shape = match reading.measured {
                Measured::Tripped { .. } => Shape::Square,
                Measured::Held { .. } => Shape::Upwards,
            };
            let at = (reading.current_a, reading.time_s());
            let mut mark = Mark::new(at, shape, INK).named(reading.name.as_str());
            let (currents, times) = reading.ends();
            mark.across = Some(currents).filter(|c| c[0] < c[1]);
            mark.along = Some(times).filter(|t| t[0] < t[1]);
            mark.into()
        };
        self.drawable().map(mark).collect()
    }
}
