//! Ranges over the fitted parts, beside what is published.

use super::answer::{AirFit, BestPart, FitAnswer, FitRow, Kept, LeftOpen, Preload, Printed};
use super::behaviour::{Behaviour, LEAST_SPREAD};
use super::cloud::Cloud;
use super::{Effort, FitError, scenario};
use crate::answer::Caution;
use crate::family::{AirRow, Assumed, Drawn, Family, Nameplate, Spread};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::statistics::weighted::{Weighted, effective};

/// Version of the layout of the answer.
const FORMAT: u32 = 2;
/// Standard uncertainties within which a part follows a point.
const FOLLOWS: f64 = 2.0;
/// An interval narrowed to less than this part of its width before counts as learnt.
const LEARNT: f64 = 0.5;

pub(super) fn summary(
    family: &Family,
    seed: u64,
    effort: Effort,
    cloud: &Cloud,
    behaviours: &[Behaviour],
    air: &[AirRow],
) -> Result<FitAnswer, FitError> {
    let plate = family.nameplate();
    if !behaviours.iter().any(|b| b.beyond.is_finite()) {
        return Err(FitError::NothingFollows);
    }
    let weights = weights(cloud, behaviours);
    let over = |value: &dyn Fn(Drawn, &Behaviour) -> f64| {
        let values: Vec<(f64, f64)> = cloud
            .drawn
            .iter()
            .zip(behaviours)
            .zip(&weights)
            .map(|(((d, _), b), w)| (value(*d, b), *w))
            .collect();
        spread(values)
    };
    let known = |s: Option<Spread>| s.ok_or(FitError::NothingFollows);
    let best = best(family, cloud, behaviours);
    let (best_drawn, best_behaviour) = (cloud.drawn[best].0, &behaviours[best]);
    let member = |d: Drawn| &family.members()[d.member];
    let total: f64 = weights.iter().sum();
    let share = |is: &dyn Fn(&Behaviour) -> bool| {
        let sum: f64 = behaviours
            .iter()
            .zip(&weights)
            .filter(|(b, _)| is(b))
            .map(|(_, w)| w)
            .sum();
        sum / total
    };
    let assumed_windows = plate.assumed.contains(&Assumed::UsualWindows);
    let rows = printed(plate)
        .into_iter()
        .enumerate()
        .map(|(k, (multiple, after_multiple, printed))| {
            let time_s = best_behaviour.trip_s[k];
            let (kept, residual) = stands(&printed, time_s);
            FitRow {
                multiple,
                after_multiple,
                assumed: assumed_windows && !matches!(printed, Printed::Point { .. }),
                printed,
                trip_s: over(&|_, b| b.trip_s[k]),
                holds: share(&|b| b.trip_s[k].is_infinite()),
                best_s: Some(time_s).filter(|t| t.is_finite()),
                kept,
                residual,
            }
        })
        .collect();
    let usable = air
        .iter()
        .enumerate()
        .map(|(k, row)| AirFit {
            ambient_c: row.ambient_k - ZERO_CELSIUS_K,
            printed: Some(row.factor).filter(|f| f.is_finite()),
            usable: over(&|_, b| b.usable[k].unwrap_or(f64::INFINITY)),
        })
        .collect();
    let before = family
        .members()
        .iter()
        .map(|m| (m.preload_share, 1.0))
        .collect();
    let before = known(spread(before))?;
    let preload_share = known(over(&|d, _| member(d).preload_share))?;
    let preload = Preload {
        share: preload_share,
        before,
        narrowed_to: (preload_share.high - preload_share.low)
            / (before.high - before.low).max(1e-9),
    };
    let trip_multiple = known(over(&|d, _| d.placing.trip_multiple))?;
    let mut answer = FitAnswer {
        format: FORMAT,
        title: String::new(),
        rated_current_a: plate.rated_current_a,
        reference_ambient_c: plate.reference_ambient_k - ZERO_CELSIUS_K,
        resets_itself: plate.resets_itself,
        compensated: plate.compensated,
        seed,
        designs: family.members().len(),
        considered: cloud.considered,
        effective_number: cloud
            .effective_number
            .min(effective(&weights) / effective(&drawn_weights(cloud)) * cloud.effective_number),
        effective_designs: cloud.effective_designs,
        parts: cloud.drawn.len().min(effort.parts),
        trip_multiple,
        trip_point_a: known(over(&|d, _| {
            d.placing.trip_multiple * plate.rated_current_a
        }))?,
        time_constant_s: known(over(&|d, _| d.placing.pace * member(d).time_scale_s()))?,
        slowest_s: known(over(&|d, _| d.placing.pace * member(d).slowest_s))?,
        resistance_ohm: known(over(&|_, b| b.resistance_ohm))?,
        printed_resistance_ohm: plate.resistance_ohm.map(|r| r.0),
        reset_s: over(&|_, b| b.reset_s),
        never_resets: share(&|b| b.reset_s.is_infinite()),
        preload,
        rows,
        air: usable,
        curves: Vec::new(),
        air_curve: Vec::new(),
        best: described(family, best_drawn, best_behaviour),
        scenario: scenario::written(family, best_drawn),
        assumed: assumed(family),
        open: Vec::new(),
        cautions: cautions(plate.resets_itself),
    };
    answer.open = left_open(&answer);
    Ok(answer)
}

