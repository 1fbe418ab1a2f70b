//! What the engine is asked so that polynomials can be fitted: units wider than the lot, and their
//! times at multiples of their own trip points.

use super::basis::{Basis, Term, products_at, straight, terms};
use super::pace::{Curve, NODES};
use super::{Columns, FURTHEST, Surrogate};
use crate::device::{Device, Unit};
use crate::load::Programme;
use crate::physics::one_body::current_of_pace_a;
use crate::predict::{
    Amperes, Carry, Examiner, Finding, Member, Questions, examine_alone, parallel,
};
use crate::scenario::{Before, Scenario};
use crate::statistics::least_squares::fit;
use crate::statistics::stream::{Purpose, Stream};
use crate::study::population::Plan;
use crate::study::population::unit::{exactly, members};

/// Units that they are fitted to.
const FITTED: usize = 3072;
/// How much wider than the lot they are.
const WIDER: f64 = 1.25;
/// Most inputs: terms grow as the cube of their number.
const MOST_INPUTS: usize = 24;
/// How far beyond the nominal unit's multiples the curves go.
const BEYOND: f64 = 1.4;
/// Relative accuracy of the nominal unit alone.
const NOMINAL_ACCURACY: f64 = 1e-5;
/// Units asked at a time.
const BLOCK: usize = 128;

/// Units drawn as those of the lot, independent of each other, and what the engine says of them.
pub fn fresh(plan: &Plan, count: usize) -> (Vec<f64>, Vec<Option<Finding>>) {
    let values = drawn(plan, Purpose::SURROGATE_CHECK, count, 1.0);
    let found = asked(plan, &values);
    (values, found)
}

impl Surrogate {
    /// Fits them; `None` where the engine does not have what is needed.
    pub fn fitted(plan: &Plan) -> Option<Surrogate> {
        let inputs = plan.inputs.len();
        if inputs > MOST_INPUTS || plan.examiner.is_none() {
            return None;
        }
        let (curves, curve_of) = curves(plan)?;
        let carries = &plan.questions.carries;
        let columns = Columns {
            airs: plan.questions.airs.len(),
            curves: curves.len(),
            carries: carries.len(),
        };
        let clearance_m = Some(plan.nominal.clearance_m).filter(|c| c.is_finite())?;
        let values = drawn(plan, Purpose::SURROGATE_FIT, FITTED, WIDER);
        let found = asked(plan, &values);
        let units = members(plan, &values);
        // By number, then unit.
        let mut sides = vec![vec![f64::NAN; FITTED]; columns.count()];
        for (n, finding) in found.iter().enumerate() {
            let Some(finding) = finding else { continue };
            let numbers = columns.numbers(finding, clearance_m);
            sides.iter_mut().zip(numbers).for_each(|(s, x)| s[n] = x);
        }
        for (number, curve) in curves.iter().enumerate() {
            let differences = differences(plan, curve, &units, &found)?;
            let own = &mut sides[columns.curve(number)..];
            own.iter_mut()
                .zip(differences)
                .for_each(|(side, d)| *side = d);
        }
        let scores: Vec<Vec<f64>> = values
            .chunks_exact(inputs)
            .map(|v| plan.scores(v))
            .collect();
        let groups = groups(&sides);
        let first = fitted_in(&straight(inputs), &groups, &scores, &sides);
        let mut sizes = vec![0.0f64; inputs];
        for own in first.into_iter().flatten() {
            let slopes = sizes.iter_mut().zip(&own[1..]);
            slopes.for_each(|(size, slope)| *size = size.max(slope.abs()));
        }
        let terms = terms(&sizes);
        let fitted = fitted_in(&terms, &groups, &scores, &sides);
        // Without clearance, trip points and curves nothing else is known.
        fitted[..columns.wait(0)]
            .iter()
            .all(Option::is_some)
            .then(|| Surrogate {
                basis: Basis::new(terms, &fitted),
                columns,
                curves,
                curve_of,
                bounds: vec![0.0; columns.count()],
                time_bounds: vec![0.0; carries.len()],
                clearance_m,
            })
    }
}

