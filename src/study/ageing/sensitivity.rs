//! What moves the life, and the bands that uncertain constants make.

use super::constants::{Constants, MOST_LOSS, YEAR_S};
use super::drift::Drift;
use super::duty::DutyState;
use super::error::AgeError;
use super::lives::{Unit, band, service_life_s};
use super::map::Map;
use super::outcome::{DriftRow, NoDate, Sensitivity};
use super::rows::Rows;
use super::study::{Study, TOLERANCE};
use super::trip_surface::TripSurface;
use super::view::View;
use crate::predict::trip_point;

/// Relative steps of the sensitivities.
const CURRENT_STEP: f64 = 2e-3;
const COEFFICIENT_STEP: f64 = 1e-2;

impl Study<'_> {
    /// Sensitivities of the life in service, by differences.
    ///
    /// # Errors
    /// A failure of the engine.
    pub fn sensitivity(
        &self,
        map: &Map,
        rows: &Rows<'_>,
        drift: &Drift<'_, '_>,
    ) -> Result<Sensitivity, AgeError> {
        let life = |constants: &Constants| {
            let view = View::new(map, &constants.current_factors);
            let drift = Drift::follow(constants, &view, self.search_s, TOLERANCE);
            service_life_s(&drift, self.search_s).filter(|s| *s > 0.0)
        };
        // The relative change of the life by a relative change of something.
        let slope = |changed: &dyn Fn(f64) -> Constants, step: f64| -> Option<f64> {
            let middle = life(&self.nominal)?;
            let (up, down) = (life(&changed(1.0 + step)), life(&changed(1.0 - step)));
            match (up, down) {
                (Some(up), Some(down)) => {
                    Some((up / down).ln() / ((1.0 + step) / (1.0 - step)).ln())
                }
                (Some(up), None) => Some((up / middle).ln() / (1.0 + step).ln()),
                (None, Some(down)) => Some((middle / down).ln() / -(1.0 - step).ln()),
                (None, None) => None,
            }
        };
        let dead = self.releases_new.is_some();
        let per_current = if dead {
            None
        } else {
            slope(&|f| self.nominal.with_current(f), CURRENT_STEP)
        };
        let per_coefficient = if dead {
            None
        } else {
            slope(&|f| self.nominal.with_coefficient(f), COEFFICIENT_STEP)
        };
        let worn = drift.at(self.horizon_s);
        let more = self.nominal.with_coefficient(1.01);
        let more = Drift::follow(&more, drift.view, self.search_s, TOLERANCE).at(self.horizon_s);
        let in_hand = match rows.service {
            Some(state) if worn.loss < MOST_LOSS => {
                let part = rows.part(&worn, worn.stuck.0);
                trip_point(&part, state.ambient_k, rows.rated_a, rows.accuracy)?
                    .value
                    .current_a()
                    .map(|a| a / state.current_a)
            }
            _ => None,
        };
        let missing = if dead {
            Some(NoDate::NoLife)
        } else if !self.carries() {
            Some(NoDate::NothingCarried)
        } else {
            per_current.is_none().then_some(NoDate::NotWithin {
                searched_years: self.search_s / YEAR_S,
            })
        };
        Ok(Sensitivity {
            per_current,
            life_change_for_0_02_percent_current: per_current
                .map(|n| (n * 2e-4f64.ln_1p()).exp_m1()),
            per_coefficient,
            life_change_for_1_percent_coefficient: per_coefficient
                .map(|n| (n * 1e-2f64.ln_1p()).exp_m1()),
            preload_change_for_1_percent_coefficient: worn.loss - more.loss,
            current_in_hand_at_horizon: in_hand,
            state: rows.service.map(|s| s.name.clone()),
            missing,
        })
    }

    /// Bands of the rows from the drawn units.
    pub fn bands(
        &self,
        table: &mut [DriftRow],
        units: &[Unit],
        service: Option<&DutyState>,
    ) -> Result<(), AgeError> {
        let range = |pick: &dyn Fn(&(f64, f64, f64)) -> f64| {
            units
                .iter()
                .flat_map(|u| &u.at_years)
                .map(pick)
                .fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), v| {
                    (a.min(v), b.max(v))
                })
        };
        let ohm = range(&|p| p.1);
        let hold = range(&|p| p.2);
        let surface = match service {
            Some(state) => TripSurface::ask(
                &self.device,
                state.ambient_k,
                self.scenario.protector.rated_current_a,
                ohm,
                hold,
            )?,
            None => None,
        };
        for (k, row) in table.iter_mut().enumerate() {
            let here = || units.iter().map(move |u| u.at_years[k]);
            row.preload_left_band = band(here().map(|p| (1.0 - p.0).max(0.0)));
            row.trip_point_band_a = surface
                .as_ref()
                .and_then(|s| band(here().map(|p| s.at(p.1, p.2))));
        }
        Ok(())
    }
}
