//! Slopes told by the equations themselves, where they tell them: of trip times and waits to reset
//! under a constant current, of trip points, rows of documents, the drop, and the cost.

use super::search::{Candidate, STEP, Search};
use super::want::{Want, Wanted, per_beyond};
use crate::device::Device;
use crate::load::{Current, Programme, Repeat};
use crate::predict::{Case, Nearby, PredictError, case_of, turned};
use crate::scenario::{Before, Scenario};

/// The current of a load that never changes, A.
fn constant_a(load: &Programme) -> Option<f64> {
    match (load.repeat, load.segments.as_slice()) {
        (Repeat::Once, [only]) => match only.current {
            Current::Constant(a) => Some(a),
            _ => None,
        },
        _ => None,
    }
}

/// A part and what is near it.
struct Around<'s> {
    scenario: Scenario,
    /// The free numbers whose columns are told.
    told: Vec<usize>,
    nearby: Nearby,
    part: &'s Candidate,
}

impl Search<'_> {
    /// Slopes of the merits over places, one column a free number of `over`; `None` for a column
    /// that has to be asked for.
    pub(super) fn exact(&self, from: &Candidate, over: &[usize]) -> Vec<Option<Vec<f64>>> {
        let none = vec![None; over.len()];
        let wants = &self.targets.wants;
        if !wants.iter().all(is_told) {
            return none;
        }
        let Some(around) = self.around_part(from, over) else {
            return none;
        };
        // A row a want, a column a number that is told.
        let rows: Vec<Vec<Option<f64>>> = (0..wants.len())
            .map(|w| self.row(&around, w).unwrap_or_default())
            .collect();
        let column = |k: &usize| -> Option<Vec<f64>> {
            let at = around.told.iter().position(|told| told == k)?;
            let cells = rows.iter().map(|row| row.get(at).copied().flatten());
            cells
                .map(|cell| cell.filter(|slope| slope.is_finite()))
                .collect()
        };
        over.iter().map(column).collect()
    }

    /// The part and its neighbours in every number that changes the device alone.
    fn around_part<'s>(&self, from: &'s Candidate, over: &[usize]) -> Option<Around<'s>> {
        let (_, scenario) = self.scenario(&from.at)?;
        let is_constant = scenario.surroundings.ambient.len() == 1
            && constant_a(&scenario.load).is_some()
            && scenario.machine_case.is_none();
        if !is_constant {
            return None;
        }
        let device = |scenario: &Scenario| -> Option<Device> {
            let set = turned(scenario).ok()?;
            Device::new(&set).ok()
        };
        let (mut told, mut pairs) = (Vec::new(), Vec::new());
        for k in over {
            let choice = &self.targets.free[*k].choice;
            let ends = [-STEP, STEP].map(|by| {
                // As near as the text of a scenario says it.
                let place = choice.place(choice.said(from.at[*k] + by));
                let mut at = from.at.clone();
                at[*k] = place;
                Some((place, self.scenario(&at)?.1))
            });
            let [Some((low, below)), Some((high, above))] = ends else {
                continue;
            };
            let is_alike = |one: &Scenario| {
                one.load == scenario.load
                    && one.before == scenario.before
                    && one.surroundings.ambient == scenario.surroundings.ambient
                    && one.protector.rated_current_a == scenario.protector.rated_current_a
                    && one.protector.reference_ambient_k == scenario.protector.reference_ambient_k
            };
            if !(high > low && is_alike(&below) && is_alike(&above)) {
                continue;
            }
            if let (Some(below), Some(above)) = (device(&below), device(&above)) {
                told.push(*k);
                pairs.push(([below, above], high - low));
            }
        }
        let nearby = Nearby::new(device(&scenario)?, pairs);
        Some(Around {
            scenario,
            told,
            nearby,
            part: from,
        })
    }

    /// Slopes of one merit over the numbers that are told.
    fn row(&self, around: &Around<'_>, w: usize) -> Option<Vec<Option<f64>>> {
        let want = &self.targets.wants[w];
        let found = around.part.found[w];
        let per_value = match want.wanted {
            Wanted::StripTemperature | Wanted::PreloadShare => return None,
            _ => 1.0 / found.value,
        };
        let slopes: Vec<Option<f64>> = match want.wanted {
            Wanted::Cost => self.cost_slopes(around),
            _ => around.values(want, found.value).ok()?,
        };
        let by_point = want.must_hold() || found.value == f64::INFINITY;
        let to_merit = match by_point {
            true => per_beyond(found.merit, around.current_a(want)?),
            false => per_value,
        };
        let to_merits = slopes.into_iter().map(|slope| Some(to_merit * slope?));
        Some(to_merits.collect())
    }

    fn cost_slopes(&self, around: &Around<'_>) -> Vec<Option<f64>> {
        let of = |k: &usize| -> Option<f64> {
            let free = &self.targets.free[*k];
            let [low, high] = free.choice.ends()?;
            let text = self.scenario(&around.part.at)?.0;
            let cost = self.targets.cost.as_ref()?;
            Some((high - low) * cost.slope(&text, &free.path)?)
        };
        around.told.iter().map(of).collect()
    }
}

