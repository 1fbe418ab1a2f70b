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

    /// The same part after a wait, s.
    fn rested(&self, wait_s: f64) -> Option<Opened<'a>> {
        let mut run = self.run.clone();
        run.rest(wait_s)?;
        Some(Opened { run, ..*self })
    }

    /// Whether a start holds now, with a margin.
    fn starts(&self, start: &Programme) -> bool {
        let margin_m = MARGIN_PART * self.part.release_travel_m();
        let carried = self
            .run
            .clone()
            .carry_with_margin(start, HORIZON_S, margin_m);
        matches!(carried, Some(Carries::Holds | Carries::StillHolds))
    }

    /// The smallest wait, not before relatch, after which a start holds for an hour with a margin;
    /// to one part in two hundred.
    pub fn start_after(&self, relatch_s: f64, start: &Programme) -> Start {
        self.holds_from(relatch_s, start).unwrap_or(Start::Never)
    }

    /// `None` when a computation fails. Each wait goes on from the longest one after which the
    /// start does not hold.
    fn holds_from(&self, relatch_s: f64, start: &Programme) -> Option<Start> {
        let mut failed = self.rested(relatch_s)?;
        if failed.starts(start) {
            return Some(Start::After(relatch_s));
        }
        let cold_s = self.part.cold_after_s().max(4.0 * relatch_s);
        if !failed.rested(cold_s - relatch_s)?.starts(start) {
            return Some(Start::Never);
        }
        // A latch may hold at once: waits below a thousandth of the longest are no waits.
        let (mut failed_s, mut held_s) = (relatch_s.max(1e-3 * cold_s), cold_s);
        failed = failed.rested(failed_s - relatch_s)?;
        if failed.starts(start) {
            return Some(Start::After(failed_s));
        }
        // Waits spread over decades: halve on the logarithm first.
        while held_s - failed_s > 0.005 * held_s {
            let middle_s = if held_s > 1.5 * failed_s {
                (held_s * failed_s).sqrt()
            } else {
                0.5 * (held_s + failed_s)
            };
            let middle = failed.rested(middle_s - failed_s)?;
            if middle.starts(start) {
                held_s = middle_s;
            } else {
                (failed_s, failed) = (middle_s, middle);
            }
        }
        Some(Start::After(held_s))
    }
}