/// A curve for every air and current before, and which each carry lies on.
fn curves(plan: &Plan) -> Option<(Vec<Curve>, Vec<usize>)> {
    let carries = &plan.questions.carries;
    let mut of: Vec<(usize, f64, f64)> = Vec::new();
    let mut numbers = Vec::new();
    for carry in carries {
        let current_a = super::current_a(carry, plan.scenario.load.last_a());
        let multiple = BEYOND * current_a / plan.nominal.trip_points_a[carry.air];
        let is_own =
            |(air, before, _): &(usize, f64, f64)| *air == carry.air && *before == carry.before_a;
        match of.iter().position(is_own) {
            Some(at) => {
                of[at].2 = of[at].2.max(multiple);
                numbers.push(at);
            }
            None => {
                numbers.push(of.len());
                of.push((carry.air, carry.before_a, multiple));
            }
        }
    }
    let curves = of.into_iter().map(|(air, before_a, most)| {
        let (scenario, questions) = asked_alone(plan, air, before_a);
        let times_s = |currents: &[f64]| {
            let one = |current_a: &f64| {
                let mut questions = questions.clone();
                questions.carries[0].current = Amperes::Of(*current_a);
                let found = examine_alone(&scenario, &questions, 1.0, NOMINAL_ACCURACY);
                Some(found.ok()?.times_s[0])
            };
            let found = parallel::map(currents, one, &mut |_| {});
            found.into_iter().collect::<Option<Vec<f64>>>()
        };
        let held_a = plan.nominal.trip_points_a[air];
        Curve::new((air, before_a), held_a, most, times_s)
    });
    Some((curves.collect::<Option<_>>()?, numbers))
}

/// The nominal unit as it is set, and the question how soon it trips.
fn asked_alone(plan: &Plan, air: usize, before_a: f64) -> (Scenario, Questions) {
    let mut scenario = plan.scenario.clone();
    if let Some(latch) = scenario.release.mechanism.latch_mut() {
        latch.widen(plan.nominal.clearance_m - latch.release_travel_m);
    }
    scenario.before = match before_a {
        0.0 => Before::Cold,
        before_a => Before::Hot {
            fraction_of_rated: before_a / scenario.protector.rated_current_a,
        },
    };
    let questions = Questions {
        setting: None,
        airs: vec![plan.questions.airs[air]],
        carries: vec![Carry {
            current: Amperes::Own,
            air: 0,
            before_a,
            cool: false,
            unequal: None,
        }],
        opening_s: plan.questions.opening_s,
    };
    (scenario, questions)
}

/// How logarithms of times over paces differ from the nominal unit's, by node, then unit.
fn differences(
    plan: &Plan,
    curve: &Curve,
    units: &[Member],
    found: &[Option<Finding>],
) -> Option<Vec<Vec<f64>>> {
    let (mut scenario, questions) = asked_alone(plan, curve.air, curve.before_a);
    let mut all = Vec::with_capacity(NODES);
    for (place, nominal) in curve.nodes() {
        let pace = libm::exp(place);
        let current_of = |held_a: f64| current_of_pace_a(pace, held_a, curve.before_a);
        let nominal_a = current_of(plan.nominal.trip_points_a[curve.air]);
        scenario.load = Programme::constant(nominal_a);
        let device = Device::new(&scenario).ok()?;
        let examiner = Examiner::new(&scenario, &device, &questions, plan.own_air_k).ok()??;
        let both: Vec<(&Member, &Option<Finding>)> = units.iter().zip(found).collect();
        let blocks: Vec<&[(&Member, &Option<Finding>)]> = both.chunks(BLOCK).collect();
        let of_block = |block: &&[(&Member, &Option<Finding>)]| {
            let own_a = |found: &Option<Finding>| {
                let held_a = found.as_ref().map(|f| f.trip_points_a[curve.air]);
                held_a.map(current_of).filter(|a| a.is_finite())
            };
            let members = block.iter().map(|(unit, found)| {
                let clearance_m = found.as_ref().map(|f| f.clearance_m);
                Member {
                    unit: set(unit.unit, clearance_m),
                    current_a: own_a(found).unwrap_or(nominal_a),
                    ..**unit
                }
            });
            let times = examiner.examine(&members.collect::<Vec<_>>());
            let differences = times.iter().zip(block.iter()).map(|(times, (_, found))| {
                let own = libm::log(times.times_s[0] / pace) - nominal;
                let asked = own_a(found).is_some() && own.is_finite();
                if asked { own } else { f64::NAN }
            });
            differences.collect::<Vec<f64>>()
        };
        all.push(parallel::map(&blocks, of_block, &mut |_| {}).concat());
    }
    Some(all)
}

