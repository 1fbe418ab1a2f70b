//! A blade that snaps, in one sine term.

use super::ByHandError;
use super::formulas as by;
use super::full::Full;
use super::latch::rise;
use super::ledger::Ledger;
use super::record::{Remark, Subject};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::{Mechanism, SnapBlade};

/// Writes the chapter; `false`: the air alone holds it released.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<bool, ByHandError> {
    let Mechanism::SnapBlade(SnapBlade {
        span_m,
        rise_m,
        axial_stiffness_n_per_m,
        preload_thrust_n,
        frame,
        model,
    }) = full.device.release.mechanism
    else {
        return Ok(true);
    };
    let laws = &full.device.laws;
    let round_k = ledger.value("T_h").unwrap_or(laws.flat_temperature_k);
    ledger.chapter(Subject::Blade);
    ledger.say(Remark::Arch);
    ledger.give([
        ("l", span_m),
        ("a_0", rise_m),
        ("EA", laws.bend(round_k).axial_stiffness_n),
        (
            "N_0",
            preload_thrust_n * (1.0 - full.device.release.preload_loss),
        ),
    ]);
    if axial_stiffness_n_per_m.is_finite() {
        ledger.give([("K", axial_stiffness_n_per_m)]);
        ledger.by("K_e", &by::AXIAL)?;
    } else {
        ledger.by("K_e", &by::AXIAL_RIGID)?;
    }
    ledger.by("c_C", &by::BLADE_CUBIC)?;
    if ledger.by("c_L", &by::BLADE_LINEAR)? < 0.0 {
        ledger.by("a_f", &by::BLADE_FOLD)?;
    } else {
        ledger.say(Remark::Creeps);
        ledger.give([("a_f", 0.0)]);
    }
    snaps(full, ledger)?;
    ledger.say(Remark::OneTerm {
        late: crate::predict::one_term_late(&full.device),
        model,
        frame_expands: frame.is_some(),
    });
    rise(ledger)
}

fn snaps(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let part = &full.outcome.part;
    let flat_k = full.device.laws.flat_temperature_k;
    let temperature = match full.device.laws.initial_curvature_per_m == 0.0 {
        true => &by::TEMPERATURE_OF_CURVATURE,
        false => &by::TEMPERATURE_OF_CURVATURE_BENT,
    };
    let fold = ledger.value("a_f").unwrap_or(0.0);
    ledger.give([("a_r", -fold)]);
    let (through_c, back_c) = (part.trip_temperature_c, part.relatch_temperature_c);
    for (kappa, symbol, rise, exact_c) in [
        ("kappa_rel", "T_rel", "a_f", through_c),
        ("kappa_relatch", "T_relatch", "a_r", back_c),
    ] {
        ledger.by_with(kappa, &by::BLADE_CURVATURE, &[("a", rise)])?;
        ledger.by_with(symbol, temperature, &[("kappa", kappa)])?;
        ledger.beside_from(exact_c.map(|c| c + ZERO_CELSIUS_K), flat_k);
    }
    Ok(())
}
