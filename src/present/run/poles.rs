//! What the poles of a part do: sets of them loaded, and a phase lost.

use super::super::block::{Block, Table};
use super::super::words::{self, held, row_why, trip_time, wait};
use crate::predict::{Outcome, Poles};
use crate::present::number::duration;

/// The answer about poles; nothing for one strip.
pub(super) fn blocks(outcome: &Outcome) -> Vec<Block> {
    let Some(poles) = &outcome.poles else {
        return Vec::new();
    };
    let how = format!("{} poles: {}.", poles.count, words::bar(poles.bar));
    let mut inside = vec![Block::sentence(how), sets(poles).into()];
    inside.extend(
        poles
            .lost_phase
            .iter()
            .map(|lost| Block::sentence(words::lost_phase(lost))),
    );
    if poles.looks_single_phase() {
        inside.push(Block::warnings([words::LOOPED]));
    }
    vec![Block::answer("4  What do the poles do?", inside)]
}

/// A row a set.
fn sets(poles: &Poles) -> Table {
    let rows = &poles.sets;
    Table::new("Poles loaded, the others without current")
        .text("Loaded", rows.iter().map(|s| words::loaded(s, poles)))
        .numbers("Trip point", rows.iter().map(|s| held(&s.trip_point, 4)))
        .numbers("Trip time", rows.iter().map(|s| trip_time(&s.trip_time, 3)))
        .numbers(
            "Wait for the reset",
            rows.iter().map(|s| wait(&s.relatch_wait, 3)),
        )
        .reasons(
            rows.iter()
                .map(|s| row_why(&s.trip_point, &s.trip_time, &s.relatch_wait)),
        )
}

/// Time to trip against current, a column a set.
pub(super) fn curves(poles: &Poles) -> Table {
    let currents = poles.sets.first().map_or(&[][..], |s| &s.cold);
    let named = currents.iter().map(|p| format!("{:.4} A", p.current_a));
    let table = Table::new("Cold, by the poles that are loaded").numbers("current", named);
    poles.sets.iter().fold(table, |table, set| {
        let times = set.cold.iter().map(|p| match p.time.time_s() {
            Some(time_s) => duration(time_s, 3),
            None => trip_time(&p.time, 3),
        });
        table.numbers(words::loaded(set, poles), times)
    })
}
