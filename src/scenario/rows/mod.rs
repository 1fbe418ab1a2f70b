//! Every key of a scenario file, once: see [`Row`].

mod duty;
mod fields;
mod magnetic;
mod part;
mod row;
mod wear;

pub(in crate::scenario) use duty::AMPERES;
pub(in crate::scenario) use fields::Fields;
pub(in crate::scenario) use part::{AMBIENT, RELEASE, contact_loss, preload_loss};
use row::Set;
pub(crate) use row::{Differ, Need, Number, Row, Slot, Table, Value};
use row::{here, maybe_inside, of};
pub(in crate::scenario) use row::{inside, kind, number, other, words};

use super::dial::DIAL;
use super::machine_case::MACHINE_CASE;
use super::mechanism::TABLES as MECHANISMS;
use super::poles::{POLE, POLES};
use super::{Scenario, UsedFor};
use std::sync::LazyLock;

/// A table of which every scenario has one.
const fn always(path: &'static str, about: &'static str, rows: &'static [&'static [Row]]) -> Table {
    Table {
        path,
        about,
        list: false,
        needed: false,
        count: |_| 1,
        rows,
    }
}

const fn counted(table: Table, count: fn(&Scenario) -> usize) -> Table {
    Table { count, ..table }
}

/// A table that the one around it must have.
const fn must(path: &'static str, about: &'static str, rows: &'static [&'static [Row]]) -> Table {
    Table {
        needed: true,
        ..always(path, about, rows)
    }
}

const fn list(table: Table) -> Table {
    Table {
        list: true,
        ..table
    }
}

/// The tables of a scenario, in the order of the file.
pub(crate) static TABLES: LazyLock<Vec<Table>> =
    LazyLock::new(|| [PROTECTOR, &MECHANISMS, PLACE].concat());

/// The tables of the protector itself; then comes its mechanism.
#[rustfmt::skip]
const PROTECTOR: &[Table] = &[
    always("", "the file", &[&[
        other("format", "layout of the file", Need::Like("1"), Value::Whole(1000)),
        other("title", "short name", Need::Needed, Value::Text("\"Pump in a greenhouse\"")),
        other("shows", "the story, and what it shows", Need::May, Value::Text("\"what this scenario shows\"")),
        words("used_for", "whether equipment depends on the part, or a bench or a class uses it", Need::May, &[
            ("equipment", |s, _| s.used_for = UsedFor::Equipment),
            ("teaching", |s, _| s.used_for = UsedFor::Teaching),
        ]),
        other("changed", "what was set since it was written", Need::May, Value::Texts(|s, _| Some(&mut s.changed))),
    ]]),
    must("protector", "rating and reference air", &[part::PROTECTOR]),
    must("strip", "the layered strip", &[part::STRIP]),
    list(counted(must("strip.layer", "a layer, from the low-expansion side", &[part::LAYER]),
        |s| s.strip.layers.len())),
    must("cooling", "how the strip gives heat to the air", &[part::COOLING]),
    counted(always("clamped_terminal", "the terminal that clamps the strip", &[part::CLAMPED_TERMINAL]),
        |s| usize::from(s.release.mechanism.disc().is_none())),
    counted(always("rim", "the seat of a disc's rim, with its terminal", &[part::RIM]),
        |s| usize::from(s.release.mechanism.disc().is_some())),
    counted(always("machine_case", "the case of the machine on which the rim sits", &[MACHINE_CASE]),
        |s| usize::from(s.machine_case.is_some())),
    must("moving_contact", "the contact at the free end", &[part::MOVING_CONTACT]),
    must("fixed_contact", "the fixed contact", &[part::FIXED_CONTACT]),
    must("contact", "the contact pair", &[part::CONTACT]),
    counted(always("winding", "a heater winding around the strip", &[part::WINDING]),
        |s| usize::from(s.winding.is_some())),
    counted(always("housing", "a closed housing", &[part::HOUSING]), |s| usize::from(s.housing.is_some())),
    counted(always("magnetic", "an instantaneous element beside the strip", &[magnetic::MAGNETIC]),
        |s| usize::from(s.magnetic.is_some())),
    counted(always("dial", "a dial by which the rated current is set", &[DIAL]),
        |s| usize::from(s.dial.is_some())),
    counted(always("poles", "poles beside one another on one trip bar", &[POLES]),
        |s| usize::from(s.poles.is_some())),
    list(counted(must("poles.pole", "what is a pole's own", &[POLE]),
        |s| s.poles.as_ref().map_or(0, |p| p.each.len()))),
];

/// The tables of its place and its work.
#[rustfmt::skip]
const PLACE: &[Table] = &[
    must("surroundings", "air around the protector", &[duty::SURROUNDINGS]),
    always("before", "state before the load; cold without it", &[duty::BEFORE]),
    must("load", "the current from time zero", &[duty::LOAD, duty::PROGRAMME]),
    list(always("load.step", "a step of the load", &[duty::STEP])),
    counted(always("start_up", "how the equipment starts after a reset",
        &[duty::CURRENT, duty::PROGRAMME, duty::START_UP]), |s| usize::from(s.start_up.is_some())),
    list(always("start_up.step", "a step of the start", &[duty::STEP])),
    counted(always("closing", "how the current begins, for the instantaneous element", &[magnetic::CLOSING]),
        |s| usize::from(s.closing.is_some())),
    counted(always("cable", "supply and cable, with a fault at the far end", &[magnetic::CABLE]),
        |s| usize::from(s.cable.is_some())),
    list(counted(always("history", "an event", &[duty::HISTORY, duty::CURRENT, duty::PROGRAMME]),
        |s| s.history.len())),
    list(always("history.step", "a step of the run's own current", &[duty::STEP])),
    always("ask", "what is computed, and how finely", &[duty::ASK]),
    counted(always("ageing", "constants of the wear", &[wear::AGEING]), |s| usize::from(s.ageing.is_some())),
    must("ageing.relaxation", "loss of preload with time under stress", &[wear::RELAXATION]),
    always("ageing.test", "the longest test behind the constants", &[wear::TEST]),
    always("ageing.friction", "a latch that sticks when it is not moved", &[wear::FRICTION]),
    always("duty", "the calendar of the work", &[wear::DUTY]),
    list(always("duty.season", "a part of the year", &[wear::SEASON])),
    list(always("duty.shift", "a load that comes back every week", &[wear::SHIFT])),
    always("population", "how units differ", &[duty::POPULATION]),
    list(always("population.batch", "units that share a lot of parts", &[duty::BATCH])),
    list(always("population.spread", "how one number differs", &[duty::SPREAD])),
    always("population.setting", "how each clearance is set", &[duty::SETTING]),
];

/// The table of a path without numbers; the file itself where there is none, which has no such key.
pub(crate) fn table(path: &str) -> &'static Table {
    TABLES.iter().find(|t| t.path == path).unwrap_or(&TABLES[0])
}

/// A number of the scenario by the path of its table and its key, where it is known.
pub(in crate::scenario) fn number_of(path: &str, scenario: &mut Scenario) -> Option<f64> {
    let (of, key) = path.rsplit_once('.')?;
    match table(of).row(key)?.value {
        Value::Number(n) => n.of(scenario, 0).copied(),
        _ => None,
    }
}
