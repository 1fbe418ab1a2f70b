//! What the poles of a part do: sets of them loaded, and a phase lost.

use super::super::block::{Block, Table};
use super::super::words::{self, held, row_why, trip_time, wait};
use crate::predict::{CurvePoint, Outcome, PoleSet, Poles, TYPICAL_MULTIPLES};
use crate::present::number::significant;

/// The answer about poles; nothing for one strip.
pub(in crate::present) fn blocks(outcome: &Outcome) -> Vec<Block> {
    let Some(poles) = &outcome.poles else {
        return Vec::new();
    };
    let how = say!("{} poles: {}.", poles.count, words::bar(poles.bar));
    let mut inside = vec![Block::sentence(how), sets(poles).into()];
    inside.extend(poles.has_mirror_images().then(|| {
        Block::sentence(word!(
            "What is not listed does what its mirror image does: from either side the part is the same."
        ))
    }));
    inside.extend(
        poles
            .lost_phase
            .iter()
            .map(|lost| Block::sentence(words::lost_phase(lost))),
    );
    if poles.looks_single_phase() {
        inside.push(Block::warnings([words::looped()]));
    }
    vec![Block::answer(word!("4  What do the poles do?"), inside)]
}

/// A row a set.
fn sets(poles: &Poles) -> Table {
    let rows = &poles.sets;
    Table::new(word!("Poles loaded, the others without current"))
        .text(
            word!("Loaded"),
            rows.iter().map(|s| words::loaded(s, poles)),
        )
        .numbers(
            word!("Trip point"),
            rows.iter().map(|s| held(&s.trip_point, 4)),
        )
        .numbers(
            word!("Trip time"),
            rows.iter().map(|s| trip_time(&s.trip_time, 3)),
        )
        .numbers(
            word!("Wait for the reset"),
            rows.iter().map(|s| wait(&s.relatch_wait, 3)),
        )
        .reasons(
            rows.iter()
                .map(|s| row_why(&s.trip_point, &s.trip_time, &s.relatch_wait)),
        )
}

/// Time to trip against current, a column a set.
pub(super) fn curves(poles: &Poles) -> Table {
    let is_usual = |p: &&CurvePoint| {
        let same = |m: &f64| (p.multiple / m - 1.0).abs() < 1e-9;
        TYPICAL_MULTIPLES.iter().any(same)
    };
    let rows = |set: &PoleSet| -> Vec<CurvePoint> {
        let mut usual: Vec<CurvePoint> = set.cold.iter().filter(is_usual).cloned().collect();
        usual.dedup_by(|a, b| (a.multiple / b.multiple - 1.0).abs() < 1e-9);
        // Currents that somebody chose are all told.
        match usual.len() == TYPICAL_MULTIPLES.len() {
            true => usual,
            false => set.cold.clone(),
        }
    };
    let first = poles.sets.first().map_or_else(Vec::new, rows);
    let named = first
        .iter()
        .map(|p| format!("{} A", significant(p.current_a, 4)));
    let table =
        Table::new(word!("Cold, by the poles that are loaded")).numbers(word!("current"), named);
    poles.sets.iter().fold(table, |table, set| {
        let times = rows(set).into_iter().map(|p| trip_time(&p.time, 3));
        table.numbers(words::loaded(set, poles), times)
    })
}
