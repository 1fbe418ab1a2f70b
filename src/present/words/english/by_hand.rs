//! A computation by hand: what each step is, what stands beside it in the full model, and why the
//! two differ.

use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::{SectionKind, SnapModel};
use crate::study::by_hand::{Explanation, Remark, Step, Subject};

fn insulated() -> &'static str {
    word!(
        "Insulated ends keep heat that really flows into the terminals. On the other side, \
    terminal and contact make heat of their own, which the hand leaves out."
    )
}
fn cold() -> &'static str {
    word!(
        "Real ends are warmer than the air: they pass the strip's heat on to the wire, and terminal \
    and contact make heat of their own. So cold ends take too much."
    )
}
fn cold_in_time() -> &'static str {
    word!(
        "Cold ends take too much heat, which makes the hand late. Resistance is that at \
    release, too high on the way there, which makes it early."
    )
}
fn no_single() -> &'static str {
    word!(
        "A real strip has no single time constant; this one counts all ways out of it, a \
    housing included."
    )
}
fn cools() -> &'static str {
    word!(
        "The strip cools through its faces and into ends that the overload has warmed; a hot \
    winding goes on heating it, and a warm housing slows it down."
    )
}
fn uneven() -> &'static str {
    word!(
        "The strip is not at one temperature: hottest near its middle, colder towards its \
    terminals, and its metal resists more where it is hot."
    )
}
fn not_straight() -> &'static str {
    word!(
        "Flexivity changes with temperature, and the hand took it at one round \
    temperature. The full model searches the uniform temperature with the laws of the alloys themselves."
    )
}
fn one_sine_term() -> &'static str {
    word!("One sine term against 25, and properties at one round temperature against their laws.")
}
fn compliance() -> &'static str {
    word!("Only the compliance differs.")
}

/// What a step computes.
pub(crate) fn step(of: &Explanation, step: &Step) -> String {
    let said = match step.result.symbol.as_str() {
        "m" => word!("Ratio of the thicknesses"),
        "n" => word!("Ratio of the moduli"),
        "Deltaeps" => word!("Strain by which layer 2 would outgrow layer 1"),
        "A" => word!("Stretching stiffness"),
        "B" => word!("Coupling"),
        "D" => word!("Bending stiffness about the face"),
        "N" => word!("Thermal push"),
        "M" => word!("Thermal moment"),
        "kappa_T" => word!("Curvature of the free strip"),
        "EI" => word!("Bending stiffness"),
        "F" => word!("Flexivity: how much curvature, times thickness, a kelvin makes"),
        "d_h" => {
            let at_c = of.round_k - ZERO_CELSIUS_K;
            return say!("Deflection of the free tip when the whole strip is at {at_c:.0} °C"; at_c);
        }
        "P" => word!("Force with which the spring holds the latch against the strip"),
        "S" => word!("How far a newton pushes the tip back"),
        "d_rel" => {
            word!("Free deflection that releases: the clearance, and the push against the spring")
        }
        "K_e" if step.uses("K") => word!("Axial stiffness of blade and frame together"),
        "K_e" => word!("Axial stiffness of the blade between rigid hinges"),
        "c_C" => word!("Cubic coefficient: stretching resists a large rise"),
        "c_L" => word!(
            "Linear coefficient: bending resists, the thrust pushes on; negative: it can snap"
        ),
        "a_f" => word!("Rise at which it snaps, on either side"),
        "kappa_rel" => word!("Curvature at which it snaps through"),
        "kappa_relatch" => word!("Curvature at which it snaps back"),
        "T_rel" if step.uses("kappa_rel") => {
            word!(
                "Temperature of the whole blade at which it snaps through: that makes this curvature"
            )
        }
        "T_rel" => word!("Temperature of the whole strip that releases it, without current"),
        "T_relatch" if step.uses("kappa_relatch") => {
            word!(
                "Temperature of the whole blade at which it snaps back: that makes this curvature"
            )
        }
        "T_relatch" => {
            word!(
                "Temperature at which it has bent back far enough for the latch to catch (the latch does \
             not push then)"
            )
        }
        "s_P" => {
            word!("Share of the release travel that the spring holds: what wear can take away")
        }
        "theta" => word!("Rise over the air that releases"),
        "R" => word!("Resistance of the strip: its layers side by side share the current"),
        "R_W" => word!("Resistance of the winding, at the temperature of the strip"),
        "R_h" if step.uses("R_W") => {
            word!("What heats the strip, all heat of the winding included")
        }
        "R_h" => word!("What heats the strip: it carries only its share of the current"),
        "Q" => word!("Heat made at the load"),
        "C" if step.uses("C_W") => word!("Together with the winding"),
        "C" | "C_S" => word!("Heat that a kelvin takes up in the strip"),
        "T_film" => {
            word!("Film temperature: the air beside the strip is half as warm as the strip")
        }
        "Ra" => word!("Rayleigh number: how strongly warm air rises past it"),
        "Re" => word!("Reynolds number"),
        "c_1" => word!("Factor of the air"),
        "Nu_up" => word!("Upper face"),
        "c_2" => word!("Lower face, thin layer"),
        "Nu_down" => word!("Lower face"),
        "Nu" => word!("Nusselt number: how many times better than air that stands still"),
        "h_c" if step.uses("b") => word!("Convection"),
        "h_c" => word!("Convection: heat for each square metre and kelvin"),
        "h_r" => word!("Radiation, as a coefficient beside that of convection"),
        "G" if step.uses("G_W") => word!("Together with what the winding gives to the air"),
        "G" | "G_f" => word!("Heat that both faces and edges give off for each kelvin"),
        "G_s" => {
            word!(
                "In the long run the air in the housing warms up too: its wall stands in series with the \
             faces"
            )
        }
        "kA" => word!("Conduction along the strip"),
        "u" => word!("Half length in fin lengths"),
        "u_s" => word!("Half length in fin lengths, in the long run"),
        "G_e" => word!("Heat lost for each kelvin of mean rise with cold ends"),
        "G_es" => word!("Heat lost for each kelvin of mean rise with cold ends, in the long run"),
        "I_far" => word!("Trip point with insulated ends"),
        "I_end" => word!("Trip point with ends as cold as the air"),
        "I_mid" => word!("One estimate, between the two limits"),
        "tau_far" => word!("Time constant with insulated ends"),
        "theta_far" => word!("Rise after a very long time with insulated ends"),
        "theta_0" => word!("Rise before the load with insulated ends"),
        "t_far" => word!("Trip time with insulated ends"),
        "tau_end" => {
            word!(
                "Time constant with ends as cold as the air (of the slowest way in which such a strip warms)"
            )
        }
        "theta_end" => word!("Mean rise after a very long time with ends as cold as the air"),
        "t_end" => word!("Trip time with ends as cold as the air"),
        "t_0" => word!("Trip time if no heat got away at all: the limit of a violent overload"),
        "t_w_far" => word!("Wait from release to relatch with insulated ends"),
        "t_w_end" => word!("Wait from release to relatch with ends as cold as the air"),
        "I_rms" => {
            word!("Constant current that makes the same heat in the long run (root mean square)")
        }
        "DeltaI_P" => word!("Change for each percent of the preload lost"),
        "DeltaI_T" => word!("Change for each kelvin of air"),
        _ => "",
    };
    said.to_owned()
}

