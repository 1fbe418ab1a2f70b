//! What is filled in by hand: the new part, times before and after, signatures.

use super::fit::{Rest, shortened};
use super::known::timed;
use super::top::ruled;
use crate::diagnose::{Diagnosis, ReplacementField};
use crate::evidence::{Case, Unit};
use crate::present::cautions::never_raise;
use crate::present::html::escape;
use crate::present::number::{plain, significant};

const ZERO_CELSIUS_K: f64 = 273.15;
/// Fields of the sheet that fit.
const MOST_FIELDS: usize = 12;

/// The sheet of the new part: known values printed, the others ruled.
pub(super) fn replacement(diagnosis: &Diagnosis, case: &Case, rest: &mut Rest) -> String {
    let fields = if diagnosis.replacement.is_empty() {
        standard(case)
    } else {
        diagnosis.replacement.clone()
    };
    let told = |f: &ReplacementField| format!("{}: {} ({})", f.field, f.value, f.rule);
    let too_long =
        |f: &ReplacementField| f.rule.chars().count() > 90 || f.value.chars().count() > 44;
    if fields.len() > MOST_FIELDS || fields.iter().any(too_long) {
        let all: Vec<String> = fields.iter().map(told).collect();
        rest.keep("The new part", &all);
    }
    let rows: String = fields.iter().take(MOST_FIELDS).map(row).collect();
    format!(
        "<section>\n<h2>If the protector is replaced <span>{} A supplementary part needs a backup and replaces no \
         branch breaker.</span></h2>\n<div class=\"sheet\">\n{rows}</div>\n</section>\n",
        escape(never_raise())
    )
}

fn row(field: &ReplacementField) -> String {
    let value = if field.value.trim().is_empty() {
        "<i></i>".to_owned()
    } else {
        format!("<b>{}</b>", escape(&shortened(&field.value, 44)))
    };
    format!(
        "<div><span class=\"fill\"><span>{}</span>{value}</span><small>{}</small></div>\n",
        escape(&shortened(&field.field, 40)),
        escape(&shortened(&field.rule, 90))
    )
}

/// The fields that always have to be settled, with what the nameplate knows. The rules are common practice of
/// replacing like by like; maker and local code decide.
fn standard(case: &Case) -> Vec<ReplacementField> {
    let plate = &case.nameplate;
    let field = |field: &str, value: String, rule: &str| ReplacementField {
        field: field.to_owned(),
        value,
        rule: rule.to_owned(),
    };
    let blank = String::new;
    let reset = if plate.resets_itself {
        "by itself"
    } else {
        "by hand"
    };
    vec![
        field(
            "Rated current at its reference air",
            format!(
                "{} A at {} °C",
                plain(plate.rated_current_a),
                plain(plate.reference_ambient_k - ZERO_CELSIUS_K)
            ),
            "the design value; never raised to stop the tripping",
        ),
        field(
            "Air at the place; compensated?",
            blank(),
            "by the maker's table for that air",
        ),
        field(
            "Rated voltage, AC or DC",
            blank(),
            "at least the circuit's, of the same kind; DC is weaker",
        ),
        field(
            "Interrupting capacity, backup",
            blank(),
            "at least the fault current there, alone or with its backup",
        ),
        field(
            "Poles, class",
            blank(),
            "as drawn; equipment type or branch type",
        ),
        field(
            "Trip type, delay",
            blank(),
            "must outlast the start: 1.5 times as long",
        ),
        field(
            "Reset, trip-free",
            reset.to_owned(),
            "by hand and trip-free unless designed otherwise",
        ),
        field(
            "Life at this rating",
            blank(),
            "operations at 1 and at 2 times the rating",
        ),
        field(
            "Terminals, torque, fit",
            blank(),
            "as the original; conductor, mounting, sealing, spacing",
        ),
        field("Approvals", blank(), "as marked on the original"),
        field(
            "Wire it protects",
            blank(),
            "the rating is never above what the wire may carry",
        ),
        field(
            "Accepted by test",
            blank(),
            "holds its rating until warm; one timed trip at 200 %",
        ),
    ]
}

/// Times before anything is touched, after the work, and of the new part.
pub(super) fn times(case: &Case) -> String {
    let rated = case.nameplate.rated_current_a;
    let twice = [
        significant(2.0 * rated, 3),
        "2.0".to_owned(),
        String::new(),
        String::new(),
        String::new(),
    ];
    let as_new_old = timed(case, Unit::AsNew);
    let mut rows = vec![(
        "As found, before it is touched",
        timed(case, Unit::ThisPart),
    )];
    if as_new_old.is_some() {
        rows.push(("Old part when new, by its label", as_new_old));
    }
    rows.push(("As left, after the work", None));
    rows.push(("New part; write it on its label", Some(twice)));
    let rows: String = rows
        .into_iter()
        .map(|(name, cells)| {
            let cells: String = cells
                .unwrap_or_default()
                .iter()
                .map(|cell| format!("<td>{}</td>", escape(cell)))
                .collect();
            format!(
                "<tr><th scope=\"row\">{}</th>{cells}<td></td></tr>\n",
                escape(name)
            )
        })
        .collect();
    format!(
        "<section>\n<h2>8 As found, as left, as new</h2>\n<table class=\"times\"><thead><tr><th></th><th \
         scope=\"col\">Current, A</th><th scope=\"col\">x rated</th><th scope=\"col\">Air, °C</th><th \
         scope=\"col\">Before (cold?)</th><th scope=\"col\">Trip time</th><th scope=\"col\">By, \
         date</th></tr></thead>\n<tbody>\n{rows}</tbody></table>\n</section>\n"
    )
}

/// Who did it, who released it, when to look again.
pub(super) fn signatures() -> String {
    format!(
        "<div class=\"lines signatures\">{}{}{}</div>\n",
        ruled("Done by, date"),
        ruled("Released by, date"),
        ruled("Look again on")
    )
}
