//! What is filled in by hand: the new part, times before and after.

use super::known::timed;
use crate::evidence::{AirPlace, Case, Unit};
use crate::family::Assumed;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::block::{Block, Field, Table};
use crate::present::language::worded;
use crate::present::number::{plain, significant};

/// The fields that have to be settled before a part is replaced, with what the case knows. The
/// rules are common practice of replacing like by like; maker and local code decide.
pub(super) fn replacement(case: &Case) -> Block {
    let plate = &case.nameplate;
    let measured = case.air.iter().find(|a| a.place == AirPlace::AtThePart);
    let air = measured.map_or(String::new(), |a| {
        format!(
            "{} °C, ",
            plain((a.temperature_k.value - ZERO_CELSIUS_K).round())
        )
    });
    let compensated = if plate.compensated {
        word!("compensated")
    } else {
        word!("not compensated")
    };
    let reference = plain(plate.reference_ambient_k - ZERO_CELSIUS_K);
    let dial = plate.assumed.iter().find_map(|a| match a {
        Assumed::SetByDial {
            rating_a,
            setting_a,
        } => Some([*rating_a, *setting_a].map(plain)),
        _ => None,
    });
    let rating = match dial {
        Some([rating_a, setting_a]) => {
            say!("{rating_a} A, dial at {setting_a} A"; rating_a, setting_a)
        }
        None => say!("{} A at {} °C", plain(plate.rated_current_a), reference),
    };
    let reset = if plate.resets_itself {
        word!("by itself")
    } else {
        word!("by hand")
    };
    let limits = plate.limits.as_deref().map(worded).unwrap_or_default();
    let blank = String::new;
    let fields = [
        (
            word!("Rated current"),
            rating,
            word!("never raised to stop the tripping"),
        ),
        (
            word!("Air at the part"),
            format!("{air}{compensated}"),
            word!("by the maker's table for that air"),
        ),
        (
            word!("Rated voltage"),
            blank(),
            word!("at least the circuit's, AC or DC; DC is the weaker"),
        ),
        (
            word!("Interrupting capacity"),
            blank(),
            word!("at least the fault current, alone or with its backup"),
        ),
        (
            word!("Poles, class"),
            blank(),
            word!("as drawn; supplementary is no branch breaker"),
        ),
        (
            word!("Trip type, delay"),
            limits.to_owned(),
            word!("as drawn; 1.5 times as long as the start"),
        ),
        (
            word!("Reset, trip-free"),
            reset.to_owned(),
            word!("by hand and trip-free unless designed otherwise"),
        ),
        (
            word!("Life at this rating"),
            blank(),
            word!("operations at 1 and 2 times the rating"),
        ),
        (
            word!("Terminals, fit"),
            blank(),
            word!("as the original: conductor, torque, mounting, sealing"),
        ),
        (
            word!("Approvals"),
            blank(),
            word!("as marked on the original"),
        ),
        (
            word!("Wire it protects"),
            blank(),
            word!("never rated above what the wire may carry"),
        ),
        (
            word!("Accepted by test"),
            blank(),
            word!("holds its rating until warm; one trip at 200 %"),
        ),
    ];
    Block::Form(
        fields
            .map(|(name, value, rule)| Field {
                name: name.into(),
                value,
                rule: rule.into(),
            })
            .into(),
    )
}

/// Times before anything is touched, after the work, and of the new part.
pub(super) fn times(case: &Case) -> Table {
    let twice = [
        significant(2.0 * case.nameplate.rated_current_a, 3),
        significant(2.0, 2),
        String::new(),
        String::new(),
        String::new(),
    ];
    let none = || std::array::from_fn(|_| String::new());
    let mut rows = vec![(
        word!("As found, before it is touched"),
        timed(case, Unit::ThisPart).unwrap_or_else(none),
    )];
    if let Some(as_new) = timed(case, Unit::AsNew) {
        rows.push((word!("Old part when new, by its label"), as_new));
    }
    rows.push((word!("As left, after the work"), none()));
    rows.push((word!("New part; write it on its label"), twice));
    let rows = rows
        .into_iter()
        .map(|(name, [a, times, air, before, after])| {
            [name.to_owned(), a, times, air, before, after, String::new()]
        });
    Table::of_text(
        "",
        [
            "",
            word!("Current, A"),
            word!("x rated"),
            word!("Air"),
            word!("Before (cold?)"),
            word!("Trip time"),
            word!("By, date"),
        ],
        rows,
    )
    .to_fill_in()
}
