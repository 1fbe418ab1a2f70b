//! Trip point, trip time and the wait for the reset, each between its two limits.

use super::ByHandError;
use super::formulas as by;
use super::full::Full;
use super::heating::heat_resistance;
use super::ledger::Ledger;
use super::unit::*;
use crate::scenario::Before;

const INSULATED: &str = "Insulated ends keep heat that really flows into the terminals. On the other side, \
    terminal and contact make heat of their own, which the hand leaves out.";
const COLD: &str = "Real ends are warmer than the air: they pass the strip's heat on to the wire, and terminal \
    and contact make heat of their own. So cold ends take too much.";
const COLD_IN_TIME: &str = "Cold ends take too much heat, which makes the hand late. Resistance is that at release, \
    too high on the way there, which makes it early.";
const NO_SINGLE: &str = "A real strip has no single time constant; this one counts all ways out of it, a \
    housing included.";
const COOLS: &str = "The strip cools through its faces and into ends that the overload has warmed; a hot \
    winding goes on heating it, and a warm housing slows it down.";
/// Part of the steady rise below which the slowest mode alone says nothing.
const FIRST_MOMENTS: f64 = 0.1;

/// Writes the chapters.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    trip_point(full, ledger)?;
    ledger.chapter("When it trips under the load");
    let is_hot = give_earlier(full, ledger);
    insulated(full, ledger, is_hot)?;
    cold(full, ledger, is_hot)?;
    no_loss(full, ledger, is_hot)?;
    wait(full, ledger)
}

fn trip_point(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    ledger.chapter("Which current it holds for ever");
    let r = heat_resistance(full);
    let (far, end) = match full.device.housing {
        Some(_) => ("G_s", "G_es"),
        None => ("G", "G_e"),
    };
    let model = full.point.as_ref().map(|at| at.current_a);
    let limits = [
        ("Trip point with insulated ends", "I_far", far, INSULATED),
        (
            "Trip point with ends as cold as the air",
            "I_end",
            end,
            COLD,
        ),
    ];
    for (what, symbol, conductance, why) in limits {
        ledger.by(
            what,
            (symbol, AMPERE),
            &by::ULTIMATE_CURRENT,
            &[("G", conductance), r],
        )?;
        ledger.beside("Trip point", model, 0.0, why);
    }
    ledger.by(
        "One estimate, between the two limits",
        ("I_mid", AMPERE),
        &by::HALFWAY,
        &[],
    )?;
    ledger.beside(
        "Trip point",
        model,
        0.0,
        "Where between the limits the truth lies depends on how warm the ends get; only the full model says.",
    );
    Ok(())
}

/// Whether it starts warm; the earlier current is known then.
fn give_earlier(full: &Full, ledger: &mut Ledger) -> bool {
    match full.scenario.before {
        Before::Cold => false,
        Before::Hot { fraction_of_rated } => {
            let before_a = fraction_of_rated * full.scenario.protector.rated_current_a;
            ledger.give("I_b", before_a, AMPERE);
            ledger.text(format!(
                "It does not start cold: {before_a:.3} A has flowed for long."
            ));
            true
        }
    }
}

fn insulated(full: &Full, ledger: &mut Ledger, is_hot: bool) -> Result<(), ByHandError> {
    let r = heat_resistance(full);
    ledger.by(
        "Time constant with insulated ends",
        ("tau_far", SECOND),
        &by::TIME_CONSTANT,
        &[],
    )?;
    ledger.beside(
        "Heat stored in the strip over the heat made in it, at the rated current",
        full.outcome.part.time_constant_s,
        0.0,
        NO_SINGLE,
    );
    let reached = ledger.by(
        "Rise after a very long time with insulated ends",
        ("theta_far", KELVIN),
        &by::STEADY_RISE,
        &[r],
    )?;
    if is_hot {
        ledger.by(
            "Rise before the load with insulated ends",
            ("theta_0", KELVIN),
            &by::STEADY_RISE,
            &[("I", "I_b"), r],
        )?;
    }
    let theta = ledger.value("theta").unwrap_or(0.0);
    let start = ledger.value("theta_0").filter(|_| is_hot).unwrap_or(0.0);
    if !(reached > theta) || start >= theta {
        ledger.text(if start >= theta {
            "With insulated ends the earlier current has already released it: this limit says nothing here."
        } else {
            "With insulated ends this current never warms the strip to release: it never trips."
        });
        return Ok(());
    }
    let formula = if is_hot {
        &by::HEATING_TIME_WARM
    } else {
        &by::HEATING_TIME
    };
    ledger.by(
        "Trip time with insulated ends",
        ("t_far", SECOND),
        formula,
        &[("tau", "tau_far"), ("theta_ss", "theta_far")],
    )?;
    ledger.beside("Trip time", full.run.trip_time_s, 0.0, INSULATED);
    Ok(())
}

