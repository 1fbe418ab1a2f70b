//! Where over two free numbers the wants are met.

use super::error::DesignError;
use super::outcome::{Map, MapCell};
use super::search::{Candidate, Search};
use super::targets::{Choice, Targets};
use crate::predict::{Progress, parallel};

/// Cells along a side of a map.
const MAP_SIDE: usize = 15;
/// A map with fewer cells met shows too much.
const FEWEST_MET: usize = 6;
/// Nearer than this share of what the numbers may be no map goes.
const LEAST_SHARE: f64 = 0.02;

/// Numbers of the free things of two paths.
pub(super) fn over(targets: &Targets, paths: &[String; 2]) -> Result<[usize; 2], DesignError> {
    let is_number = |path: &String| {
        let mut free = targets.free.iter();
        free.position(|f| f.path == *path && !matches!(f.choice, Choice::Words(_)))
    };
    let find = |path: &String| {
        is_number(path).ok_or_else(|| {
            let free = targets.free.iter().map(|f| format!("`{}`", f.path));
            DesignError::NotFree(path.clone(), free.collect())
        })
    };
    Ok([find(&paths[0])?, find(&paths[1])?])
}

impl Search<'_> {
    /// Where over two numbers the wants are met: over all that they may be, and where a cell is
    /// larger than what is met, nearer and nearer around the part.
    pub(super) fn map(
        &self,
        part: &Candidate,
        pair: [usize; 2],
        progress: &mut Progress<'_>,
    ) -> Map {
        let mut share = 1.0;
        loop {
            let map = self.map_of(part, pair, share, progress);
            let met = map.cells.iter().filter(|cell| **cell == MapCell::Met);
            if met.count() >= FEWEST_MET || share < LEAST_SHARE {
                return map;
            }
            share *= 0.5;
        }
    }

    /// The map of a share of what both numbers may be.
    fn map_of(
        &self,
        part: &Candidate,
        pair: [usize; 2],
        share: f64,
        progress: &mut Progress<'_>,
    ) -> Map {
        let choices = pair.map(|k| &self.targets.free[k].choice);
        let places = pair.map(|k| -> Vec<f64> {
            let choice = &self.targets.free[k].choice;
            match choice {
                Choice::Stock(list, _) => list.iter().map(|v| choice.place(*v)).collect(),
                _ => {
                    let from = (part.at[k] - 0.5 * share).clamp(0.0, 1.0 - share);
                    let cell = |n: usize| from + share * n as f64 / (MAP_SIDE - 1) as f64;
                    (0..MAP_SIDE).map(cell).collect()
                }
            }
        });
        // Where the part lies, in steps from the first value.
        let at = [0, 1].map(|k| {
            let (list, at) = (&places[k], part.at[pair[k]]);
            let next = list
                .partition_point(|place| *place < at)
                .clamp(1, list.len() - 1);
            (next - 1) as f64 + (at - list[next - 1]) / (list[next] - list[next - 1])
        });
        let ats: Vec<Vec<f64>> = places[1]
            .iter()
            .flat_map(|up| places[0].iter().map(move |across| (*across, *up)))
            .map(|(across, up)| {
                let mut at = part.at.clone();
                (at[pair[0]], at[pair[1]]) = (across, up);
                at
            })
            .collect();
        let cell = |at: &Vec<f64>| match self.candidate(at.clone()) {
            None => MapCell::NoPart,
            Some(there) => {
                let wants = self.targets.wants.iter().zip(&there.found).enumerate();
                let missed = wants.filter(|(_, (want, found))| !want.is_met(found.value));
                let worst = missed.max_by(|(_, (a, x)), (_, (b, y))| {
                    let [a, b] = [a.miss(x.merit, 0.0), b.miss(y.merit, 0.0)].map(f64::abs);
                    a.total_cmp(&b)
                });
                worst.map_or(MapCell::Met, |(want, _)| MapCell::Misses { want })
            }
        };
        let count = ats.len() as f64;
        let cells = parallel::map(&ats, cell, &mut |n| {
            progress("the map", 0.8 + 0.2 * n as f64 / count)
        });
        let said = |k: usize| places[k].iter().map(|at| choices[k].text(*at)).collect();
        Map {
            paths: pair.map(|k| self.targets.free[k].path.clone()),
            values: [said(0), said(1)],
            at,
            cells,
        }
    }
}
