//! A load of many steps that every particle carries alike, followed once for all of them.
//!
//! Whatever the part, it has reached the same at the same own time: what differs is whose step response
//! it is, and the pace. So both are gone through, and what lies between paces is straight.

use super::curve::Reached;
use super::{Quick, Steps};
use crate::predict::parallel;

/// Paces that are gone through, evenly on a logarithmic scale: what lies between is off by a
/// thousandth in the heat at most, where a step has just ended.
const PACES: usize = 64;

/// What a load makes of the members at the times that are asked for.
#[derive(Debug, Clone)]
pub struct Fixed {
    times_s: Vec<f64>,
    /// Logarithms of the first and the last pace.
    paces: (f64, f64),
    /// Of each member, at each pace, by each time.
    rows: Vec<Reached>,
}

impl Quick {
    /// Follows a load at the paces of the family up to times, s.
    pub fn fixed(&self, steps: &Steps<'_>, times_s: Vec<f64>) -> Fixed {
        let (quick, slow) = self.paces;
        let paces = (quick.ln(), slow.ln());
        let pace = |k: usize| {
            let part = k as f64 / (PACES - 1) as f64;
            (paces.0 + part * (paces.1 - paces.0)).exp()
        };
        let of_member = |curve: &super::Curve| {
            let mut rows = Vec::with_capacity(PACES * times_s.len());
            for k in 0..PACES {
                let at = |time_s: &f64| curve.reached(steps, pace(k), *time_s);
                rows.extend(times_s.iter().map(at));
            }
            rows
        };
        let rows = parallel::map(&self.curves, of_member, &mut |_| {}).concat();
        Fixed {
            times_s,
            paces,
            rows,
        }
    }
}

impl Fixed {
    /// What a member has reached at a pace by a time, s; `None` where that was not gone through.
    pub fn reached(&self, member: usize, pace: f64, time_s: f64) -> Option<Reached> {
        let which = self.times_s.iter().position(|t| *t == time_s)?;
        let (first, last) = self.paces;
        let place = (super::nearly_ln(pace) - first) / (last - first) * (PACES - 1) as f64;
        // A hair beside an end is the end.
        let place = (place + 1e-6 > 0.0 && place < PACES as f64 - 1.0 + 1e-6).then_some(place)?;
        let k = (place.max(0.0) as usize).min(PACES - 2);
        let row = |k: usize| &self.rows[(member * PACES + k) * self.times_s.len() + which];
        Some(row(k).towards(row(k + 1), place - k as f64))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::{Family, Nameplate};

    #[test]
    fn a_load_followed_once_is_that_followed_for_each_part() {
        let family = Family::new(&Nameplate::of_rating(10.0), 16).expect("a family");
        let quick = family.quick();
        let load = [
            (40.0, 9.0),
            (3.0, 48.0),
            (300.0, 11.0),
            (60.0, 0.0),
            (f64::INFINITY, 14.0),
        ];
        let steps = Steps {
            past: &[(20.0, 20.0), (90.0, 0.0)],
            ..Steps::cold(&load)
        };
        let times_s = vec![10.0, 41.5, 343.0, 500.0, 43_200.0];
        let fixed = quick.fixed(&steps, times_s.clone());
        for (member, curve) in quick.curves.iter().enumerate() {
            for pace in [0.33, 0.4, 0.71, 1.0, 1.9, 3.0] {
                for time_s in &times_s {
                    let there = fixed.reached(member, pace, *time_s).expect("gone through");
                    let own = curve.reached(&steps, pace, *time_s);
                    let off = |(a, b): (&f64, &f64)| (a - b).abs();
                    let both = there.gone.iter().zip(&own.gone);
                    let most = both.chain(there.past.iter().zip(&own.past)).map(off);
                    let most = most.fold(0.0, f64::max);
                    let scale = own
                        .gone
                        .iter()
                        .chain(&own.past)
                        .fold(100.0, |a: f64, b| a + b.abs());
                    assert!(
                        most < 1e-3 * scale,
                        "{member} {pace} {time_s} {most} {scale}"
                    );
                }
            }
        }
        assert_eq!(fixed.reached(0, 1.0, 11.0), None);
        assert_eq!(fixed.reached(0, 4.0, 10.0), None);
    }
}
