//! A diagnosis with everything that a person at the machine may want to read.

use super::known::facts;
use super::parts::{self, about};
use crate::answer::Place;
use crate::diagnose::Diagnosis;
use crate::evidence::Case;
use crate::present::block::Block;
use crate::present::words;

/// Measurements that are told.
const NEXT: usize = 3;

/// May it be switched on, what is wrong and how sure that is, what to do now, why, what to measure
/// next, how long to wait; then what it rests on.
pub fn diagnosis_full_blocks(diagnosis: &Diagnosis, case: &Case) -> Vec<Block> {
    let mut blocks = vec![Block::title(
        words::case_title(&diagnosis.case),
        about(diagnosis),
    )];
    blocks.extend(parts::lateness(diagnosis));
    blocks.push(Block::answer(
        word!("May it be switched on again?"),
        [Block::sentence(words::energise_text(diagnosis))],
    ));
    blocks.push(cautions(diagnosis, &[Place::Top]));
    blocks.push(Block::answer(
        word!("What is wrong?"),
        [
            Block::sentence(parts::verdict(diagnosis)),
            Block::sentence(words::verdict_text(diagnosis)),
        ],
    ));
    blocks.push(Block::note(word!("Causes can come together:")));
    blocks.extend(parts::shares(diagnosis));
    blocks.push(parts::rule_of_thumb(diagnosis));
    blocks.push(Block::heading(word!("What to do now?")));
    blocks.push(Block::sentence(words::in_order(diagnosis)));
    blocks.push(Block::steps(words::steps(diagnosis, usize::MAX)));
    blocks.push(Block::heading(word!("Why?")));
    blocks.push(Block::list(diagnosis.evidence.iter().map(words::evidence)));
    blocks.push(Block::warnings(parts::doubts(diagnosis, false)));
    blocks.extend(parts::state(diagnosis));
    next(&mut blocks, diagnosis);
    blocks.push(Block::answer(
        word!("How long to wait after a trip?"),
        [Block::sentence(parts::waits(diagnosis))],
    ));
    blocks.push(cautions(
        diagnosis,
        &[Place::BeforeWaits, Place::BesideWaits],
    ));
    what_else(&mut blocks, diagnosis, case);
    blocks.push(cautions(diagnosis, &[Place::End]));
    blocks.push(Block::note(say!(
        "relatch {}, seed {}. {}.",
        diagnosis.version,
        diagnosis.seed,
        words::computed(&diagnosis.computed, diagnosis.seed)
    )));
    blocks
}

fn cautions(diagnosis: &Diagnosis, places: &[Place]) -> Block {
    parts::cautions(diagnosis, places, words::caution_short)
}

fn next(blocks: &mut Vec<Block>, diagnosis: &Diagnosis) {
    blocks.push(Block::heading(word!("What to measure next?")));
    blocks.push(cautions(diagnosis, &[Place::Measuring, Place::Testing]));
    if diagnosis.next.is_empty() {
        blocks.push(Block::sentence(word!(
            "Nothing more would change what to do."
        )));
    }
    for (k, next) in diagnosis.next.iter().take(NEXT).enumerate() {
        blocks.push(Block::sentence(format!(
            "{}. {} ({}). {}",
            k + 1,
            words::measurement(next.measurement),
            words::effort(next),
            words::how(next.measurement)
        )));
        let results = next.results.iter();
        blocks.push(Block::list(
            results.map(|r| words::result(next.measurement, r)),
        ));
    }
}

/// What would have been otherwise, what is open, what it rests on.
fn what_else(blocks: &mut Vec<Block>, diagnosis: &Diagnosis, case: &Case) {
    let mut listed = |heading: &str, points: Vec<String>| {
        if !points.is_empty() {
            blocks.push(Block::heading(heading));
            blocks.push(Block::list(points));
        }
    };
    let otherwise = diagnosis.otherwise.iter();
    listed(
        word!("What would have happened otherwise"),
        otherwise.map(|o| words::otherwise(o, diagnosis)).collect(),
    );
    let proofs = words::proved_wrong_by(diagnosis).into_iter();
    listed(
        word!("What would prove it wrong"),
        proofs.map(str::to_owned).collect(),
    );
    let open = diagnosis.still_open.iter().map(|o| words::still_open(*o));
    let alike = diagnosis
        .cannot_tell_apart
        .iter()
        .map(|a| words::alike(*a).to_owned());
    let left_out = diagnosis.not_modelled.iter().map(words::left_out);
    listed(
        word!("What stays open"),
        open.chain(alike).chain(left_out).collect(),
    );
    listed(word!("Known of the part and its history"), facts(case));
    listed(
        word!("Assumed, because nothing was said"),
        diagnosis.assumed.iter().map(words::assumed).collect(),
    );
}