/// Weights of the simulated parts, the most probable of them as drawn.
pub(super) fn weights(cloud: &Cloud, behaviours: &[Behaviour]) -> Vec<f64> {
    let most = behaviours
        .iter()
        .map(|b| b.beyond)
        .fold(f64::NEG_INFINITY, f64::max);
    cloud
        .drawn
        .iter()
        .zip(behaviours)
        .map(|((_, w), b)| w * (b.beyond - most).exp())
        .collect()
}

fn drawn_weights(cloud: &Cloud) -> Vec<f64> {
    cloud.drawn.iter().map(|d| d.1).collect()
}

/// The part of the highest density; among parts that are all alike, the one nearest the middle.
fn best(family: &Family, cloud: &Cloud, behaviours: &[Behaviour]) -> usize {
    let plate = family.nameplate();
    let is_flat = plate.points.is_empty()
        && plate.resistance_ohm.is_none()
        && plate.air_table.is_empty()
        && behaviours.iter().all(|b| b.beyond > -1e-9);
    let middle = |value: &dyn Fn(Drawn) -> f64| {
        let mut all: Vec<f64> = cloud.drawn.iter().map(|d| value(d.0)).collect();
        all.sort_by(f64::total_cmp);
        all[all.len() / 2]
    };
    let trip = |d: Drawn| d.placing.trip_multiple;
    let scale = |d: Drawn| (d.placing.pace * family.members()[d.member].time_scale_s()).ln();
    let (trip_middle, scale_middle) = (middle(&trip), middle(&scale));
    let worth = |k: usize| {
        let drawn = cloud.drawn[k].0;
        if is_flat {
            let far = (trip(drawn) - trip_middle) / 0.1;
            -(far * far + (scale(drawn) - scale_middle).powi(2))
        } else {
            family.log_density(drawn) + behaviours[k].beyond
        }
    };
    let mut found = (0, f64::NEG_INFINITY);
    for k in 0..cloud.drawn.len() {
        let w = worth(k);
        if w > found.1 {
            found = (k, w);
        }
    }
    found.0
}

/// What is printed, in the order of [`Behaviour::trip_s`].
fn printed(plate: &Nameplate) -> Vec<(f64, f64, Printed)> {
    let windows = plate.windows.iter().map(|w| {
        let printed = if w.at_least_s.is_infinite() {
            Printed::Carried
        } else {
            Printed::Window {
                at_least_s: w.at_least_s,
                at_most_s: Some(w.at_most_s).filter(|t| t.is_finite()),
            }
        };
        (w.multiple, w.after_multiple, printed)
    });
    let points = plate.points.iter().map(|p| {
        let printed = Printed::Point {
            time_s: p.time_s,
            relative: p.relative.max(LEAST_SPREAD),
        };
        (p.multiple, p.after_multiple, printed)
    });
    windows.chain(points).collect()
}

/// How a trip time stands to what is printed.
fn stands(printed: &Printed, time_s: f64) -> (Kept, Option<f64>) {
    match printed {
        Printed::Carried if time_s.is_infinite() => (Kept::Yes, None),
        Printed::Carried => (Kept::TooSoon, None),
        Printed::Window { at_least_s, .. } if time_s < *at_least_s => (Kept::TooSoon, None),
        Printed::Window { at_most_s, .. } => match at_most_s {
            Some(most) if time_s > *most => (Kept::TooLate, None),
            _ => (Kept::Yes, None),
        },
        Printed::Point {
            time_s: printed_s,
            relative,
        } => {
            if time_s.is_infinite() {
                return (Kept::TooLate, None);
            }
            let residual = (time_s.max(1e-9) / printed_s).ln() / relative;
            let kept = if residual > FOLLOWS {
                Kept::TooLate
            } else if residual < -FOLLOWS {
                Kept::TooSoon
            } else {
                Kept::Yes
            };
            (kept, Some(residual))
        }
    }
}

