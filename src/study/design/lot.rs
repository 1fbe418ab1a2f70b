//! A lot of units of a part, held against the windows.

use super::error::DesignError;
use super::outcome::InLot;
use super::search::{Candidate, ROUNDS, Search};
use super::solve::Asked;
use super::want::{Found, Want, found};
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
        let (text, scenario) = self.scenario(&part.at).ok_or(DesignError::NoPart)?;
        let cost = self.cost(&text);
        let settings = Settings::new(asked.units, asked.seed, Design::Sobol, 0, false, None)?;
        let plan = Plan::new(&scenario, &settings)?;
        let numbers: Vec<u64> = (0..asked.units).collect();
        let wants = &self.targets.wants;
        let unit = |k: &u64| {
            let unit: Option<Scenario> = single(&plan, *k).ok().map(|(_, scenario)| scenario);
            unit.and_then(|unit| found(&unit, self.targets, cost).ok())
        };
        let units = parallel::map(&numbers, unit, &mut |_| {});
        self.predicted.fetch_add(asked.units, Ordering::Relaxed);
        let inside = |w: usize, unit: &Option<Vec<Found>>| {
            unit.as_ref()
                .is_some_and(|unit| wants[w].is_met(unit[w].value))
        };
        let every = |of: &dyn Fn(&Want) -> bool| {
            let among: Vec<usize> = (0..wants.len()).filter(|w| of(&wants[*w])).collect();
            let all = |unit: &&Option<Vec<_>>| among.iter().all(|w| inside(*w, unit));
            let hits = units.iter().filter(all).count() as u64;
            rate(hits, asked.units, 1.0).map_err(VaryError::Statistics)
        };
        let of_document =
            |number: usize| every(&|want| want.limit.is_some_and(|row| row.document == number));
        let each = |w: usize| units.iter().filter(|unit| inside(w, unit)).count() as u64;
        let deviation = |w: usize| {
            let merits = units.iter().flatten().map(|unit| unit[w].merit);
            let merits: Vec<f64> = merits.filter(|m| m.is_finite()).collect();
            let mean = merits.iter().sum::<f64>() / merits.len().max(1) as f64;
            let squares = merits.iter().map(|m| (m - mean).powi(2)).sum::<f64>();
            (squares / (merits.len().max(2) - 1) as f64).sqrt()
        };
        let lot = InLot {
            inside: every(&|_| true)?,
            inside_each: (0..wants.len()).map(each).collect(),
            inside_documents: (0..self.targets.documents.len())
                .map(of_document)
                .collect::<Result<_, VaryError>>()?,
        };
        Ok((lot, (0..wants.len()).map(deviation).collect()))
    }
}

/// Standard deviations between the middle of a lot and the end of a window, where there is room.
const SIGMAS: f64 = 3.0;
/// Where room costs, how often the least of it is looked for by halves.
const HALVINGS: usize = 5;

impl Search<'_> {
    /// A part drawn into the middle of its windows, as far as its lot needs it, and its lot. Where
    /// something is to go as far as it can, no farther in than the wanted share of units asks for.
    pub(super) fn in_lot(
        &mut self,
        part: Candidate,
        asked: &Asked,
    ) -> Result<(Candidate, InLot), DesignError> {
        let (lot, deviations) = self.lot(&part, asked)?;
        let has_aim = self.targets.aim().is_some();
        if has_aim && self.is_share(&lot) {
            return Ok((part, lot));
        }
        let (mut best, mut best_lot) = match self.drawn_in(&part, SIGMAS, &deviations, asked)? {
            Some((inner, inner_lot)) if inner_lot.inside.units > lot.inside.units => {
                (inner, inner_lot)
            }
            _ => return Ok((part, lot)),
        };
        if !has_aim || !self.is_share(&best_lot) {
            return Ok((best, best_lot));
        }
        let (mut too_few, mut enough) = (0.0, SIGMAS);
        for _ in 0..HALVINGS {
            let sigmas = 0.5 * (too_few + enough);
            match self.drawn_in(&best, sigmas, &deviations, asked)? {
                Some((inner, inner_lot)) if self.is_share(&inner_lot) => {
                    (best, best_lot, enough) = (inner, inner_lot, sigmas);
                }
                _ => too_few = sigmas,
            }
        }
        Ok((best, best_lot))
    }

    /// A part so many standard deviations inside its windows, or as near to that as it gets, and
    /// its lot.
    fn drawn_in(
        &mut self,
        from: &Candidate,
        sigmas: f64,
        deviations: &[f64],
        asked: &Asked,
    ) -> Result<Option<(Candidate, InLot)>, DesignError> {
        self.margins = deviations.iter().map(|d| (sigmas * d).max(1e-4)).collect();
        let Some(start) = self.candidate(from.at.clone()) else {
            return Ok(None);
        };
        let inner = self.aimed(self.descend(start, &self.moving(), ROUNDS));
        let (lot, _) = self.lot(&inner, asked)?;
        Ok(Some((inner, lot)))
    }

    /// Whether as many units of a lot meet each document as was wanted.
    fn is_share(&self, lot: &InLot) -> bool {
        let mut pairs = self.targets.documents.iter().zip(&lot.inside_documents);
        pairs.all(|(document, inside)| document.share.is_none_or(|share| inside.share >= share))
    }
}
