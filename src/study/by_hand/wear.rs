//! How the trip point moves with the spring and with the air.

use super::ByHandError;
use super::bending::push_point;
use super::formulas as by;
use super::full::Full;
use super::ledger::Ledger;
use super::record::Subject;

/// Writes the chapter.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let held = full.outcome.trip_point.held();
    let Some(point) = held.filter(|_| full.point.is_some()) else {
        return Ok(());
    };
    ledger.chapter(Subject::Shifts);
    if ledger.value("s_P").is_some() {
        ledger.by_with("DeltaI_P", &by::PER_PERCENT, &push_point(full))?;
        ledger.beside(point.per_percent_preload_a);
    }
    ledger.by("DeltaI_T", &by::PER_KELVIN)?;
    ledger.beside(point.per_kelvin_ambient_a);
    Ok(())
}