/// What stands beside a step in the full model, and why the two differ.
pub(crate) fn beside(of: &Explanation, step: &Step) -> (&'static str, &'static str) {
    match step.result.symbol.as_str() {
        "kappa_T" => (
            word!("Curvature of the layered section"),
            word!(
                "The same formula at the same temperature; the full model takes it at every place of \
             the strip at the temperature of that place."
            ),
        ),
        "EI" => (
            word!("Stiffness of the layered section"),
            match of.section {
                SectionKind::WideFree => {
                    word!(
                        "A wide strip gives less to a force than to heat: the full model takes \
                     E/(1 - nu^2) here."
                    )
                }
                _ => word!("The same sums at the same temperature."),
            },
        ),
        "F" => (
            word!("Flexivity between the flat strip and its trip temperature"),
            word!(
                "Expansion is no straight line: the low-expansion alloy expands more the hotter it gets, \
             so the mean depends on the temperatures between which it is taken."
            ),
        ),
        "d_h" => (
            word!("Bending integrated along the strip at that temperature"),
            word!(
                "At one temperature the curvature is the same everywhere, and its integral is the formula."
            ),
        ),
        "S" => (
            word!("Compliance at release"),
            word!("The moduli fall a little with temperature, which differs along the strip."),
        ),
        "d_rel" => (word!("Release deflection"), compliance()),
        "s_P" => (word!("Preload share"), compliance()),
        "T_rel" if step.uses("kappa_rel") => (
            word!("Uniform temperature at which it snaps through"),
            one_sine_term(),
        ),
        "T_rel" => (word!("Trip temperature"), not_straight()),
        "T_relatch" if step.uses("kappa_relatch") => (
            word!("Uniform temperature at which it snaps back"),
            one_sine_term(),
        ),
        "T_relatch" => (word!("Relatch temperature"), not_straight()),
        "R" if of.releases => (word!("Resistance of the strip at release"), uneven()),
        "R" => (word!("Resistance of the strip at its trip point"), uneven()),
        "Q" => (word!("Heat made in the strip at release"), uneven()),
        "C" | "C_S" => (
            word!("Heat stored in the strip above the air, over its mean rise"),
            word!(
                "Specific heat rises with temperature; the mean over the way from the air is smaller \
             than the value at the end."
            ),
        ),
        "G" | "G_f" => (
            word!(
                "Heat from the faces at the trip point, over the mean rise above the air at the strip"
            ),
            word!(
                "Both coefficients grow with temperature: the hot middle loses more than its share, and \
             the air in a housing is warmer than the air outside."
            ),
        ),
        "I_far" => (word!("Trip point"), insulated()),
        "I_end" => (word!("Trip point"), cold()),
        "I_mid" => (
            word!("Trip point"),
            word!(
                "Where between the limits the truth lies depends on how warm the ends get; only the full \
             model says."
            ),
        ),
        "I_rms" => (
            word!("Trip point"),
            word!(
                "Below the trip point the mean heat alone does not trip it; the ripple does, when one \
             stretch is long against the time constant. Above it, it trips sooner or later."
            ),
        ),
        "tau_far" | "tau_end" => (
            word!("Heat stored in the strip over the heat made in it, at the rated current"),
            no_single(),
        ),
        "t_far" => (word!("Trip time"), insulated()),
        "t_end" => (word!("Trip time"), cold_in_time()),
        "t_0" => (
            word!("Trip time"),
            word!(
                "Heat does get away, the less the sooner it trips. Resistance and heat capacity are those \
             at release; on the way there the strip has less of both."
            ),
        ),
        "t_w_far" | "t_w_end" => (word!("Wait from open contacts to relatch"), cools()),
        "DeltaI_P" => (
            word!("Change of the trip point"),
            word!(
                "A tired spring also presses the contact less, which makes heat there; loss and \
             resistance change with temperature."
            ),
        ),
        "DeltaI_T" => (
            word!("Change of the trip point"),
            word!(
                "The hand holds conductance and resistance; in the full model a hotter place also loses \
             heat better."
            ),
        ),
        _ => ("", ""),
    }
}

