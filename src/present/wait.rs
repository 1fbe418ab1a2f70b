//! How long to wait, from a nameplate: the answer first, in one line, for the person at the
//! machine.

use super::block::{Block, Table};
use super::cautions::Caution;
use super::number::{celsius, duration, plain};
use super::run::cautions_at;
use super::{json, words};
use crate::answer::Place;
use crate::family::{Assumed, Early, Spread, WaitAnswer};
use crate::present::language::recorded;

/// The wait in one line, with the cautions that concern it and what else changes it.
pub fn wait_blocks(answer: &WaitAnswer) -> Vec<Block> {
    let at = |places: &[Place]| {
        let here = answer
            .cautions
            .iter()
            .filter(|c| places.contains(&c.place()));
        let said: Vec<&str> = here.map(|c| words::caution_brief(*c)).collect();
        let place = places.first().copied().unwrap_or(Place::End);
        Block::cautions(place, Some(said.join(" ")).filter(|s| !s.is_empty()))
    };
    let mut blocks = vec![
        title(answer),
        at(&[Place::Top]),
        at(&[Place::BeforeWaits]),
        Block::answer(
            word!("How long to wait?  (counted from open contacts)"),
            [Block::sentence(words::wait_headline(answer))],
        ),
    ];
    blocks.push(at(&[Place::BesideWaits]));
    blocks.extend(words::wait_shares(answer).into_iter().map(Block::sentence));
    // Where nothing is to be reset, nothing else is of use, nor what to type so that more is answered.
    let is_open = words::no_reset(answer).is_none();
    let left_out = answer.not_modelled.iter().filter(|_| is_open);
    blocks.extend(left_out.map(|l| Block::sentence(words::left_out(l))));
    // What the person who asks knows, and nobody else.
    let asked = |a: &&Assumed| {
        use Assumed::*;
        let of_place = matches!(a, InABoxOfItsOwn | AirAtThePart { .. } | DiscOnAMotor);
        of_place || matches!(a, SomePolesCarry { .. } | LoopedThroughAllPoles)
    };
    let assumed = answer.assumed.iter().filter(|_| is_open).filter(asked);
    let assumed = assumed.map(words::assumed);
    let assumed: Vec<String> = assumed.collect();
    if !assumed.is_empty() {
        blocks.push(Block::sentence(say!("Assumed: {}.", assumed.join("; "))));
    }
    blocks.push(at(&[Place::Measuring, Place::Testing, Place::End]));
    blocks.extend(hints(answer));
    blocks.push(Block::hint(word!(
        "Waits of few and of nearly all parts, a reset too early, all that was assumed: --full"
    )));
    blocks
}

/// What to type so that more is answered.
fn hints(answer: &WaitAnswer) -> impl Iterator<Item = Block> {
    let is_open = words::no_reset(answer).is_none();
    let on = is_open && answer.assumed.contains(&Assumed::InABoxOfItsOwn);
    let on = on.then(|| word!("On or in a motor, pump or compressor: --on motor"));
    let start = words::asks_no_start(answer)
        .then(|| word!("What it draws when it starts: --start \"60 A for 0.6 s\""));
    on.into_iter().chain(start).map(Block::hint)
}

fn title(answer: &WaitAnswer) -> Block {
    let title = say!(
        "{} A protector, {} A in air of {}",
        plain(answer.rated_current_a),
        plain(answer.load_a),
        celsius(Some(answer.ambient_c), 0)
    );
    let stated = celsius(Some(answer.reference_ambient_c), 0);
    Block::title(title, say!("rating stated for {stated}"; stated))
}

