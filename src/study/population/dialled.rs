//! How a unit's own multiple of its mark moves its latch: the travel that belongs to it in the part
//! as it is drawn, by a polynomial through a few that were solved.

use super::VaryError;
use super::inputs::Input;
use crate::predict::turned;
use crate::scenario::Scenario;

/// Multiples that are solved.
const NODES: usize = 5;
/// They lie within so many standard deviations.
const REACH: f64 = 4.0;

/// Path of the multiple.
const TRIPS_AT: &str = "dial.trips_at";

/// Travel against multiple.
#[derive(Debug, Clone)]
pub struct Dialled {
    /// Multiple and travel, m.
    nodes: Vec<(f64, f64)>,
    /// Travels to release and to relatch of the part as it is drawn, m; `None`: units have their
    /// own.
    drawn_m: [Option<f64>; 2],
    nominal_m: f64,
}

impl Dialled {
    /// Solves the travels around the multiple of a scenario.
    pub(super) fn of(scenario: &Scenario, inputs: &[Input]) -> Result<Option<Dialled>, VaryError> {
        let input = |path: &str| inputs.iter().find(|input| input.path == path);
        let (Some(dial), Some(own)) = (scenario.dial, input(TRIPS_AT)) else {
            return Ok(None);
        };
        let deviation = own.deviation;
        let travels_m = |trips_at: f64| -> Result<[f64; 2], VaryError> {
            let mut own = scenario.clone();
            if let Some(dial) = &mut own.dial {
                dial.trips_at = trips_at;
            }
            let set = turned(&own)?;
            let latch = set.release.mechanism.latch();
            Ok(latch.map_or([0.0; 2], |l| [l.release_travel_m, l.relatch_travel_m]))
        };
        let nominal_m = travels_m(dial.trips_at)?;
        let keys = ["latch.release_travel", "latch.relatch_travel"];
        let node = |k: usize| {
            let angle = std::f64::consts::PI * (k as f64 + 0.5) / NODES as f64;
            let at = dial.trips_at - REACH * deviation * libm::cos(angle);
            Ok((at, travels_m(at)?[0]))
        };
        Ok(Some(Dialled {
            nodes: (0..NODES).map(node).collect::<Result<_, VaryError>>()?,
            drawn_m: [0, 1].map(|k| input(keys[k]).is_none().then_some(nominal_m[k])),
            nominal_m: nominal_m[0],
        }))
    }

    /// Moves the latch of a unit whose numbers are set.
    pub(super) fn turn(&self, unit: &mut Scenario) {
        let (Some(dial), Some(latch)) = (unit.dial, unit.release.mechanism.latch_mut()) else {
            return;
        };
        latch.release_travel_m = self.drawn_m[0].unwrap_or(latch.release_travel_m);
        latch.relatch_travel_m = self.drawn_m[1].unwrap_or(latch.relatch_travel_m);
        latch.widen(self.farther_m(dial.trips_at));
    }

    /// How much farther the latch of a unit is, m.
    fn farther_m(&self, trips_at: f64) -> f64 {
        let term = |(k, (at, travel_m)): (usize, &(f64, f64))| {
            let others = self.nodes.iter().enumerate().filter(|(o, _)| *o != k);
            let parts = others.map(|(_, (other, _))| (trips_at - other) / (at - other));
            travel_m * parts.product::<f64>()
        };
        self.nodes.iter().enumerate().map(term).sum::<f64>() - self.nominal_m
    }
}