fn cold(full: &Full, ledger: &mut Ledger, is_hot: bool) -> Result<(), ByHandError> {
    let r = heat_resistance(full);
    let tau = ledger.by(
        "Time constant with ends as cold as the air (of the slowest way in which such a strip warms)",
        ("tau_end", SECOND),
        &by::SLOWEST_MODE,
        &[],
    )?;
    ledger.beside(
        "Heat stored in the strip over the heat made in it, at the rated current",
        full.outcome.part.time_constant_s,
        0.0,
        NO_SINGLE,
    );
    let reached = ledger.by(
        "Mean rise after a very long time with ends as cold as the air",
        ("theta_end", KELVIN),
        &by::STEADY_RISE,
        &[("G", "G_e"), r],
    )?;
    let theta = ledger.value("theta").unwrap_or(0.0);
    if !(reached > theta) {
        ledger.text(
            "With ends as cold as the air this current never warms the strip to release: it never trips.",
        );
        return Ok(());
    }
    if theta < FIRST_MOMENTS * reached {
        ledger.text(
            "The overload is so violent that hardly any heat reaches the ends in time; with cold ends it takes \
             about as long as with no loss at all, which comes next.",
        );
        return Ok(());
    }
    let before = ledger.value("I_b").filter(|_| is_hot).unwrap_or(0.0);
    let (c, r_ohm) = (ledger.value("C"), ledger.value(r.1));
    let mode_k = 8.0 / std::f64::consts::PI.powi(2)
        * (full.current_a.powi(2) - before.powi(2))
        * r_ohm.unwrap_or(0.0)
        * tau
        / c.unwrap_or(f64::INFINITY);
    if !(mode_k > reached - theta) {
        ledger.text(
            "With ends as cold as the air it is at release almost at once after so warm a start.",
        );
        return Ok(());
    }
    let formula = if is_hot {
        &by::MODE_TIME_WARM
    } else {
        &by::MODE_TIME
    };
    ledger.by(
        "Trip time with ends as cold as the air",
        ("t_end", SECOND),
        formula,
        &[("tau", "tau_end"), ("theta_ss", "theta_end"), r],
    )?;
    ledger.beside("Trip time", full.run.trip_time_s, 0.0, COLD_IN_TIME);
    Ok(())
}

/// The limit of a violent overload.
fn no_loss(full: &Full, ledger: &mut Ledger, is_hot: bool) -> Result<(), ByHandError> {
    let theta = ledger.value("theta").unwrap_or(0.0);
    let start = ledger.value("theta_0").filter(|_| is_hot).unwrap_or(0.0);
    if start < theta {
        let formula = if is_hot {
            &by::ADIABATIC_TIME_WARM
        } else {
            &by::ADIABATIC_TIME
        };
        ledger.by(
            "Trip time if no heat got away at all: the limit of a violent overload",
            ("t_0", SECOND),
            formula,
            &[heat_resistance(full)],
        )?;
        ledger.beside(
            "Trip time",
            full.run.trip_time_s,
            0.0,
            "Heat does get away, the less the sooner it trips. Resistance and heat capacity are those at \
             release; on the way there the strip has less of both.",
        );
    }
    if full.run.trip_time_s.is_none() {
        ledger.text(
            "The full model does not trip under this current, so no trip time stands beside these.",
        );
    }
    Ok(())
}

fn wait(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    ledger.chapter("How long to wait for the reset");
    let relatch_k = ledger.value("T_relatch").unwrap_or(f64::NAN);
    if !(relatch_k > full.air_k) {
        ledger.text(
            "The relatch temperature does not lie above the air, so the strip never cools that far: the protector \
             cannot be reset in this air.",
        );
        return Ok(());
    }
    let limits = [
        ("insulated ends", "t_w_far", "tau_far"),
        ("ends as cold as the air", "t_w_end", "tau_end"),
    ];
    for (words, symbol, tau) in limits {
        ledger.by(
            &format!("Wait from release to relatch with {words}"),
            (symbol, SECOND),
            &by::COOLING_TIME,
            &[("tau", tau)],
        )?;
        ledger.beside(
            "Wait from open contacts to relatch",
            full.run.relatch_wait_s,
            0.0,
            COOLS,
        );
    }
    Ok(())
}
