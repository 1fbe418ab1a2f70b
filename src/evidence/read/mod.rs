//! The whole case file, table by table.

mod common;
pub(super) mod current;
mod datasheet;
mod event;
mod log;
mod machine;
mod mended;
pub(super) mod place;
pub(super) mod protector;
mod signs;
mod swap;

use super::{
    Air, Before, Case, Drop, Event, Meter, Outcome, Reading, Setting, Taken, Terminals, Unit,
};
use crate::diagnostic::Problem;
use crate::document::{Document, TableReader};
use crate::family::Assumed;
pub(super) use datasheet::datasheet;
use event::Placed;
pub(super) use log::{LogDraft, log};

/// Version of the layout of case files and datasheets.
const FORMAT: u32 = 1;

/// A case without its logs, which are read only when nothing is wrong with the rest.
pub(super) struct Draft {
    pub case: Case,
    /// Where each event stands in the file, beside `case.events`.
    pub places: Vec<usize>,
    pub logs: Vec<LogDraft>,
}

/// Read everything; `None` only after a problem.
pub(super) fn draft(root: &TableReader<'_>) -> Option<Draft> {
    if !is_case(root) {
        return None;
    }
    let title = root.required_text("title", "\"Pug mill in a pottery studio\"");
    let shows = root.text("shows", "\"what this case shows\"");
    let mut assumed = Vec::new();
    if !root.has("protector") {
        root.lacks(
            &["protector"],
            Problem::new(root.span(), "the file lacks the table [protector]")
                .label("needed")
                .help(
                    "add `[protector]` with `rating = \"13 A\"`; `relatch new case` prints a \
                       whole starter file",
                ),
        );
    }
    let printed = root
        .table("protector")
        .and_then(|t| protector::protector(&t));
    let machine = root
        .table("machine")
        .map(|t| machine::machine(&t))
        .unwrap_or_default();
    let start = optional(root, "start", |t| current::start(t, &mut assumed));
    let surge = machine.surge.unwrap_or(root.has("start"));
    let mended: Vec<_> = root.tables("mended").iter().map(mended::mended).collect();
    let mended: Vec<Placed<_>> = mended.into_iter().flatten().collect();
    let done = |t: &TableReader<'_>| {
        let place = t.span().start;
        mended.iter().filter(|m| m.span.start < place).count()
    };
    let readings: Vec<_> = root
        .tables("reading")
        .iter()
        .map(|t| {
            let read = current::reading(t, machine.position.as_deref(), &mut assumed)?;
            let mended = done(t);
            Some(read.map(|r| Reading { mended, ..r }))
        })
        .collect();
    let air = root.tables("air");
    let air = air.iter().map(|t| {
        let mended = done(t);
        place::air(t).map(|a| Air { mended, ..a })
    });
    let air: Vec<_> = air.collect();
    let drops = root.tables("drop");
    let drops = drops.iter().map(|t| {
        let mended = done(t);
        place::drop(t).map(|d| Drop { mended, ..d })
    });
    let drops: Vec<_> = drops.collect();
    let terminals = optional(root, "terminals", |t| {
        let mended = done(t);
        place::terminals(t).map(|t| Terminals { mended, ..t })
    });
    let supply = optional(root, "supply", place::supply);
    let signs = root
        .table("signs")
        .map(|t| signs::signs(&t))
        .unwrap_or_default();
    let life = root
        .table("history")
        .map(|t| signs::history(&t))
        .unwrap_or_default();
    let mut events: Vec<Option<Placed<_>>> = Vec::new();
    for (key, tripped) in [("trip", true), ("held", false)] {
        events.extend(root.tables(key).iter().map(|t| {
            let mut event = event::event(t, tripped, surge)?;
            event.what.mended = done(t);
            Some(event)
        }));
    }
    if let Some(t) = root.table("swap") {
        let mut event = swap::swap(&t, surge, &mut assumed);
        if let Some(event) = &mut event {
            event.what.mended = done(&t);
        }
        events.push(event);
    }
    let logs = root.tables("log");
    let logs = logs.iter().map(|t| {
        let mended = done(t);
        log::log(t).map(|log| LogDraft { mended, ..log })
    });
    let logs: Vec<_> = logs.collect();
    root.finish();
    let mut events: Vec<Placed<_>> = events.into_iter().collect::<Option<_>>()?;
    events.sort_by_key(|e| e.span.start);
    event::check_order(root, &events);
    let nothing = readings.is_empty()
        && events.is_empty()
        && logs.is_empty()
        && signs.is_empty()
        && machine.cycles.is_none();
    // What is misspelt is said already.
    if nothing && !root.document().has_problems() {
        root.report(
            Problem::new(
                root.span_of("protector"),
                "nothing has happened to this protector yet",
            )
            .help("add what was seen: [[reading]], [[trip]], [[held]], [[log]] or [signs]"),
        );
    }
    let printed = printed?;
    let nameplate =
        (printed.nameplate).with_poles(printed.poles, machine.phases, printed.notices_lost_phase);
    let mut case = Case::of(nameplate);
    case.title = title?.value.trim().to_owned();
    case.shows = shows.map(|s| s.value.trim().to_owned()).unwrap_or_default();
    case.marking_agrees = printed.marking_agrees;
    case.equipment = machine.name;
    case.equipment_rated_a = machine.rated_a;
    case.waveform = machine.waveform;
    case.by_voltage = machine.by_voltage;
    case.phases = machine.phases;
    case.phase_currents = machine.phase_currents;
    case.hums = machine.hums;
    case.nameplate.resets_itself |= machine.cycles.is_some();
    case.cycles = machine.cycles;
    case.has_start = machine.surge.or(root.has("start").then_some(true));
    case.readings = readings
        .into_iter()
        .collect::<Option<Vec<_>>>()?
        .into_iter()
        .flatten()
        .collect();
    case.worst_phase_counts(Meter::Unknown);
    case.start = start?;
    case.air = air.into_iter().collect::<Option<_>>()?;
    case.drops = drops.into_iter().collect::<Option<_>>()?;
    case.terminals = terminals?;
    case.supply = supply?;
    case.signs = signs;
    case.age_years = life.age_years;
    case.trips_so_far = life.trips;
    case.short_circuit = life.short_circuit;
    case.joints = life.joints;
    if logs.is_empty()
        && let Some(implied) = implied_trip(&case.readings, &events, surge)
    {
        assumed.push(Assumed::TimeNotKnown {
            line: implied.what.label.clone(),
        });
        events.push(implied);
    }
    let trips = |e: &Placed<Event>| e.what.unit == Unit::ThisPart && e.what.is_trip();
    if let Some(cycles) = case.cycles.as_ref().filter(|_| !events.iter().any(trips)) {
        events.push(Placed {
            span: usize::MAX..usize::MAX,
            what: cycles.trip(),
        });
    }
    case.mended = mended.into_iter().map(|m| m.what).collect();
    let brought = |e: &Placed<Event>| trips(e) && e.what.mended == 0;
    let is_logged = logs.iter().flatten().any(|log| log.mended == 0);
    if !case.mended.is_empty() && !is_logged && !events.iter().any(brought) {
        let what = Event::before_mends();
        assumed.push(Assumed::TimeNotKnown {
            line: what.label.clone(),
        });
        let span = 0..0;
        events.insert(0, Placed { span, what });
    }
    case.assumed = assumed;
    let (places, events) = events.into_iter().map(|e| (e.span.start, e.what)).unzip();
    case.events = events;
    Some(Draft {
        case,
        places,
        logs: logs.into_iter().collect::<Option<_>>()?,
    })
}