/// The heading of a chapter.
pub(crate) fn subject(subject: Subject) -> &'static str {
    match subject {
        Subject::Layers => word!("The strip and its layers"),
        Subject::Bending => word!("How far it bends"),
        Subject::Latch => word!("What frees the latch"),
        Subject::Blade => word!("When the blade snaps"),
        Subject::Heating => word!("How much heat the current makes"),
        Subject::Losses => word!("How much heat it loses"),
        Subject::TripPoint => word!("Which current it holds for ever"),
        Subject::TripTime => word!("When it trips under the load"),
        Subject::Wait => word!("How long to wait for the reset"),
        Subject::Duty => word!("What a load that comes and goes amounts to"),
        Subject::Shifts => word!("What wear and the air do to the trip point"),
    }
}

/// A column of the table of layers.
pub(crate) fn layer_column(symbol: &str) -> &'static str {
    match symbol {
        "t" => word!("thickness"),
        "E" => word!("modulus"),
        "eps" => word!("strain since flat"),
        "rho" => word!("resistivity"),
        "k" => word!("conductivity"),
        "c" => word!("specific heat"),
        "rho_m" => word!("density"),
        _ => "",
    }
}

/// What is said between the steps.
pub(crate) fn remark(of: &Explanation, remark: Remark) -> String {
    let said = match remark {
        Remark::Strip {
            length_m,
            width_m,
            thickness_m,
            flat_k,
            round_k,
        } => {
            return strip(
                of.section,
                [length_m, width_m, thickness_m],
                [flat_k, round_k],
            );
        }
        Remark::OneTerm {
            late,
            model,
            frame_expands,
        } => return one_term(late, model, frame_expands),
        Remark::OneCurrent(current_a) => {
            return say!(
                "The load changes with time. The hand takes one constant current, {current_a:.3} A, \
                 and the numbers of the full model beside it are for the same constant current."
            ; current_a);
        }
        Remark::ThroughFaces(share) => {
            return say!(
                "In the full model, {share:.0} % of the strip's heat leaves through its faces at the \
                 trip point, {:.0} % through its ends.",
                100.0 - share
            ; share);
        }
        Remark::Earlier(before_a) => {
            return say!("It does not start cold: {before_a:.3} A has flowed for long."; before_a);
        }
        Remark::NeverBends => {
            word!(
                "These layers do not bend towards the release when they get warm, so no temperature \
             releases the protector by bending. There is nothing to compute by hand."
            )
        }
        Remark::TwoLayers => {
            word!(
                "Two layers: Timoshenko's formula. The layer that expands more is held back by the other, \
             and the pair gives way by bending."
            )
        }
        Remark::ManyLayers => {
            word!(
                "Any number of layers: five sums over the layers (a width of one metre), with z the height \
             of the middle of a layer above the outer face of layer 1. A holds the strip against \
             stretching, D against bending, B couples the two; N and M are what the held expansion \
             pushes and turns with."
            )
        }
        Remark::AirReleases => {
            word!(
                "The air alone holds the strip beyond release, so it carries no current at all and there \
             is no heating to compute."
            )
        }
        Remark::Arch => {
            word!(
                "The blade is a shallow arch between two hinges. Heating bends it against its bow; the \
             hinges keep it from getting flat gently, so it holds out until no equilibrium is left on \
             its side, and then jumps. In one sine term, a sin(pi x/l), the arch is a cubic in its \
             rise a: two folds, a snap at each."
            )
        }
        Remark::Creeps => {
            word!(
                "The linear coefficient is not negative: in one term this blade has no folds. It creeps \
             through flat, and trips and resets at one temperature."
            )
        }
        Remark::GivenCoefficient => {
            word!("The scenario gives the coefficient of convection h_c itself.")
        }
        Remark::Ends => {
            word!(
                "Heat also leaves through the two ends, into terminal and contact. How much, lies between \
             two limits that can be done by hand: ends that let nothing through (only the faces \
             count), and ends that stay as cold as the air. The truth is usually between them."
            )
        }
        Remark::ReleasedBefore => {
            word!(
                "With insulated ends the earlier current has already released it: this limit says nothing \
             here."
            )
        }
        Remark::NeverInsulated => {
            word!(
                "With insulated ends this current never warms the strip to release: it NEVER trips."
            )
        }
        Remark::NeverCold => {
            word!(
                "With ends as cold as the air this current never warms the strip to release: it NEVER \
             trips."
            )
        }
        Remark::Violent => {
            word!(
                "The overload is so violent that hardly any heat reaches the ends in time; with cold ends \
             it takes about as long as with no loss at all, which comes next."
            )
        }
        Remark::AlmostAtOnce => {
            word!(
                "With ends as cold as the air it is at release almost at once after so warm a start."
            )
        }
        Remark::NoTrip => {
            word!(
                "The full model does not trip under this current, so no trip time stands beside these."
            )
        }
        Remark::NeverCools => {
            word!(
                "The relatch temperature does not lie above the air, so the strip never cools that far: \
             the protector cannot be reset in this air."
            )
        }
    };
    said.to_owned()
}

