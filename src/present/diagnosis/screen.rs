//! The screen: may it be switched on, what is wrong, what to do now, why, what next, how long to wait.

use super::parts::{self, about};
use super::strongest::that_bear_most;
use crate::answer::Place;
use crate::diagnose::{Cause, Diagnosis, Energise, Verdict};
use crate::evidence::Case;
use crate::present::block::Block;
use crate::present::number::percent;
use crate::present::words;

/// Pieces of evidence on the screen, without a plan and with one.
const PIECES: [usize; 2] = [3, 2];
/// Causes that are named.
const CAUSES: usize = 3;
/// Results of the next measurement.
const RESULTS: usize = 2;
/// Logs that get a line of their own.
const LOGS: usize = 2;

/// What a technician reads in ten seconds. Each caution stands where it is needed, once and tersely. What is left out
/// stands in [`diagnosis_full_blocks`](super::diagnosis_full_blocks), and the last line says so.
pub fn diagnosis_blocks(diagnosis: &Diagnosis, case: &Case) -> Vec<Block> {
    let mut blocks = vec![Block::title(diagnosis.case.trim(), about(diagnosis))];
    let logs = case.logs.iter().take(LOGS);
    blocks.extend(logs.map(|log| Block::note(format!("Log {}", words::log_line(log)))));
    blocks.extend(parts::lateness(diagnosis));
    blocks.push(Block::brief(
        "May it be switched on again?",
        [Block::sentence(words::energise_text(&diagnosis.energise))],
    ));
    blocks.push(cautions(diagnosis, &[Place::Top]));
    blocks.push(verdict(diagnosis));
    blocks.push(Block::brief(
        "What to do now?",
        [Block::sentence(""), Block::steps(words::steps(diagnosis))],
    ));
    blocks.push(why(diagnosis));
    if diagnosis.plan.is_empty() {
        blocks.push(next(diagnosis));
    } else {
        blocks.push(cautions(diagnosis, &[Place::Measuring, Place::Testing]));
    }
    let wait = match diagnosis.energise {
        // Numbers would invite to try.
        Energise::No { .. } | Energise::NotYet { .. } => "Do not reset now.".to_owned(),
        Energise::Yes => parts::waits(diagnosis),
    };
    blocks.push(Block::brief(
        "How long to wait after a trip?",
        [Block::sentence(wait)],
    ));
    blocks.push(cautions(
        diagnosis,
        &[Place::BeforeWaits, Place::BesideWaits, Place::End],
    ));
    blocks.push(Block::note(format!(
        "relatch {}, seed {}. Everything in full: --full",
        diagnosis.version, diagnosis.seed
    )));
    blocks
}

fn cautions(diagnosis: &Diagnosis, places: &[Place]) -> Block {
    parts::cautions(diagnosis, places, words::caution_brief)
}

fn verdict(diagnosis: &Diagnosis) -> Block {
    let mut inside = vec![Block::sentence(parts::verdict(diagnosis))];
    // Elsewhere the steps say the rest.
    if diagnosis.verdict == Verdict::NotEnoughEvidence {
        inside.push(Block::sentence(words::verdict_text(diagnosis)));
    }
    // A fault is none of the causes that are weighed.
    let is_late = diagnosis.probability(Cause::WornLate) > 0.5;
    if is_late || !matches!(diagnosis.energise, Energise::No { .. }) {
        let (told, _) = parts::causes(diagnosis, words::cause_short);
        let told: Vec<String> = told
            .iter()
            .take(CAUSES)
            .map(|(name, probability)| format!("{name} {}", percent(*probability)))
            .collect();
        inside.push(Block::sentence(format!("Causes: {}.", told.join(", "))));
    }
    Block::brief("What is wrong?", inside)
}

fn why(diagnosis: &Diagnosis) -> Block {
    let pieces = PIECES[usize::from(!diagnosis.plan.is_empty())];
    let shown = that_bear_most(diagnosis, pieces, |_| 1);
    let first = match (shown.len(), diagnosis.evidence.len()) {
        (_, 0) => "Nothing but the nameplate is known.".to_owned(),
        (shown, all) if shown < all => format!("({shown} of {all} pieces)"),
        _ => String::new(),
    };
    Block::brief(
        "Why?",
        [
            Block::sentence(first),
            Block::list(shown.iter().map(|(_, e)| words::evidence(e))),
            Block::cautions(Place::Testing, parts::doubts(diagnosis).take(2)),
        ],
    )
}

fn next(diagnosis: &Diagnosis) -> Block {
    let question = "What to measure next?";
    let before = cautions(diagnosis, &[Place::Measuring, Place::Testing]);
    let Some(best) = diagnosis.next.first() else {
        let none = Block::sentence("Nothing more would change what to do.");
        return Block::brief(question, [none, before]);
    };
    let what = words::measurement(best.measurement);
    let results = best.results.iter().take(RESULTS);
    Block::brief(
        question,
        [
            Block::sentence(format!("{what} ({}).", words::effort(best))),
            Block::sentence(words::how(best.measurement)),
            Block::list(results.map(|r| words::result(best.measurement, r))),
            before,
        ],
    )
}
