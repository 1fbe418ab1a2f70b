//! The whole search: starts, words, stock, and what is said of the part that was found.

use super::outcome::{DesignOutcome, End, Fight, FoundFree, FoundWant, InLot, Map, MapCell, Slope};
use super::search::{Candidate, STEP, Search};
use super::targets::{Choice, Targets};
use super::want::found;
use crate::answer::Caution;
use crate::predict::{Progress, parallel};
use crate::quantity::Quantity;
use crate::scenario::{Scenario, value_at};
use crate::statistics::rates::rate;
use crate::statistics::sobol::SobolSequence;
use crate::study::population::{Design, Plan, Settings, VaryError, single};
use nalgebra::DMatrix;
use std::fmt;
use std::sync::atomic::Ordering;

/// Places that are looked at before the search begins, beside the scenario's own.
const LOOKED_AT: u64 = 12;
/// Descents from the best of them.
const DESCENTS: usize = 4;
/// Rounds of a descent.
const ROUNDS: usize = 30;
/// Most combinations of words.
const MOST_COMBINATIONS: usize = 64;
/// Cells along a side of a map.
const MAP_SIDE: usize = 15;
/// A map with fewer cells met shows too much.
const FEWEST_MET: usize = 6;
/// Nearer than this share of what the numbers may be no map goes.
const LEAST_SHARE: f64 = 0.02;
/// Ways that are farther from each other than this fight.
const FIGHTING: f64 = -0.2;
/// An answer so near to the end of its window holds the others back.
const HELD: f64 = 0.02;
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
}

/// Why there is no part.
#[derive(Debug)]
#[non_exhaustive]
pub enum DesignError {
    /// No place within the bounds is a part that can be predicted.
    NoPart,
    /// Too many combinations of words.
    TooMany(usize),
    /// No such free number: its path, and those that there are.
    NotFree(String, Vec<String>),
    /// No two wants of the file; how many it has.
    NoWant(usize),
    /// The lot.
    Lot(VaryError),
}

impl fmt::Display for DesignError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::NoPart => f.write_str(
                "nowhere within these bounds is a part that can be predicted: are the bounds those \
                 of one part?",
            ),
            Self::TooMany(count) => write!(
                f,
                "the words make {count} combinations, and at most {MOST_COMBINATIONS} are tried: name fewer"
            ),
            Self::NotFree(path, free) => write!(
                f,
                "`{path}` is no free number of this file; free are {}",
                free.join(", ")
            ),
            Self::NoWant(count) => write!(
                f,
                "two different wants are meant, by their numbers from 1 to {count} in the order of the file"
            ),
            Self::Lot(error) => error.fmt(f),
        }
    }
}

impl std::error::Error for DesignError {}

impl From<VaryError> for DesignError {
    fn from(error: VaryError) -> Self {
        Self::Lot(error)
    }
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
    let Some((text, _)) = search.scenario(&best.at) else {
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
        scenario_text: text,
        cautions: vec![Caution::ModelEstimate],
    })
}

