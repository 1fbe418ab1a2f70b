//! Trip times over those of a body of one temperature, along multiples of the trip point.
//!
//! The ratio of the two has no corner at the trip point, but it bends where a housing or a terminal
//! begins to warm with the strip. The nominal unit's own ratio is asked at many places, which takes
//! most of the bend out; nodes stand where it bends.

use crate::physics::one_body::{current_of_pace_a, pace};
use std::ops::Range;

/// Places at which a unit's times are asked.
pub const NODES: usize = 20;
/// Places at which the nominal unit's are.
const PLACES: usize = 96;
/// The least multiple of the trip point: nearer to it a curve is continued a little.
const LEAST_MULTIPLE: f64 = 1.01;
const CONTINUED: f64 = 0.25;
/// How many nodes stand where nothing bends, over those where most does.
const UNBENT: f64 = 0.25;
/// Points that a polynomial between them goes through.
const THROUGH: usize = 6;

/// Pace of a current, and by how much more of itself the time moves than the trip point does; `None`
/// at and below the trip point.
pub fn pace_and_slope(current_a: f64, held_a: f64, before_a: f64) -> Option<(f64, f64)> {
    let pace = pace(current_a, held_a, before_a);
    let [i, held] = [current_a, held_a].map(|a| a * a);
    let slope = 2.0 * held / ((i - held) * pace);
    (pace > 0.0 && slope.is_finite()).then_some((pace, slope))
}

/// Logarithms of times over paces, for loads after one current in one air.
#[derive(Debug, Clone)]
pub struct Curve {
    /// Number of the air.
    pub air: usize,
    /// Current of the steady state that it starts from, A; 0: cold.
    pub before_a: f64,
    /// Logarithms of paces, upwards.
    places: Vec<f64>,
    /// The nominal unit there.
    nominal: Vec<f64>,
    nodes: Vec<f64>,
}

impl Curve {
    /// Up to a multiple of the nominal unit's trip point; `times_s` says its trip times at currents.
    pub fn new(
        (air, before_a): (usize, f64),
        nominal_held_a: f64,
        most_multiple: f64,
        times_s: impl Fn(&[f64]) -> Option<Vec<f64>>,
    ) -> Option<Curve> {
        let end = |multiple: f64| {
            let (pace, _) = pace_and_slope(multiple * nominal_held_a, nominal_held_a, before_a)?;
            Some(libm::log(pace))
        };
        let (low, high) = (end(most_multiple.max(2.0))?, end(LEAST_MULTIPLE)?);
        let step = (high - low) / (PLACES - 1) as f64;
        let places: Vec<f64> = (0..PLACES).map(|n| low + step * n as f64).collect();
        let currents: Vec<f64> = places
            .iter()
            .map(|u| current_of_pace_a(libm::exp(*u), nominal_held_a, before_a))
            .collect();
        let times = times_s(&currents)?;
        let ratios = times.iter().zip(&places).map(|(t, u)| libm::log(*t) - u);
        let nominal: Vec<f64> = ratios.collect();
        nominal.iter().all(|r| r.is_finite()).then(|| Curve {
            air,
            before_a,
            nodes: bent(&places, &nominal),
            places,
            nominal,
        })
    }

    /// Logarithms of paces at which units are asked, and what the nominal unit says there.
    pub fn nodes(&self) -> impl Iterator<Item = (f64, f64)> {
        self.nodes.iter().map(|u| (*u, self.nominal_at(*u)))
    }

    fn nominal_at(&self, place: f64) -> f64 {
        let (range, factors) = through(&self.places, place);
        sum(&self.nominal[range], &factors)
    }

    /// The curve at a pace, of a unit that differs so from the nominal one at the nodes; `None` beyond
    /// its ends.
    pub fn at(&self, differences: &[f64], pace: f64) -> Option<f64> {
        let place = libm::log(pace);
        let (low, high) = (self.nodes[0], self.nodes[NODES - 1]);
        if !(low..=high + CONTINUED).contains(&place) {
            return None;
        }
        let (range, factors) = through(&self.nodes, place);
        Some(self.nominal_at(place) + sum(&differences[range], &factors))
    }
}

/// Nodes between the same ends, closest where a curve over even places bends most.
fn bent(places: &[f64], curve: &[f64]) -> Vec<f64> {
    let bend = |w: &[f64]| (w[0] - 2.0 * w[1] + w[2]).abs().sqrt();
    let mut density: Vec<f64> = curve.windows(3).map(bend).collect();
    // What lies beside a bend moves with the unit.
    let wide: Vec<f64> = (0..density.len())
        .map(|n| {
            let around = &density[n.saturating_sub(4)..(n + 5).min(density.len())];
            around.iter().copied().fold(0.0, f64::max)
        })
        .collect();
    let most = wide.iter().copied().fold(f64::MIN_POSITIVE, f64::max);
    density = wide.iter().map(|d| d / most + UNBENT).collect();
    let ends = [density[0], density[density.len() - 1]];
    density.insert(0, ends[0]);
    density.push(ends[1]);
    let all: f64 = density.windows(2).map(|w| 0.5 * (w[0] + w[1])).sum();
    let (mut nodes, mut gone, mut next) = (Vec::with_capacity(NODES), 0.0, 0);
    for (n, w) in density.windows(2).enumerate() {
        let own = 0.5 * (w[0] + w[1]);
        while next < NODES - 1 && gone + own > all * next as f64 / (NODES - 1) as f64 {
            let part = (all * next as f64 / (NODES - 1) as f64 - gone) / own;
            nodes.push(places[n] + part * (places[n + 1] - places[n]));
            next += 1;
        }
        gone += own;
    }
    nodes.push(places[places.len() - 1]);
    nodes
}

/// Which of rising points a polynomial goes through for the value at a place, and Lagrange's factors of
/// their values.
fn through(points: &[f64], place: f64) -> (Range<usize>, [f64; THROUGH]) {
    let next = points.partition_point(|p| *p < place);
    let first = next.saturating_sub(THROUGH / 2).min(points.len() - THROUGH);
    let own = &points[first..first + THROUGH];
    let factors = std::array::from_fn(|n| {
        let others = own.iter().enumerate().filter(|(m, _)| *m != n);
        others.fold(1.0, |f, (_, p)| f * (place - p) / (own[n] - p))
    });
    (first..first + THROUGH, factors)
}

fn sum(values: &[f64], factors: &[f64]) -> f64 {
    values.iter().zip(factors).map(|(v, f)| v * f).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nodes_stand_where_a_curve_bends_and_follow_it() {
        let places: Vec<f64> = (0..PLACES).map(|n| -4.0 + 0.06 * n as f64).collect();
        let curve: Vec<f64> = places.iter().map(|u| (3.0 * u).tanh()).collect();
        let nodes = bent(&places, &curve);
        assert_eq!(nodes.len(), NODES);
        assert_eq!(
            (nodes[0], nodes[NODES - 1]),
            (places[0], places[PLACES - 1])
        );
        let about_zero = nodes.iter().filter(|u| u.abs() < 1.0).count();
        assert!((8..15).contains(&about_zero), "{nodes:?}");
        let at_nodes: Vec<f64> = nodes.iter().map(|u| (u / 2.0).exp()).collect();
        for place in [-3.9, -1.3, 0.0, 0.17, 1.6] {
            let (range, factors) = through(&nodes, place);
            let off = sum(&at_nodes[range], &factors) - (place / 2.0).exp();
            assert!(off.abs() < 1e-4, "{place} {off:e}");
        }
    }
}
