//! What is filled in by hand: the new part, times before and after.

use super::known::timed;
use crate::evidence::{AirPlace, Case, Unit};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::block::{Block, Field, Table};
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
        "compensated"
    } else {
        "not compensated"
    };
    let rating = format!(
        "{} A at {} °C",
        plain(plate.rated_current_a),
        plain(plate.reference_ambient_k - ZERO_CELSIUS_K)
    );
    let reset = if plate.resets_itself {
        "by itself"
    } else {
        "by hand"
    };
    let limits = plate.limits.clone().unwrap_or_default();
    let blank = String::new;
    let fields = [
        ("Rated current", rating, "never raised to stop the tripping"),
        (
            "Air at the part",
            format!("{air}{compensated}"),
            "by the maker's table for that air",
        ),
        (
            "Rated voltage",
            blank(),
            "at least the circuit's, AC or DC; DC is the weaker",
        ),
        (
            "Interrupting capacity",
            blank(),
            "at least the fault current, alone or with its backup",
        ),
        (
            "Poles, class",
            blank(),
            "as drawn; supplementary is no branch breaker",
        ),
        (
            "Trip type, delay",
            limits,
            "as drawn; 1.5 times as long as the start",
        ),
        (
            "Reset, trip-free",
            reset.to_owned(),
            "by hand and trip-free unless designed otherwise",
        ),
        (
            "Life at this rating",
            blank(),
            "operations at 1 and 2 times the rating",
        ),
        (
            "Terminals, fit",
            blank(),
            "as the original: conductor, torque, mounting, sealing",
        ),
        ("Approvals", blank(), "as marked on the original"),
        (
            "Wire it protects",
            blank(),
            "never rated above what the wire may carry",
        ),
        (
            "Accepted by test",
            blank(),
            "holds its rating until warm; one trip at 200 %",
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
        "2.0".to_owned(),
        String::new(),
        String::new(),
        String::new(),
    ];
    let none = || std::array::from_fn(|_| String::new());
    let mut rows = vec![(
        "As found, before it is touched",
        timed(case, Unit::ThisPart).unwrap_or_else(none),
    )];
    if let Some(as_new) = timed(case, Unit::AsNew) {
        rows.push(("Old part when new, by its label", as_new));
    }
    rows.push(("As left, after the work", none()));
    rows.push(("New part; write it on its label", twice));
    let rows = rows
        .into_iter()
        .map(|(name, [a, times, air, before, after])| {
            [name.to_owned(), a, times, air, before, after, String::new()]
        });
    Table::of_text(
        "",
        [
            "",
            "Current, A",
            "x rated",
            "Air",
            "Before (cold?)",
            "Trip time",
            "By, date",
        ],
        rows,
    )
    .to_fill_in()
}
