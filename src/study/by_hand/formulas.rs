//! The formulas of the explanations, each with where it comes from. Symbols are those of a
//! textbook; a step may write another symbol in place of one (`renamed`).

/// A formula in one line and its source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Formula {
    /// Right-hand side, as [`Expression::read`](super::Expression::read) reads it.
    pub text: &'static str,
    /// Author, title, year.
    pub source: &'static str,
}

const TIMOSHENKO_1925: &str = "S. Timoshenko, J. Opt. Soc. Am. & Rev. Sci. Instrum. 11 (1925) 233";
const BEAM: &str = "elementary beam theory";
const NEWTON_COOLING: &str = "heat balance of one body; any heat transfer textbook";
const CHURCHILL_CHU: &str =
    "S. W. Churchill & H. H. S. Chu, Int. J. Heat Mass Transfer 18 (1975) 1323";
const RAITHBY_HOLLANDS: &str =
    "G. D. Raithby & K. G. T. Hollands, Handbook of Heat Transfer, 3rd ed. (1998)";
const FIN: &str =
    "strip between two cold ends; Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed., §4.10";
const ONE_TERM: &str =
    "one sine term; S. Timoshenko, J. Appl. Mech. 2 (1935) A17 (from memory), by sine projection";

/// Where the sums over layers come from.
pub const LAYERED: &str =
    "composite beam; M. Vasudevan & W. Johnson, Appl. Sci. Res. B 9 (1961/62)";

