//! What pushes the latch free, and at which temperature.

use super::ByHandError;
use super::bending::push_point;
use super::formulas as by;
use super::full::Full;
use super::ledger::Ledger;
use super::record::{Remark, Subject};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::{Latch, Mechanism};

/// Writes the chapter; `false`: the air alone holds it released.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<bool, ByHandError> {
    let Mechanism::Latch(Latch {
        release_travel_m,
        relatch_travel_m,
        preload_n,
        lever_ratio,
        release_force_factor,
        constant_force_n,
        ..
    }) = full.device.release.mechanism
    else {
        return Ok(true);
    };
    let part = &full.outcome.part;
    ledger.chapter(Subject::Latch);
    ledger.give([
        ("g", release_travel_m),
        ("d_relatch", relatch_travel_m),
        ("F_0", preload_n),
        ("lambda", lever_ratio),
        ("f", release_force_factor),
        ("F_c", constant_force_n),
        ("p", full.device.release.preload_loss),
    ]);
    let at = push_point(full);
    let force = ledger.by("P", &by::RELEASE_FORCE)?;
    ledger.by_with("S", &by::COMPLIANCE, &at)?;
    ledger.beside(full.warm().map(|w| w.model.compliance_m_per_n(&w.state)));
    ledger.by("d_rel", &by::RELEASE_DEFLECTION)?;
    ledger.beside(1e-3 * part.release_deflection_mm);
    let temperature = match full.device.laws.initial_curvature_per_m == 0.0 {
        true => &by::TEMPERATURE_OF_DEFLECTION,
        false => &by::TEMPERATURE_OF_DEFLECTION_BENT,
    };
    let flat_k = full.device.laws.flat_temperature_k;
    let (trip_c, relatch_c) = (part.trip_temperature_c, part.relatch_temperature_c);
    for (symbol, deflection, model_c) in [
        ("T_rel", "d_rel", trip_c),
        ("T_relatch", "d_relatch", relatch_c),
    ] {
        let names = [&at[..], &[("d", deflection)]].concat();
        ledger.by_with(symbol, temperature, &names)?;
        ledger.beside_from(model_c.map(|c| c + ZERO_CELSIUS_K), flat_k);
    }
    if force > 0.0 && preload_n > 0.0 {
        ledger.by("s_P", &by::PRELOAD_SHARE)?;
        ledger.beside(part.preload_share);
    }
    rise(ledger)
}

/// The rise over the air that releases; `false` where the air alone is warm enough.
pub(super) fn rise(ledger: &mut Ledger) -> Result<bool, ByHandError> {
    if ledger.step("theta", "T_rel - T_air", "definition")? > 0.0 {
        return Ok(true);
    }
    ledger.say(Remark::AirReleases);
    Ok(false)
}
