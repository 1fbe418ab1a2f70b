//! The whole search, and what is said of the part that was found.

use super::error::DesignError;
use super::map::over;
use super::outcome::{DesignOutcome, End, FoundDocument, FoundFree, FoundWant, InLot};
use super::pull::differ;
use super::search::{Candidate, STEP, Search};
use super::targets::{Choice, Targets};
use crate::answer::Caution;
use crate::predict::Progress;
use crate::study::summary::Summary;
use nalgebra::DMatrix;
use std::sync::atomic::Ordering;

/// Units of a lot where a share of them is wanted and nobody said how many.
const USUAL_UNITS: u64 = 200;

/// What is asked beside the part.
#[derive(Debug, Clone, Default)]
#[non_exhaustive]
pub struct Asked {
    /// Units of a lot that is held against the windows; the design is then drawn into them by what
    /// units scatter. 0: no lot, or the usual number where targets want a share of one.
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
    if asked.units > 0 || targets.asks_for_units() {
        progress("units of a lot", 0.7);
        let units = if asked.units > 0 {
            asked.units
        } else {
            USUAL_UNITS
        };
        let asked = Asked {
            units,
            ..asked.clone()
        };
        let (better, lot) = search.in_lot(best, &asked)?;
        (best, in_lot) = (better, Some(lot));
    }
    progress("what moves what", 0.8);
    let map = map_over.map(|pair| search.map(&best, pair, progress));
    progress("what one costs the other", 0.9);
    let trade = asked.trade.map(|wants| search.trade(&best, wants));
    let Some((text, part)) = search.scenario(&best.at) else {
        return Err(DesignError::NoPart);
    };
    let numbers = search.moving();
    let slopes = search.slopes(&best, &numbers);
    let halved = search.differences(&best, &numbers, 0.5 * STEP);
    let halved = DMatrix::from_fn(slopes.nrows(), slopes.ncols(), |w, k| halved[k][w]);
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
    let documents: Vec<FoundDocument> = (0..targets.documents.len())
        .map(|number| document(targets, number, &wants, in_lot.as_ref()))
        .collect();
    let met = wants.iter().all(|want| want.met) && documents.iter().all(|d| d.met);
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
        documents,
        cost_formula: targets.cost.as_ref().map(|cost| cost.text.clone()),
        predicted: search.predicted.load(Ordering::Relaxed),
        in_lot,
        map,
        trade,
        metal_data: known.and_then(|summary| summary.metal_data),
        scenario_text: text,
        cautions: vec![Caution::ModelEstimate],
    })
}

/// What came of a document.
fn document(
    targets: &Targets,
    number: usize,
    wants: &[FoundWant],
    in_lot: Option<&InLot>,
) -> FoundDocument {
    let asked = &targets.documents[number];
    let is_row = |w: &&FoundWant| w.want.limit.is_some_and(|row| row.document == number);
    let inside = in_lot.map(|lot| lot.inside_documents[number]);
    let is_enough = asked
        .share
        .is_none_or(|share| inside.is_some_and(|inside| inside.share >= share));
    FoundDocument {
        name: asked.limits.name.into(),
        source: asked.limits.source.into(),
        share_wanted: asked.share,
        inside,
        met: wants.iter().filter(is_row).all(|w| w.met) && is_enough,
    }
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
