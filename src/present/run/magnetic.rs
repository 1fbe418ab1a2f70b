//! The instantaneous element as blocks: pick-up, what the current does when it begins, band, cable,
//! opening times.

use crate::predict::{MagneticAnswer, OpeningTime, Outcome};
use crate::present::block::{Block, Table};
use crate::present::number::{NONE, duration, percent, plain, significant};
use crate::present::words;

/// Rows of the table of opening times that a screen shows, over the rms pick-up.
const SHOWN: [usize; 8] = [2, 4, 6, 9, 11, 13, 15, 17];

/// Everything it does; nothing where there is none.
pub(in crate::present) fn magnetic(outcome: &Outcome) -> Vec<Block> {
    let Some(answer) = &outcome.magnetic else {
        return Vec::new();
    };
    let rated_a = outcome.part.rated_current_a;
    let mut blocks = vec![
        Block::heading("The instantaneous element"),
        Block::facts(facts(answer, rated_a)),
    ];
    if !answer.opening.is_empty() {
        blocks.push(opening(&answer.opening).into());
    }
    blocks.push(Block::sentence(words::NEGLECTED));
    blocks
}

fn facts(answer: &MagneticAnswer, rated_a: f64) -> Vec<(&'static str, String)> {
    let amperes = |a: f64| {
        let over = significant(a / rated_a, 3);
        format!("{} A ({over} x rated)", significant(a, 4))
    };
    let pick_up = answer.pick_up_rms_a.map_or_else(
        || "no alternating current releases it within 0.1 s".to_owned(),
        |a| {
            let hz = plain(answer.frequency_hz);
            format!("{} rms at {hz} Hz, without offset", amperes(a))
        },
    );
    let step = answer.step_a.map_or_else(
        || "no direct current releases it".to_owned(),
        |a| format!("{}, applied at once", amperes(a)),
    );
    let slowly = answer.static_a.map_or_else(
        || "raised slowly none does: the iron saturates, only the blow releases it".to_owned(),
        |a| format!("raised slowly {} A", significant(a, 4)),
    );
    let mut list = vec![
        ("Pick-up", pick_up),
        (
            "Direct current",
            format!(
                "{step}; {slowly}; it begins to move at {} A",
                significant(answer.start_a, 4)
            ),
        ),
        (
            "This current",
            format!(
                "{} {}",
                words::closing_current(&answer.closing),
                words::closing_does(&answer.closing)
            ),
        ),
    ];
    if let Some(check) = &answer.band {
        list.push((words::band_name(check.band), words::band(check)));
    }
    if let Some(cable) = &answer.cable {
        let sure = cable.sure_up_to_m.map_or_else(
            || "no such cable is short enough for it to be sure".to_owned(),
            |m| format!("sure up to {} m", significant(m, 2)),
        );
        list.push((
            "Cable charging",
            format!(
                "closing on {} m: {} {}",
                plain(cable.length_m),
                words::closing_current(&cable.charging),
                words::closing_does(&cable.charging)
            ),
        ));
        list.push((
            "Far fault",
            format!(
                "at {} m: {} {}; {sure}; the strip alone: {}",
                plain(cable.length_m),
                words::closing_current(&cable.far_fault),
                words::closing_does(&cable.far_fault),
                words::trip_time(&cable.far_fault_strip, 3)
            ),
        ));
    }
    list
}

fn opening(rows: &[OpeningTime]) -> Table {
    let shown = || SHOWN.iter().filter_map(|k| rows.get(*k));
    let time = |s: Option<f64>| s.map_or(NONE.to_owned(), |s| duration(s, 2));
    Table::new("Time to clear, of the instantaneous element alone")
        .numbers(
            "Current",
            shown().map(|r| format!("{} A", significant(r.current_a, 3))),
        )
        .numbers("x rated", shown().map(|r| significant(r.multiple, 3)))
        .numbers("Direct, at once", shown().map(|r| time(r.direct_s)))
        .numbers("Alternating, earliest", shown().map(|r| time(r.earliest_s)))
        .numbers("latest", shown().map(|r| time(r.latest_s)))
        .numbers("Chance", shown().map(chance))
}

fn chance(row: &OpeningTime) -> String {
    match row.probability {
        p if p >= 1.0 => "every closing".into(),
        p if p <= 0.0 => NONE.into(),
        p => percent(p),
    }
}
