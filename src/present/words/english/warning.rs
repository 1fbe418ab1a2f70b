//! Warnings, and what the model leaves out.

use crate::predict::{NotModelled, Warning};
use crate::present::number::{celsius, fixed, plain};

/// A warning with its numbers.
pub(crate) fn warning(warning: &Warning) -> String {
    let degrees = |c: &f64| celsius(Some(*c), 0);
    match warning {
        Warning::Extrapolated {
            material,
            property,
            needed_c,
            range_c: [low, high],
        } => format!(
            "the {} of {material} was needed at {}; its source covers {} to {}, so it was continued from the end \
             of its range, as the scenario allows",
            property.name(),
            degrees(needed_c),
            degrees(low),
            degrees(high)
        ),
        Warning::TipRotation {
            rotation_rad,
            limit_rad,
            error_relative,
            blade,
        } => {
            let (turns, formulas) = if *blade {
                (
                    "the blade stands at",
                    "the formulas of a shallow bow used for the snap are",
                )
            } else {
                (
                    "the free end has turned by",
                    "the straight-line deflection used for the release is",
                )
            };
            let place = if *blade {
                "at its hinges"
            } else {
                "at release"
            };
            format!(
                "{turns} {} rad {place}; above {} rad {formulas} wrong by more than about {} %",
                fixed(*rotation_rad, 2),
                plain(*limit_rad),
                fixed(100.0 * error_relative, 0)
            )
        }
        Warning::ThroughThickness {
            part,
            spread_k,
            resolved,
        } => format!(
            "heat made in one layer crosses the others at this current: if steady it would add {:+.1} % to the \
             curvature at release ({} K across the strip); {}",
            100.0 * part,
            fixed(*spread_k, 2),
            if *resolved {
                "it was resolved"
            } else {
                "it was NOT resolved, as the scenario asks"
            }
        ),
        Warning::Yield {
            material,
            stress_mpa,
            temperature_c,
            yield_mpa,
        } => format!(
            "{material} is stressed to {} MPa at {} at release, above its yield strength of {} MPa; the strip \
             takes a set and the calibration can no longer be trusted",
            fixed(*stress_mpa, 0),
            degrees(temperature_c),
            fixed(*yield_mpa, 0)
        ),
        Warning::TooHot {
            material,
            peak_c,
            limit_c,
        } => format!(
            "the hottest point of the strip reaches {} at release; {material} is recommended up to {} only, beyond \
             it the calibration can no longer be trusted",
            degrees(peak_c),
            degrees(limit_c)
        ),
        Warning::WindingLimit { peak_c, limit_c } => format!(
            "the heater winding reaches {}, its insulation stands {}",
            degrees(peak_c),
            degrees(limit_c)
        ),
        Warning::ContactSoftening {
            metal,
            voltage_v,
            softening_v,
        } => format!(
            "the constriction of the contact carries {} V, {metal} softens at {} V; the contact resistance is then \
             no longer the one computed with",
            fixed(*voltage_v, 3),
            fixed(*softening_v, 2)
        ),
        Warning::OneTerm { late_relative } => format!(
            "one-term snap model, a teaching approximation: {}",
            one_term(*late_relative)
        ),
        Warning::Creeps => {
            "this blade has no snap: it creeps through, so it trips and resets at the same point \
             and its contacts part slowly"
                .to_owned()
        }
        Warning::DiscCreeps => {
            "the dome of this disc is too low to snap: it creeps through, so it trips and resets where its middle \
             is flat, and its contacts part slowly"
                .to_owned()
        }
        Warning::MoreDomed => {
            "the disc is colder than its flat temperature and so more domed than made: shapes that are not round, \
             into which such a disc may buckle, are not looked for"
                .to_owned()
        }
        Warning::FlatConvection => {
            "natural convection from so small a flat strip is known to about 40 % only \
             (Rayleigh number below 10 000)"
                .to_owned()
        }
        Warning::Accuracy { asked, reached } => format!(
            "an accuracy of {asked:.0e} was asked for; on the finest grid {reached:.0e} was reached"
        ),
    }
}

/// How late a one-term blade is.
pub(crate) fn one_term(late_relative: Option<f64>) -> String {
    match late_relative {
        Some(late) => format!(
            "evenly warmed, this blade snaps through after {} % more warming than the exact one",
            fixed(100.0 * late, 1)
        ),
        None => "it and the exact blade do not both snap through here".to_owned(),
    }
}

/// Something that the model leaves out.
pub(crate) fn not_modelled(what: NotModelled) -> &'static str {
    match what {
        NotModelled::Arc => "the arc at opening",
        NotModelled::MagneticForces => "magnetic tripping and blow-off forces",
        NotModelled::BlowOff => "forces that blow contacts apart",
        NotModelled::EddyCurrents => {
            "eddy currents in the iron, its remanence, and what coil and motion do to the current"
        }
        NotModelled::NeighbouringPoles => "heat from neighbouring poles",
        NotModelled::UnitSpread => "the spread between units (one nominal part was computed)",
        NotModelled::FadingContactForce => "contact force fading near the snap",
        NotModelled::ShuntHeat => "the heat made in the shunt",
        NotModelled::UnevenDisc => {
            "stresses in the disc, shapes of it that are not round, and friction at its rim"
        }
        NotModelled::WindingOfMotor => {
            "the winding of the motor, which is hotter than its case (the case is the one node)"
        }
    }
}
