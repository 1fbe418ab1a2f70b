//! Waits after a trip, for this part in its place.

use super::posterior::Posterior;
use super::record::{Range, Waits};
use super::say::time;
use super::scales::Scales;
use crate::family::{Opened, Start};
use crate::load::Programme;
use crate::predict::parallel;
use crate::statistics::weighted::Weighted;

const SAMPLE: usize = 60;

/// Waits, or `None` when it does not trip.
pub fn waits(scales: &Scales<'_>, posterior: &Posterior, seed: u64) -> Option<Waits> {
    let rated = scales.case.nameplate.rated_current_a;
    let chosen = posterior.sample(SAMPLE, seed ^ 0x0c);
    let found: Vec<(bool, Option<f64>, Option<Start>)> = parallel::map(
        &chosen,
        |carrier| {
            let guess = &carrier.guess;
            let part = scales.part(guess, guess.wear(scales.sound_w(guess)));
            let air = [(0.0, scales.felt_k(scales.air_k(guess)))];
            let load = scales.load(guess, true);
            let own = Opened::from_cold(&part, &air, &load);
            let is_own = own.is_some();
            let twice = Programme::constant(2.0 * rated);
            let Some((_, opened)) = own.or_else(|| Opened::from_cold(&part, &air, &twice)) else {
                return (false, None, None);
            };
            let relatch = opened.relatch_s();
            let start = relatch.map(|r| opened.start_after(r, &load));
            (is_own, relatch, start)
        },
        &mut |_| {},
    );
    let by_load = found.iter().filter(|f| f.0).count();
    let resets = Weighted::equal(found.iter().filter_map(|f| f.1));
    let starts = Weighted::equal(found.iter().map(|f| match f.2 {
        Some(Start::After(s)) => s,
        Some(Start::Never) => f64::INFINITY,
        None => f64::NAN,
    }));
    let reset_s = Range::of(&resets)?;
    let start_s = Range::of(&starts).filter(|r| r.median.is_finite());
    let after = if 2 * by_load > found.len() {
        "After a trip by this load"
    } else {
        "After a trip at twice the rating"
    };
    let reset = format!(
        "{after} the latch holds again after {} (90 % range {} to {})",
        time(reset_s.median),
        time(reset_s.low),
        time(reset_s.high)
    );
    let start = match start_s {
        Some(s) if s.high.is_finite() => format!(
            "; the machine can be started after {} ({} to {})",
            time(s.median),
            time(s.low),
            time(s.high)
        ),
        Some(s) => format!(
            "; the machine can be started after {} at the earliest, perhaps never without a trip",
            time(s.median)
        ),
        None => "; started as it is, the machine trips it again however long you wait".into(),
    };
    Some(Waits {
        reset_s: Some(reset_s),
        start_s: start_s.filter(|s| s.high.is_finite()),
        sentence: format!("{reset}{start}."),
    })
}
