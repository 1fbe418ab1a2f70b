//! Heat that the strip gives off: faces and edges, housing, and the cold ends.

use super::ByHandError;
use super::bending::over_layers;
use super::formulas as by;
use super::full::Full;
use super::ledger::Ledger;
use super::record::{Remark, Subject};
use crate::physics::air::{Air, pressure_at_altitude_pa};
use crate::physics::constants::{GRAVITY_M_PER_S2, STEFAN_BOLTZMANN_W_PER_M2_K4};
use crate::physics::convection::horizontal_length_m;
use crate::scenario::Convection;

/// Writes the chapter.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    ledger.chapter(Subject::Losses);
    let device = &full.device;
    let surface_k = ledger.value("T_rel").unwrap_or(full.air_k);
    ledger.give([("T_s", surface_k), ("T_a", full.air_k)]);
    let source = "definition; here and for radiation in kelvin from absolute zero";
    let film_k = ledger.step("T_film", "(T_s + T_a) / 2", source)?;
    convection(full, ledger, film_k)?;
    ledger.give([
        ("eps_r", device.cooling.emissivity()),
        ("sigma", STEFAN_BOLTZMANN_W_PER_M2_K4),
    ]);
    ledger.by("h_r", &by::RADIATION)?;
    faces(full, ledger)?;
    ends(full, ledger)
}

fn convection(full: &Full, ledger: &mut Ledger, film_k: f64) -> Result<(), ByHandError> {
    let altitude_m = full.scenario.cooling.altitude_m;
    let air = Air::at(film_k, pressure_at_altitude_pa(altitude_m));
    let law = full.device.cooling.convection();
    let (width, length) = (full.device.laws.width_m, full.device.length_m);
    let scale = match law {
        Convection::Upright => length,
        Convection::Flat => horizontal_length_m(width, length),
        Convection::Forced { flow_length_m, .. } => flow_length_m,
        Convection::EdgeOn | Convection::Constant { .. } | Convection::Gap { .. } => width,
    };
    ledger.give([
        ("l_c", scale),
        ("g_n", GRAVITY_M_PER_S2),
        ("nu", air.kinematic_viscosity),
        ("a", air.diffusivity),
        ("Pr", air.prandtl),
        ("k_air", air.conductivity),
    ]);
    let steps: &[(&str, by::Formula)] = match law {
        Convection::Constant {
            coefficient_w_per_m2_k,
        } => {
            ledger.give([("h_c", coefficient_w_per_m2_k)]);
            ledger.say(Remark::GivenCoefficient);
            return Ok(());
        }
        Convection::Gap { gap_m } => {
            ledger.give([("b", gap_m)]);
            ledger.by("h_c", &by::GAP)?;
            return Ok(());
        }
        Convection::EdgeOn | Convection::Upright => &[("Ra", by::RAYLEIGH), ("Nu", by::UPRIGHT)],
        Convection::Flat => &[
            ("Ra", by::RAYLEIGH),
            ("c_1", by::LEVEL_FACTOR),
            ("Nu_up", by::LEVEL_UPPER),
            ("c_2", by::LEVEL_LOWER_THIN),
            ("Nu_down", by::LEVEL_LOWER),
            ("Nu", by::LEVEL_MEAN),
        ],
        Convection::Forced { speed_m_per_s, .. } => {
            ledger.give([("V", speed_m_per_s)]);
            &[("Re", by::REYNOLDS), ("Nu", by::STREAM)]
        }
    };
    for (symbol, formula) in steps {
        ledger.by(symbol, formula)?;
    }
    ledger.by("h_c", &by::COEFFICIENT)?;
    Ok(())
}

fn faces(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let uncovered = full.device.cooling.uncovered();
    let symbol = if full.device.winding.is_some() {
        "G_f"
    } else {
        "G"
    };
    if uncovered < 1.0 {
        ledger.give([("phi", uncovered)]);
        ledger.by(symbol, &by::FACES_PARTLY)?;
    } else {
        ledger.by(symbol, &by::FACES)?;
    }
    let point = full.point.as_ref();
    ledger.beside(point.map(|at| at.face_conductance_w_per_k(full.air_k)));
    if let Some(winding) = full.device.winding {
        ledger.give([("G_W", winding.conductance_to_air_w_per_k)]);
        ledger.step("G", "G_f + G_W", "side by side, conductances add up")?;
    }
    if let Some(housing) = full.device.housing {
        ledger.give([("G_H", housing.conductance_w_per_k)]);
        ledger.by("G_s", &by::SERIES)?;
    }
    Ok(())
}

/// The strip between ends that stay as cold as the air.
fn ends(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    ledger.say(Remark::Ends);
    let sum = over_layers(full.device.laws.layers.len(), "k_# t_#");
    ledger.step("kA", &format!("w ({sum})"), "layers side by side")?;
    let mut pairs = vec![("G", "u", "G_e")];
    if full.device.housing.is_some() {
        pairs.push(("G_s", "u_s", "G_es"));
    }
    for (faces, number, conductance) in pairs {
        ledger.by_with(number, &by::FIN_NUMBER, &[("G", faces)])?;
        let names = [("G", faces), ("u", number)];
        ledger.by_with(conductance, &by::FIN_CONDUCTANCE, &names)?;
    }
    if let Some(at) = &full.point {
        let share = 100.0 * at.lost_by_faces_w(full.air_k) / at.heat_to_strip_w();
        if share.is_finite() {
            ledger.say(Remark::ThroughFaces(share));
        }
    }
    Ok(())
}