/// A unit whose screw leaves this clearance.
fn set(mut unit: Unit, clearance_m: Option<f64>) -> Unit {
    let over_m = clearance_m.map_or(0.0, |c| c - unit.release_travel_m);
    unit.release_travel_m += over_m;
    unit.relatch_travel_m += over_m;
    unit
}

/// Columns whose units are the same, with these units.
type Group = (Vec<usize>, Vec<usize>);

fn groups(sides: &[Vec<f64>]) -> Vec<Group> {
    let mut groups: Vec<Group> = Vec::new();
    for (number, side) in sides.iter().enumerate() {
        let own: Vec<usize> = (0..side.len()).filter(|n| side[*n].is_finite()).collect();
        match groups.iter_mut().find(|(rows, _)| *rows == own) {
            Some((_, list)) => list.push(number),
            None => groups.push((own, vec![number])),
        }
    }
    groups
}

/// Coefficients by number; none where too few units have it.
fn fitted_in(
    terms: &[Term],
    groups: &[Group],
    scores: &[Vec<f64>],
    sides: &[Vec<f64>],
) -> Vec<Option<Vec<f64>>> {
    let found = parallel::map(
        groups,
        |(rows, list)| {
            let own: Vec<Vec<f64>> = (list.iter())
                .map(|number| rows.iter().map(|n| sides[*number][*n]).collect())
                .collect();
            let row = |n: usize, out: &mut [f64]| products_at(terms, &scores[rows[n]], out);
            (rows.len() >= 2 * terms.len())
                .then(|| fit(rows.len(), terms.len(), row, &own))
                .flatten()
        },
        &mut |_| {},
    );
    let mut all = vec![None; sides.len()];
    for ((_, list), found) in groups.iter().zip(found) {
        let columns = found.into_iter().flatten();
        list.iter()
            .zip(columns)
            .for_each(|(n, column)| all[*n] = Some(column));
    }
    all
}

/// Units drawn as those of the lot but wider, and independent of each other.
fn drawn(plan: &Plan, purpose: Purpose, count: usize, wider: f64) -> Vec<f64> {
    let mut values = Vec::with_capacity(count * plan.inputs.len());
    for unit in 0..count as u64 {
        let stream = Stream::new(plan.settings.seed, purpose, unit);
        let inputs = plan.inputs.list.iter().enumerate();
        values.extend(inputs.map(|(k, input)| {
            let score = wider * stream.normal(k as u32);
            input.at(score.clamp(-FURTHEST, FURTHEST))
        }));
    }
    values
}

/// What the engine says of units; nothing where it fails.
fn asked(plan: &Plan, values: &[f64]) -> Vec<Option<Finding>> {
    let blocks: Vec<&[f64]> = values.chunks(BLOCK * plan.inputs.len()).collect();
    let found = parallel::map(&blocks, |block| exactly(plan, block), &mut |_| {});
    let whole = found.into_iter().flatten();
    whole.map(|answered| answered.finding.ok()).collect()
}
