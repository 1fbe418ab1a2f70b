//! Rows of the drift: what the engine says about the worn part at a time.

use super::constants::{MOST_LOSS, YEAR_S};
use super::drift::{Drift, Worn};
use super::duty::DutyState;
use super::error::AgeError;
use super::outcome::DriftRow;
use crate::device::Device;
use crate::load::Programme;
use crate::predict::{Case, Halt, parallel, run, trip_point};
use crate::scenario::Before;

/// Accuracy asked of the rows.
const ACCURACY: f64 = 1e-4;

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
        let rows = parallel::map(
            years,
            |y| self.row_or_reason(&drift.at(y * YEAR_S)),
            &mut |_| {},
        );
        let mut list = Vec::new();
        let mut error: Option<f64> = None;
        for row in rows {
            let (row, e) = row?;
            list.push(row);
            error = error.into_iter().chain(e).reduce(f64::max);
        }
        Ok((list, error))
    }

    /// A part that the engine cannot follow any further must not hide the years before.
    fn row_or_reason(&self, worn: &Worn) -> Result<(DriftRow, Option<f64>), AgeError> {
        match self.row(worn) {
            Err(AgeError::Predict(e)) => {
                let row = DriftRow {
                    preload_left: Some(1.0 - worn.loss),
                    contact_resistance_ohm: Some(worn.contact_ohm),
                    stuck_factor: Some(worn.stuck.1),
                    reason: Some(e.to_string()),
                    ..self.empty(worn)
                };
                Ok((row, None))
            }
            other => other,
        }
    }

    fn empty(&self, worn: &Worn) -> DriftRow {
        DriftRow {
            years: worn.time_s / YEAR_S,
            preload_left: None,
            contact_resistance_ohm: None,
            stuck_factor: None,
            trip_point_a: None,
            trip_point_in_service_a: None,
            trip_time_2x_s: None,
            trip_time_6x_s: None,
            relatch_wait_s: None,
            preload_left_band: None,
            trip_point_band_a: None,
            extrapolated: worn.time_s > self.covered_s,
            reason: None,
        }
    }

    fn row(&self, worn: &Worn) -> Result<(DriftRow, Option<f64>), AgeError> {
        let empty = self.empty(worn);
        if worn.loss >= MOST_LOSS {
            let row = DriftRow {
                reason: Some("the preload is all but gone and the model does not hold".into()),
                ..empty
            };
            return Ok((row, None));
        }
        let stuck = self.part(worn, worn.stuck.1);
        let case = Case {
            ambient: vec![(0.0, self.reference_k)],
            before: Before::Cold,
            rated_current_a: self.rated_a,
            accuracy: ACCURACY,
            longest_s: 1e7,
            halt: Halt::default(),
        };
        let point = trip_point(&stuck, self.reference_k, self.rated_a, ACCURACY)?;
        let service = match self.service {
            None => None,
            Some(state) => {
                let moved = self.part(worn, worn.stuck.0);
                trip_point(&moved, state.ambient_k, self.rated_a, ACCURACY)?
                    .value
                    .current_a()
            }
        };
        let timed = |multiple: f64, cool: bool| {
            run(
                &stuck,
                &case,
                &Programme::constant(multiple * self.rated_a),
                cool,
            )
        };
        let (twice, six) = (timed(2.0, true)?, timed(6.0, false)?);
        let errors = [
            point.error_relative,
            twice.error_relative,
            six.error_relative,
        ];
        let error = errors
            .into_iter()
            .flatten()
            .filter(|e| e.is_finite())
            .reduce(f64::max);
        let mut reason = None;
        if point.value.current_a().is_none() {
            reason = Some("no current is held for ever at the reference ambient".to_owned());
        } else if twice.value.trip_time_s.is_none() {
            reason = Some("does not trip at twice its rating".to_owned());
        } else if twice.value.relatch_wait_s.is_none() {
            reason = Some("does not relatch at the reference ambient".to_owned());
        }
        let row = DriftRow {
            preload_left: Some(1.0 - worn.loss),
            contact_resistance_ohm: Some(worn.contact_ohm),
            stuck_factor: Some(worn.stuck.1),
            trip_point_a: point.value.current_a(),
            trip_point_in_service_a: service,
            trip_time_2x_s: twice.value.trip_time_s,
            trip_time_6x_s: six.value.trip_time_s,
            relatch_wait_s: twice.value.relatch_wait_s,
            reason,
            ..empty
        };
        Ok((row, error))
    }

    /// The part with so much wear.
    pub fn part(&self, worn: &Worn, stuck_factor: f64) -> Device {
        let mut device = self.device.with_contact_ohm(worn.contact_ohm);
        device.wear(worn.loss, stuck_factor);
        device
    }
}
