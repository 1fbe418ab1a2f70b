//! What a dial does along its scale.

use super::super::block::{Block, Table};
use super::super::limits as published;
use super::super::words::{self, held, row_why, trip_time, wait};
use crate::answer::Place;
use crate::predict::{Dial, LimitCheck, Outcome};
use crate::present::number::{celsius, fixed, plain, significant};

/// The answer about a dial; nothing without one.
pub(in crate::present) fn blocks(outcome: &Outcome) -> Vec<Block> {
    let Some(dial) = &outcome.dial else {
        return Vec::new();
    };
    let mut inside = vec![Block::sentence(words::dial(dial)), marks(dial).into()];
    inside.extend(words::dial_span(dial).map(Block::sentence));
    inside.extend(words::dial_verdict(dial).map(Block::sentence));
    inside.push(Block::list(missed(dial)));
    let too_hot = words::dial_too_hot(dial);
    inside.push(Block::warnings(too_hot));
    inside.push(Block::cautions(
        Place::BesideWaits,
        [words::set_it_to_the_motor()],
    ));
    vec![Block::answer(word!("What does the dial do?"), inside)]
}

fn marks(dial: &Dial) -> Table {
    let rows = &dial.marks;
    let times = say!("Trips at {} x", plain(dial.timed_at));
    let table = Table::new(word!("Along the scale, cold, in the reference air"))
        .numbers(
            word!("Mark"),
            rows.iter()
                .map(|m| format!("{} A", significant(m.mark_a, 3))),
        )
        .numbers(
            word!("Clearance"),
            rows.iter().map(|m| format!("{} mm", fixed(m.travel_mm, 2))),
        )
        .numbers(
            word!("Trip point"),
            rows.iter().map(|m| held(&m.trip_point, 4)),
        )
        .numbers(times, rows.iter().map(|m| trip_time(&m.trip_time, 3)))
        .numbers(
            word!("Then wait"),
            rows.iter().map(|m| wait(&m.relatch_wait, 3)),
        )
        .numbers(
            word!("Strip"),
            rows.iter().map(|m| celsius(Some(m.strip_c), 0)),
        );
    let table = match rows.iter().any(|m| m.winding_c.is_some()) {
        true => table.numbers(
            word!("Winding"),
            rows.iter().map(|m| celsius(m.winding_c, 0)),
        ),
        false => table,
    };
    table.reasons(
        rows.iter()
            .map(|m| row_why(&m.trip_point, &m.trip_time, &m.relatch_wait)),
    )
}

/// Rows that an end of the scale misses.
fn missed(dial: &Dial) -> Vec<String> {
    let at = |mark_a: f64, limit: &LimitCheck| {
        say!(
            "at {} A: {}",
            plain(mark_a),
            published::verdict(limit, true)
        )
    };
    let ends = dial.ends();
    ends.flat_map(|end| {
        let missed = end.limits.iter().filter(|l| !l.met);
        missed.map(move |limit| at(end.mark_a, limit))
    })
    .collect()
}
