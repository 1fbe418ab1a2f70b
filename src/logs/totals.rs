//! Integrals of a current over time.

use super::span::Span;

/// Integrals over the spans added so far.
///
/// Where a row holds an average together with the least and the largest value, its mean square lies
/// between `avg^2` and `avg (max + min) - max min`: the lower bound by Jensen's inequality, the
/// upper one because `(max - i)(i - min)` is nowhere negative.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Totals {
    /// Time, s.
    pub time_s: f64,
    /// Charge, A s.
    pub charge_c: f64,
    /// Integral of the squared current, A^2 s.
    pub i2t_a2s: f64,
    /// Upper bound of that integral from the least and largest values, A^2 s; equal to it without
    /// them.
    pub i2t_high_a2s: f64,
    /// Largest current, A.
    pub peak_a: f64,
    /// First and last row.
    pub rows: Option<(u64, u64)>,
}

impl Totals {
    /// Adds a span; one without a current changes nothing.
    pub fn add(&mut self, span: &Span) {
        let Some(c) = span.current else { return };
        let dt = span.length_s();
        let square = c.value * c.value;
        self.time_s += dt;
        self.charge_c += c.value * dt;
        self.i2t_a2s += square * dt;
        self.i2t_high_a2s += c.most_square_a2() * dt;
        self.peak_a = self.peak_a.max(c.value).max(c.max.unwrap_or(0.0));
        let first = self.rows.map_or(span.row, |(first, _)| first);
        self.rows = Some((first, span.row));
    }

    /// Adds the totals of a later stretch.
    pub fn join(&mut self, later: &Totals) {
        self.time_s += later.time_s;
        self.charge_c += later.charge_c;
        self.i2t_a2s += later.i2t_a2s;
        self.i2t_high_a2s += later.i2t_high_a2s;
        self.peak_a = self.peak_a.max(later.peak_a);
        self.rows = match (self.rows, later.rows) {
            (Some((first, _)), Some((_, last))) => Some((first, last)),
            (a, b) => a.or(b),
        };
    }

    /// True RMS, weighted by time, A: the root of the integral of the squared current over the
    /// time. With averages in the log it is a lower bound.
    pub fn rms_a(&self) -> f64 {
        root_of_mean(self.i2t_a2s, self.time_s)
    }

    /// Upper bound of the RMS, A; see [`Totals`].
    pub fn rms_high_a(&self) -> f64 {
        root_of_mean(self.i2t_high_a2s, self.time_s)
    }

    /// Arithmetic mean, A. It hides heat: compare it with the RMS.
    pub fn mean_a(&self) -> f64 {
        if self.time_s > 0.0 {
            self.charge_c / self.time_s
        } else {
            0.0
        }
    }
}

fn root_of_mean(sum: f64, time_s: f64) -> f64 {
    if time_s > 0.0 {
        (sum / time_s).sqrt()
    } else {
        0.0
    }
}
