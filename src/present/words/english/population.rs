//! A population: its setting, what its load demands, and where it should not be trusted blindly.

use super::amount;
use crate::present::number::{percent, plain, power_of_ten, significant};
use crate::quantity::{Dimension, format_number, format_si};
use crate::study::population::{
    DemandFrom, InputRecord, InputShape, InstantaneousRecord, LoadRecord, Quantity, SetAt,
    SurrogateRecord, VaryWarning,
};

/// How clearances are set, after "Each unit's".
pub(crate) fn set_at(set: &SetAt) -> String {
    say!(
        "clearance set so that it trips at {} A after {} s, at {:.0} °C, to {} % of the time",
        set.current_a,
        set.time_s,
        set.ambient_c,
        format_number(100.0 * set.time_error)
    )
}

/// "must have tripped within 40 s (the published limits at 2 times rated)"
pub(crate) fn load_demand(load: &LoadRecord) -> String {
    let trips = match load.trips_within_s {
        _ if load.must_trip => Some(word!("must trip").to_owned()),
        within_s => within_s.map(|t| say!("must have tripped within {} s", format_number(t))),
    };
    let holds = match load.holds_for_s {
        _ if load.must_hold => Some(word!("must be carried for ever").to_owned()),
        for_s => for_s.map(|t| say!("must hold for {} s", format_number(t))),
    };
    let from = match load.demand {
        DemandFrom::Population => "[population]".to_owned(),
        DemandFrom::WithinRating => {
            word!("in the end the load does not exceed the rating").to_owned()
        }
        DemandFrom::Limits { multiple } => {
            say!("the published limits at {} times rated", plain(multiple))
        }
        DemandFrom::AboveRating => {
            word!("the load exceeds the rating; no time is demanded").to_owned()
        }
    };
    let asked: Vec<String> = [trips, holds].into_iter().flatten().collect();
    format!("{} ({from})", asked.join(", "))
}

/// "0.38 mm +- 0.0057 mm, normal"
pub(crate) fn input(input: &InputRecord) -> String {
    let nominal = shown(input.nominal, input.dimension);
    format!("{nominal} +- {}, {}", deviation(input), shape(input.shape))
}

/// A standard deviation with its unit.
pub(crate) fn deviation(input: &InputRecord) -> String {
    let dimension = match input.dimension {
        Dimension::Temperature => Dimension::TemperatureDifference,
        other => other,
    };
    shown(input.deviation, dimension)
}

/// With its unit; a share in percent.
fn shown(value: f64, dimension: Dimension) -> String {
    match dimension {
        Dimension::Fraction => format_si(value, dimension),
        other => amount(value, other),
    }
}

fn shape(shape: InputShape) -> &'static str {
    match shape {
        InputShape::Normal => word!("normal"),
        InputShape::Sorted => word!("normal, tails sorted out"),
        InputShape::Uniform => word!("uniform"),
        InputShape::Lognormal => word!("lognormal"),
    }
}

/// An end of an input's range, to four digits.
pub(crate) fn end(value: f64, dimension: Dimension) -> String {
    shown(format!("{value:.3e}").parse().unwrap_or(value), dimension)
}

fn quantity(of: Quantity) -> &'static str {
    match of {
        Quantity::TripPoint => word!("trip point"),
        Quantity::TripTime => word!("trip time"),
        Quantity::RelatchWait => word!("wait to relatch"),
    }
}

/// Where it should not be trusted blindly.
pub(crate) fn vary_warning(warning: &VaryWarning) -> String {
    match warning {
        VaryWarning::Cut { path, sigmas } => say!(
            "{path}: {sigmas:.1} standard uncertainties from the middle a part would be impossible; the spread is cut \
             there"
        ; path, sigmas),
        VaryWarning::NotVaried { paths } => {
            let each = paths.iter().map(|path| match alike(path) {
                Some(why) => format!("{path} ({why})"),
                None => path.clone(),
            });
            let each: Vec<String> = each.collect();
            say!(
                "tolerances that do not differ from unit to unit here: {}",
                each.join(", ")
            )
        }
        VaryWarning::AskedAlone => word!(
            "this part, or its load, cannot be computed side by side with others: every unit \
                                    was asked alone"
        )
        .to_owned(),
        VaryWarning::StripsAlone => word!(
            "rates and bands are those of the strips: the instantaneous element, which may open a part before, is \
             asked of no unit"
        )
        .to_owned(),
        VaryWarning::Failed { failed, units } => say!(
            "{failed} of {units} units have no answers; rates and bands are those of the others"
        ; failed, units),
        VaryWarning::RowsLeftOut { of, left_out, rows } => say!(
            "sensitivity of the {}: {left_out} of {rows} rows hold a unit without a finite value \
             and are left out",
            quantity(*of)
        ; left_out, rows),
    }
}

/// Why units do not differ in a number.
fn alike(path: &str) -> Option<&'static str> {
    let table = path.split(['.', '[']).next().unwrap_or_default();
    Some(match table {
        "dial" => word!("marks are printed; `trips_at` and the travel differ"),
        "ageing" | "duty" => word!("wear takes years: `relatch failures`"),
        "closing" | "cable" => word!("the circuit is the same for all"),
        "alloy" | "contact_metal" => {
            word!("what is known of a metal moves all units alike: `relatch run`")
        }
        "protector" => word!("it is printed on all of them"),
        _ => return None,
    })
}

/// What the instantaneous elements of a lot do.
pub(crate) fn instantaneous(found: &InstantaneousRecord) -> String {
    let ampere = |a: Option<f64>| match a {
        Some(a) => format!("{} A", significant(a, 3)),
        None => super::never().to_owned(),
    };
    let ([low, _, high], drawn) = (found.pick_up_a.map(ampere), ampere(found.nominal_a));
    let (units, closings) = (found.units, percent(found.closings_share));
    let mut said = say!(
        "Instantaneous elements of {units} units: pick-up {low} to {high} in nine of ten, {drawn} as drawn; they open \
         at once in {closings} of this scenario's closings."
    ; units, low, high, drawn, closings);
    if let Some((band, holds, releases)) = &found.band {
        let [lower, upper] = [holds, releases].map(|rate| percent(rate.share));
        let band = format!("{band:?}");
        said += " ";
        said += &say!(
            "Band {band}: {lower} hold at its lower end, {upper} release at its upper."
        ; band, lower, upper);
    }
    if let Some((path, share)) = &found.most {
        let share = percent(*share);
        said += " ";
        said += &say!("{path} makes {share} of that scatter."; path, share);
    }
    said + " " + word!("All other rates here are those of the strips.")
}

/// What polynomials in the engine's place are worth, in a lot of so many units.
pub(crate) fn surrogate(found: &SurrogateRecord, units: u64) -> String {
    let (Some(bound), Some(point)) = (found.bound_relative, found.trip_point_relative) else {
        return word!("none could be made for this lot: the engine was asked for every unit")
            .to_owned();
    };
    let [bound, point] = [bound, point].map(|b| power_of_ten(b, 1));
    let checked = found.checked;
    if !found.is_used {
        return say!(
            "not used, because on {checked} fresh units trip points were within {point} and other answers \
             within {bound} of the engine's: the engine was asked for every unit"
        ; checked, point, bound);
    }
    let share = 100.0 * found.engine as f64 / units.max(1) as f64;
    say!(
        "in the engine's place: trip points within {point}, every other answer within {bound} of the \
         engine's (twice the worst of {checked} fresh units); the engine was asked for {share:.2} % of \
         the units, near a limit, their trip point or the edge"
    ; point, bound, checked, share)
}