fn strip(section: SectionKind, size_m: [f64; 3], [flat_k, round_k]: [f64; 2]) -> String {
    // To a ten-thousandth of a millimetre.
    let [length, width, thickness] = size_m.map(|m| (1e7 * m).round() / 1e4);
    let effective = match section {
        SectionKind::Narrow => "",
        SectionKind::WideFree => {
            word!(" The strip is wide and free to bow both ways: E stands for E/(1 - nu).")
        }
        SectionKind::HeldFlat => {
            word!(
                " The strip is held flat across its width: E stands for E/(1 - nu^2), and the strain is \
             larger by 1 + nu."
            )
        }
    };
    say!(
        "{length} mm long, {width} mm wide, {thickness} mm thick; flat and free of stress at {:.0} °C. \
         A first pass with values 100 K above that puts the release near {:.0} °C, so all values are \
         taken at this round temperature. Layers are counted from the low-expansion side.{effective}",
        flat_k - ZERO_CELSIUS_K,
        round_k - ZERO_CELSIUS_K
    ; length, width, thickness, effective)
}

fn one_term(late: Option<f64>, model: SnapModel, frame_expands: bool) -> String {
    let late = late.map_or_else(String::new, |late| {
        let percent = 100.0 * late;
        say!("; evenly warmed, this one after {percent:.1} % more warming"; percent)
    });
    let shape = match model {
        SnapModel::Exact => {
            word!("The full model carries 25 sine terms and the antisymmetric way through.")
        }
        SnapModel::OneTerm => {
            word!("The scenario asks for the one-term form in the full model too.")
        }
    };
    let frame = if frame_expands {
        word!(" It also counts the expansion of the frame, which the hand leaves out.")
    } else {
        ""
    };
    say!(
        "One term is a teaching approximation: it snaps too late, because a real blade has more ways \
         to give way{late}. {shape}{frame}"
    ; late, shape, frame)
}
