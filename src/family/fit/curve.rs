//! The characteristic of the fitted parts and their way with the air, closely enough to be drawn.

use super::answer::{AirFit, BandRow, FitCurve};
use super::behaviour::place;
use crate::family::{Carries, Drawn, Family, Nameplate};
use crate::load::Programme;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::statistics::weighted::Weighted;

/// Currents of a curve over the trip points of 5 %, 50 % and 95 % of the parts, where it is steep.
const NEAR: [f64; 10] = [1.0, 1.002, 1.006, 1.012, 1.02, 1.035, 1.06, 1.1, 1.16, 1.25];
/// Step of the currents elsewhere, as a factor.
const STEP: f64 = 1.08;
/// The curve goes at least to this multiple of the rating, and so far beyond the last published
/// one.
const LEAST_END: f64 = 6.0;
const BEYOND: f64 = 1.15;
/// Hot starts that are drawn.
const MOST_HOT: usize = 3;
/// Air temperatures of the band over the air.
const AIRS: usize = 9;
/// Shares of the weight: low, median, high.
pub(super) const SHARES: [f64; 3] = [0.05, 0.5, 0.95];

/// What the curves ask of every part.
pub(super) struct Asked {
    /// Multiples of the rating, rising.
    pub multiples: Vec<f64>,
    /// Steady loads before, over the rating; cold first.
    pub after: Vec<f64>,
    /// Air, K, rising; empty where no air table is published.
    pub air_k: Vec<f64>,
}

/// What one part does there.
#[derive(Debug, Clone)]
pub(super) struct Course {
    /// A row a start: trip times, s; infinite: holds; not a number: had tripped in the load before.
    trip_s: Vec<Vec<f64>>,
    /// Usable current over that at the reference air; not a number: none.
    usable: Vec<f64>,
}

impl Asked {
    /// For draws from a family: its trip points to a little beyond the last published current.
    pub(super) fn of(family: &Family, drawn: &[(Drawn, f64)]) -> Asked {
        let plate = family.nameplate();
        let windows = plate.windows.iter().map(|w| (w.multiple, w.after_multiple));
        let points = plate.points.iter().map(|p| (p.multiple, p.after_multiple));
        let printed: Vec<(f64, f64)> = windows.chain(points).collect();
        let begin = family.trip_multiples().0;
        let last = printed.iter().map(|p| p.0).fold(begin, f64::max);
        let end = (BEYOND * last).max(LEAST_END * begin);
        let trip = Weighted::new(drawn.iter().map(|(d, w)| (d.placing.trip_multiple, *w)));
        let near = SHARES
            .iter()
            .flat_map(|share| NEAR.map(|factor| factor * trip.at(*share)));
        let steps = (0..).map(|k| begin * STEP.powi(k));
        let mut multiples: Vec<f64> = steps
            .take_while(|m| *m < end)
            .chain(near.filter(|m| *m < end))
            .chain([end])
            .collect();
        multiples.sort_by(f64::total_cmp);
        multiples.dedup_by(|a, b| *a < 1.001 * *b);
        let mut after = vec![0.0];
        for (_, load) in printed {
            if !after.contains(&load) && after.len() <= MOST_HOT {
                after.push(load);
            }
        }
        Asked {
            multiples,
            after,
            air_k: airs(plate),
        }
    }
}

/// From the coldest to the hottest row of the air table, the reference air included.
fn airs(plate: &Nameplate) -> Vec<f64> {
    if plate.compensated || plate.air_table.is_empty() {
        return Vec::new();
    }
    let reference_k = plate.reference_ambient_k;
    let rows = || plate.air_table.iter().map(|r| r.ambient_k);
    let low = rows().fold(reference_k, f64::min);
    let high = rows().fold(reference_k, f64::max);
    if !(high > low) {
        return Vec::new();
    }
    (0..AIRS)
        .map(|k| low + (high - low) * k as f64 / (AIRS - 1) as f64)
        .collect()
}

