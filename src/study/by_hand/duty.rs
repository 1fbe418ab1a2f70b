//! A load that comes and goes: the constant current with the same heat.

use super::ByHandError;
use super::full::Full;
use super::ledger::Ledger;
use super::record::Subject;
use super::unit::unit_of;
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
    for (segment, n) in load.segments.iter().zip(1..) {
        let Current::Constant(current_a) = segment.current else {
            return Ok(());
        };
        ledger.give_in(&format!("I_{n}"), current_a, unit_of("I"));
        ledger.give_in(&format!("D_{n}"), segment.duration_s, unit_of("t_0"));
        heat.push(format!("I_{n}^2 D_{n}"));
        time.push(format!("D_{n}"));
    }
    ledger.chapter(Subject::Duty);
    let formula = format!("sqrt(({}) / ({}))", heat.join(" + "), time.join(" + "));
    ledger.step(
        "I_rms",
        &formula,
        "heat goes with the square of the current",
    )?;
    ledger.beside(full.point.as_ref().map(|at| at.current_a));
    Ok(())
}
