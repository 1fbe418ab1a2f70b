//! What pushes the latch free, and at which temperature.

use super::ByHandError;
use super::bending::push_point;
use super::formulas as by;
use super::full::Full;
use super::ledger::Ledger;
use super::unit::*;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::{Latch, Mechanism};

const NOT_STRAIGHT: &str = "Flexivity changes with temperature, and the hand took it at one round \
    temperature. The full model searches the uniform temperature with the laws of the alloys themselves.";

/// Writes the chapter; `false`: the air alone holds it released.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<bool, ByHandError> {
    let Mechanism::Latch(Latch {
        release_travel_m,
        relatch_travel_m,
        preload_n,
        lever_ratio,
        release_force_factor,
        constant_force_n,
    }) = full.device.release.mechanism
    else {
        return Ok(true);
    };
    ledger.chapter("What frees the latch");
    ledger.give("g", release_travel_m, MM);
    ledger.give("d_relatch", relatch_travel_m, MM);
    ledger.give("F_0", preload_n, NEWTON);
    ledger.give("lambda", lever_ratio, PLAIN);
    ledger.give("f", release_force_factor, PLAIN);
    ledger.give("F_c", constant_force_n, NEWTON);
    ledger.give("p", full.device.release.preload_loss, PLAIN);
    let at = push_point(full);
    let force = ledger.by(
        "Force with which the spring holds the latch against the strip",
        ("P", NEWTON),
        &by::RELEASE_FORCE,
        &[],
    )?;
    ledger.by(
        "How far a newton pushes the tip back",
        ("S", MM_PER_N),
        &by::COMPLIANCE,
        &at,
    )?;
    ledger.beside(
        "Compliance at release",
        full.warm().map(|w| w.model.compliance_m_per_n(&w.state)),
        0.0,
        "The moduli fall a little with temperature, which differs along the strip.",
    );
    ledger.by(
        "Free deflection that releases: the clearance, and the push against the spring",
        ("d_rel", MM),
        &by::RELEASE_DEFLECTION,
        &[],
    )?;
    ledger.beside(
        "Release deflection",
        Some(1e-3 * full.outcome.part.release_deflection_mm),
        0.0,
        "Only the compliance differs.",
    );
    let bent = full.device.laws.initial_curvature_per_m != 0.0;
    let formula = if bent {
        &by::TEMPERATURE_OF_DEFLECTION_BENT
    } else {
        &by::TEMPERATURE_OF_DEFLECTION
    };
    let mut names = at.clone();
    names.push(("d", "d_rel"));
    ledger.by(
        "Temperature of the whole strip that releases it, without current",
        ("T_rel", CELSIUS),
        formula,
        &names,
    )?;
    let c_to_k = |c: Option<f64>| c.map(|c| c + ZERO_CELSIUS_K);
    let flat_k = full.device.laws.flat_temperature_k;
    ledger.beside(
        "Trip temperature",
        c_to_k(full.outcome.part.trip_temperature_c),
        flat_k,
        NOT_STRAIGHT,
    );
    let mut names = at;
    names.push(("d", "d_relatch"));
    ledger.by(
        "Temperature at which it has bent back far enough for the latch to catch (the latch does not push then)",
        ("T_relatch", CELSIUS),
        formula,
        &names,
    )?;
    ledger.beside(
        "Relatch temperature",
        c_to_k(full.outcome.part.relatch_temperature_c),
        flat_k,
        NOT_STRAIGHT,
    );
    if force > 0.0 && preload_n > 0.0 {
        ledger.by(
            "Share of the release travel that the spring holds: what wear can take away",
            ("s_P", PERCENT),
            &by::PRELOAD_SHARE,
            &[],
        )?;
        ledger.beside(
            "Preload share",
            full.outcome.part.preload_share,
            0.0,
            "Only the compliance differs.",
        );
    }
    rise(ledger)
}

/// The rise over the air that releases; `false` where the air alone is warm enough.
pub(super) fn rise(ledger: &mut Ledger) -> Result<bool, ByHandError> {
    let rise = ledger.step(
        "Rise over the air that releases",
        ("theta", KELVIN),
        "T_rel - T_air",
        "definition",
    )?;
    if rise > 0.0 {
        return Ok(true);
    }
    ledger.text(
        "The air alone holds the strip beyond release, so it carries no current at all and there is no \
         heating to compute.",
    );
    Ok(false)
}