macro_rules! formulas {
    ($($(#[doc = $doc:literal])+ $name:ident = $text:literal, $source:expr;)+) => {
        $($(#[doc = $doc])+ pub const $name: Formula = Formula { text: $text, source: $source };)+
        /// Every formula above.
        pub const ALL: &[Formula] = &[$($name),+];
    };
}

formulas! {
    /// Curvature of two bonded layers with a strain difference; m and n are their ratios of
    /// thickness and modulus.
    TWO_LAYER_CURVATURE = "6 Deltaeps (1 + m)^2 / (h (3 (1 + m)^2 + (1 + m n)(m^2 + 1 / (m n))))",
        TIMOSHENKO_1925;
    /// Bending stiffness of two bonded layers.
    TWO_LAYER_STIFFNESS =
        "w (E_1 t_1^3 / 12 + E_2 t_2^3 / 12 + E_1 t_1 E_2 t_2 / (E_1 t_1 + E_2 t_2) (h / 2)^2)",
        TIMOSHENKO_1925;
    /// Curvature of any number of layers from their sums.
    LAYERED_CURVATURE = "(M - B N / A) / (D - B^2 / A)", LAYERED;
    /// Bending stiffness of any number of layers from their sums.
    LAYERED_STIFFNESS = "w (D - B^2 / A)", LAYERED;
    /// Flexivity.
    FLEXIVITY = "h kappa_T / DeltaT_h", "ASTM B106-08(2013), 3.1.2, Eq. 1";
    /// Tip of a cantilever of uniform curvature.
    TIP = "kappa_T L^2 / 2", BEAM;
    /// The same with a curvature as made.
    TIP_BENT = "(kappa_0 + kappa_T) L^2 / 2", BEAM;
    /// Give of the tip to a force.
    COMPLIANCE = "L^3 / (3 EI)", BEAM;
    /// Force that frees a latch.
    RELEASE_FORCE = "f lambda F_0 (1 - p) + F_c",
        "lever and spring, with the part p of the preload lost";
    /// Free deflection at which a latch is released.
    RELEASE_DEFLECTION = "g + S P", "the push bends the strip back by S P";
    /// Uniform temperature at which a strip deflects by d.
    TEMPERATURE_OF_DEFLECTION = "T_flat + 2 h d / (F L^2)",
        "the tip formula, solved for the temperature";
    /// The same with a curvature as made.
    TEMPERATURE_OF_DEFLECTION_BENT = "T_flat + (2 d / L^2 - kappa_0) h / F",
        "the tip formula, solved for the temperature";
    /// Share of the release travel that the spring holds.
    PRELOAD_SHARE = "S f lambda F_0 (1 - p) / d_rel", "definition";
    /// Heat made.
    JOULE = "I^2 R", "J. P. Joule (1841)";
    /// Rayleigh number of a surface; the expansion coefficient of the air is 1/T_film.
    RAYLEIGH = "g_n (T_s - T_a) l_c^3 / (T_film nu a)",
        "definition, properties of air at the film temperature";
    /// Nusselt number of an upright surface, laminar.
    UPRIGHT = "0.68 + 0.670 Ra^(1/4) / (1 + (0.492 / Pr)^(9/16))^(4/9)", CHURCHILL_CHU;
    /// Factor of the two level formulas.
    LEVEL_FACTOR = "0.671 / (1 + (0.492 / Pr)^(9/16))^(4/9)", RAITHBY_HOLLANDS;
    /// Nusselt number of the upper face of a level strip.
    LEVEL_UPPER = "1.4 / ln(1 + 1.4 / (0.835 c_1 Ra^(1/4)))", RAITHBY_HOLLANDS;
    /// Thin-layer number of the lower face.
    LEVEL_LOWER_THIN = "0.527 Ra^(1/5) / (1 + (1.9 / Pr)^0.9)^(2/9)", RAITHBY_HOLLANDS;
    /// Nusselt number of the lower face of a level strip.
    LEVEL_LOWER = "2.5 / ln(1 + 2.5 / c_2)", RAITHBY_HOLLANDS;
    /// Mean of both faces.
    LEVEL_MEAN = "(Nu_up + Nu_down) / 2", RAITHBY_HOLLANDS;
    /// Reynolds number.
    REYNOLDS = "V l_c / nu", "definition";
    /// Nusselt number of a plate in a laminar stream.
    STREAM = "0.664 Re^(1/2) Pr^(1/3)", "E. Pohlhausen, Z. angew. Math. Mech. 1 (1921) 115";
    /// Coefficient from a Nusselt number.
    COEFFICIENT = "Nu k_air / l_c", "definition";
    /// Coefficient of a narrow gap.
    GAP = "k_air / b", "conduction across a gap too narrow for a stream";
    /// Coefficient of radiation to surroundings at the air's temperature.
    RADIATION = "eps_r sigma (T_s + T_a)(T_s^2 + T_a^2)",
        "Stefan-Boltzmann law, exact as a coefficient";
    /// Conductance of the faces and edges.
    FACES = "2 (w + h) L (h_c + h_r)", "perimeter times length";
    /// The same where a winding covers part of it.
    FACES_PARTLY = "2 (w + h) L phi (h_c + h_r)", "perimeter times length, uncovered fraction";
    /// Two conductances one after the other.
    SERIES = "1 / (1 / G + 1 / G_H)", "two resistances to heat in series";
    /// Half length of a strip in fin lengths.
    FIN_NUMBER = "L / 2 sqrt(G / (L kA))", FIN;
    /// Heat lost for each kelvin of the mean rise of a strip whose ends stay at the air's
    /// temperature.
    FIN_CONDUCTANCE = "G / (1 - tanh(u) / u)", FIN;
    /// Time constant.
    TIME_CONSTANT = "C / G", NEWTON_COOLING;
    /// Rise after a very long time.
    STEADY_RISE = "I^2 R / G", NEWTON_COOLING;
    /// Time constant of the slowest mode of a strip between cold ends.
    SLOWEST_MODE = "C / (G + pi^2 kA / L)", FIN;
    /// Time from cold to a mean rise between cold ends; the slowest mode alone, so not for the
    /// first moments.
    MODE_TIME = "tau ln(8 / pi^2 I^2 R tau / (C (theta_ss - theta)))", FIN;
    /// The same from the steady state of an earlier current.
    MODE_TIME_WARM = "tau ln(8 / pi^2 (I^2 - I_b^2) R tau / (C (theta_ss - theta)))", FIN;
    /// Halfway between two limits of the trip point.
    HALFWAY = "sqrt(I_far I_end)", "geometric mean of the two limits: a habit, not a law";
    /// Largest current that never makes a rise.
    ULTIMATE_CURRENT = "sqrt(G theta / R)", NEWTON_COOLING;
    /// Time from cold to a rise.
    HEATING_TIME = "tau ln(theta_ss / (theta_ss - theta))", NEWTON_COOLING;
    /// Time from a rise already there.
    HEATING_TIME_WARM = "tau ln((theta_ss - theta_0) / (theta_ss - theta))", NEWTON_COOLING;
    /// Time to a rise when no heat gets away.
    ADIABATIC_TIME = "C theta / (I^2 R)", NEWTON_COOLING;
    /// The same from a rise already there.
    ADIABATIC_TIME_WARM = "C (theta - theta_0) / (I^2 R)", NEWTON_COOLING;
    /// Time to cool.
    COOLING_TIME = "tau ln((T_rel - T_air) / (T_relatch - T_air))", NEWTON_COOLING;
    /// Change of the trip point for a percent of preload lost.
    PER_PERCENT = "-0.01 I_mid S f lambda F_0 h / (F L^2 theta)",
        "the trip point goes with the square root of the rise";
    /// Change of the trip point for a kelvin of air.
    PER_KELVIN = "-I_mid / (2 theta)", "the trip point goes with the square root of the rise";
    /// Axial stiffness of a blade and its frame in series.
    AXIAL = "1 / (1 / K + l / EA)", "two springs in series";
    /// Axial stiffness between rigid supports.
    AXIAL_RIGID = "EA / l", "Hooke's law";
    /// Cubic coefficient of the one-term blade.
    BLADE_CUBIC = "K_e pi^4 / (8 l^2)", ONE_TERM;
    /// Linear coefficient of the one-term blade.
    BLADE_LINEAR = "EI pi^4 / (2 l^3) - pi^2 / (2 l) (N_0 + K_e pi^2 a_0^2 / (4 l))", ONE_TERM;
    /// Rise at which the blade snaps.
    BLADE_FOLD = "sqrt(-c_L / (3 c_C))", ONE_TERM;
    /// Curvature at which a rise a is in equilibrium.
    BLADE_CURVATURE = "pi^3 a_0 / (4 l^2) - (c_L a + c_C a^3) l / (2 pi EI)", ONE_TERM;
    /// Temperature that makes a curvature.
    TEMPERATURE_OF_CURVATURE = "T_flat + kappa h / F", "flexivity, solved for the temperature";
    /// The same with a curvature as made.
    TEMPERATURE_OF_CURVATURE_BENT = "T_flat + (kappa - kappa_0) h / F",
        "flexivity, solved for the temperature";
}

/// Published sources of the formulas, once each: those with a year, an edition or a number of their
/// own.
pub fn sources() -> Vec<&'static str> {
    let mut list: Vec<&str> = Vec::new();
    for formula in ALL {
        if formula.source.contains(|c: char| c.is_ascii_digit()) && !list.contains(&formula.source)
        {
            list.push(formula.source);
        }
    }
    list
}

impl Formula {
    /// Its value with these quantities, SI; `None` when one is missing.
    ///
    /// ```
    /// use relatch::internals::study::by_hand::formulas::HEATING_TIME;
    /// // Twice the ultimate current: 0.288 time constants.
    /// let t = HEATING_TIME.value(&[("tau", 1.0), ("theta_ss", 4.0), ("theta", 1.0)]).unwrap();
    /// assert!((t - (4.0_f64 / 3.0).ln()).abs() < 1e-15);
    /// ```
    pub fn value(&self, quantities: &[(&str, f64)]) -> Option<f64> {
        let value_of = |name: &str| quantities.iter().find(|(n, _)| *n == name).map(|(_, v)| *v);
        super::Expression::read(self.text)?.evaluate(&value_of)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::study::by_hand::Expression;

    #[test]
    fn every_formula_can_be_read() {
        for f in ALL {
            assert!(Expression::read(f.text).is_some(), "{}", f.text);
        }
    }
}
