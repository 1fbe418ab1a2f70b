//! A design: its record as JSON and as blocks.

use super::block::{Block, Table};
use super::cautions::in_words;
use super::json::{beside_codes, serialised};
use super::number::{NONE, duration, percent, signed, significant};
use super::run::cautions_at;
use super::words;
use crate::answer::Place;
use crate::present::language::recorded;
use crate::quantity::{Dimension, format_si};
use crate::study::design::{DesignOutcome, FoundWant, InLot, Map, MapCell, Trade, Want, Wanted};

/// The record as indented JSON with a final newline.
///
/// # Errors
/// When it cannot be serialised.
pub fn design_json(outcome: &DesignOutcome) -> Result<String, serde_json::Error> {
    recorded(|| {
        let mut value = serde_json::to_value(outcome)?;
        beside_codes(&mut value, "cautions", &outcome.cautions, |c| {
            words::caution(*c).into()
        });
        beside_codes(&mut value, "wants", &outcome.wants, |w| name(&w.want));
        beside_codes(&mut value, "fights", &outcome.fights, |fight| {
            let [a, b] = fight.wants.map(|w| name(&outcome.wants[w].want));
            words::fight(&a, &b)
        });
        serialised(&value)
    })
}

/// What a person reads of a design.
pub fn design_blocks(outcome: &DesignOutcome) -> Vec<Block> {
    let below = say!(
        "{} scenarios predicted; relatch {}",
        outcome.predicted,
        outcome.version
    );
    let list = in_words(&outcome.cautions);
    let missed = outcome.wants.iter().filter(|want| !want.met).count();
    let mut blocks = vec![
        Block::title(&outcome.title, below),
        Block::sentence(words::designed(outcome.wants.len(), missed, outcome.met)),
        wants(outcome).into(),
        free(outcome).into(),
    ];
    let documents = outcome.documents.iter();
    blocks.extend(documents.map(|d| Block::sentence(words::document(d))));
    let formula = outcome.cost_formula.iter();
    blocks.extend(formula.map(|f| Block::sentence(words::cost_formula(f))));
    for fight in &outcome.fights {
        let [a, b] = fight.wants.map(|w| name(&outcome.wants[w].want));
        blocks.push(Block::sentence(words::fight(&a, &b)));
    }
    if !outcome.met {
        let ends = outcome
            .free
            .iter()
            .filter_map(|free| Some((free, free.at_end?)));
        let ends: Vec<String> = ends
            .map(|(free, end)| words::at_end(&free.path, end))
            .collect();
        if !ends.is_empty() {
            blocks.push(Block::sentence(words::wider(&ends)));
        }
    }
    if let Some(lot) = &outcome.in_lot {
        blocks.push(Block::heading(word!("With the tolerances of the scenario")));
        blocks.push(Block::sentence(in_lot(lot)));
        let each = outcome.wants.iter().zip(&lot.inside_each);
        let each = each.filter(|(want, _)| want.want.has_window());
        let each = each.map(|(want, inside)| {
            let share = *inside as f64 / lot.inside.of.max(1) as f64;
            (
                name(&want.want),
                say!("{} of the units inside", percent(share)),
            )
        });
        blocks.push(Block::facts(each));
    }
    if let Some(map) = &outcome.map {
        blocks.push(Block::sentence(on_map(map)));
    }
    if let Some(trade) = &outcome.trade {
        blocks.push(costs(outcome, trade).into());
    }
    if let Some(data) = &outcome.metal_data {
        blocks.push(Block::facts([(
            word!("Metals' data"),
            words::metal_data(data),
        )]));
    }
    if let Some(differ) = outcome.slopes_differ {
        blocks.push(Block::note(words::slopes_checked(&significant(
            100.0 * differ,
            1,
        ))));
    }
    blocks.push(cautions_at(&list, &[Place::End]));
    blocks
}

/// What is wanted, in words.
pub(super) fn name(want: &Want) -> String {
    if let (Some(row), Some(current_a)) = (&want.limit, want.current_a) {
        return words::limit_row(&row.demand, current_a / row.demand.multiple);
    }
    let what = words::wanted(want.wanted);
    match want.current_a {
        Some(current_a) => say!("{what} at {} A", significant(current_a, 3); what),
        None => what.to_owned(),
    }
}

