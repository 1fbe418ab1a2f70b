//! Years of wear.

use super::amount;
use super::failed;
use super::limit::demand_in_air;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::number::{duration, fixed, plain, power_of_ten, significant};
use crate::quantity::{Dimension, format_number};
use crate::scenario::ageing::{Relaxation, SpringNode, SpringPlace, Tested, TimeScale};
use crate::study::ageing::{
    AgeEffort, AgeNotModelled, AgeWarning, Covered, Date, DateAt, Drawn, NoDate, NoFit, NoLives,
    NoRow, YEAR_S,
};

/// A time of years, as long as a person would say it.
pub(crate) fn years(value: f64) -> String {
    if value > 0.0 && value * 8766.0 < 1.0 {
        word!("less than an hour").to_owned()
    } else if value > 0.0 && value < 0.1 {
        say!("{} days", significant(value * 365.25, 2))
    } else {
        say!("{} years", significant(value, 3))
    }
}

/// The law of relaxation.
pub(crate) fn relaxation(law: &Relaxation) -> String {
    let percent = |v: f64| format!("{} %", format_number(100.0 * v));
    match law {
        Relaxation::Logarithmic { coefficient, scale } => say!(
            "logarithmic, A {}, {}",
            percent(*coefficient),
            time_scale(scale)
        ),
        Relaxation::Power {
            coefficient,
            exponent,
            scale,
        } => say!(
            "power law, k {}, p {}, {}",
            percent(*coefficient),
            format_number(*exponent),
            time_scale(scale)
        ),
        Relaxation::LarsonMiller {
            constant,
            start_k,
            loss_per_k,
        } => say!(
            "Larson-Miller, C {}, from {} K on {} per 1000 K",
            format_number(*constant),
            format_number(*start_k),
            percent(1000.0 * loss_per_k)
        ),
    }
}

fn time_scale(scale: &TimeScale) -> String {
    let time = duration(scale.time_constant_s, 3);
    let energy = format_number(scale.activation_j_per_mol / 1000.0);
    match scale.at_k {
        Some(k) => say!(
            "{time} at {} °C, {energy} kJ/mol",
            plain(k - ZERO_CELSIUS_K)
        ; time, energy),
        None => say!("tau0 {time}, {energy} kJ/mol"; time, energy),
    }
}

/// Where the spring is.
pub(crate) fn spring(place: &SpringPlace) -> String {
    let node = match place.node {
        SpringNode::ClampedTerminal => word!("clamped terminal"),
        SpringNode::MovingContact => word!("moving contact"),
        SpringNode::FixedContact => word!("fixed contact"),
        SpringNode::HousingAir => word!("housing air"),
        SpringNode::Ambient => word!("ambient"),
    };
    if place.offset_k == 0.0 {
        node.to_owned()
    } else {
        format!("{node} {:+} K", place.offset_k)
    }
}

/// Until when a test covers the duty.
pub(crate) fn covered(covered: &Covered) -> String {
    let named = |test: &Tested| {
        let hours = fixed(test.for_s / 3600.0, 0);
        say!(
            "a test of {hours} h at {} °C",
            fixed(test.at_k - ZERO_CELSIUS_K, 0)
        ; hours)
    };
    match covered {
        Covered::Until { test, .. } => say!("{} has done as much to the spring", named(test)),
        Covered::Throughout { test, .. } => {
            say!("{} does more than the whole time searched", named(test))
        }
        Covered::NoTest => {
            word!("the scenario names no test: everything is extrapolated").to_owned()
        }
        Covered::TestRelaxesNothing => word!("the test relaxes nothing").to_owned(),
        Covered::Friction => {
            word!("no test covers how a latch sticks that is not moved").to_owned()
        }
    }
}

/// A date, or why there is none.
pub(crate) fn date(date: &Date) -> String {
    match date {
        Date::New { at } => say!("as new already: {}", date_at(at)),
        Date::After {
            years: value,
            at,
            error_years,
        } => {
            let error = error_years.map_or(String::new(), |error| {
                let size = match error < 1.0 / 365.25 {
                    true => word!("below a day").to_owned(),
                    false => years(error),
                };
                say!(" (numerical error {size})"; size)
            });
            let at = at
                .as_ref()
                .map_or(String::new(), |at| format!("; {}", date_at(at)));
            format!("{}{at}{error}", years(*value))
        }
        Date::None { why } => no_date(why),
    }
}

/// Where a date is reached first.
pub(crate) fn date_at(at: &DateAt) -> String {
    match at {
        DateAt::State(name) => name.clone(),
        DateAt::Limit(limit) => demand_in_air(*limit),
    }
}