/// Numbers of the free things of two paths.
fn over(targets: &Targets, paths: &[String; 2]) -> Result<[usize; 2], DesignError> {
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
    /// The best part over all words.
    fn part(&self, progress: &mut Progress<'_>) -> Result<Candidate, DesignError> {
        let combinations = self.combinations()?;
        let mut best: Option<Candidate> = None;
        for (k, words) in combinations.iter().enumerate() {
            progress("the part", 0.7 * k as f64 / combinations.len() as f64);
            let Some(found) = self.of_words(words) else {
                continue;
            };
            if best.as_ref().is_none_or(|b| found.sum() < b.sum()) {
                best = Some(found);
            }
            if best.as_ref().is_some_and(|b| b.sum() == 0.0) {
                break;
            }
        }
        best.ok_or(DesignError::NoPart)
    }

    /// Places with every combination of words, the scenario's own first.
    fn combinations(&self) -> Result<Vec<Vec<f64>>, DesignError> {
        let own = self.own();
        let mut all = vec![own.clone()];
        for (k, free) in self.targets.free.iter().enumerate() {
            if let Choice::Words(words) = &free.choice {
                let count = all.len().saturating_mul(words.len());
                if count > MOST_COMBINATIONS {
                    return Err(DesignError::TooMany(count));
                }
                let mut order: Vec<usize> = (0..words.len()).collect();
                order.sort_by_key(|w| *w != own[k] as usize);
                let with = all.iter().flat_map(|at| {
                    order.iter().map(|word| {
                        let mut at = at.clone();
                        at[k] = *word as f64;
                        at
                    })
                });
                all = with.collect();
            }
        }
        Ok(all)
    }

    /// The place of the scenario as it is, or of the middle where it lies elsewhere.
    fn own(&self) -> Vec<f64> {
        let of = |free: &super::Free| {
            let own = value_at(&self.targets.text, &free.path);
            match &free.choice {
                Choice::Words(words) => {
                    let own = words.iter().position(|w| Some(w) == own.as_ref());
                    own.unwrap_or(0) as f64
                }
                Choice::Between(_, dimension) | Choice::Stock(_, dimension) => {
                    let own = own.and_then(|text| Quantity::read(&text, *dimension).ok());
                    own.map_or(0.5, |own| free.choice.place(own.value_si))
                }
            }
        };
        self.targets.free.iter().map(of).collect()
    }

    /// The best part with these words.
    fn of_words(&self, own: &[f64]) -> Option<Candidate> {
        let numbers = self.numbers();
        let spread = SobolSequence::plain(numbers.len()).ok();
        let looked_at = spread.iter().flat_map(|spread| {
            // The first point is the corner.
            (1..=LOOKED_AT).map(|n| {
                let mut at = own.to_vec();
                for (d, k) in numbers.iter().enumerate() {
                    at[*k] = spread.coordinate(n, d);
                }
                at
            })
        });
        let mut best: Option<Candidate> = None;
        let mut others: Option<Vec<Candidate>> = None;
        for n in 0..DESCENTS {
            let start = match (n, &mut others) {
                (0, _) => self.candidate(own.to_vec()),
                (_, None) => {
                    let places: Vec<Vec<f64>> = looked_at.clone().collect();
                    let all = parallel::map(&places, |at| self.candidate(at.clone()), &mut |_| {});
                    let mut all: Vec<Candidate> = all.into_iter().flatten().collect();
                    all.sort_by(|a, b| b.sum().total_cmp(&a.sum()));
                    let first = all.pop();
                    others = Some(all);
                    first
                }
                (_, Some(all)) => all.pop(),
            };
            let Some(start) = start else { continue };
            let end = self.to_stock(self.descend(start, &numbers, ROUNDS));
            let Some(end) = end else { continue };
            if best.as_ref().is_none_or(|b| end.sum() < b.sum()) {
                best = Some(end);
            }
            if best.as_ref().is_some_and(|b| b.sum() == 0.0) {
                break;
            }
        }
        best
    }

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

    /// Slopes in percent per percent.
    fn percents(&self, part: &Candidate, numbers: &[usize], slopes: &DMatrix<f64>) -> Vec<Slope> {
        let mut all = Vec::new();
        for want in 0..slopes.nrows() {
            for (column, k) in numbers.iter().enumerate() {
                let free = &self.targets.free[*k];
                let Some([low, high]) = free.choice.ends() else {
                    continue;
                };
                let per_percent =
                    slopes[(want, column)] * free.choice.si(part.at[*k]) / (high - low);
                all.push(Slope {
                    want,
                    path: free.path.clone(),
                    per_percent,
                });
            }
        }
        all
    }

    /// Pairs of wants, at least one of them missed, that pull against each other over the numbers
    /// that can move.
    fn fights(&self, part: &Candidate, numbers: &[usize], slopes: &DMatrix<f64>) -> Vec<Fight> {
        let wants = &self.targets.wants;
        // Towards the window where it is missed; into it where it is held only just.
        let pull = |w: usize| -> Option<(bool, Vec<f64>)> {
            let merit = part.found[w].merit;
            let missed = wants[w].miss(merit, 0.0);
            let towards = match missed == 0.0 {
                true => wants[w].miss(merit, HELD),
                false => missed,
            };
            let way = (0..numbers.len()).map(|c| {
                let by = -towards.signum() * slopes[(w, c)];
                let at = part.at[numbers[c]];
                let is_shut = at < 1e-6 && by < 0.0 || at > 1.0 - 1e-6 && by > 0.0;
                if is_shut { 0.0 } else { by }
            });
            (towards != 0.0).then(|| (missed != 0.0, way.collect()))
        };
        let mut fights = Vec::new();
        for a in 0..wants.len() {
            for b in a + 1..wants.len() {
                let (Some((a_missed, one)), Some((b_missed, other))) = (pull(a), pull(b)) else {
                    continue;
                };
                let product =
                    |x: &[f64], y: &[f64]| x.iter().zip(y).map(|(x, y)| x * y).sum::<f64>();
                let length = (product(&one, &one) * product(&other, &other)).sqrt();
                let cosine = product(&one, &other) / length;
                if (a_missed || b_missed) && cosine < FIGHTING {
                    fights.push(Fight {
                        wants: [a, b],
                        cosine,
                    });
                }
            }
        }
        fights.sort_by(|a, b| a.cosine.total_cmp(&b.cosine));
        fights
    }

    /// Units of a lot held against the windows, and how far the merit of each want scatters.
    fn lot(&self, part: &Candidate, asked: &Asked) -> Result<(InLot, Vec<f64>), DesignError> {
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
        let inside = |w: usize, unit: &Option<Vec<super::want::Found>>| {
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

    /// Where over two numbers the wants are met: over all that they may be, and where a cell is
    /// larger than what is met, nearer and nearer around the part.
    fn map(&self, part: &Candidate, pair: [usize; 2], progress: &mut Progress<'_>) -> Map {
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

/// Largest difference of two tables of slopes, each row over its largest slope.
fn differ(slopes: &DMatrix<f64>, halved: &DMatrix<f64>) -> Option<f64> {
    let rows = (0..slopes.nrows()).filter_map(|w| {
        let largest = slopes.row(w).amax();
        (largest > 0.0).then(|| (slopes.row(w) - halved.row(w)).amax() / largest)
    });
    rows.reduce(f64::max)
}
