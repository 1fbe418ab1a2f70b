//! The report: one self-contained page with everything a run found, to be read, printed and kept.

mod energise;
mod inputs;
mod load_words;
mod tables;

use crate::answer::Place;
use crate::predict::Outcome;
use crate::present::cautions::{Caution, cautions};
use crate::present::html::{Callout, Page};
use crate::present::number::plain;
use crate::present::plot::{PlotError, figures};
use crate::present::{sentences, words};
use crate::scenario::Scenario;

/// The report of `outcome`, which was predicted from `scenario`.
///
/// # Errors
/// When a figure cannot be drawn.
pub fn report_html(outcome: &Outcome, scenario: &Scenario) -> Result<String, PlotError> {
    let list = cautions(outcome);
    let mut page = Page::new(&outcome.scenario, &subtitle(outcome));
    page.callout(
        Callout::Caution,
        "May it be energised?",
        &energise::answer(outcome, &list),
    );
    answers(&mut page, outcome, &list);
    let warnings: Vec<String> = outcome.warnings.iter().map(words::warning).collect();
    page.callout(
        Callout::Warning,
        "Where not to trust a number blindly",
        &warnings,
    );
    page.heading("Why");
    page.facts(&sentences::why(outcome));
    page.table(&tables::events(outcome));
    page.heading("Figures");
    for figure in figures(outcome)? {
        page.figure(
            &figure.svg,
            &format!("{}. {}", figure.title, figure.description),
        );
    }
    numbers(&mut page, outcome, &list);
    page.heading("What was put in");
    page.paragraph(&outcome.shows);
    inputs::write(&mut page, scenario);
    page.heading("How sure");
    page.paragraph(
        "Numerical error only: every number was computed twice, on two grids and tolerances. The tolerances of a \
         real part come on top and are much larger.",
    );
    page.facts(&sentences::sure(outcome));
    page.subheading("Not modelled");
    page.list(
        &outcome
            .not_modelled
            .iter()
            .map(|n| words::not_modelled(*n))
            .collect::<Vec<_>>(),
    );
    page.subheading("Sources of the data used");
    page.list(&outcome.citations);
    page.heading("Cautions");
    page.list(&at(
        &list,
        &[
            Place::Top,
            Place::Measuring,
            Place::BeforeWaits,
            Place::BesideWaits,
            Place::End,
        ],
    ));
    page.note(&format!(
        "Computed by relatch {}; the same scenario and version give the same report, byte for byte.",
        outcome.version
    ));
    Ok(page.finish())
}

fn subtitle(outcome: &Outcome) -> String {
    let part = &outcome.part;
    format!(
        "{} A {}, {}; air {} °C, rating stated for {} °C",
        plain(part.rated_current_a),
        words::mechanism(part.mechanism),
        words::resets(part.reset),
        plain(part.ambient_c),
        plain(part.reference_ambient_c),
    )
}

/// The cautions of these places, in this order.
fn at<'c>(list: &'c [Caution], places: &[Place]) -> Vec<&'c str> {
    places
        .iter()
        .flat_map(|place| list.iter().filter(move |c| c.place == *place))
        .map(|c| c.text.as_str())
        .collect()
}

fn answers(page: &mut Page, outcome: &Outcome, list: &[Caution]) {
    page.heading("Answers");
    page.callout(Callout::Answer, "Does it trip?", &sentences::trip(outcome));
    page.callout(
        Callout::Caution,
        "Before the wait is over",
        &at(list, &[Place::BeforeWaits, Place::BesideWaits]),
    );
    let waits: Vec<String> = sentences::waits(outcome)
        .into_iter()
        .map(|(name, value)| format!("{name}: {value}"))
        .collect();
    page.callout(
        Callout::Answer,
        "How long to wait, counted from open contacts?",
        &waits,
    );
    page.callout(
        Callout::Answer,
        "What does lost spring preload do?",
        &sentences::preload(outcome),
    );
}

fn numbers(page: &mut Page, outcome: &Outcome, list: &[Caution]) {
    page.heading("Tables");
    page.table(&tables::premature(outcome));
    page.table(&tables::preload(outcome));
    page.table(&tables::ambient(outcome));
    page.table(&tables::states(outcome));
    let curve = tables::characteristic(outcome);
    if !curve.is_empty() {
        page.callout(
            Callout::Caution,
            "Before a trip is tested",
            &at(list, &[Place::Testing, Place::Measuring]),
        );
        page.table(&curve);
        page.table(&tables::limits(outcome));
    }
}
