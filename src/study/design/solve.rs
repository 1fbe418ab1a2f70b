//! The whole search, and what is said of the part that was found.

use super::error::DesignError;
use super::map::over;
use super::outcome::{DesignOutcome, End, FoundFree, FoundWant};
use super::pull::differ;
use super::search::{Candidate, ROUNDS, STEP, Search};
use super::targets::{Choice, Targets};
use crate::answer::Caution;
use crate::predict::Progress;
use crate::study::summary::Summary;
use std::sync::atomic::Ordering;

/// Standard deviations between the middle of a lot and the end of a window, where there is room.
const SIGMAS: f64 = 3.0;

/// What is asked beside the part.
#[derive(Debug, Clone, Default)]
#[non_exhaustive]
pub struct Asked {
    /// Units of a lot that is held against the windows; the design is then drawn into them by what
    /// units scatter. 0: no lot.
    pub units: u64,
    /// Start of every random number of the lot.
    pub seed: u64,
    /// Two free numbers over which a map is drawn.
    pub map: Option<[String; 2]>,
    /// Two wants, by their numbers from 0: what the second costs the first.
    pub trade: Option<[usize; 2]>,
    /// What is known of the metals, even of parts with which that takes long.
    pub metals: bool,
}

/// Looks for the part that meets the targets, or misses them least.
///
/// # Errors
/// No part can be predicted within the bounds, or what is asked beside it cannot be.
pub fn design(
    targets: &Targets,
    asked: &Asked,
    progress: &mut Progress<'_>,
) -> Result<DesignOutcome, DesignError> {
    let map_over = asked
        .map
        .as_ref()
        .map(|paths| over(targets, paths))
        .transpose()?;
    if let Some(wants) = asked.trade
        && (wants[0] == wants[1] || wants.iter().any(|w| *w >= targets.wants.len()))
    {
        return Err(DesignError::NoWant(targets.wants.len()));
    }
    let mut search = Search::new(targets);
    let mut best = search.part(progress)?;
    let mut in_lot = None;
    if asked.units > 0 {
        progress("units of a lot", 0.7);
        let (lot, deviations) = search.lot(&best, asked)?;
        in_lot = Some(lot.clone());
        // Into the middle of the windows, as far as the lot needs it.
        search.margins = deviations.iter().map(|d| (SIGMAS * d).max(1e-4)).collect();
        let numbers = search.moving();
        let inner = search.candidate(best.at.clone());
        let inner = inner.map(|start| search.descend(start, &numbers, ROUNDS));
        if let Some(inner) = inner {
            let (better, _) = search.lot(&inner, asked)?;
            if better.inside.units > lot.inside.units {
                (best, in_lot) = (inner, Some(better));
            }
        }
    }
    progress("what moves what", 0.8);
    let map = map_over.map(|pair| search.map(&best, pair, progress));
    progress("what one costs the other", 0.9);
    let trade = asked.trade.map(|wants| search.trade(&best, wants));
    let Some((text, part)) = search.scenario(&best.at) else {
        return Err(DesignError::NoPart);
    };
    let numbers = search.moving();
    let slopes = search.slopes(&best, &numbers, STEP);
    let halved = search.slopes(&best, &numbers, 0.5 * STEP);
    let wants: Vec<FoundWant> = targets
        .wants
        .iter()
        .zip(&best.found)
        .map(|(want, found)| FoundWant {
            want: *want,
            value: Some(found.value).filter(|v| v.is_finite()),
            never: found.value == f64::INFINITY,
            met: want.is_met(found.value),
        })
        .collect();
    let met = wants.iter().all(|want| want.met);
    let known = Summary::with_metals(&part, asked.metals).ok();
    Ok(DesignOutcome {
        format: 1,
        version: env!("CARGO_PKG_VERSION").into(),
        title: targets.title.clone(),
        met,
        free: search.free(&best),
        slopes: search.percents(&best, &numbers, &slopes),
        slopes_differ: differ(&slopes, &halved),
        fights: match met {
            true => Vec::new(),
            false => search.fights(&best, &numbers, &slopes),
        },
        wants,
        predicted: search.predicted.load(Ordering::Relaxed),
        in_lot,
        map,
        trade,
        metal_data: known.and_then(|summary| summary.metal_data),
        scenario_text: text,
        cautions: vec![Caution::ModelEstimate],
    })
}

impl Search<'_> {
    /// Free numbers that do not come in steps.
    pub(super) fn moving(&self) -> Vec<usize> {
        let mut numbers = self.numbers();
        numbers.retain(|k| matches!(self.targets.free[*k].choice, Choice::Between(..)));
        numbers
    }

    fn free(&self, part: &Candidate) -> Vec<FoundFree> {
        let free = self.targets.free.iter().zip(&part.at);
        free.map(|(free, at)| FoundFree {
            path: free.path.clone(),
            value: free.choice.text(*at),
            at_end: match free.choice {
                Choice::Words(_) => None,
                _ if *at < 1e-6 => Some(End::Least),
                _ if *at > 1.0 - 1e-6 => Some(End::Most),
                _ => None,
            },
        })
        .collect()
    }
}
