//! Warnings, and what the model leaves out.

use crate::predict::{NotModelled, Warning};
use crate::present::number::{celsius, fixed, plain, power_of_ten};

/// A warning with its numbers.
pub(crate) fn warning(warning: &Warning) -> String {
    let degrees = |c: &f64| celsius(Some(*c), 0);
    match warning {
        Warning::Extrapolated {
            material,
            property,
            needed_c,
            range_c: [low, high],
        } => say!(
            "the {} of {material} was needed at {}; its source covers {} to {}, so it was continued from the end \
             of its range, as the scenario allows",
            super::property(*property),
            degrees(needed_c),
            degrees(low),
            degrees(high)
        ; material),
        Warning::TipRotation {
            rotation_rad,
            limit_rad,
            error_relative,
            blade,
        } => {
            let (turns, formulas) = if *blade {
                (
                    word!("the blade stands at"),
                    word!("the formulas of a shallow bow used for the snap are"),
                )
            } else {
                (
                    word!("the free end has turned by"),
                    word!("the straight-line deflection used for the release is"),
                )
            };
            let place = if *blade {
                word!("at its hinges")
            } else {
                word!("at release")
            };
            say!(
                "{turns} {} rad {place}; above {} rad {formulas} wrong by more than about {} %",
                fixed(*rotation_rad, 2),
                plain(*limit_rad),
                fixed(100.0 * error_relative, 0)
            ; turns, place, formulas)
        }
        Warning::ThroughThickness {
            part,
            spread_k,
            resolved,
        } => say!(
            "heat made in one layer crosses the others at this current: if steady it would add {:+.1} % to the \
             curvature at release ({} K across the strip); {}",
            100.0 * part,
            fixed(*spread_k, 2),
            if *resolved {
                word!("it was resolved")
            } else {
                word!("it was NOT resolved, as the scenario asks")
            }
        ),
        Warning::Yield {
            material,
            stress_mpa,
            temperature_c,
            yield_mpa,
        } => say!(
            "{material} is stressed to {} MPa at {} at release, above its yield strength of {} MPa; the strip \
             takes a set and the calibration can no longer be trusted",
            fixed(*stress_mpa, 0),
            degrees(temperature_c),
            fixed(*yield_mpa, 0)
        ; material),
        Warning::TooHot {
            material,
            peak_c,
            limit_c,
        } => say!(
            "the hottest point of the strip reaches {} at release; {material} is recommended up to {} only, beyond \
             it the calibration can no longer be trusted",
            degrees(peak_c),
            degrees(limit_c)
        ; material),
        Warning::WindingLimit { peak_c, limit_c } => say!(
            "the heater winding reaches {}, its insulation stands {}",
            degrees(peak_c),
            degrees(limit_c)
        ),
        Warning::ContactSoftening {
            metal,
            voltage_v,
            softening_v,
        } => say!(
            "the constriction of the contact carries {} V, {metal} softens at {} V; the contact resistance is then \
             no longer the one computed with",
            fixed(*voltage_v, 3),
            fixed(*softening_v, 2)
        ; metal),
        Warning::OneTerm { late_relative } => say!(
            "one-term snap model, a teaching approximation: {}",
            one_term(*late_relative)
        ),
        Warning::Creeps => {
            word!("this blade has no snap: it creeps through, so it trips and resets at the same point \
             and its contacts part slowly")
                .to_owned()
        }
        Warning::DiscCreeps => {
            word!("the dome of this disc is too low to snap: it creeps through, so it trips and resets where its middle \
             is flat, and its contacts part slowly")
                .to_owned()
        }
        Warning::FlatConvection => {
            word!("natural convection from so small a flat strip is known to about 40 % only \
             (Rayleigh number below 10 000)")
                .to_owned()
        }
        Warning::Accuracy { asked, reached } => say!(
            "an accuracy of {} was asked for; on the finest grid {} was reached",
            power_of_ten(*asked, 0),
            power_of_ten(*reached, 0)
        ),
    }
}

/// How late a one-term blade is.
pub(crate) fn one_term(late_relative: Option<f64>) -> String {
    match late_relative {
        Some(late) => say!(
            "evenly warmed, this blade snaps through after {} % more warming than the exact one",
            fixed(100.0 * late, 1)
        ),
        None => word!("it and the exact blade do not both snap through here").to_owned(),
    }
}

/// Something that the model leaves out.
pub(crate) fn not_modelled(what: NotModelled) -> &'static str {
    match what {
        NotModelled::Arc => word!("the arc at opening"),
        NotModelled::MagneticForces => word!("magnetic tripping and blow-off forces"),
        NotModelled::BlowOff => word!("forces that blow contacts apart"),
        NotModelled::EddyCurrents => {
            word!(
                "eddy currents in the iron, its remanence, and what coil and motion do to the current"
            )
        }
        NotModelled::SlowCompensation => {
            word!("the time in which the compensating strip follows the housing's air")
        }
        NotModelled::NeighbouringPoles => word!("heat from neighbouring poles"),
        NotModelled::UnitSpread => {
            word!("the spread between units (one nominal part was computed)")
        }
        NotModelled::FadingContactForce => word!("contact force fading near the snap"),
        NotModelled::ShuntHeat => word!("the heat made in the shunt"),
        NotModelled::UnevenDisc => {
            word!("stresses in the disc, shapes of it that are not round, and friction at its rim")
        }
        NotModelled::WindingOfMotor => {
            word!(
                "the winding of the motor, which is hotter than its case (the case is the one node)"
            )
        }
    }
}
