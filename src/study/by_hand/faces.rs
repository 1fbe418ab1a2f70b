//! Heat that the strip gives off: faces and edges, housing, and the cold ends.

use super::ByHandError;
use super::formulas as by;
use super::full::Full;
use super::ledger::Ledger;
use super::unit::*;
use crate::physics::air::{Air, pressure_at_altitude_pa};
use crate::physics::constants::{GRAVITY_M_PER_S2, STEFAN_BOLTZMANN_W_PER_M2_K4};
use crate::physics::convection::horizontal_length_m;
use crate::scenario::Convection;

/// Writes the chapter.
pub(super) fn write(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    ledger.chapter("How much heat it loses");
    let device = &full.device;
    let surface_k = ledger.value("T_rel").unwrap_or(full.air_k);
    let film_k = 0.5 * (surface_k + full.air_k);
    ledger.give("T_s", surface_k, KELVIN);
    ledger.give("T_a", full.air_k, KELVIN);
    ledger.step(
        "Film temperature: the air beside the strip is half as warm as the strip",
        ("T_film", KELVIN),
        "(T_s + T_a) / 2",
        "definition; here and for radiation in kelvin from absolute zero",
    )?;
    convection(full, ledger, film_k)?;
    ledger.give("eps_r", device.cooling.emissivity(), PLAIN);
    ledger.give("sigma", STEFAN_BOLTZMANN_W_PER_M2_K4, STEFAN);
    ledger.by(
        "Radiation, as a coefficient beside that of convection",
        ("h_r", W_PER_M2_K),
        &by::RADIATION,
        &[],
    )?;
    faces(full, ledger)?;
    ends(full, ledger)
}

fn convection(full: &Full, ledger: &mut Ledger, film_k: f64) -> Result<(), ByHandError> {
    let air = Air::at(
        film_k,
        pressure_at_altitude_pa(full.scenario.cooling.altitude_m),
    );
    let law = full.device.cooling.convection();
    let (width, length) = (full.device.laws.width_m, full.device.length_m);
    let scale = match law {
        Convection::Upright => length,
        Convection::Flat => horizontal_length_m(width, length),
        Convection::Forced { flow_length_m, .. } => flow_length_m,
        Convection::EdgeOn | Convection::Constant { .. } | Convection::Gap { .. } => width,
    };
    ledger.give("l_c", scale, MM);
    ledger.give("g_n", GRAVITY_M_PER_S2, M_PER_S2);
    ledger.give("nu", air.kinematic_viscosity, MM2_PER_S);
    ledger.give("a", air.diffusivity, MM2_PER_S);
    ledger.give("Pr", air.prandtl, PLAIN);
    ledger.give("k_air", air.conductivity, W_PER_M_K);
    let mut by = |what: &str, result: (&str, Unit), formula: &by::Formula| {
        ledger.by(what, result, formula, &[])
    };
    let rayleigh = "Rayleigh number: how strongly warm air rises past it";
    let nusselt = "Nusselt number: how many times better than air that stands still";
    match law {
        Convection::Constant {
            coefficient_w_per_m2_k,
        } => {
            ledger.give("h_c", coefficient_w_per_m2_k, W_PER_M2_K);
            ledger.text("The scenario gives the coefficient of convection h_c itself.");
            return Ok(());
        }
        Convection::Gap { gap_m } => {
            ledger.give("b", gap_m, MM);
            ledger.by("Convection", ("h_c", W_PER_M2_K), &by::GAP, &[])?;
            return Ok(());
        }
        Convection::EdgeOn | Convection::Upright => {
            by(rayleigh, ("Ra", PLAIN), &by::RAYLEIGH)?;
            by(nusselt, ("Nu", PLAIN), &by::UPRIGHT)?;
        }
        Convection::Flat => {
            by(rayleigh, ("Ra", PLAIN), &by::RAYLEIGH)?;
            by("Factor of the air", ("c_1", PLAIN), &by::LEVEL_FACTOR)?;
            by("Upper face", ("Nu_up", PLAIN), &by::LEVEL_UPPER)?;
            by(
                "Lower face, thin layer",
                ("c_2", PLAIN),
                &by::LEVEL_LOWER_THIN,
            )?;
            by("Lower face", ("Nu_down", PLAIN), &by::LEVEL_LOWER)?;
            by(nusselt, ("Nu", PLAIN), &by::LEVEL_MEAN)?;
        }
        Convection::Forced { speed_m_per_s, .. } => {
            ledger.give("V", speed_m_per_s, M_PER_S);
            ledger.by("Reynolds number", ("Re", PLAIN), &by::REYNOLDS, &[])?;
            ledger.by(nusselt, ("Nu", PLAIN), &by::STREAM, &[])?;
        }
    }
    ledger.by(
        "Convection: heat for each square metre and kelvin",
        ("h_c", W_PER_M2_K),
        &by::COEFFICIENT,
        &[],
    )?;
    Ok(())
}

