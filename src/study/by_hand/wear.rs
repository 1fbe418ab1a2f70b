//! How the trip point moves with the spring and with the air.

use super::ByHandError;
use super::bending::push_point;
use super::formulas as by;
use super::full::Full;
use super::ledger::Ledger;
use super::unit::*;

/// Writes the chapter.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let Some(point) = full
        .outcome
        .trip_point
        .held()
        .filter(|_| full.point.is_some())
    else {
        return Ok(());
    };
    ledger.chapter("What wear and the air do to the trip point");
    if ledger.value("s_P").is_some() {
        ledger.by(
            "Change for each percent of the preload lost",
            ("DeltaI_P", MA_PER_PERCENT),
            &by::PER_PERCENT,
            &push_point(full),
        )?;
        ledger.beside(
            "Change of the trip point",
            point.per_percent_preload_a,
            0.0,
            "A tired spring also presses the contact less, which makes heat there; loss and resistance change \
             with temperature.",
        );
    }
    ledger.by(
        "Change for each kelvin of air",
        ("DeltaI_T", MA_PER_K),
        &by::PER_KELVIN,
        &[],
    )?;
    ledger.beside(
        "Change of the trip point",
        point.per_kelvin_ambient_a,
        0.0,
        "The hand holds conductance and resistance; in the full model a hotter place also loses heat better.",
    );
    Ok(())
}