/// Whether the equations tell how an answer moves.
fn is_told(want: &Want) -> bool {
    match (want.wanted, want.limit) {
        (_, Some(row)) => row.demand.poles.is_none(),
        (Wanted::TripTime | Wanted::TripPoint | Wanted::ResetWait, None) => true,
        (Wanted::Drop | Wanted::Cost, None) => true,
        _ => false,
    }
}

impl Around<'_> {
    /// The current of a want, A.
    fn current_a(&self, want: &Want) -> Option<f64> {
        want.current_a.or(constant_a(&self.scenario.load))
    }

    /// Air and history of a want.
    fn case(&self, want: &Want) -> Case {
        let mut case = case_of(&self.scenario);
        if let Some(row) = want.limit {
            case.longest_s = 1e9;
            let air_k = want.air_k.unwrap_or(case.ambient_k());
            let before = match row.demand.after_multiple {
                multiple if multiple > 0.0 => Before::Hot {
                    fraction_of_rated: multiple,
                },
                _ => Before::Cold,
            };
            case = case.at_ambient(air_k).from(before);
        }
        case
    }

    /// Slopes of a value; of the trip point where the answer never comes, or must not.
    fn values(&self, want: &Want, value: f64) -> Result<Vec<Option<f64>>, PredictError> {
        let (case, rated_a) = (self.case(want), self.scenario.protector.rated_current_a);
        if want.wanted == Wanted::TripPoint || want.must_hold() || value == f64::INFINITY {
            return self.nearby.trip_point(case.ambient_k(), rated_a);
        }
        if want.wanted == Wanted::Drop {
            let air_k = self.scenario.protector.reference_ambient_k;
            return self.nearby.drop(rated_a, air_k);
        }
        let which = usize::from(want.wanted == Wanted::ResetWait);
        let current_a = self.current_a(want).unwrap_or(rated_a);
        let times = self.nearby.times(&case, current_a, value)?;
        Ok(times.into_iter().map(|t| Some(t?[which])).collect())
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::design::read_text;

    const TARGETS: &str = r#"
format = 1
title = "slopes"
scenario = "part"
[[free]]
path = "strip.width"
from = "4 mm"
to = "5 mm"
[[free]]
path = "strip.length"
from = "34 mm"
to = "38 mm"
[[free]]
path = "strip.layer[0].thickness"
from = "0.34 mm"
to = "0.42 mm"
[[free]]
path = "latch.release_travel"
from = "1.6 mm"
to = "2.1 mm"
[[free]]
path = "latch.relatch_travel"
from = "0.8 mm"
to = "1.2 mm"
[[free]]
path = "latch.preload"
from = "0.5 N"
to = "2 N"
[[free]]
path = "housing.conductance"
from = "50 mW/K"
to = "70 mW/K"
[[want]]
what = "trip time"
of_rating = "200 %"
is = "20 s"
[[want]]
what = "reset wait"
is = "25 s"
[[want]]
what = "trip point"
at_least = "10.5 A"
[[want]]
what = "drop"
at_most = "1 V"
[[want]]
what = "cost"
formula = "0.2 + 0.03 strip.width[mm]^2 / strip.length[cm]"
aim = "least"
[[want]]
what = "published limits"
document = "UL 489 up to 30 A"
"#;

    /// The trip point and the rows that it tells are linear enough over a step of a thousandth for
    /// 0.3 %; times as near to it as that of 1.35 times the rating bend more.
    #[test]
    fn slopes_of_the_equations_are_those_of_whole_predictions() {
        let part = include_str!("../../../scenarios/01-pug-mill.toml");
        let named = |name: &str| Ok((name.to_owned(), part.to_owned()));
        let targets = read_text("targets", TARGETS, &named).expect("targets");
        let search = Search::new(&targets);
        let over = search.numbers();
        let at = vec![0.37, 0.48, 0.52, 0.41, 0.63, 0.35, 0.55];
        let from = search.candidate(at).expect("a part");
        let exact = search.exact(&from, &over);
        let [above, below] = [STEP, -STEP].map(|step| search.differences(&from, &over, step));
        assert_eq!(targets.wants.len(), 8);
        for (k, told) in exact.iter().enumerate() {
            let told = told.as_ref().expect("the equations tell it");
            for w in 0..told.len() {
                let between = 0.5 * (above[k][w] + below[k][w]);
                let most = exact
                    .iter()
                    .flatten()
                    .map(|c| c[w].abs())
                    .fold(0.0, f64::max);
                assert!(most > 0.0);
                assert!(
                    (told[w] - between).abs() < 3e-3 * between.abs() + 1e-4 * most,
                    "want {w}, {}: {} and {between}",
                    targets.free[over[k]].path,
                    told[w]
                );
            }
        }
    }
}