/// Why there is no date.
pub(crate) fn no_date(why: &NoDate) -> String {
    match why {
        NoDate::NotWithin { searched_years } => {
            say!("not within {} years", plain(*searched_years))
        }
        NoDate::NothingCarried => word!("nothing is carried").to_owned(),
        NoDate::NoLimits => word!("the scenario names no published limits").to_owned(),
        NoDate::NoLife => word!("the new part already trips").to_owned(),
    }
}

/// Why there is no sensitivity of the life in service.
pub(crate) fn no_sensitivity(why: &NoDate) -> String {
    match why {
        NoDate::NotWithin { searched_years } => say!(
            "it does not trip its own load within {} years",
            plain(*searched_years)
        ),
        other => no_date(other),
    }
}

/// Why a row of the drift has no answers.
pub(crate) fn no_row(why: &NoRow) -> String {
    match why {
        NoRow::PreloadGone => {
            word!("the preload is all but gone and the model does not hold").to_owned()
        }
        NoRow::Failed { why } => failed(why),
    }
}

/// Why no units were drawn.
pub(crate) fn no_lives(why: NoLives) -> &'static str {
    match why {
        NoLives::NothingUncertain => {
            word!(
                "no constant of [ageing] and no current of [duty] carries a tolerance \
             (\"1.5 % +- 0.2 points\")"
            )
        }
        NoLives::NotAsked => word!("no units were asked for"),
    }
}

/// Why lives have no fit.
pub(crate) fn no_fit(why: &NoFit, failed_new: u64, searched_years: f64) -> String {
    match why {
        NoFit::TooFew {
            failed_later,
            units,
        } => say!(
            "{failed_later} of {units} units fail between new and {} years ({failed_new} fail \
             new): too few for a fit",
            plain(searched_years)
        ; failed_later, units, failed_new),
        NoFit::NotFound => word!("no Weibull distribution fits best").to_owned(),
    }
}

/// A constant that was drawn.
pub(crate) fn drawn(drawn: &Drawn) -> String {
    let shown = |v: f64| match drawn.dimension {
        Dimension::Fraction if v < 1.0 => format!("{} %", format_number(100.0 * v)),
        Dimension::Fraction => format_number(v),
        Dimension::Time if v >= YEAR_S => say!("{} years", format_number(v / YEAR_S)),
        dimension => amount(v, dimension),
    };
    let spread = if drawn.value.abs() > 0.0 {
        let share = drawn.standard_uncertainty / drawn.value.abs();
        format!("{} %", format_number((1e4 * share).round() / 100.0))
    } else {
        shown(drawn.standard_uncertainty)
    };
    format!("{} {} ± {spread}", drawn.path, shown(drawn.value))
}

/// How it was computed.
pub(crate) fn age_effort(effort: &AgeEffort) -> String {
    say!(
        "{} duty states at {} contact resistances; {} steps of order 5 in the logarithm of time",
        effort.states,
        effort.resistances,
        effort.steps
    )
}

/// A warning.
pub(crate) fn age_warning(warning: &AgeWarning) -> String {
    match warning {
        AgeWarning::NewPartTrips { state, current_a } => say!(
            "the new part already trips in \"{state}\" at {} A; its wear there is counted \
             without current",
            fixed(*current_a, 2)
        ; state),
        AgeWarning::PreloadGone { years } => say!(
            "after {} years 95 % of the preload is gone; beyond, the model does not hold",
            fixed(*years, 2)
        ),
        AgeWarning::RunsAway { contact_ohm } => say!(
            "from {} mΩ of contact resistance on there is no steady state: the part runs away \
             and trips before the horizon",
            fixed(1e3 * contact_ohm, 1)
        ),
        AgeWarning::NotDrawn { path } => {
            say!("the tolerance of {path} is not drawn: lives are for its stated value"; path)
        }
        AgeWarning::AccuracyNotReached { asked, reached } => say!(
            "an accuracy of {} was asked for; the drift has a relative error of {}",
            power_of_ten(*asked, 0),
            power_of_ten(*reached, 0)
        ),
    }
}

/// Something that the model leaves out.
pub(crate) fn age_not_modelled(what: AgeNotModelled) -> &'static str {
    match what {
        AgeNotModelled::Stress => {
            word!(
                "how the loss depends on the stress in the spring: the constants are for its stress"
            )
        }
        AgeNotModelled::SeasonsInOrder => {
            word!("seasons one after the other: dates are good to about a year")
        }
        AgeNotModelled::Environment => word!("corrosion, dust, vibration, short circuits"),
        AgeNotModelled::StripChange => {
            word!("change of the strip itself: permanent set, calibration")
        }
        AgeNotModelled::FrictionLaw => {
            word!(
                "friction follows no published law: an exponential rise, common practice without a \
             source"
            )
        }
        AgeNotModelled::AcrossLayers => {
            word!("heat across the layers (set `through_thickness = \"resolved\"` in [strip])")
        }
        AgeNotModelled::InstantaneousElement => {
            word!("wear of the instantaneous element: all of this is of the strip")
        }
    }
}
