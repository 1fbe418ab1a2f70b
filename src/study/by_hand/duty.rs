//! A load that comes and goes: the constant current with the same heat.

use super::ByHandError;
use super::full::Full;
use super::ledger::Ledger;
use super::unit::*;
use crate::load::Current;

/// Most stretches of a load that are written out.
const MOST: usize = 5;

/// Writes the chapter, where the load is a repeated list of constant currents.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let load = &full.scenario.load;
    let is_short = (2..=MOST).contains(&load.segments.len());
    if load.period_s().is_none() || !is_short {
        return Ok(());
    }
    let (mut heat, mut time) = (Vec::new(), Vec::new());
    for (k, segment) in load.segments.iter().enumerate() {
        let Current::Constant(current_a) = segment.current else {
            return Ok(());
        };
        let n = k + 1;
        ledger.give(&format!("I_{n}"), current_a, AMPERE);
        ledger.give(&format!("D_{n}"), segment.duration_s, SECOND);
        heat.push(format!("I_{n}^2 D_{n}"));
        time.push(format!("D_{n}"));
    }
    ledger.chapter("What a load that comes and goes amounts to");
    ledger.step(
        "Constant current that makes the same heat in the long run (root mean square)",
        ("I_rms", AMPERE),
        &format!("sqrt(({}) / ({}))", heat.join(" + "), time.join(" + ")),
        "heat goes with the square of the current",
    )?;
    ledger.beside(
        "Trip point",
        full.point.as_ref().map(|at| at.current_a),
        0.0,
        "Below the trip point the mean heat alone does not trip it; the ripple does, when one stretch is long \
         against the time constant. Above it, it trips sooner or later.",
    );
    Ok(())
}
