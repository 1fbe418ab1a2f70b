//! The replacement sheet: what must be settled before a part is replaced.

use super::record::ReplacementField;
use super::say::{amperes, celsius};
use crate::evidence::{AirPlace, Case};

/// Its fields, with what the case knows.
pub fn replacement(case: &Case) -> Vec<ReplacementField> {
    let plate = &case.nameplate;
    let field = |field: &str, value: String, rule: &str| ReplacementField {
        field: field.into(),
        value,
        rule: rule.into(),
    };
    let air = case
        .air
        .iter()
        .find(|a| a.place == AirPlace::AtThePart)
        .map(|a| celsius(a.temperature_k.value))
        .unwrap_or_default();
    vec![
        field(
            "Rated current",
            format!(
                "{} at {}",
                amperes(plate.rated_current_a),
                celsius(plate.reference_ambient_k)
            ),
            "the design value; never raised to stop the tripping",
        ),
        field(
            "Air at the part; compensated or not",
            format!(
                "{air}{}{}",
                if air.is_empty() { "" } else { ", " },
                if plate.compensated {
                    "compensated"
                } else {
                    "not compensated"
                }
            ),
            "needed rating times the maker's air factor",
        ),
        field(
            "Rated voltage, AC and DC apart",
            String::new(),
            "at least the circuit's, of the same kind; DC is the weaker",
        ),
        field(
            "Interrupting capacity, own or with a named backup",
            String::new(),
            "at least the prospective current",
        ),
        field(
            "Class; poles; neutral",
            String::new(),
            "as drawn; a supplementary part may not replace a branch breaker",
        ),
        field(
            "Trip type and delay",
            plate.limits.clone().unwrap_or_default(),
            "as drawn; delay at least 1.5 times the start (common practice)",
        ),
        field(
            "Trip-free kind; reset",
            if plate.resets_itself {
                "resets itself".into()
            } else {
                String::new()
            },
            "by hand and trip-free unless designed otherwise",
        ),
        field(
            "Approvals, mounting, terminals, torque, sealing",
            String::new(),
            "as marked; as the original",
        ),
        field(
            "Acceptance",
            String::new(),
            "holds 100 %; one timed trip at 200 % from cold, written on a label",
        ),
    ]
}
