//! The answers of several predictions side by side, a column or row each.

use super::block::Table;
use super::words;
use crate::study::summary::Summary;

/// What `say` makes of one answer for every prediction.
pub(super) type Say<'a> = dyn Fn(&dyn Fn(&Summary) -> String) -> Vec<String> + 'a;

/// The table with trip time, trip point and waits behind what it has.
pub(super) fn answered(table: Table, say: &Say<'_>) -> Table {
    table
        .numbers(
            word!("Trip time"),
            say(&|s| words::trip_time(&s.trip_time, 4)),
        )
        .numbers(word!("Trip point"), say(&|s| words::held(&s.trip_point, 4)))
        .numbers(
            word!("Reset after"),
            say(&|s| words::wait(&s.relatch_wait, 4)),
        )
        .numbers(
            word!("Start after"),
            say(&|s| words::wait(&s.ready_wait, 4)),
        )
}
