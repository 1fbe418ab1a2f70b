//! A reset too early.

use super::{Early, WaitQuestion};
use crate::family::part::Carries;
use crate::family::part::Drawn;
use crate::family::prior::Family;
use crate::family::ready::Opened;
use crate::family::spread::Spread;
use crate::load::Programme;
use crate::predict::parallel;
use crate::statistics::weighted::Weighted;

/// What becomes of resets after some waits, over a third of the parts.
pub(super) fn resets_too_early(
    question: &WaitQuestion,
    family: &Family,
    drawn: &[(Drawn, f64)],
    waits_s: &[f64],
) -> Vec<Early> {
    let air = [(0.0, question.felt_k())];
    let load = Programme::constant(question.load_a);
    // A third of the parts is enough for shares.
    let some: Vec<(Drawn, f64)> = drawn.iter().step_by(3).copied().collect();
    // What becomes of a reset after each wait: does not hold, trips again after a time, holds
    // (infinite).
    let one = |(d, weight): &(Drawn, f64)| {
        let part = family.sound_part(d);
        let start = question.start.as_ref();
        let (_, opened) = Opened::from_cold(&part, &air, &load)
            .or_else(|| Opened::from_cold(&part, &air, start?))?;
        let reset_s = opened.relatch_s().unwrap_or(f64::INFINITY);
        let after = |wait_s: &f64| {
            (*wait_s >= reset_s).then(|| match opened.again(*wait_s, &load) {
                Some(Carries::Trips(t)) => t,
                _ => f64::INFINITY,
            })
        };
        Some((*weight, waits_s.iter().map(after).collect::<Vec<_>>()))
    };
    let rows = parallel::map(&some, one, &mut |_| {});
    let rows: Vec<_> = rows.into_iter().flatten().collect();
    let total: f64 = rows.iter().map(|r| r.0).sum();
    let early = |(k, wait_s): (usize, &f64)| {
        let held: Vec<(f64, f64)> = rows.iter().filter_map(|r| Some((r.1[k]?, r.0))).collect();
        let again = held.iter().copied().filter(|t| t.0.is_finite());
        let again: Vec<(f64, f64)> = again.collect();
        let weight = |of: &[(f64, f64)]| of.iter().fold(0.0, |sum, t| sum + t.1);
        Early {
            wait_s: *wait_s,
            latch_holds: weight(&held) / total,
            trips_again: weight(&again) / weight(&held).max(1e-12),
            again_after_s: Spread::of(&Weighted::new(again)).map(|s| s.median),
        }
    };
    waits_s.iter().enumerate().map(early).collect()
}
