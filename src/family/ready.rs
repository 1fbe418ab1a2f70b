//! When a part that has tripped can be reset, started, and what a reset too early brings.

use super::part::{Carries, Part, Run};
use crate::load::Programme;

/// Time for which a start must hold, s.
const HORIZON_S: f64 = 3600.0;
/// Deflection left at the closest moment of a start, as a part of the release travel. Parts scatter
/// by about a per cent from trip to trip (common practice, no source).
const MARGIN_PART: f64 = 0.02;

/// When the machine can be started.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Start {
    /// After this wait, s, counted from open contacts.
    After(f64),
    /// Not even from cold.
    Never,
}

/// A part at open contacts, just tripped.
pub struct Opened<'a> {
    run: Run<'a>,
    part: &'a Part,
}

impl<'a> Opened<'a> {
    /// A part that has just opened at the end of a history.
    pub fn after(part: &'a Part, run: Run<'a>) -> Opened<'a> {
        Opened { run, part }
    }

    /// From cold under a load to the trip; the trip time is given beside it. `None` when it holds.
    pub fn from_cold(
        part: &'a Part,
        air: &'a [(f64, f64)],
        load: &Programme,
    ) -> Option<(f64, Opened<'a>)> {
        let mut run = part.cold(air);
        match run.carry(load, 1e6)? {
            Carries::Trips(time_s) => Some((time_s, Opened { run, part })),
            _ => None,
        }
    }

    /// Whether it melts before it opens: then nothing is left to wait for.
    pub fn melts(&self) -> bool {
        self.run.has_molten()
    }

    /// Wait until the latch holds again, s; `None`: never at this air, or never again.
    pub fn relatch_s(&self) -> Option<f64> {
        if self.melts() {
            return None;
        }
        self.run.clone().relatch()
    }

    /// What happens when a load comes back after a wait, s.
    pub fn again(&self, wait_s: f64, load: &Programme) -> Option<Carries> {
        let mut run = self.run.clone();
        run.rest(wait_s)?;
        run.carry(load, HORIZON_S)
    }

    fn starts(&self, wait_s: f64, start: &Programme) -> bool {
        let mut run = self.run.clone();
        let margin_m = MARGIN_PART * self.part.release_travel_m();
        run.rest(wait_s).is_some()
            && matches!(
                run.carry_with_margin(start, HORIZON_S, margin_m),
                Some(Carries::Holds | Carries::StillHolds)
            )
    }

    /// The smallest wait, not before relatch, after which a start holds for an hour with a margin;
    /// to one part in two hundred.
    pub fn start_after(&self, relatch_s: f64, start: &Programme) -> Start {
        if self.starts(relatch_s, start) {
            return Start::After(relatch_s);
        }
        let cold_s = self.part.cold_after_s().max(4.0 * relatch_s);
        if !self.starts(cold_s, start) {
            return Start::Never;
        }
        // A latch may hold at once: waits below a thousandth of the longest are no waits.
        let (mut failed, mut held) = (relatch_s.max(1e-3 * cold_s), cold_s);
        if self.starts(failed, start) {
            return Start::After(failed);
        }
        // Waits spread over decades: halve on the logarithm first.
        while held - failed > 0.005 * held {
            let middle = if held > 1.5 * failed {
                (held * failed).sqrt()
            } else {
                0.5 * (held + failed)
            };
            if self.starts(middle, start) {
                held = middle;
            } else {
                failed = middle;
            }
        }
        Start::After(held)
    }
}
