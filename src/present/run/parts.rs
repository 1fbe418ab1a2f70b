//! What screen and report share beside their tables.

use super::tables;
use crate::answer::Place;
use crate::predict::{Event, Outcome};
use crate::present::block::Block;
use crate::present::cautions::Caution;
use crate::present::number::{duration, plain};
use crate::present::{sentences, words};

/// Sources that take more than this many characters are counted, not listed.
const MOST_SOURCES: usize = 200;
/// Most events that are told in a line.
const MOST_EVENTS: usize = 16;

/// The scenario, and the part in a line.
pub(in crate::present) fn head(outcome: &Outcome) -> Block {
    let part = &outcome.part;
    let below = say!(
        "{}; air {} °C, rating stated for {} °C; relatch {}{}",
        words::part_line(part.rated_current_a, part.mechanism, part.reset),
        match part.ambient_range_c {
            Some([low, high]) => say!("{} to {}", plain(low), plain(high)),
            None => plain(part.ambient_c),
        },
        plain(part.reference_ambient_c),
        outcome.version,
        words::changed(&outcome.changed)
    );
    Block::title(&outcome.scenario, below)
}

/// The cautions of these places, in this order.
pub(in crate::present) fn cautions_at(list: &[Caution], places: &[Place]) -> Block {
    let first = places.first().copied().unwrap_or(Place::End);
    let said = places
        .iter()
        .flat_map(|place| list.iter().filter(move |c| c.place == *place));
    Block::cautions(first, said.map(|c| c.text.as_str()))
}

/// The three answers: does it trip and when, how long to wait, what lost preload does.
pub(in crate::present) fn answers(outcome: &Outcome, list: &[Caution]) -> [Block; 3] {
    let first = outcome.magnetic.iter().map(words::first_to_act);
    let trip = first.chain(sentences::trip(outcome)).map(Block::sentence);
    let strip_only = outcome.magnetic.iter();
    let strip_only = strip_only.map(|_| Block::sentence(words::waits_are_the_strips()));
    let waits = [
        cautions_at(list, &[Place::BeforeWaits]),
        Block::facts(sentences::waits(outcome)),
        tables::premature(outcome).into(),
        cautions_at(list, &[Place::BesideWaits]),
    ];
    let preload = [
        Block::sentence(sentences::preload(outcome).join(" ")),
        tables::preload(outcome).into(),
    ];
    [
        Block::answer(word!("1  Does it trip?"), trip),
        Block::answer(
            word!("2  How long to wait?  (counted from open contacts)"),
            strip_only.chain(waits),
        ),
        Block::answer(word!("3  What does lost spring preload do?"), preload),
    ]
}

/// How wrong the numbers may be, and what is behind them.
pub(super) fn sure(outcome: &Outcome) -> Vec<(&'static str, String)> {
    let mut list = sentences::sure(outcome, false);
    let all = outcome.citations.join("; ");
    if !all.is_empty() {
        let is_short = all.chars().count() <= MOST_SOURCES;
        let count = || {
            say!(
                "{}, listed under `citations` in result.json",
                outcome.citations.len()
            )
        };
        list.push((
            word!("Sources"),
            if is_short { all.clone() } else { count() },
        ));
    }
    if !outcome.not_modelled.is_empty() {
        let left_out = outcome.not_modelled.iter().map(|n| words::not_modelled(*n));
        list.push((
            word!("Not modelled"),
            left_out.collect::<Vec<_>>().join("; "),
        ));
    }
    list
}

/// What happened to a part that is reset by hand, where there is more to tell than one trip and its
/// wait. Contacts that open milliseconds after a release are not told again.
pub(super) fn happened(outcome: &Outcome) -> Option<(&'static str, String)> {
    let count = |wanted: &[Event]| {
        outcome
            .events
            .iter()
            .filter(|e| wanted.contains(&e.event))
            .count()
    };
    let resets = [Event::Reset, Event::AlreadyClosed, Event::ResetRefused];
    if outcome.part.resets_itself() || count(&[Event::Release]) < 2 && count(&resets) == 0 {
        return None;
    }
    let told = outcome
        .events
        .iter()
        .filter(|e| e.event != Event::ContactsOpen);
    let all: Vec<String> = told
        .map(|e| format!("{} {}", duration(e.time_s, 4), words::event(e.event)))
        .collect();
    let mut text = all[..all.len().min(MOST_EVENTS)].join("; ");
    if all.len() > MOST_EVENTS {
        text += word!("; more under `events` in result.json");
    }
    Some((word!("What happened"), text))
}
