//! Rows of the drift: what the engine says about the worn part at a time.

use super::constants::{MOST_LOSS, YEAR_S};
use super::drift::{Drift, Worn};
use super::duty::DutyState;
use super::error::AgeError;
use super::outcome::{DriftRow, NoRow};
use crate::answer::Held;
use crate::device::Device;
use crate::load::Programme;
use crate::predict::{Case, Halt, PredictError, held, parallel, trip_and_wait, trip_point};
use crate::scenario::Before;

/// What a row needs beside the drift.
pub struct Rows<'a> {
    /// The part as it is now.
    pub device: &'a Device,
    /// Rated current, A.
    pub rated_a: f64,
    /// Reference ambient, K.
    pub reference_k: f64,
    /// The state that releases first.
    pub service: Option<&'a DutyState>,
    /// Relative accuracy asked of the rows.
    pub accuracy: f64,
    /// From when on no test covers, s.
    pub covered_s: f64,
}

/// Years at which rows stand, up to a horizon.
#[must_use]
pub fn report_years(horizon_years: f64) -> Vec<f64> {
    let nice = [
        0.0, 0.1, 0.25, 0.5, 1.0, 2.0, 3.0, 5.0, 7.0, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0,
        75.0, 100.0, 150.0, 200.0,
    ];
    let mut years: Vec<f64> = nice
        .into_iter()
        .filter(|y| *y < 0.97 * horizon_years)
        .collect();
    years.push(horizon_years);
    years
}

impl Rows<'_> {
    /// The rows at these years, and their largest relative error.
    ///
    /// # Errors
    /// A failure of the engine.
    pub fn at(
        &self,
        drift: &Drift<'_, '_>,
        years: &[f64],
    ) -> Result<(Vec<DriftRow>, Option<f64>), AgeError> {
        let rows = parallel::map(years, |y| self.row(&drift.at(y * YEAR_S)), &mut |_| {});
        let mut list = Vec::new();
        let mut error: Option<f64> = None;
        for row in rows {
            let (row, e) = row?;
            list.push(row);
            error = error.into_iter().chain(e).reduce(f64::max);
        }
        Ok((list, error))
    }

    fn row(&self, worn: &Worn) -> Result<(DriftRow, Option<f64>), AgeError> {
        let mut row = DriftRow {
            years: worn.time_s / YEAR_S,
            preload_left: None,
            contact_resistance_ohm: None,
            stuck_factor: None,
            trip_point: None,
            trip_point_in_service: None,
            trip_time_2x: None,
            trip_time_6x: None,
            relatch_wait: None,
            preload_left_band: None,
            trip_point_band_a: None,
            extrapolated: worn.time_s > self.covered_s,
            missing: None,
        };
        if worn.loss >= MOST_LOSS {
            row.missing = Some(NoRow::PreloadGone);
            return Ok((row, None));
        }
        row.preload_left = Some(1.0 - worn.loss);
        row.contact_resistance_ohm = Some(worn.contact_ohm);
        row.stuck_factor = Some(worn.stuck.1);
        // A part that the engine cannot follow any further must not hide the years before.
        let points = self.trip_points(worn);
        let (point, service) = match points {
            Ok(points) => points,
            Err(error) => {
                let why = error.in_a_row()?;
                row.missing = Some(NoRow::Failed { why });
                return Ok((row, None));
            }
        };
        let case = Case {
            ambient: vec![(0.0, self.reference_k)],
            before: Before::Cold,
            rated_current_a: self.rated_a,
            accuracy: self.accuracy,
            longest_s: 1e7,
            halt: Halt::default(),
        };
        let stuck = self.part(worn, worn.stuck.1);
        let timed = |multiple: f64| {
            let load = Programme::constant(multiple * self.rated_a);
            trip_and_wait(&stuck, &case, &load, true)
        };
        let ((twice, wait), (six, _)) = (timed(2.0)?, timed(6.0)?);
        let errors = [
            error_of(&point),
            twice.error_relative(),
            six.error_relative(),
        ];
        row.trip_point = Some(point);
        row.trip_point_in_service = service;
        row.trip_time_2x = Some(twice);
        row.trip_time_6x = Some(six);
        row.relatch_wait = Some(wait);
        Ok((row, errors.into_iter().flatten().reduce(f64::max)))
    }

    /// At the reference ambient, and in service just after the latch was moved.
    fn trip_points(&self, worn: &Worn) -> Result<(Held, Option<Held>), PredictError> {
        let at = |stuck_factor: f64, ambient_k: f64| -> Result<Held, PredictError> {
            let part = self.part(worn, stuck_factor);
            let point = trip_point(&part, ambient_k, self.rated_a, self.accuracy)?;
            Ok(held(&point.value, point.error_relative))
        };
        let service = self.service.map(|state| at(worn.stuck.0, state.ambient_k));
        Ok((at(worn.stuck.1, self.reference_k)?, service.transpose()?))
    }

    /// The part with so much wear.
    pub fn part(&self, worn: &Worn, stuck_factor: f64) -> Device {
        let mut device = self.device.with_contact_ohm(worn.contact_ohm);
        device.wear(worn.loss, stuck_factor);
        device
    }
}

fn error_of(point: &Held) -> Option<f64> {
    match point {
        Held::UpTo(current) => current.error_relative,
        _ => None,
    }
}
