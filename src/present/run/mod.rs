//! A prediction as blocks: the three answers first, then why, then how sure. The screen of a run,
//! that of a curve and the report are lists of the same parts.

mod dial;
mod magnetic;
mod parts;
mod poles;
mod tables;

pub(super) use magnetic::magnetic;
pub(super) use parts::{answers, cautions_at, head};
pub(super) use tables::{ambient, characteristic, states};

pub(super) use dial::blocks as dial;
pub(super) use poles::blocks as poles;

use super::block::Block;
use super::cautions::{Caution, cautions};
use super::language::worded;
use super::number::plain;
use super::{limits as published, sentences, words};
use crate::answer::Place;
use crate::predict::{Characteristic, Outcome};

/// What a person reads after a run. Times and currents carry as many digits as their error leaves
/// standing; where there is no number the reason stands instead.
pub fn run_blocks(outcome: &Outcome) -> Vec<Block> {
    let list = cautions(outcome);
    let mut blocks = vec![head(outcome), cautions_at(&list, &[Place::Top])];
    blocks.extend(answers(outcome, &list));
    blocks.extend(poles(outcome));
    blocks.extend(dial(outcome));
    blocks.extend(cycling(outcome));
    blocks.extend(behind(outcome, &list));
    blocks
}

/// What a part that closes by itself does while the fault stays.
pub(super) fn cycling(outcome: &Outcome) -> Option<Block> {
    let inside = Block::sentence(words::cycling(outcome.cycling.as_ref()?));
    Some(Block::answer(
        word!("And if nobody switches it off?"),
        vec![inside],
    ))
}

/// What is behind the answers: why, how sure, warnings and the other cautions.
pub(super) fn behind(outcome: &Outcome, list: &[Caution]) -> Vec<Block> {
    let mut why = sentences::why(outcome);
    why.extend(parts::happened(outcome));
    let mut blocks = magnetic(outcome);
    blocks.extend([
        Block::heading(word!("Why")),
        Block::facts(why),
        states(outcome).into(),
        ambient(outcome).into(),
        Block::heading(word!("How sure  (tolerances of a real part come on top)")),
        Block::facts(parts::sure(outcome)),
        Block::warnings(outcome.warnings.iter().map(words::warning)),
        Block::heading(word!("Cautions")),
        cautions_at(list, &[Place::Measuring, Place::End]),
    ]);
    blocks
}

/// Trip time against current, cold and hot, and the published limits; the reason when there is no
/// characteristic.
pub fn curve_blocks(outcome: &Outcome) -> Vec<Block> {
    let list = cautions(outcome);
    let mut blocks = vec![
        head(outcome),
        cautions_at(&list, &[Place::Top, Place::Testing]),
    ];
    match &outcome.characteristic {
        Some(found) => blocks.extend(curve(found, outcome.magnetic.is_some())),
        None => blocks.push(Block::heading(word!(
            "The time-current characteristic was not computed."
        ))),
    }
    blocks.extend(magnetic(outcome));
    blocks.extend(
        outcome
            .poles
            .iter()
            .map(|found| poles::curves(found).into()),
    );
    blocks.push(Block::heading(word!("Cautions")));
    blocks.push(cautions_at(&list, &[Place::End]));
    blocks
}

fn curve(found: &Characteristic, is_strip_only: bool) -> Vec<Block> {
    let air = plain(found.ambient_c);
    let heading = match is_strip_only {
        true => say!("Time to trip of the strip alone in air of {air} °C"; air),
        false => say!("Time to trip in air of {air} °C"; air),
    };
    let mut blocks = vec![Block::heading(heading), characteristic(found, "").into()];
    let no_hot = words::no_hot_curve(found).map(|reason| say!("No hot curve: {reason}"; reason));
    blocks.extend(
        no_hot
            .into_iter()
            .chain(tables::missing(found))
            .map(Block::sentence),
    );
    let held = words::held(&found.trip_point, 4);
    blocks.push(Block::sentence(match words::held_why(&found.trip_point) {
        None => say!("Held for ever: up to {held}."; held),
        Some(why) => say!("Held for ever: {held}; {why}."; held, why),
    }));
    if !found.limits.is_empty() {
        let source = published::shared_source(&found.limits);
        let words = found
            .limits
            .iter()
            .map(|limit| published::verdict(limit, source.is_some()));
        blocks.push(Block::heading(word!("Against published limits")));
        blocks.push(Block::list(words));
        let source = source.map(worded);
        blocks.extend(source.map(|source| Block::sentence(say!("Source: {source}"; source))));
    }
    blocks
}