fn amount(wanted: Wanted, value: f64) -> String {
    if wanted == Wanted::Cost {
        return significant(value, 4);
    }
    match wanted.dimension() {
        Dimension::Time => duration(value, 4),
        Dimension::Current => format!("{} A", significant(value, 4)),
        Dimension::Temperature => {
            format!(
                "{} °C",
                significant(value - crate::physics::constants::ZERO_CELSIUS_K, 4)
            )
        }
        Dimension::Fraction => format!("{} %", significant(100.0 * value, 3)),
        other => format_si(value, other),
    }
}

/// Its window.
fn window(want: &Want) -> String {
    let said = |end: Option<f64>| end.map(|v| amount(want.wanted, v));
    let window = match want.limit {
        Some(row) if row.demand.must_hold => word!("is carried").to_owned(),
        _ => words::window(said(want.least), said(want.most)),
    };
    match (want.aim, want.least, want.most) {
        (None, ..) => window,
        (Some(end), None, None) => words::aim(end).to_owned(),
        (Some(end), ..) => format!("{window}; {}", words::aim(end)),
    }
}

fn wants(outcome: &DesignOutcome) -> Table {
    let wants = &outcome.wants;
    let found = |w: &FoundWant| match (w.value, w.never) {
        (Some(value), _) => amount(w.want.wanted, value),
        (None, true) => words::never().to_owned(),
        (None, false) => NONE.to_owned(),
    };
    Table::new("")
        .text(word!("Wanted"), wants.iter().map(|w| name(&w.want)))
        .text(word!("Window"), wants.iter().map(|w| window(&w.want)))
        .numbers(word!("Found"), wants.iter().map(found))
        .text("", wants.iter().map(|w| words::met(w.met)))
        .text(
            word!("By 1 % more of"),
            (0..wants.len()).map(|w| strongest(outcome, w)),
        )
}

/// The free number that an answer hangs on most.
fn strongest(outcome: &DesignOutcome, want: usize) -> String {
    let slopes = outcome
        .slopes
        .iter()
        .filter(|s| s.want == want && s.per_percent != 0.0);
    let most = slopes.max_by(|a, b| a.per_percent.abs().total_cmp(&b.per_percent.abs()));
    most.map_or(NONE.to_owned(), |slope| {
        let unit = words::per_percent(outcome.wants[want].want.wanted);
        format!("{}: {} {unit}", slope.path, signed(slope.per_percent, 2))
    })
}

fn free(outcome: &DesignOutcome) -> Table {
    let free = &outcome.free;
    Table::new("")
        .text(word!("Free"), free.iter().map(|f| f.path.clone()))
        .numbers(word!("Becomes"), free.iter().map(|f| f.value.clone()))
        .text("", free.iter().map(|f| f.at_end.map_or("", words::end_of)))
}

fn in_lot(lot: &InLot) -> String {
    let rate = &lot.inside;
    let [share, low, high] = [rate.share, rate.low, rate.high].map(|s| significant(100.0 * s, 3));
    words::lot_inside(rate.units, rate.of, &share, &low, &high)
}

fn costs(outcome: &DesignOutcome, trade: &Trade) -> Table {
    let wants = trade.wants.map(|k| &outcome.wants[k].want);
    let names = wants.map(name);
    let column = |k: usize| {
        trade
            .points
            .iter()
            .map(move |p| amount(wants[k].wanted, p.values[k]))
    };
    Table::new(words::trade(&names[0], &names[1]))
        .numbers(names[0].as_str(), column(0))
        .numbers(names[1].as_str(), column(1))
        .text(
            word!("All others"),
            trade.points.iter().map(|p| words::met(p.others_met)),
        )
}

fn on_map(map: &Map) -> String {
    let met = map
        .cells
        .iter()
        .filter(|cell| matches!(cell, MapCell::Met))
        .count();
    let [across, up] = &map.paths;
    words::map_met(met, map.cells.len(), across, up)
}
