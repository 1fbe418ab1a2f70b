//! Axes: a range, where a value lies in it, and ticks with plain numbers.

use crate::present::number::plain;

/// Linear or logarithmic range with ticks.
#[derive(Debug, Clone)]
pub(crate) struct Axis {
    pub(crate) title: String,
    pub(crate) low: f64,
    pub(crate) high: f64,
    pub(crate) ticks: Vec<f64>,
    /// Ticks without a number.
    pub(crate) minor: Vec<f64>,
    /// Words that stand at the ticks instead of their numbers.
    pub(crate) words: Vec<String>,
    /// What infinity means, where it has a lane of its own at the top.
    pub(crate) lane: Option<&'static str>,
    /// What minus infinity means, where it has a lane of its own at the foot.
    pub(crate) foot: Option<&'static str>,
    pub(crate) is_log: bool,
}

impl Axis {
    /// Linear, with about `count` ticks, over the data and a little air around them.
    pub(crate) fn around(
        title: impl Into<String>,
        data: impl Iterator<Item = f64>,
        count: usize,
    ) -> Self {
        Self::airy(title, data, count, 0.08)
    }

    /// As [`Axis::around`] with more or less air, as a share of the range of the data.
    pub(crate) fn airy(
        title: impl Into<String>,
        data: impl Iterator<Item = f64>,
        count: usize,
        share: f64,
    ) -> Self {
        let (low, high) = extent(data).unwrap_or((0.0, 1.0));
        let air = if high > low {
            share * (high - low)
        } else {
            0.1 * high.abs().max(1.0)
        };
        Self::linear(title, low - air, high + air, count)
    }

    /// Linear over exactly this range.
    pub(crate) fn linear(title: impl Into<String>, low: f64, high: f64, count: usize) -> Self {
        let is_range = low.is_finite() && high.is_finite() && low < high;
        let ticks = match is_range {
            true => round_ticks(low, high, count.max(1) + 2),
            false => vec![low],
        };
        Self::with_ticks(title, (low, high), [ticks, Vec::new()], false)
    }

    fn with_ticks(
        title: impl Into<String>,
        (low, high): (f64, f64),
        [ticks, minor]: [Vec<f64>; 2],
        is_log: bool,
    ) -> Self {
        Self {
            title: title.into(),
            low,
            high,
            ticks,
            minor,
            words: Vec::new(),
            lane: None,
            foot: None,
            is_log,
        }
    }

    /// Logarithmic, ticks at 1-2-5 (only the decades when there are more than six of them).
    pub(crate) fn log(title: impl Into<String>, low: f64, high: f64) -> Self {
        let low = if low.is_finite() && low > 0.0 {
            low
        } else {
            1e-3
        };
        let high = if high.is_finite() && high > low {
            high
        } else {
            low * 10.0
        };
        let decades = (high / low).log10();
        let first = low.log10().floor() as i32;
        let last = high.log10().ceil() as i32;
        let in_range = |v: &f64| *v >= low * (1.0 - 1e-9) && *v <= high * (1.0 + 1e-9);
        let at = |mantissas: &[f64]| -> Vec<f64> {
            let all = (first..=last).flat_map(|e| mantissas.iter().map(move |m| m * 10f64.powi(e)));
            all.map(clean).filter(in_range).collect()
        };
        let labelled: &[f64] = if decades > 6.5 {
            &[1.0]
        } else if decades < 0.9 {
            &[1.0, 1.5, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0]
        } else {
            &[1.0, 2.0, 5.0]
        };
        let ticks = at(labelled);
        let mut minor = at(&[1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0]);
        minor.retain(|m| !ticks.contains(m));
        Self::with_ticks(title, (low, high), [ticks, minor], true)
    }

    /// Where `value` lies: 0 at the low end, 1 at the high end.
    pub(crate) fn at(&self, value: f64) -> f64 {
        if self.is_log {
            (value / self.low).ln() / (self.high / self.low).ln()
        } else {
            (value - self.low) / (self.high - self.low)
        }
    }

    /// The value that lies there.
    pub(crate) fn value(&self, at: f64) -> f64 {
        if self.is_log {
            self.low * (self.high / self.low).powf(at)
        } else {
            self.low + at * (self.high - self.low)
        }
    }

    pub(crate) fn contains(&self, value: f64) -> bool {
        let at = self.at(value);
        (-1e-9..=1.0 + 1e-9).contains(&at)
    }

    /// The same with ticks of its own, each with words.
    pub(crate) fn with_words(mut self, ticks: Vec<(f64, String)>) -> Self {
        (self.ticks, self.words) = ticks.into_iter().unzip();
        self.minor.clear();
        self
    }

    /// The same with a lane for what never comes, where `data` has any.
    pub(crate) fn with_lane(
        mut self,
        words: &'static str,
        mut data: impl Iterator<Item = f64>,
    ) -> Self {
        self.lane = data.any(|v| v == f64::INFINITY).then_some(words);
        self
    }

