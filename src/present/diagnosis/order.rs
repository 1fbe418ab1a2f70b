//! A diagnosis as a work order: one printed sheet, A4 or Letter, with what was found and lines to
//! fill in by hand.
//!
//! The sheet keeps its order: whether it may be switched on, the verdict, what to do, the evidence
//! that bears most on it, the next measurement, the figure, the new part, times before and after,
//! cautions. Nothing on it is cut: what has no room stands in the full text, and the sheet says so.

use super::forms;
use super::parts::{self, about};
use super::strongest::that_bear_most;
use crate::answer::Place;
use crate::diagnose::{Diagnosis, Energise};
use crate::evidence::Case;
use crate::present::block::{Block, html_page_with};
use crate::present::plot::diagnosis_figure;
use crate::present::words;

const STYLE: &str = include_str!("order.css");
/// Lines that the evidence may fill, and letters a line in half of the sheet, with room for wide
/// fonts.
const EVIDENCE_LINES: usize = 12;
const HALF: usize = 62;
/// Doubted entries that are told.
const DOUBTS: usize = 2;

/// The work order of a case as one self-contained HTML page, to be printed. No script, nothing
/// loaded from elsewhere; every text of the case is escaped.
pub fn work_order(diagnosis: &Diagnosis, case: &Case) -> String {
    let title = say!("Work order: {}", words::case_title(&diagnosis.case));
    let question = match diagnosis.energise {
        Energise::Yes => word!("1 May it be switched on again?"),
        _ => word!("1 May it be switched on again? STOP"),
    };
    let mut blocks = vec![
        Block::title(title, about(diagnosis)),
        Block::lines([
            word!("Order no."),
            word!("Machine tag / place"),
            word!("Date"),
        ]),
    ];
    blocks.extend(parts::lateness(diagnosis));
    blocks.extend([
        Block::answer(
            question,
            [
                Block::sentence(words::energise_text(diagnosis)),
                cautions(diagnosis, &[Place::Top]),
            ],
        ),
        Block::Pair(verdict(diagnosis), do_now(diagnosis)),
        Block::Pair(evidence(diagnosis), causes(diagnosis)),
        Block::Pair(next(diagnosis), figure(diagnosis)),
        Block::heading(word!("If the protector is replaced")),
        forms::replacement(case),
        Block::heading(word!("As found, as left, as new")),
        forms::times(case).into(),
        cautions(diagnosis, &[Place::End]),
        Block::note(say!(
            "relatch {}, seed {}. Every reason, assumption and caution stands in the full text.",
            diagnosis.version,
            diagnosis.seed
        )),
        Block::lines([
            word!("Done by, date"),
            word!("Released by, date"),
            word!("Look again on"),
        ]),
    ]);
    html_page_with(&blocks, STYLE)
}

fn cautions(diagnosis: &Diagnosis, places: &[Place]) -> Block {
    parts::cautions(diagnosis, places, words::caution_short)
}

/// The verdict, how sure, and what a rule of thumb alone would say.
fn verdict(diagnosis: &Diagnosis) -> Vec<Block> {
    vec![
        Block::heading(word!("2 What is wrong?")),
        Block::answer(
            parts::verdict(diagnosis),
            [Block::sentence(words::verdict_text(diagnosis))],
        ),
        parts::rule_of_thumb(diagnosis),
    ]
}

fn do_now(diagnosis: &Diagnosis) -> Vec<Block> {
    vec![
        Block::heading(word!("3 What to do now")),
        Block::sentence(words::in_order(diagnosis)),
        Block::steps(words::steps(diagnosis, usize::MAX)),
    ]
}

/// The evidence that bears most on the verdict, with its numbers in the figure, and entries that do
/// not fit.
fn evidence(diagnosis: &Diagnosis) -> Vec<Block> {
    let lines = |letters: usize| letters.div_ceil(HALF);
    let doubts: Vec<String> = parts::doubts(diagnosis, false).take(DOUBTS).collect();
    let taken: usize = doubts.iter().map(|d| lines(d.chars().count())).sum();
    let room = EVIDENCE_LINES.saturating_sub(taken);
    let told = that_bear_most(diagnosis, room, |e| {
        lines(words::evidence(e).chars().count() + 4)
    });
    let left = diagnosis.evidence.len() - told.len();
    let mut blocks = vec![
        Block::heading(word!("4 Evidence")),
        Block::warnings(doubts),
        Block::list(
            told.iter()
                .map(|(n, e)| format!("{n}. {}", words::evidence(e))),
        ),
    ];
    match (told.len(), left) {
        (0, 0) => blocks.push(Block::note(word!("None but the nameplate."))),
        (_, 0) => {}
        (_, left) => blocks.push(Block::note(say!("{left} more in the full text."; left))),
    }
    blocks
}

fn causes(diagnosis: &Diagnosis) -> Vec<Block> {
    let mut blocks = vec![Block::heading(word!("Causes (they can come together)"))];
    blocks.extend(parts::shares(diagnosis));
    blocks.extend(parts::state(diagnosis));
    blocks
}

/// The next measurement with its results to be ticked, and the waits.
fn next(diagnosis: &Diagnosis) -> Vec<Block> {
    let mut blocks = vec![
        Block::heading(word!("5 Next measurement")),
        cautions(diagnosis, &[Place::Measuring, Place::Testing]),
    ];
    match diagnosis.next.first().filter(|_| diagnosis.plan.is_empty()) {
        None if !diagnosis.plan.is_empty() => {
            blocks.push(Block::sentence(word!(
                "By the steps beside the verdict, in their order."
            )));
        }
        None => blocks.push(Block::sentence(word!(
            "None: nothing more would change what to do."
        ))),
        Some(best) => {
            let what = words::measurement(best.measurement);
            blocks.push(Block::sentence(format!(
                "{what} ({}). {}",
                words::effort(best),
                words::how(best.measurement)
            )));
            let results = best.results.iter();
            let ticked = results.map(|r| format!("☐ {}", words::result(best.measurement, r)));
            blocks.push(Block::list(ticked));
        }
    }
    blocks.extend([
        Block::heading(word!("Waits after a trip")),
        Block::sentence(parts::waits(diagnosis)),
        cautions(diagnosis, &[Place::BeforeWaits, Place::BesideWaits]),
    ]);
    blocks
}

/// The readings on the characteristic.
fn figure(diagnosis: &Diagnosis) -> Vec<Block> {
    let drawn = match diagnosis_figure(diagnosis) {
        Some(figure) => Block::Figure(
            figure.svg,
            word!("Light, broken edges: 90 % of sound parts. Thick line: this part as it seems. Squares: trips, bars of 90 %, \
             numbered as the evidence; arrows: still closed. From cold, at the reference air.")
                .into(),
        ),
        None => Block::note(word!("No timed reading to draw.")),
    };
    vec![
        Block::heading(word!("6 Readings on the characteristic")),
        drawn,
    ]
}