/// The same with waits of few and of nearly all parts, what a reset too early brings, what was
/// assumed.
pub fn wait_full_blocks(answer: &WaitAnswer) -> Vec<Block> {
    let cautions: Vec<Caution> = answer.cautions.iter().map(|c| (*c).into()).collect();
    let at = |places: &[Place]| cautions_at(&cautions, places);
    let mut blocks = vec![
        title(answer),
        at(&[Place::Top, Place::BeforeWaits]),
        Block::answer(
            word!("How long to wait?  (counted from open contacts)"),
            [Block::sentence(words::wait_headline(answer))],
        ),
        at(&[Place::BesideWaits]),
    ];
    let said = words::wait_shares(answer).into_iter();
    blocks.extend(said.map(Block::sentence));
    // A table of waits would say that one helps.
    let is_open = words::no_reset(answer).is_none();
    if is_open && answer.trip_s.is_some() {
        blocks.push(ranges(answer).into());
    }
    if is_open && !answer.early.is_empty() {
        blocks.push(too_early(&answer.early).into());
    }
    blocks.push(Block::heading(word!("Not modelled, assumed")));
    let left_out = answer.not_modelled.iter().map(words::left_out);
    let assumed = answer
        .assumed
        .iter()
        .map(|a| say!("Assumed: {}.", words::assumed(a)));
    let simulated = say!(
        "{} sound parts that this nameplate may stand for were simulated.",
        answer.parts
    );
    blocks.push(Block::list(left_out.chain(assumed).chain([simulated])));
    blocks.push(Block::heading(word!("Cautions")));
    blocks.push(at(&[Place::Measuring, Place::Testing, Place::End]));
    blocks.extend(hints(answer));
    blocks
}

/// Waits of few, half and nearly all of the parts.
fn ranges(answer: &WaitAnswer) -> Table {
    let trip = |of: fn(&Spread) -> f64| answer.trip_s.map_or(f64::NAN, |s| of(&s));
    let (reset, start) = (&answer.reset, &answer.start);
    let columns = [
        (
            word!("1 of 20"),
            trip(|s| s.low),
            reset.one_in_twenty,
            start.one_in_twenty,
        ),
        (word!("half"), trip(|s| s.median), reset.half, start.half),
        (
            word!("19 of 20"),
            trip(|s| s.high),
            reset.nineteen_of_twenty,
            start.nineteen_of_twenty,
        ),
    ];
    Table::new("")
        .across()
        .text(word!("Of such parts"), columns.map(|c| c.0))
        .numbers(
            word!("trip from cold by"),
            columns.map(|c| match c.1 == 0.0 {
                true => words::at_once().to_owned(),
                false => duration(c.1, 2),
            }),
        )
        .numbers(
            word!("can be reset by"),
            columns.map(|c| words::wait(&c.2, 2)),
        )
        .numbers(
            word!("can be started by"),
            columns.map(|c| words::wait(&c.3, 2)),
        )
}

fn too_early(early: &[Early]) -> Table {
    let share = |share: f64| format!("{:.0} %", 100.0 * share);
    let then = |e: &Early| match e.again_after_s {
        _ if e.latch_holds < 0.05 => word!("the latch does not hold yet").to_owned(),
        Some(again_s) if e.trips_again > 0.05 => {
            say!("trips again after about {}", duration(again_s, 2))
        }
        _ => word!("holds").to_owned(),
    };
    Table::new(word!("Reset too early, with the same load back on"))
        .numbers(
            word!("Reset after"),
            early.iter().map(|e| duration(e.wait_s, 2)),
        )
        .numbers(
            word!("Latch holds in"),
            early.iter().map(|e| share(e.latch_holds)),
        )
        .text(word!("and then"), early.iter().map(then))
}

/// The answer as JSON, with words beside its codes; see [`WaitAnswer`] for its `format`.
///
/// # Errors
/// When the record cannot be serialised.
pub fn wait_json(answer: &WaitAnswer) -> Result<String, serde_json::Error> {
    recorded(|| {
        let mut value = serde_json::to_value(answer)?;
        json::beside_answers(&mut value);
        json::beside_codes(&mut value, "cautions", &answer.cautions, |c| {
            words::caution(*c).into()
        });
        json::beside_codes(&mut value, "assumed", &answer.assumed, words::assumed);
        json::beside_codes(
            &mut value,
            "not_modelled",
            &answer.not_modelled,
            words::left_out,
        );
        value["text"] = words::wait_headline(answer).into();
        json::serialised(&value)
    })
}