/// Simulates one part.
pub(super) fn course(family: &Family, drawn: Drawn, asked: &Asked) -> Course {
    let plate = family.nameplate();
    let air = [(0.0, plate.reference_ambient_k)];
    let rated_a = plate.rated_current_a;
    let soonest_s = asked
        .multiples
        .last()
        .map_or(1.0, |m| family.cold_trip_s(drawn, *m));
    let part = place(family, drawn, soonest_s);
    let trip_s = asked.after.iter().map(|after| {
        let start = if *after > 0.0 {
            part.hot(&air, after * rated_a)
        } else {
            Some(part.cold(&air))
        };
        let time_s = |multiple: &f64| {
            let Some(start) = &start else {
                return f64::NAN;
            };
            // Up to its trip point it holds, by what a trip point is.
            if *multiple <= drawn.placing.trip_multiple {
                return f64::INFINITY;
            }
            let load = Programme::constant(multiple * rated_a);
            match start.clone().carry(&load, 1e6) {
                Some(Carries::Trips(t)) => t,
                _ => f64::INFINITY,
            }
        };
        asked.multiples.iter().map(time_s).collect()
    });
    let reference_a = drawn.placing.trip_multiple * rated_a;
    let usable = |t: &f64| part.trip_point_a(*t).map_or(f64::NAN, |a| a / reference_a);
    Course {
        trip_s: trip_s.collect(),
        usable: asked.air_k.iter().map(usable).collect(),
    }
}

/// The curves of weighed parts; a start from which nobody has anything to say is left out.
pub(super) fn curves(asked: &Asked, courses: &[Course], weights: &[f64]) -> Vec<FitCurve> {
    let row = |start: usize, k: usize| {
        let times = courses
            .iter()
            .zip(weights)
            .map(|(c, w)| (c.trip_s[start][k], *w));
        let times = Weighted::new(times);
        BandRow {
            multiple: asked.multiples[k],
            trip_s: SHARES.map(|share| Some(times.at(share)).filter(|t| t.is_finite())),
        }
    };
    (0..asked.after.len())
        .map(|start| FitCurve {
            after_multiple: asked.after[start],
            rows: (0..asked.multiples.len()).map(|k| row(start, k)).collect(),
        })
        .filter(|c| c.rows.iter().any(|r| r.trip_s[1].is_some()))
        .collect()
}

/// The band over the air.
pub(super) fn air(asked: &Asked, courses: &[Course], weights: &[f64]) -> Vec<AirFit> {
    let at = |(k, air_k): (usize, &f64)| {
        let values = courses.iter().zip(weights).map(|(c, w)| (c.usable[k], *w));
        AirFit {
            ambient_c: air_k - ZERO_CELSIUS_K,
            printed: None,
            usable: super::summary::spread(values.collect()),
        }
    };
    asked.air_k.iter().enumerate().map(at).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A part that holds counts as slower than every other one, one that had tripped before not at
    /// all.
    #[test]
    fn quantiles_count_the_parts_that_hold() {
        let asked = Asked {
            multiples: vec![1.2, 2.0],
            after: vec![0.0, 0.8],
            air_k: Vec::new(),
        };
        let part = |cold: [f64; 2], hot: [f64; 2]| Course {
            trip_s: vec![cold.to_vec(), hot.to_vec()],
            usable: Vec::new(),
        };
        let (hold, gone) = (f64::INFINITY, f64::NAN);
        let courses = [
            part([hold, 30.0], [hold, gone]),
            part([hold, 20.0], [hold, 9.0]),
            part([100.0, 10.0], [50.0, gone]),
        ];
        let curves = curves(&asked, &courses, &[1.0, 1.0, 1.0]);
        assert_eq!(curves[0].rows[0].trip_s, [Some(100.0), None, None]);
        assert_eq!(
            curves[0].rows[1].trip_s,
            [Some(10.0), Some(20.0), Some(30.0)]
        );
        assert_eq!(curves[1].rows[1].trip_s, [Some(9.0); 3]);
        assert!(air(&asked, &courses, &[1.0; 3]).is_empty());
    }
}
