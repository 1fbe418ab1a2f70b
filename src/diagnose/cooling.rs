//! Waits after a trip, for this part in its place.

use super::posterior::Posterior;
use super::record::Waits;
use super::scales::Scales;
use crate::answer::WhyNever;
use crate::family::{Opened, PartsWait, Start};
use crate::load::Programme;
use crate::predict::parallel;

const SAMPLE: usize = 60;

/// Waits, or `None` when it does not trip.
pub fn waits(scales: &Scales<'_>, posterior: &Posterior, seed: u64) -> Option<Waits> {
    let rated = scales.case.nameplate.rated_current_a;
    let chosen = posterior.sample(SAMPLE, seed ^ 0x0c);
    let found: Vec<Option<(bool, f64, f64)>> = parallel::map(
        &chosen,
        |carrier| {
            let particle = &carrier.particle;
            let wear = scales.wear(particle);
            let part = scales.part(particle, scales.in_place(particle, wear));
            let air = [(0.0, scales.felt_k(scales.air_k(particle)))];
            let load = scales.load(particle, true);
            let own = Opened::from_cold(&part, &air, &load);
            let is_own = own.is_some();
            let twice = Programme::constant(2.0 * rated);
            let (_, opened) = own.or_else(|| Opened::from_cold(&part, &air, &twice))?;
            let Some(reset_s) = opened.relatch_s() else {
                return Some((is_own, f64::INFINITY, f64::INFINITY));
            };
            let start_s = match opened.start_after(reset_s, &load) {
                Start::After(s) => s,
                Start::Never => f64::INFINITY,
            };
            Some((is_own, reset_s, start_s))
        },
        &mut |_| {},
    );
    let found: Vec<(bool, f64, f64)> = found.into_iter().flatten().collect();
    let by_load = found.iter().filter(|f| f.0).count();
    let over = |of: fn(&(bool, f64, f64)) -> f64, why| {
        let waits: Vec<(f64, f64)> = found.iter().map(|f| (of(f), 1.0)).collect();
        PartsWait::over(&waits, why)
    };
    (!found.is_empty()).then(|| Waits {
        by_own_load: 2 * by_load > found.len(),
        reset: over(|f| f.1, WhyNever::StaysWarm),
        start: over(|f| f.2, WhyNever::StartTripsCold),
    })
}