    /// The same with a lane for what comes at once, where `data` has any.
    pub(crate) fn with_foot(
        mut self,
        words: &'static str,
        mut data: impl Iterator<Item = f64>,
    ) -> Self {
        self.foot = data.any(|v| v == f64::NEG_INFINITY).then_some(words);
        self
    }

    /// What stands at each tick.
    pub(crate) fn texts(&self) -> impl Iterator<Item = (f64, String)> + '_ {
        let text = |(k, tick): (usize, &f64)| {
            let own = self.words.get(k).cloned();
            (*tick, own.unwrap_or_else(|| plain(*tick)))
        };
        self.ticks.iter().enumerate().map(text)
    }
}

/// Smallest and largest finite value.
pub(crate) fn extent(data: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    data.filter(|v| v.is_finite())
        .fold(None, |range, v| match range {
            None => Some((v, v)),
            Some((low, high)) => Some((v.min(low), v.max(high))),
        })
}

/// Round numbers within a range, at most so many.
#[cfg(not(target_arch = "wasm32"))]
fn round_ticks(low: f64, high: f64, most: usize) -> Vec<f64> {
    use plotters::coord::{ranged1d::Ranged, types::RangedCoordf64};
    // What is nothing against the range is nought.
    let nought = |v: f64| {
        if v.abs() < 1e-9 * (high - low) {
            0.0
        } else {
            v
        }
    };
    let ticks = RangedCoordf64::from(low..high).key_points(most);
    ticks.into_iter().map(clean).map(nought).collect()
}

#[cfg(target_arch = "wasm32")]
use ticks_of_a_page as round_ticks;

/// The same in a page, whose engine is lighter by a library: multiples of 1, 2 or 5 times a power
/// of ten, the closest of which there are at most so many.
#[cfg(any(test, target_arch = "wasm32"))]
fn ticks_of_a_page(low: f64, high: f64, most: usize) -> Vec<f64> {
    let ends = |step: f64| {
        let (first, last) = (low / step - 1e-9, high / step + 1e-9);
        (first.ceil(), last.floor())
    };
    let coarsest = (high - low).log10().ceil() as i32 + 1;
    let finer = (0..).flat_map(|k| [5.0, 2.0, 1.0].map(|m| m * 10f64.powi(coarsest - k)));
    let fits = |step: &f64| {
        let (first, last) = ends(*step);
        last - first < most as f64
    };
    let step = finer.take_while(fits).last().unwrap_or(high - low);
    let (first, last) = ends(step);
    (0..=(last - first).max(0.0) as usize)
        .map(|k| clean((first + k as f64) * step))
        .collect()
}

/// Without the dust of binary arithmetic: 0.3 instead of 0.30000000000000004.
fn clean(value: f64) -> f64 {
    format!("{value:.10e}").parse().unwrap_or(value)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn linear_ticks_are_round_and_inside() {
        let axis = Axis::linear("", -3.0, 147.0, 6);
        assert_eq!(
            axis.ticks,
            [0.0, 20.0, 40.0, 60.0, 80.0, 100.0, 120.0, 140.0]
        );
        let axis = Axis::linear("", 0.0, 1.3, 6);
        assert_eq!(axis.ticks, [0.0, 0.2, 0.4, 0.6, 0.8, 1.0, 1.2]);
        let axis = Axis::linear("", -0.47, 0.53, 5);
        assert!(axis.ticks.contains(&0.0), "{:?}", axis.ticks);
    }

    #[test]
    fn ticks_of_a_page_are_those_of_the_program_or_closer() {
        let mut pieces = 0.137_f64;
        let mut next = || {
            pieces = (pieces * 8121.0 + 0.2113).fract();
            pieces
        };
        for _ in 0..2000 {
            let low = 10f64.powf(6.0 * next() - 3.0) * (next() - 0.5);
            let high = low + 10f64.powf(8.0 * next() - 4.0);
            let most = 3 + (9.0 * next()) as usize;
            let theirs = round_ticks(low, high, most);
            let ours = ticks_of_a_page(low, high, most);
            assert!(
                ours.len() <= most && ours.len() >= theirs.len(),
                "{low} {high} {most}"
            );
            let near = |t: &f64| ours.iter().any(|o| (o - t).abs() < 1e-6 * (high - low));
            assert!(
                theirs.iter().all(near),
                "{low} {high} {most}: {ours:?} {theirs:?}"
            );
        }
    }

    #[test]
    fn log_ticks_stand_at_one_two_five() {
        let axis = Axis::log("", 0.1, 20.0);
        assert_eq!(axis.ticks, [0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0]);
        assert!(axis.minor.contains(&0.3));
        assert!((axis.at(0.1)).abs() < 1e-12 && (axis.at(20.0) - 1.0).abs() < 1e-12);
    }

    #[test]
    fn no_data_still_makes_an_axis() {
        let axis = Axis::around("", [f64::NAN, f64::INFINITY].into_iter(), 5);
        assert!(axis.low < axis.high && !axis.ticks.is_empty());
        let axis = Axis::log("", 0.0, f64::NAN);
        assert!(axis.low < axis.high);
    }
}
