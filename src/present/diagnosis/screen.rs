//! The screen: may it be switched on, what is wrong, what to do now, why, what next, how long to
//! wait.

use super::parts;
use super::strongest::that_bear_most;
use crate::answer::{Caution, Place};
use crate::diagnose::{Diagnosis, Energise, Verdict};
use crate::evidence::Case;
use crate::family::Assumed;
use crate::present::block::{Block, Screen, terminal};
use crate::present::number::percent;
use crate::present::words;

/// What is read in ten seconds beside a stopped machine: lines of 80 columns, and words.
const LINES: usize = 32;
const WORDS: usize = 250;
/// What is shown.
#[derive(Debug, Clone, Copy)]
struct Room {
    /// Pieces of evidence.
    pieces: usize,
    /// What is said of the next measurement.
    next: Next,
    /// Entries that are probably wrong.
    doubts: usize,
    /// Logs that get a line of their own.
    logs: usize,
    /// Steps while the evidence is not enough.
    steps: usize,
    /// Causes that are named while none is told.
    causes: usize,
    /// Whether it is said in full what a better entry would have been.
    is_asked: bool,
    /// Whether evidence goes without its name where that is long, and what is doubted without what
    /// follows.
    is_terse: bool,
}

/// How much is said of the next measurement: nothing without what its results change, unless it is
/// the only way on.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Next {
    How,
    Results,
    Name,
    Nothing,
}

/// What gives way, in its order, where the screen has no room: the strongest piece of evidence
/// never does, and how much of a log was read hardly ever.
const LEVELS: [Room; 18] = {
    const ALL: Room = Room {
        pieces: 3,
        next: Next::How,
        doubts: 2,
        logs: 2,
        steps: 5,
        causes: 3,
        is_asked: true,
        is_terse: false,
    };
    const RESULTS: Room = Room {
        next: Next::Results,
        ..ALL
    };
    const TWO: Room = Room {
        pieces: 2,
        ..RESULTS
    };
    const TERSE: Room = Room {
        is_terse: true,
        logs: 1,
        doubts: 1,
        ..TWO
    };
    const ONE: Room = Room { pieces: 1, ..TERSE };
    const CURT: Room = Room {
        is_asked: false,
        next: Next::Nothing,
        ..TERSE
    };
    const LEAST: Room = Room { pieces: 1, ..CURT };
    [
        ALL,
        RESULTS,
        TWO,
        Room { logs: 1, ..TWO },
        TERSE,
        Room { steps: 4, ..TERSE },
        Room { pieces: 1, ..TWO },
        ONE,
        Room {
            next: Next::Name,
            ..ONE
        },
        CURT,
        Room { steps: 4, ..CURT },
        Room { causes: 2, ..LEAST },
        Room {
            steps: 4,
            causes: 2,
            ..LEAST
        },
        Room {
            steps: 3,
            causes: 2,
            ..LEAST
        },
        Room {
            steps: 2,
            causes: 2,
            ..LEAST
        },
        Room {
            steps: 2,
            causes: 1,
            logs: 0,
            ..LEAST
        },
        Room {
            steps: 1,
            causes: 1,
            logs: 0,
            ..LEAST
        },
        Room {
            steps: 1,
            causes: 0,
            doubts: 0,
            logs: 0,
            ..LEAST
        },
    ]
};
/// Results of the next measurement.
const RESULTS: usize = 2;

/// What a technician reads in ten seconds: as much of the evidence as has room beside what is to be
/// done. Each caution stands where it is needed, once and tersely. What is left out stands in
/// [`diagnosis_full_blocks`](super::diagnosis_full_blocks), and the last line says so.
pub fn diagnosis_blocks(diagnosis: &Diagnosis, case: &Case) -> Vec<Block> {
    let mut all = LEVELS.iter().map(|level| screen(diagnosis, case, *level));
    let least = || screen(diagnosis, case, LEVELS[LEVELS.len() - 1]);
    all.find(|blocks| fits(blocks)).unwrap_or_else(least)
}

fn fits(blocks: &[Block]) -> bool {
    let text = terminal(blocks, Screen::new(80, false));
    text.lines().count() <= LINES && text.split_whitespace().count() <= WORDS
}

