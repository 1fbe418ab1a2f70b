//! Entries that are probably wrong, and what they should have been.

use super::hypothesis::Trips;
use super::latent::{BURST, LOAD, Particle, ROOM};
use super::mended::meter_slip;
use super::outcome::log_by_chance;
use super::posterior::Posterior;
use super::readings::{labels, phases_by_chance};
use super::record::{Contradiction, Expected, Misfit};
use super::scales::Scales;
use super::scatter::{AIR, DROP, START_SEEN, Slip, TERMINALS, wrong_time};
use super::surrogate::{NEVER_S, trip_s};
use crate::evidence::{AirPlace, Case, Event, Outcome, Taken, Unit};
use crate::family::Spread;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::statistics::weighted::Weighted;
use std::ops::RangeInclusive;

/// From this probability on an entry is called wrong, and two entries are said not to go together.
const PROBABLE: f64 = 0.5;
/// Particles that say what should have been.
const SAMPLE: usize = 80;

/// What is wrong with the entries of a case.
pub struct Doubted {
    /// Entries that are probably wrong.
    pub misfits: Vec<Misfit>,
    /// Two entries of which one is probably wrong, and it is not known which.
    pub contradictions: Vec<Contradiction>,
}

/// Look for entries that are wrong in most of what explains the case.
pub fn doubted(scales: &Scales<'_>, posterior: &Posterior, seed: u64) -> Doubted {
    let by_chance = by_chance(scales);
    let labels = labels(scales.case);
    let n = labels.len();
    let mut alone = vec![0.0; n];
    let mut either = vec![0.0; n * n];
    let mut items = Vec::new();
    let events = scales.case.readings.len()
        + scales.case.air.len()
        + usize::from(scales.case.start.is_some())
        + phases_by_chance(scales.case).len()
        + scales.case.drops.len();
    for carrier in &posterior.carriers {
        scales.surrogate(&carrier.particle, &mut items);
        let passes = |e: &Event| match posterior.hypotheses[carrier.hypothesis].trips {
            Trips::AsItRuns => false,
            Trips::Once => is_trip_in_service(e) && e.unit == Unit::ThisPart,
            Trips::InMidRun => is_trip_in_service(e),
        };
        let wrong: Vec<f64> = (0..n)
            .map(|k| {
                let event = k
                    .checked_sub(events)
                    .and_then(|e| scales.case.events.get(e));
                if event.is_some_and(&passes) || is_derived(scales.case, k) {
                    return 0.0;
                }
                (by_chance[k] - items[k]).exp().min(1.0)
            })
            .collect();
        for i in 0..n {
            alone[i] += carrier.weight * wrong[i];
            for j in i + 1..n {
                let one = wrong[i] * (1.0 - wrong[j]) + wrong[j] * (1.0 - wrong[i]);
                either[i * n + j] += carrier.weight * one;
            }
        }
    }
    let chosen: Vec<&Particle> = posterior
        .sample(SAMPLE, seed ^ 0x0d)
        .into_iter()
        .map(|c| &c.particle)
        .collect();
    let misfit = |k: usize| {
        let expected = expected(scales, &chosen, k, events);
        let said = written(scales.case, k, events);
        // What would fit is not called wrong.
        let fits = said.is_some_and(|s| expected.as_ref().is_some_and(|e| e.meets(&s)));
        (!fits).then(|| Misfit {
            entry: labels[k].clone(),
            probability: alone[k],
            expected,
        })
    };
    let doubtful = (0..n).filter(|k| alone[*k] > PROBABLE);
    let misfits = doubtful.filter_map(misfit).collect();
    let mut contradictions = Vec::new();
    for i in 0..n {
        for j in i + 1..n {
            let open = alone[i] <= PROBABLE && alone[j] <= PROBABLE;
            if open && either[i * n + j] > PROBABLE {
                contradictions.push(Contradiction {
                    one: labels[i].clone(),
                    other: labels[j].clone(),
                    probability: either[i * n + j],
                });
            }
        }
    }
    Doubted {
        misfits,
        contradictions,
    }
}

