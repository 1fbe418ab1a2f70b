//! A lot of units of a part, held against the windows.

use super::error::DesignError;
use super::outcome::InLot;
use super::search::{Candidate, Search};
use super::solve::Asked;
use super::want::{Found, found};
use crate::predict::parallel;
use crate::scenario::Scenario;
use crate::statistics::rates::rate;
use crate::study::population::{Design, Plan, Settings, VaryError, single};
use std::sync::atomic::Ordering;

impl Search<'_> {
    /// Units of a lot held against the windows, and how far the merit of each want scatters.
    pub(super) fn lot(
        &self,
        part: &Candidate,
        asked: &Asked,
    ) -> Result<(InLot, Vec<f64>), DesignError> {
        let (_, scenario) = self.scenario(&part.at).ok_or(DesignError::NoPart)?;
        let settings = Settings::new(asked.units, asked.seed, Design::Sobol, 0, false, None)?;
        let plan = Plan::new(&scenario, &settings)?;
        let numbers: Vec<u64> = (0..asked.units).collect();
        let wants = &self.targets.wants;
        let unit = |k: &u64| {
            let unit: Option<Scenario> = single(&plan, *k).ok().map(|(_, scenario)| scenario);
            unit.and_then(|unit| found(&unit, wants).ok())
        };
        let units = parallel::map(&numbers, unit, &mut |_| {});
        self.predicted.fetch_add(asked.units, Ordering::Relaxed);
        let inside = |w: usize, unit: &Option<Vec<Found>>| {
            unit.as_ref()
                .is_some_and(|unit| wants[w].is_met(unit[w].value))
        };
        let all = |unit: &&Option<Vec<_>>| (0..wants.len()).all(|w| inside(w, unit));
        let hits = units.iter().filter(all).count() as u64;
        let each = |w: usize| units.iter().filter(|unit| inside(w, unit)).count() as u64;
        let deviation = |w: usize| {
            let merits = units.iter().flatten().map(|unit| unit[w].merit);
            let merits: Vec<f64> = merits.filter(|m| m.is_finite()).collect();
            let mean = merits.iter().sum::<f64>() / merits.len().max(1) as f64;
            let squares = merits.iter().map(|m| (m - mean).powi(2)).sum::<f64>();
            (squares / (merits.len().max(2) - 1) as f64).sqrt()
        };
        let lot = InLot {
            inside: rate(hits, asked.units, 1.0).map_err(VaryError::Statistics)?,
            inside_each: (0..wants.len()).map(each).collect(),
        };
        Ok((lot, (0..wants.len()).map(deviation).collect()))
    }
}
