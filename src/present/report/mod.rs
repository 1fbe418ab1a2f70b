//! The report: one self-contained page with everything a run found, to be read, printed and kept.

mod inputs;
mod load_words;

use super::block::{Block, Table, html_page};
use super::cautions::{Caution, cautions};
use super::limits::verdict;
use super::number::{duration, plain};
use super::plot::figures;
use super::{run, sentences, words};
use crate::answer::{Caution as Which, Place};
use crate::predict::{Characteristic, Outcome};
use crate::scenario::Scenario;

/// Most events that are listed.
const MOST_EVENTS: usize = 60;

/// The report of `outcome`, which was predicted from `scenario`.
pub fn report_html(outcome: &Outcome, scenario: &Scenario) -> String {
    let list = cautions(outcome);
    let mut blocks = vec![
        run::head(outcome),
        energise(outcome, &list),
        Block::Contents,
        Block::heading(word!("Answers")),
    ];
    blocks.extend(run::answers(outcome, &list));
    blocks.extend(run::magnetic(outcome));
    blocks.extend(run::poles(outcome));
    blocks.extend(run::dial(outcome));
    blocks.extend(run::cycling(outcome));
    blocks.push(Block::warnings(outcome.warnings.iter().map(words::warning)));
    blocks.push(Block::heading(word!("Why")));
    blocks.push(Block::facts(sentences::why(outcome)));
    blocks.push(events(outcome).into());
    blocks.push(Block::heading(word!("Figures")));
    for figure in figures(outcome) {
        let caption = format!("{}. {}", figure.title, figure.description);
        blocks.push(Block::Figure(figure.svg, caption));
    }
    blocks.push(Block::heading(word!("Tables")));
    blocks.push(run::ambient(outcome).into());
    blocks.push(run::states(outcome).into());
    if let Some(found) = &outcome.characteristic {
        blocks.push(run::cautions_at(&list, &[Place::Testing, Place::Measuring]));
        blocks.push(run::characteristic(found, word!("Time to trip")).into());
        blocks.push(limits(found).into());
    }
    blocks.push(Block::heading(word!("What was put in")));
    blocks.push(Block::sentence(&outcome.shows));
    blocks.extend(inputs::blocks(scenario));
    blocks.extend(sure(outcome));
    blocks.push(Block::heading(word!("All cautions")));
    let places = [
        Place::Top,
        Place::Measuring,
        Place::BeforeWaits,
        Place::BesideWaits,
        Place::End,
    ];
    let all = places
        .iter()
        .flat_map(|place| list.iter().filter(move |c| c.place == *place));
    blocks.push(Block::list(all.map(|c| c.text.as_str())));
    blocks.push(Block::note(say!(
        "Computed by relatch {}; the same scenario and version give the same report, byte for byte.",
        outcome.version
    )));
    html_page(&blocks)
}

/// The first question of everyone who stands before the machine: what this page can say to it, and
/// the most urgent cautions.
fn energise(outcome: &Outcome, list: &[Caution]) -> Block {
    let is_late = crate::predict::cautions(outcome).contains(&Which::NotProtected);
    let below_rating = outcome
        .trip_point
        .multiple_of_rated()
        .is_some_and(|m| m < 1.0);
    let said = if is_late {
        word!("No.")
    } else if below_rating {
        word!(
            "Nothing here says so. As modelled, this part does not carry its own rating in this air: it will trip \
         although the load is in order."
        )
    } else {
        word!(
            "Nothing here says so: this page predicts a part as it was described, not the one before you. Find out why \
         it tripped first."
        )
    };
    let inside = [Block::sentence(said), run::cautions_at(list, &[Place::Top])];
    Block::answer(word!("May it be energised?"), inside)
}

fn sure(outcome: &Outcome) -> [Block; 7] {
    [
        Block::heading(word!("How sure")),
        Block::sentence(word!(
            "Numerical error only: every number was computed twice, on two grids and tolerances. The tolerances of a \
             real part come on top and are much larger."
        )),
        Block::facts(sentences::sure(outcome, true)),
        Block::subheading(word!("Not modelled")),
        Block::list(outcome.not_modelled.iter().map(|n| words::not_modelled(*n))),
        Block::subheading(word!("Sources of the data used")),
        Block::list(&outcome.citations),
    ]
}

/// What happened.
fn events(outcome: &Outcome) -> Table {
    let caption = match outcome.events.len() {
        ..=MOST_EVENTS => word!("What happened").to_owned(),
        count => {
            say!("What happened: the first {MOST_EVENTS} of {count} events"; MOST_EVENTS, count)
        }
    };
    let rows = outcome.events.iter().take(MOST_EVENTS);
    Table::of_text(
        caption,
        [word!("Time"), word!("Event")],
        rows.map(|e| [duration(e.time_s, 4), words::event_text(e.event).to_owned()]),
    )
}

/// Published limits.
fn limits(found: &Characteristic) -> Table {
    let rows = found.limits.iter().map(|limit| {
        let met = if limit.met { word!("yes") } else { word!("NO") };
        [
            plain(limit.demand.multiple),
            met.to_owned(),
            verdict(limit, false),
        ]
    });
    Table::of_text(
        word!("Published limits"),
        [word!("x rated"), word!("Met"), word!("In words")],
        rows,
    )
}
