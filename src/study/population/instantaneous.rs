//! What the instantaneous elements of a lot do: how widely their pick-up scatters, and how many keep
//! to their band.

use super::chunk::values_of;
use super::{Plan, Rate, VaryError};
use crate::predict::magnet::{PickUp, pick_up};
use crate::predict::parallel;
use crate::standards::Band;
use crate::statistics::rates::rate;
use serde::{Deserialize, Serialize};

/// Units that are asked at most: each is closed some hundred times.
const MOST: u64 = 1024;

/// The instantaneous elements of a lot.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct InstantaneousRecord {
    /// Units that were asked, spread over the lot.
    pub units: u64,
    /// Smallest alternating current that releases the part as drawn, rms, A.
    pub nominal_a: Option<f64>,
    /// The same of the units: 5, 50 and 95 %, A; `None`: so many have none.
    pub pick_up_a: [Option<f64>; 3],
    /// Closings of all of them, under the scenario's own, that it opens at once: their share.
    pub closings_share: f64,
    /// The number that moves the pick-up most, with its share of the variance.
    pub most: Option<(String, f64)>,
    /// The band it is held against: units that hold its lower end, and that release at its upper.
    pub band: Option<(Band, Rate, Rate)>,
}

/// Asks the elements, where units differ in them.
pub(super) fn instantaneous(plan: &Plan) -> Result<Option<InstantaneousRecord>, VaryError> {
    let own = |k: &usize| plan.inputs.list[*k].path.starts_with("magnetic.");
    let own: Vec<usize> = (0..plan.inputs.len()).filter(own).collect();
    let Some(nominal) = pick_up(&plan.scenario).filter(|_| !own.is_empty()) else {
        return Ok(None);
    };
    let units = plan.settings.units.min(MOST);
    let numbers: Vec<u64> = (0..units)
        .map(|k| (u128::from(k) * u128::from(plan.settings.units) / u128::from(units)) as u64)
        .collect();
    let ask = |number: &u64| {
        let mut values = Vec::new();
        values_of(plan, *number, &mut values);
        let mut scenario = plan.scenario.clone();
        plan.inputs.apply(&values, &mut scenario);
        (values, pick_up(&scenario).unwrap_or_default())
    };
    let asked: Vec<(Vec<f64>, PickUp)> = parallel::map(&numbers, ask, &mut |_| {});
    let mut sorted: Vec<f64> = asked
        .iter()
        .map(|(_, found)| found.rms_a.unwrap_or(f64::INFINITY))
        .collect();
    sorted.sort_by(f64::total_cmp);
    let at = |p: f64| sorted[(p * (sorted.len() - 1) as f64).round() as usize];
    let count = |of: &dyn Fn(&PickUp) -> bool| -> Result<Rate, VaryError> {
        let hits = asked.iter().filter(|(_, found)| of(found)).count();
        Ok(rate(hits as u64, units, 1.0)?)
    };
    let band = plan.scenario.magnetic.and_then(|m| m.band);
    let shares = asked.iter().map(|(_, found)| found.closings_share);
    Ok(Some(InstantaneousRecord {
        units,
        nominal_a: nominal.rms_a,
        pick_up_a: [0.05, 0.5, 0.95].map(|p| Some(at(p)).filter(|a| a.is_finite())),
        closings_share: shares.sum::<f64>() / units as f64,
        most: own
            .iter()
            .map(|k| (plan.inputs.list[*k].path.clone(), alike(&asked, *k)))
            .max_by(|a, b| a.1.total_cmp(&b.1)),
        band: match band {
            Some(band) => Some((
                band,
                count(&|found| found.holds_lower)?,
                count(&|found| found.releases_upper)?,
            )),
            None => None,
        },
    }))
}

/// Square of the correlation of an input with the pick-up.
fn alike(asked: &[(Vec<f64>, PickUp)], k: usize) -> f64 {
    let pairs = asked
        .iter()
        .filter_map(|(v, found)| Some((v[k], found.rms_a?)));
    let pairs: Vec<(f64, f64)> = pairs.collect();
    let count = pairs.len().max(1) as f64;
    let mean = |of: fn(&(f64, f64)) -> f64| pairs.iter().map(of).sum::<f64>() / count;
    let (x, y) = (mean(|p| p.0), mean(|p| p.1));
    let sum =
        |of: &dyn Fn(f64, f64) -> f64| -> f64 { pairs.iter().map(|p| of(p.0 - x, p.1 - y)).sum() };
    let spread = sum(&|a, _| a * a) * sum(&|_, b| b * b);
    if spread > 0.0 {
        sum(&|a, b| a * b).powi(2) / spread
    } else {
        0.0
    }
}
