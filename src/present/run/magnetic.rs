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
        Block::heading(word!("The instantaneous element")),
        Block::facts(facts(answer, rated_a)),
    ];
    if !answer.opening.is_empty() {
        blocks.push(opening(&answer.opening).into());
    }
    blocks.push(Block::sentence(words::neglected()));
    blocks
}

fn facts(answer: &MagneticAnswer, rated_a: f64) -> Vec<(&'static str, String)> {
    let amperes = |a: f64| {
        let over = significant(a / rated_a, 3);
        say!("{} A ({over} x rated)", significant(a, 4); over)
    };
    let pick_up = answer.pick_up_rms_a.map_or_else(
        || word!("no alternating current releases it within 0.1 s").to_owned(),
        |a| {
            let hz = plain(answer.frequency_hz);
            say!("{} rms at {hz} Hz, without offset", amperes(a); hz)
        },
    );
    let step = answer.step_a.map_or_else(
        || word!("no direct current releases it").to_owned(),
        |a| say!("pick-up {}, applied at once", amperes(a)),
    );
    let slowly = answer.static_a.map_or_else(
        || {
            word!("raised slowly none does: the iron saturates, only the blow releases it")
                .to_owned()
        },
        |a| say!("raised slowly {} A", significant(a, 4)),
    );
    let mut list = vec![
        (word!("Pick-up"), pick_up),
        (
            word!("Direct current"),
            say!(
                "{step}; {slowly}; it begins to move at {} A",
                significant(answer.start_a, 4)
            ; step, slowly),
        ),
        (
            word!("This current"),
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
            || word!("no such cable is short enough for it to be sure").to_owned(),
            |m| say!("sure up to {} m", significant(m, 2)),
        );
        list.push((
            word!("Cable charging"),
            say!(
                "closing on {} m: {} {}",
                plain(cable.length_m),
                words::closing_current(&cable.charging),
                words::closing_does(&cable.charging)
            ),
        ));
        list.push((
            word!("Far fault"),
            say!(
                "at {} m: {} {}; {sure}; the strip alone: {}",
                plain(cable.length_m),
                words::closing_current(&cable.far_fault),
                words::closing_does(&cable.far_fault),
                words::trip_time(&cable.far_fault_strip, 3)
            ; sure),
        ));
    }
    list
}

fn opening(rows: &[OpeningTime]) -> Table {
    let shown = || SHOWN.iter().filter_map(|k| rows.get(*k));
    let time = |s: Option<f64>| s.map_or(NONE.to_owned(), |s| duration(s, 2));
    let caption = word!(
        "Time to clear, of the instantaneous element alone: direct current at once, alternating \
         current at the angles that clear first and last"
    );
    Table::new(caption)
        .numbers(
            word!("Current"),
            shown().map(|r| format!("{} A", significant(r.current_a, 3))),
        )
        .numbers(
            word!("x rated"),
            shown().map(|r| significant(r.multiple, 3)),
        )
        .numbers(word!("Direct"), shown().map(|r| time(r.direct_s)))
        .numbers(word!("First"), shown().map(|r| time(r.earliest_s)))
        .numbers(word!("Last"), shown().map(|r| time(r.latest_s)))
        .numbers(word!("Chance"), shown().map(chance))
}

fn chance(row: &OpeningTime) -> String {
    match row.probability {
        p if p >= 1.0 => word!("every closing").into(),
        p if p <= 0.0 => NONE.into(),
        p => percent(p),
    }
}
