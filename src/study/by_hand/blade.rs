//! A blade that snaps, in one sine term.

use super::ByHandError;
use super::formulas as by;
use super::full::Full;
use super::latch::rise;
use super::ledger::Ledger;
use super::unit::*;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::{Mechanism, SnapBlade, SnapModel};

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
    ledger.chapter("When the blade snaps");
    ledger.text(
        "The blade is a shallow arch between two hinges. Heating bends it against its bow; the hinges keep \
         it from getting flat gently, so it holds out until no equilibrium is left on its side, and then \
         jumps. In one sine term, a sin(pi x/l), the arch is a cubic in its rise a: two folds, a snap at \
         each.",
    );
    ledger.give("l", span_m, MM);
    ledger.give("a_0", rise_m, MM);
    ledger.give("EA", laws.bend(round_k).axial_stiffness_n, NEWTON);
    ledger.give(
        "N_0",
        preload_thrust_n * (1.0 - full.device.release.preload_loss),
        NEWTON,
    );
    if axial_stiffness_n_per_m.is_finite() {
        ledger.give("K", axial_stiffness_n_per_m, N_PER_MM);
        let what = "Axial stiffness of blade and frame together";
        ledger.by(what, ("K_e", N_PER_MM), &by::AXIAL, &[])?;
    } else {
        let what = "Axial stiffness of the blade between rigid hinges";
        ledger.by(what, ("K_e", N_PER_MM), &by::AXIAL_RIGID, &[])?;
    }
    ledger.by(
        "Cubic coefficient: stretching resists a large rise",
        ("c_C", N_PER_MM3),
        &by::BLADE_CUBIC,
        &[],
    )?;
    let linear = ledger.by(
        "Linear coefficient: bending resists, the thrust pushes on; negative: it can snap",
        ("c_L", N_PER_MM),
        &by::BLADE_LINEAR,
        &[],
    )?;
    let creeps = !(linear < 0.0);
    if creeps {
        ledger.text(
            "The linear coefficient is not negative: in one term this blade has no folds. It creeps \
             through flat, and trips and resets at one temperature.",
        );
        ledger.give("a_f", 0.0, MM);
    } else {
        ledger.by(
            "Rise at which it snaps, on either side",
            ("a_f", MM),
            &by::BLADE_FOLD,
            &[],
        )?;
    }
    snaps(full, ledger)?;
    let shape = match model {
        SnapModel::Exact => {
            "The full model carries 25 sine terms and the antisymmetric way through."
        }
        SnapModel::OneTerm => "The scenario asks for the one-term form in the full model too.",
    };
    let late = crate::predict::one_term_late(&full.device).map_or_else(String::new, |late| {
        format!(
            " evenly warmed, this one after {:.1} % more warming",
            100.0 * late
        )
    });
    let frame = if frame.is_some() {
        " It also counts the expansion of the frame, which the hand leaves out."
    } else {
        ""
    };
    ledger.text(format!(
        "One term is a teaching approximation: it snaps too late, because a real blade has more ways to give \
         way;{late}. {shape}{frame}"
    ));
    rise(ledger)
}

fn snaps(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let part = &full.outcome.part;
    let flat_k = full.device.laws.flat_temperature_k;
    let bent = full.device.laws.initial_curvature_per_m != 0.0;
    let temperature = if bent {
        &by::TEMPERATURE_OF_CURVATURE_BENT
    } else {
        &by::TEMPERATURE_OF_CURVATURE
    };
    let why =
        "One sine term against 25, and properties at one round temperature against their laws.";
    let sides = [
        (
            "through",
            "kappa_rel",
            "T_rel",
            "a_f",
            part.trip_temperature_c,
        ),
        (
            "back",
            "kappa_relatch",
            "T_relatch",
            "a_r",
            part.relatch_temperature_c,
        ),
    ];
    let fold = ledger.value("a_f").unwrap_or(0.0);
    ledger.give("a_r", -fold, MM);
    for (way, kappa, symbol, rise, exact_c) in sides {
        ledger.by(
            &format!("Curvature at which it snaps {way}"),
            (kappa, PER_M),
            &by::BLADE_CURVATURE,
            &[("a", rise)],
        )?;
        ledger.by(
            &format!(
                "Temperature of the whole blade at which it snaps {way}: that makes this curvature"
            ),
            (symbol, CELSIUS),
            temperature,
            &[("kappa", kappa)],
        )?;
        let name = format!("Uniform temperature at which it snaps {way}");
        ledger.beside(&name, exact_c.map(|c| c + ZERO_CELSIUS_K), flat_k, why);
    }
    Ok(())
}
