//! Trip point, trip time and the wait for the reset, each between its two limits.

use super::ByHandError;
use super::formulas as by;
use super::full::Full;
use super::heating::heat_resistance;
use super::ledger::Ledger;
use super::record::{Remark, Subject};
use crate::scenario::Before;

/// Part of the steady rise below which the slowest mode alone says nothing.
const FIRST_MOMENTS: f64 = 0.1;

/// Writes the chapters.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    trip_point(full, ledger)?;
    ledger.chapter(Subject::TripTime);
    let is_hot = give_earlier(full, ledger);
    insulated(full, ledger, is_hot)?;
    cold(full, ledger, is_hot)?;
    no_loss(full, ledger, is_hot)?;
    wait(full, ledger)
}

fn trip_point(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    ledger.chapter(Subject::TripPoint);
    let (far, end) = match full.device.housing {
        Some(_) => ("G_s", "G_es"),
        None => ("G", "G_e"),
    };
    let model = full.point.as_ref().map(|at| at.current_a);
    for (symbol, conductance) in [("I_far", far), ("I_end", end)] {
        let names = [("G", conductance), heat_resistance(full)];
        ledger.by_with(symbol, &by::ULTIMATE_CURRENT, &names)?;
        ledger.beside(model);
    }
    ledger.by("I_mid", &by::HALFWAY)?;
    ledger.beside(model);
    Ok(())
}

/// Whether it starts warm; the earlier current is known then.
fn give_earlier(full: &Full, ledger: &mut Ledger) -> bool {
    match full.scenario.before {
        Before::Cold => false,
        Before::Hot { fraction_of_rated } => {
            let before_a = fraction_of_rated * full.scenario.protector.rated_current_a;
            ledger.give([("I_b", before_a)]);
            ledger.say(Remark::Earlier(before_a));
            true
        }
    }
}

fn insulated(full: &Full, ledger: &mut Ledger, is_hot: bool) -> Result<(), ByHandError> {
    let r = heat_resistance(full);
    ledger.by("tau_far", &by::TIME_CONSTANT)?;
    ledger.beside(full.outcome.part.time_constant_s);
    let reached = ledger.by_with("theta_far", &by::STEADY_RISE, &[r])?;
    if is_hot {
        ledger.by_with("theta_0", &by::STEADY_RISE, &[("I", "I_b"), r])?;
    }
    let theta = ledger.value("theta").unwrap_or(0.0);
    let start = ledger.value("theta_0").filter(|_| is_hot).unwrap_or(0.0);
    if !(reached > theta) || start >= theta {
        ledger.say(match start >= theta {
            true => Remark::ReleasedBefore,
            false => Remark::NeverInsulated,
        });
        return Ok(());
    }
    let formula = match is_hot {
        true => &by::HEATING_TIME_WARM,
        false => &by::HEATING_TIME,
    };
    let names = [("tau", "tau_far"), ("theta_ss", "theta_far")];
    ledger.by_with("t_far", formula, &names)?;
    ledger.beside(full.run.trip_time_s);
    Ok(())
}

fn cold(full: &Full, ledger: &mut Ledger, is_hot: bool) -> Result<(), ByHandError> {
    let r = heat_resistance(full);
    let tau = ledger.by("tau_end", &by::SLOWEST_MODE)?;
    ledger.beside(full.outcome.part.time_constant_s);
    let reached = ledger.by_with("theta_end", &by::STEADY_RISE, &[("G", "G_e"), r])?;
    let theta = ledger.value("theta").unwrap_or(0.0);
    if !(reached > theta) {
        ledger.say(Remark::NeverCold);
        return Ok(());
    }
    if theta < FIRST_MOMENTS * reached {
        ledger.say(Remark::Violent);
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
        ledger.say(Remark::AlmostAtOnce);
        return Ok(());
    }
    let formula = match is_hot {
        true => &by::MODE_TIME_WARM,
        false => &by::MODE_TIME,
    };
    let names = [("tau", "tau_end"), ("theta_ss", "theta_end"), r];
    ledger.by_with("t_end", formula, &names)?;
    ledger.beside(full.run.trip_time_s);
    Ok(())
}

/// The limit of a violent overload.
fn no_loss(full: &Full, ledger: &mut Ledger, is_hot: bool) -> Result<(), ByHandError> {
    let theta = ledger.value("theta").unwrap_or(0.0);
    let start = ledger.value("theta_0").filter(|_| is_hot).unwrap_or(0.0);
    if start < theta {
        let formula = match is_hot {
            true => &by::ADIABATIC_TIME_WARM,
            false => &by::ADIABATIC_TIME,
        };
        ledger.by_with("t_0", formula, &[heat_resistance(full)])?;
        ledger.beside(full.run.trip_time_s);
    }
    if full.run.trip_time_s.is_none() {
        ledger.say(Remark::NoTrip);
    }
    Ok(())
}

fn wait(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    ledger.chapter(Subject::Wait);
    let relatch_k = ledger.value("T_relatch").unwrap_or(f64::NAN);
    if !(relatch_k > full.air_k) {
        ledger.say(Remark::NeverCools);
        return Ok(());
    }
    for (symbol, tau) in [("t_w_far", "tau_far"), ("t_w_end", "tau_end")] {
        ledger.by_with(symbol, &by::COOLING_TIME, &[("tau", tau)])?;
        ledger.beside(full.run.relatch_wait_s);
    }
    Ok(())
}
