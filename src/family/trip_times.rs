//! Cold trip times of a design against the current: a few runs and a curve through them.
//!
//! What is interpolated is the logarithm of the time over that of a body with one time constant,
//! against the logarithm of the excess over the trip point: there it is nearly straight for one
//! time constant. Between a fast and a slow one it climbs, at a current that differs from design to
//! design; so half of the runs are put where it climbs.

use crate::material::Pchip;

/// Currents over the trip point at its ends.
const ENDS: (f64, f64) = (1.004, 15.0);
/// Currents between which it is read off backwards.
pub(super) const BACKWARDS: (f64, f64) = (1.006, ENDS.1);
/// Currents between them with which it begins.
pub(super) const DIRECT: [f64; 6] = [1.03, 1.1, 1.25, 1.6, 2.6, 6.0];
/// The same with a winding, whose lag makes it turn again above twice the trip point.
pub(super) const WOUND: [f64; 14] = [
    1.01, 1.03, 1.1, 1.2, 1.4, 1.6, 1.8, 2.0, 2.25, 2.6, 3.2, 4.0, 5.5, 9.0,
];
/// Currents that are put between them, each in the middle of the longest piece.
const MORE: usize = 8;
/// Length of a piece: how much more the climb counts than the excess, both as logarithms.
const CLIMB: f64 = 75.0;
/// Points without which there is no curve.
const LEAST: usize = 8;

/// The curve.
#[derive(Debug, Clone)]
pub(super) struct TripTimes(Pchip);

impl TripTimes {
    /// From runs at multiples of the trip point: time in s, infinite where it does not trip; `None`
    /// when one fails.
    pub(super) fn of(
        between: &[f64],
        mut run: impl FnMut(f64) -> Option<f64>,
    ) -> Option<TripTimes> {
        let mut points: Vec<(f64, f64)> = Vec::with_capacity(between.len() + 2 + MORE);
        for multiple in [ENDS.0].iter().chain(between).chain(&[ENDS.1]) {
            let multiple = *multiple;
            let time_s = run(multiple)?;
            if time_s.is_finite() {
                points.push((excess(multiple), (time_s / ideal(multiple)).ln()));
            }
        }
        for _ in 0..MORE {
            let length = |k: &usize| {
                let (from, to) = (points[*k], points[k + 1]);
                (to.0 - from.0).powi(2) + CLIMB * (to.1 - from.1).powi(2)
            };
            let pieces = 0..points.len().saturating_sub(1);
            let longest = pieces.max_by(|a, b| length(a).total_cmp(&length(b)))?;
            let middle = 0.5 * (points[longest].0 + points[longest + 1].0);
            let multiple = 1.0 + middle.exp();
            let time_s = run(multiple)?;
            if !time_s.is_finite() {
                break;
            }
            points.insert(longest + 1, (middle, (time_s / ideal(multiple)).ln()));
        }
        (points.len() >= LEAST)
            .then(|| Pchip::through(&points).ok())?
            .map(TripTimes)
    }

    /// Trip time at a multiple of the trip point, s; infinite at or below it.
    pub(super) fn at(&self, multiple: f64) -> f64 {
        if multiple <= 1.0005 {
            return f64::INFINITY;
        }
        let (low, high) = (excess(ENDS.0), excess(ENDS.1));
        let x = excess(multiple).clamp(low, high);
        ideal(multiple) * self.0.at_with_slope(x).0.exp()
    }

    /// The multiple that trips after a time, s, within [`BACKWARDS`]: times fall with it.
    pub(super) fn multiple(&self, time_s: f64) -> f64 {
        let (mut low, mut high) = (BACKWARDS.0.ln(), BACKWARDS.1.ln());
        for _ in 0..30 {
            let middle = 0.5 * (low + high);
            if self.at(middle.exp()) > time_s {
                low = middle;
            } else {
                high = middle;
            }
        }
        (0.5 * (low + high)).exp()
    }
}

/// Abscissa of the curve.
fn excess(multiple: f64) -> f64 {
    (multiple - 1.0).ln()
}

/// Trip time of a body with one time constant, in units of it: `ln(r^2 / (r^2 - 1))`.
pub(super) fn ideal(multiple: f64) -> f64 {
    -(-1.0 / (multiple * multiple)).ln_1p()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::family::member::{cold_case, rough};
    use crate::family::{Family, Nameplate};
    use crate::load::Programme;
    use crate::predict::{Unwatched, run_on};

    /// Against the engine at sixty currents: within 1 % for 40 designs, and with windings too.
    #[test]
    fn the_curve_goes_where_the_engine_goes() {
        for (rated_a, designs) in [(10.0, 0..40), (32.0, 100..112), (1.0, 0..12)] {
            let plate = Nameplate::of_rating(rated_a);
            let family = Family::of_designs(&plate, designs).expect("a family");
            let (mut compared, mut worst) = (0, 0.0_f64);
            for member in family.members() {
                for k in 0..60 {
                    let multiple = 1.0 + 0.004 * (12.0_f64 / 0.004).powf(f64::from(k) / 59.0);
                    let guess_s = if multiple > 4.0 { 0.1 } else { 10.0 };
                    let model = member.device.on(rough(&member.device, guess_s).fineness);
                    let load = Programme::constant(multiple * member.trip_point_a);
                    let case = cold_case(plate.reference_ambient_k);
                    let run = run_on(&model, 1e-5, &case, &load, false, &mut Unwatched);
                    let Some(time_s) = run.expect("a run").trip_time_s else {
                        continue;
                    };
                    worst = worst.max((member.cold_trip_s(multiple) / time_s).ln().abs());
                    compared += 1;
                }
            }
            assert!(compared > 59 * family.members().len(), "{compared}");
            assert!(worst < 0.01, "{rated_a} A: {worst}");
        }
    }

    #[test]
    fn one_time_constant_is_found_exactly_and_a_failure_is_no_curve() {
        let curve = TripTimes::of(&DIRECT, |r| Some(30.0 * ideal(r))).expect("a curve");
        for multiple in [1.01, 1.3, 2.0, 10.0] {
            assert!((curve.at(multiple) / (30.0 * ideal(multiple)) - 1.0).abs() < 1e-12);
        }
        assert!(curve.at(1.0).is_infinite());
        assert!(TripTimes::of(&DIRECT, |_| None).is_none());
        assert!(TripTimes::of(&DIRECT, |_| Some(f64::INFINITY)).is_none());
    }
}