/// A reading taken up to the trip says that there was one, where no trip is listed.
fn implied_trip(
    readings: &[Reading],
    events: &[Placed<Event>],
    surge: bool,
) -> Option<Placed<Event>> {
    let reading = readings.iter().find(|r| r.taken == Taken::UpToTheTrip)?;
    let listed = |e: &Placed<Event>| e.what.unit == Unit::ThisPart && e.what.is_trip();
    if events.iter().any(listed) {
        return None;
    }
    Some(Placed {
        span: usize::MAX..usize::MAX,
        what: Event {
            label: format!("the trip after {}", reading.label),
            unit: Unit::ThisPart,
            setting: Setting::InService { with_start: surge },
            before: Before::Unknown,
            air_k: None,
            outcome: Outcome::TrippedWithin {
                from_s: 0.0,
                to_s: f64::INFINITY,
            },
            times: 1,
            reset_between_s: None,
            mended: 0,
        },
    })
}

/// `format = 1` and `kind = "case"`; a scenario is told by its tables.
fn is_case(root: &TableReader<'_>) -> bool {
    if !root.has("kind") && root.has("strip") {
        root.report(
            Problem::new(root.span_of("strip"), "this is a scenario, not a case")
                .label("a case has no strip")
                .help(
                    "`relatch run` reads scenarios; `relatch new case` prints a starter for a case",
                ),
        );
        return false;
    }
    kind_and_format(root, "case", "cases");
    true
}

/// `kind = "..."` and `format = 1`.
fn kind_and_format(root: &TableReader<'_>, kind: &str, several: &str) {
    if root.has("kind") {
        root.choice("kind", &[(kind, ())]);
    } else {
        root.missing("kind", &format!("\"{kind}\""));
    }
    if !root.has("format") {
        root.missing("format", "1");
    } else if let Some(read) = root.whole("format", 1000)
        && read.value != FORMAT
    {
        root.report(
            Problem::new(
                read.span,
                format!("this program reads format {FORMAT} of {several}"),
            )
            .label(format!("format {}", read.value))
            .help("a newer file needs a newer program"),
        );
    }
}

/// `Some(None)`: not there; `None`: there, but with a problem.
fn optional<T>(
    root: &TableReader<'_>,
    key: &'static str,
    read: impl FnOnce(&TableReader<'_>) -> Option<T>,
) -> Option<Option<T>> {
    if !root.has(key) {
        return Some(None);
    }
    root.table(key).and_then(|t| read(&t)).map(Some)
}

/// Whether the document is worth reading on after the grammar.
pub(super) fn of(document: &Document<'_>) -> Option<Draft> {
    if document.has_problems() {
        None
    } else {
        draft(&document.root())
    }
}