/// What the program computed from a log itself, or asks about already, is not named as wrong.
fn is_derived(case: &Case, item: usize) -> bool {
    let air = item.checked_sub(case.readings.len());
    let air = air.and_then(|k| case.air.get(k));
    case.readings.get(item).is_some_and(|r| r.of_log)
        || air.is_some_and(|a| a.place == AirPlace::NotSaid)
}

fn is_trip_in_service(event: &Event) -> bool {
    event.is_in_service() && event.is_trip()
}

/// Logarithm of the density of each item when it is wrong, in the order of [`labels`].
fn by_chance(scales: &Scales<'_>) -> Vec<f64> {
    let case = scales.case;
    let slip = |s: Slip| (s.chance / s.width).ln();
    let readings = case.readings.iter();
    let mut out: Vec<f64> = readings.map(|r| slip(meter_slip(case, r))).collect();
    out.extend(case.air.iter().map(|_| slip(AIR)));
    // A peak and a time.
    out.extend(case.start.iter().map(|_| 2.0 * slip(START_SEEN)));
    out.extend(phases_by_chance(case));
    out.extend(case.drops.iter().map(|_| slip(DROP)));
    out.extend(
        case.events
            .iter()
            .map(|e| wrong_time(e).ln() + log_by_chance(&e.outcome)),
    );
    // Their difference and their level.
    out.extend(case.terminals.iter().map(|_| 2.0 * slip(TERMINALS)));
    out
}

/// What an entry says, in the unit of [`expected`]: from where to where.
fn written(case: &Case, item: usize, events: usize) -> Option<RangeInclusive<f64>> {
    let one = |number: f64| Some(number..=number);
    if let Some(reading) = case.readings.get(item) {
        return one(reading.current_a.value);
    }
    let air = item.checked_sub(case.readings.len());
    if let Some(air) = air.and_then(|k| case.air.get(k)) {
        return one(air.temperature_k.value - ZERO_CELSIUS_K);
    }
    match case.events.get(item.checked_sub(events)?)?.outcome {
        Outcome::Tripped { after_s } => one(after_s.value),
        Outcome::TrippedWithin { from_s, to_s } => Some(from_s..=to_s),
        Outcome::Held { .. } => None,
    }
}

/// What an entry should have been, as far as that is a number.
fn expected(
    scales: &Scales<'_>,
    chosen: &[&Particle],
    item: usize,
    events: usize,
) -> Option<Expected> {
    let case = scales.case;
    let over =
        |f: &dyn Fn(&Particle) -> f64| Spread::of(&Weighted::equal(chosen.iter().map(|g| f(g))));
    if let Some(reading) = case.readings.get(item) {
        let burst = if reading.taken == Taken::UpToTheTrip {
            0.0
        } else {
            1.0
        };
        let then = |g: &Particle| scales.then(g, reading.mended, false)[1].1;
        return over(&|g| {
            let x = then(g).x;
            scales.rated_a() * (x[LOAD] - burst * x[BURST]).exp()
        })
        .map(Expected::CurrentA);
    }
    if let Some(air) = item
        .checked_sub(case.readings.len())
        .and_then(|k| case.air.get(k))
    {
        return over(&|g| match air.place {
            AirPlace::InTheRoom => g.x[ROOM] - ZERO_CELSIUS_K,
            AirPlace::AtThePart | AirPlace::NotSaid => scales.air_k(g) - ZERO_CELSIUS_K,
        })
        .map(Expected::AirC);
    }
    let k = item.checked_sub(events)?;
    let event = case.events.get(k)?;
    if matches!(event.outcome, Outcome::Held { .. }) {
        return None;
    }
    over(&|g| trip_s(scales.quick_factor(&scales.then_of(g, event)[1].1, k))).map(|s| {
        match (s.median < NEVER_S, s.high < NEVER_S) {
            (true, true) => Expected::TripS(s),
            (true, false) => Expected::NotBeforeS(s.low),
            (false, _) => Expected::NoTrip,
        }
    })
}
