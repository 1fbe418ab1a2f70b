//! How far a unit is beyond failing, way by way and year by year.

use super::Failure;
use super::part::Made;
use crate::study::ageing::{Drift, Map, Side, View, YEAR_S};

/// Tolerance of a step in the logarithm of time: tolerances of parts are known to percents.
const TOLERANCE: f64 = 1e-6;

/// Which way of failing each margin stands for, in the order of [`View::beyond`].
pub fn ways(map: &Map) -> Vec<Failure> {
    let carried = map.states.iter().filter(|s| s.state.current_a > 0.0);
    let limits = map.limits.iter().map(|l| match l.side {
        Side::Early => Failure::LeavesLimitsEarly,
        Side::Late => Failure::LeavesLimitsLate,
    });
    carried
        .map(|_| Failure::TripsInService)
        .chain(limits)
        .collect()
}

/// Every margin at these years, m: at or above zero it has failed.
pub fn margins(unit: &Made, years: &[f64]) -> Vec<Vec<f64>> {
    let view = View::new(&unit.map, &unit.constants.current_factors);
    let end_s = years.iter().copied().fold(0.0, f64::max) * YEAR_S;
    let drift = Drift::follow(&unit.constants, &view, end_s, TOLERANCE);
    let at = |years: &f64| {
        let worn = drift.at(years * YEAR_S);
        let holds = [worn.stuck.0, worn.stuck.1].map(|stuck| view.hold(worn.loss, stuck));
        view.beyond(worn.contact_ohm, holds)
    };
    years.iter().map(at).collect()
}

/// The worst margin of each way up to each year, m; minus infinity where there is no such way.
pub fn worst(ways: &[Failure], margins: &[Vec<f64>]) -> [Vec<f64>; 3] {
    Failure::ALL.map(|way| {
        let mut worst = f64::NEG_INFINITY;
        let at = margins.iter().map(|at| {
            let own = ways.iter().zip(at).filter(|(w, _)| **w == way);
            worst = own.fold(worst, |worst, (_, m)| worst.max(*m));
            worst
        });
        at.collect()
    })
}
