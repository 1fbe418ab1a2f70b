//! What screen, full text and work order have in common.

use crate::answer::{Caution, Place};
use crate::diagnose::{Cause, CauseShare, Diagnosis, Energise, Verdict};
use crate::present::block::Block;
use crate::present::number::{between, percent, plain};
use crate::present::words;

/// The title of a case with its part; flags alone have none.
pub(super) fn title(diagnosis: &Diagnosis) -> Block {
    match words::is_of_flags(&diagnosis.case) {
        true => Block::title(about(diagnosis), ""),
        false => Block::title(words::case_title(&diagnosis.case), about(diagnosis)),
    }
}

/// The machine and the part in a line.
pub(super) fn about(diagnosis: &Diagnosis) -> String {
    let part = say!(
        "{} A protector, rating stated for {} °C",
        plain(diagnosis.rated_current_a),
        plain(diagnosis.reference_ambient_c)
    );
    match diagnosis.equipment.trim() {
        "" => part,
        machine => format!("{machine} | {part}"),
    }
}

/// The cautions of these places in one paragraph, in the words of `say`.
pub(super) fn cautions(
    diagnosis: &Diagnosis,
    places: &[Place],
    say: impl Fn(Caution) -> &'static str,
) -> Block {
    let said: Vec<&str> = diagnosis
        .cautions
        .iter()
        .filter(|c| places.contains(&c.place()))
        .map(|c| say(*c))
        .filter(|said| !said.is_empty())
        .collect();
    let place = places.first().copied().unwrap_or(Place::End);
    let said = said.join(" ");
    Block::cautions(place, Some(said).filter(|s| !s.is_empty()))
}

/// The loudest line, if there is one.
pub(super) fn lateness(diagnosis: &Diagnosis) -> Option<Block> {
    words::lateness(diagnosis).map(|text| Block::cautions(Place::Top, [text]))
}

/// The verdict and how sure that is, in capitals.
pub(super) fn verdict(diagnosis: &Diagnosis) -> String {
    let name = match diagnosis.verdict {
        _ if diagnosis.is_mended => words::it_was(diagnosis),
        Verdict::FindTheLoad if diagnosis.has_lost_a_phase() => {
            words::cause(Cause::LostPhase).into()
        }
        Verdict::CoolOrReRate if diagnosis.rating_is_wrong() => words::wrong_rating(diagnosis),
        verdict => words::verdict(verdict).to_owned(),
    };
    let name = name.to_uppercase();
    match (diagnosis.verdict, &diagnosis.energise) {
        // What an entry alone says has no probability.
        (Verdict::NotEnoughEvidence, _) | (Verdict::ReMakeTheConnection, Energise::No { .. }) => {
            name
        }
        _ => say!("{name} ({} sure)", percent(diagnosis.confidence); name),
    }
}

/// Causes that are worth a bar, and the names of those below one percent.
pub(super) fn causes(
    diagnosis: &Diagnosis,
    say: fn(Cause) -> &'static str,
) -> (Vec<(String, f64)>, Vec<&'static str>) {
    let (told, below): (Vec<&CauseShare>, Vec<&CauseShare>) =
        diagnosis.causes.iter().partition(|c| c.probability >= 0.01);
    let told = told
        .iter()
        .map(|c| (say(c.cause).to_owned(), c.probability));
    let below = below.iter().map(|c| words::cause_short(c.cause));
    (told.collect(), below.collect())
}

/// Entries that are probably wrong, and those that do not go together.
pub(super) fn doubts(diagnosis: &Diagnosis, is_terse: bool) -> impl Iterator<Item = String> {
    let misfits = diagnosis.does_not_fit.iter();
    let wrong = misfits.map(move |m| words::misfit(m, is_terse));
    let apart = diagnosis.contradictions.iter();
    wrong.chain(apart.map(move |c| words::contradiction(c, is_terse)))
}

/// The causes with their bars, and those below one percent in words.
pub(super) fn shares(diagnosis: &Diagnosis) -> impl Iterator<Item = Block> {
    let (told, below) = causes(diagnosis, words::cause);
    let below = Some(below).filter(|b| !b.is_empty());
    let below = below.map(|b| Block::note(say!("Below 1 %: {}.", words::list(&b))));
    std::iter::once(Block::Shares(told)).chain(below)
}

/// What a rule of thumb alone would say.
pub(super) fn rule_of_thumb(diagnosis: &Diagnosis) -> Block {
    Block::note(say!(
        "A rule of thumb that knows meter and rating alone: {}",
        words::base_rule(&diagnosis.base_rule, diagnosis.rated_current_a)
    ))
}

/// The state of the part and its place in a line; `None` where nothing is known.
pub(super) fn state(diagnosis: &Diagnosis) -> Option<Block> {
    let state = &diagnosis.state;
    let items = [
        (word!("trips from"), &state.trip_point_now_a, "A", 1.0),
        (word!("preload lost"), &state.preload_loss, "%", 100.0),
        (
            word!("air at the part"),
            &state.air_at_the_part_c,
            "°C",
            1.0,
        ),
    ];
    let told: Vec<String> = items
        .iter()
        .filter_map(|(name, range, unit, factor)| {
            between(range, unit, *factor).map(|range| format!("{name} {range}"))
        })
        .collect();
    let seems = || Block::note(say!("As it now seems: {}.", told.join("; ")));
    (!told.is_empty()).then(seems)
}

/// Waits, behind a warning where it may not be switched on.
pub(super) fn waits(diagnosis: &Diagnosis) -> String {
    let told = diagnosis.waits.as_ref().map(words::waits);
    match (&diagnosis.energise, told) {
        (Energise::Yes, Some(told)) => told,
        (Energise::Yes, None) => word!("No number: it does not trip as far as is known.").into(),
        (_, Some(told)) => {
            say!("Do not reset now. These count when it is mended and released: {told}"; told)
        }
        (_, None) => word!("No number: do not reset.").into(),
    }
}