fn screen(diagnosis: &Diagnosis, case: &Case, room: Room) -> Vec<Block> {
    let mut blocks = vec![parts::title(diagnosis)];
    blocks.extend(parts::lateness(diagnosis));
    blocks.push(Block::brief(
        word!("May it be switched on again?"),
        [Block::sentence(words::energise_text(diagnosis))],
    ));
    blocks.push(cautions(diagnosis, &[Place::Top]));
    blocks.push(verdict(diagnosis, room.causes));
    let steps = words::steps(diagnosis, room.steps);
    let left = words::steps(diagnosis, usize::MAX).len() - steps.len();
    blocks.push(Block::brief(
        word!("What to do now?"),
        [
            Block::sentence(words::in_order(diagnosis)),
            Block::steps(steps),
        ],
    ));
    blocks.push(why(diagnosis, case, room));
    let asked = |a: &&Assumed| {
        matches!(
            a,
            Assumed::CoarseDigit { .. }
                | Assumed::LoopedThroughAllPoles
                | Assumed::LogAirAnywhere { .. }
                | Assumed::ItTrips
        )
    };
    let asked = diagnosis.assumed.iter().filter(asked);
    let said = match room.is_asked {
        true => words::assumed,
        false => words::assumed_brief,
    };
    blocks.extend(asked.map(|a| Block::note(format!("{}.", said(a)))));
    blocks.extend(next(diagnosis, room.next));
    blocks.push(cautions(diagnosis, &[Place::Measuring, Place::Testing]));
    let wait = match diagnosis.energise {
        Energise::Yes => parts::waits(diagnosis),
        // Numbers would invite to try.
        _ => word!("Do not reset now.").to_owned(),
    };
    blocks.push(Block::brief(
        word!("Wait after a trip?"),
        [Block::sentence(wait)],
    ));
    blocks.push(cautions(
        diagnosis,
        &[Place::BeforeWaits, Place::BesideWaits, Place::End],
    ));
    let more = match left {
        0 => String::new(),
        left => say!(" Further steps: {left}."; left),
    };
    blocks.push(Block::hint(say!(
        "relatch {}, seed {}.{more} In full: --full",
        diagnosis.version,
        diagnosis.seed
    ; more)));
    blocks
}

/// The cautions of some places; where no wait is given, what cools slower than the protector is no
/// matter.
fn cautions(diagnosis: &Diagnosis, places: &[Place]) -> Block {
    let waits = diagnosis.energise == Energise::Yes;
    parts::cautions(diagnosis, places, |caution| match caution {
        Caution::WindingCoolsLonger if !waits => "",
        caution => words::caution_brief(caution),
    })
}

fn verdict(diagnosis: &Diagnosis, causes: usize) -> Block {
    let since = words::since_mended(&diagnosis.mended, diagnosis.since_mended.as_ref());
    let mut inside = vec![
        Block::sentence(parts::verdict(diagnosis)),
        Block::sentence(since),
    ];
    // Elsewhere the steps say the rest.
    if diagnosis.verdict == Verdict::NotEnoughEvidence && diagnosis.is_late_or_misread() {
        inside.push(Block::sentence(words::late_or_misread()));
    } else if diagnosis.verdict == Verdict::NotEnoughEvidence && causes > 0 {
        let (told, _) = parts::causes(diagnosis, words::cause_short);
        let told = told.iter().take(causes);
        let told: Vec<String> = told
            .map(|(name, p)| format!("{name} {}", percent(*p)))
            .collect();
        inside.push(Block::sentence(say!(
            "Most likely so far: {}.",
            told.join(", ")
        )));
    }
    Block::brief(word!("What is wrong?"), inside)
}

fn why(diagnosis: &Diagnosis, case: &Case, room: Room) -> Block {
    let shown = that_bear_most(diagnosis, room.pieces, |_| 1);
    let first = match (shown.len(), diagnosis.evidence.len()) {
        (_, 0) => word!("Nothing but the nameplate is known.").to_owned(),
        (shown, all) if shown < all => say!("({shown} of {all} pieces)"; shown, all),
        _ => String::new(),
    };
    let logs = case.logs.iter().take(room.logs);
    let doubts = parts::doubts(diagnosis, room.is_terse);
    Block::brief(
        word!("Why?"),
        [
            Block::sentence(first),
            Block::list(
                shown
                    .iter()
                    .map(|(_, e)| words::evidence_brief(e, room.is_terse)),
            ),
            Block::list(logs.map(|log| say!("Log {}", words::log_line(log)))),
            Block::cautions(Place::Testing, doubts.take(room.doubts)),
        ],
    )
}

/// The next measurement, where the steps do not say it and something may be measured at all.
fn next(diagnosis: &Diagnosis, said: Next) -> Option<Block> {
    let question = word!("What to measure next?");
    let is_open = diagnosis.verdict == Verdict::NotEnoughEvidence;
    let is_said = match said {
        Next::How | Next::Results => true,
        Next::Name => is_open,
        Next::Nothing => false,
    };
    let is_told = diagnosis.plan.is_empty() && is_said;
    if !is_told || matches!(diagnosis.energise, Energise::No { .. }) {
        return None;
    }
    let best = diagnosis.next.first()?;
    let what = words::measurement(best.measurement);
    let results = best.results.iter().filter(|_| said != Next::Name);
    let results = results.take(RESULTS);
    let results = results.map(|r| words::result(best.measurement, r));
    let how = Some(words::how(best.measurement)).filter(|_| said == Next::How);
    let mut inside = vec![Block::sentence(format!(
        "{what} ({}).",
        words::effort(best)
    ))];
    inside.extend(how.map(Block::sentence));
    inside.push(Block::list(results));
    Some(Block::brief(question, inside))
}