fn faces(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let uncovered = full.device.cooling.uncovered();
    let symbol = if full.device.winding.is_some() {
        "G_f"
    } else {
        "G"
    };
    let what = "Heat that both faces and edges give off for each kelvin";
    if uncovered < 1.0 {
        ledger.give("phi", uncovered, PLAIN);
        ledger.by(what, (symbol, MW_PER_K), &by::FACES_PARTLY, &[])?;
    } else {
        ledger.by(what, (symbol, MW_PER_K), &by::FACES, &[])?;
    }
    ledger.beside(
        "Heat from the faces at the trip point, over the mean rise above the air at the strip",
        full.point.as_ref().map(|at| at.face_conductance_w_per_k(full.air_k)),
        0.0,
        "Both coefficients grow with temperature: the hot middle loses more than its share, and the air in a \
         housing is warmer than the air outside.",
    );
    if let Some(winding) = full.device.winding {
        ledger.give("G_W", winding.conductance_to_air_w_per_k, MW_PER_K);
        ledger.step(
            "Together with what the winding gives to the air",
            ("G", MW_PER_K),
            "G_f + G_W",
            "side by side, conductances add up",
        )?;
    }
    if let Some(housing) = full.device.housing {
        ledger.give("G_H", housing.conductance_w_per_k, MW_PER_K);
        ledger.by(
            "In the long run the air in the housing warms up too: its wall stands in series with the faces",
            ("G_s", MW_PER_K),
            &by::SERIES,
            &[],
        )?;
    }
    Ok(())
}

/// The strip between ends that stay as cold as the air.
fn ends(full: &Full, ledger: &mut Ledger) -> Result<(), ByHandError> {
    let count = full.device.laws.layers.len();
    let sum: Vec<String> = (1..=count).map(|n| format!("k_{n} t_{n}")).collect();
    ledger.text(
        "Heat also leaves through the two ends, into terminal and contact. How much, lies between two limits \
         that can be done by hand: ends that let nothing through (only the faces count), and ends that stay \
         as cold as the air. The truth is usually between them.",
    );
    ledger.step(
        "Conduction along the strip",
        ("kA", MW_MM_PER_K),
        &format!("w ({})", sum.join(" + ")),
        "layers side by side",
    )?;
    let mut pairs = vec![("G", "u", "G_e")];
    if full.device.housing.is_some() {
        pairs.push(("G_s", "u_s", "G_es"));
    }
    for (faces, number, conductance) in pairs {
        let long = if faces == "G_s" {
            ", in the long run"
        } else {
            ""
        };
        ledger.by(
            &format!("Half length in fin lengths{long}"),
            (number, PLAIN),
            &by::FIN_NUMBER,
            &[("G", faces)],
        )?;
        ledger.by(
            &format!("Heat lost for each kelvin of mean rise with cold ends{long}"),
            (conductance, MW_PER_K),
            &by::FIN_CONDUCTANCE,
            &[("G", faces), ("u", number)],
        )?;
    }
    if let Some(at) = &full.point {
        let whole = at.heat_to_strip_w();
        let share = 100.0 * at.lost_by_faces_w(full.air_k) / whole;
        if share.is_finite() {
            ledger.text(format!(
                "In the full model, {share:.0} % of the strip's heat leaves through its faces at the trip \
                 point, {:.0} % through its ends.",
                100.0 - share
            ));
        }
    }
    Ok(())
}