fn described(family: &Family, drawn: Drawn, b: &Behaviour) -> BestPart {
    let member = &family.members()[drawn.member];
    let own = drawn
        .placing
        .own_per_ampere(member, family.nameplate().rated_current_a);
    BestPart {
        trip_multiple: drawn.placing.trip_multiple,
        resistance_ohm: b.resistance_ohm,
        reset_s: Some(b.reset_s).filter(|t| t.is_finite()),
        length_m: member.device.length_m,
        width_m: member.device.laws.width_m,
        thickness_m: member.device.laws.thickness_m,
        rise_k: member.rise_k,
        preload_share: member.preload_share,
        winding_ohm: member.device.winding.map(|w| w.resistance_ohm * own * own),
        resistivity_factor: own * own,
        capacity_factor: drawn.placing.pace,
    }
}

/// What was assumed of the sheet and of its points.
fn assumed(family: &Family) -> Vec<Assumed> {
    let plate = family.nameplate();
    let mut list = plate.assumed.clone();
    let members = family.members();
    let wound = members.iter().filter(|m| m.device.winding.is_some());
    let wound = wound.count();
    if wound > 0 {
        list.push(Assumed::HeaterWinding {
            in_all: wound == members.len(),
        });
    }
    if plate.points.iter().any(|p| p.relative < LEAST_SPREAD) {
        list.push(Assumed::UnitScatter {
            relative: LEAST_SPREAD,
        });
    }
    list
}

/// What the published values do not settle.
fn left_open(answer: &FitAnswer) -> Vec<LeftOpen> {
    let no_table = answer.air.iter().all(|a| a.printed.is_none());
    let no_hot = !answer.rows.iter().any(|r| r.after_multiple > 0.0);
    let no_ohm = answer.printed_resistance_ohm.is_none();
    [
        (answer.preload.narrowed_to > LEARNT, LeftOpen::PreloadShare),
        (true, LeftOpen::Dimensions),
        (no_ohm, LeftOpen::Resistance),
        (answer.compensated, LeftOpen::CompensatingStrip),
        (!answer.compensated && no_table, LeftOpen::EffectOfTheAir),
        (no_hot, LeftOpen::HotCurve),
    ]
    .into_iter()
    .filter_map(|(is_open, what)| is_open.then_some(what))
    .collect()
}

/// The cautions, most urgent first.
fn cautions(resets_itself: bool) -> Vec<Caution> {
    let first = resets_itself.then_some(Caution::StartsByItself);
    let all = [
        Caution::OneOfMany,
        Caution::FindCause,
        Caution::NeverRaise,
        Caution::DeliberateOverload,
        Caution::ModelEstimate,
    ];
    first.into_iter().chain(all).collect()
}

/// Median and 90 % range of weighed values; infinite ones are left out.
pub(super) fn spread(values: Vec<(f64, f64)>) -> Option<Spread> {
    Spread::of(&Weighted::new(
        values.into_iter().filter(|v| v.0.is_finite()),
    ))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quantiles_go_by_weight() {
        let s = spread(vec![
            (3.0, 0.9),
            (1.0, 0.05),
            (f64::INFINITY, 5.0),
            (2.0, 0.05),
        ])
        .expect("some");
        assert_eq!((s.low, s.median, s.high), (1.0, 3.0, 3.0));
        assert!(spread(vec![(f64::INFINITY, 1.0)]).is_none());
    }

    #[test]
    fn a_time_stands_to_what_is_printed() {
        let window = Printed::Window {
            at_least_s: 4.0,
            at_most_s: Some(40.0),
        };
        assert_eq!(stands(&window, 3.9).0, Kept::TooSoon);
        assert_eq!(stands(&window, 20.0).0, Kept::Yes);
        assert_eq!(stands(&window, f64::INFINITY).0, Kept::TooLate);
        let point = Printed::Point {
            time_s: 10.0,
            relative: 0.1,
        };
        assert_eq!(stands(&point, 11.0).0, Kept::Yes);
        assert_eq!(stands(&point, 13.0).0, Kept::TooLate);
        assert_eq!(stands(&Printed::Carried, 1e3).0, Kept::TooSoon);
    }
}
