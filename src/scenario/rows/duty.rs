//! Rows of what the part meets: air, state before, load, start-up, history, and what is asked.

use super::Need::{As, May, Needed, Or, Unless};
use super::part::AMBIENT;
use super::{Row, Slot, Value, here, inside, number, other, words};
use crate::document::Bounds;
use crate::load::{Current, Repeat};
use crate::quantity::Dimension as D;

/// Currents of loads.
pub(in crate::scenario) const AMPERES: Bounds =
    Bounds::not_negative(200_000.0, "is the unit right?");
const SECONDS: Bounds = Bounds::positive(1e9, "steps last longer than nothing");
const TIMES: Bounds = Bounds::not_negative(1e9, "");
/// A word of a history has code of its own.
const WORD: super::Set = |_, _| ();

#[rustfmt::skip]
pub(super) const SURROUNDINGS: &[Row] = &[
    number("ambient", "air around it", D::Temperature, AMBIENT, Unless("ambient_points"),
        Slot::Here(|s, _| match s.surroundings.ambient.as_mut_slice() {
            [(_, only)] => Some(only),
            _ => None,
        })).beside(),
    other("ambient_points", "air around it against time, instead", May,
        Value::Pairs([(D::Time, TIMES), (D::Temperature, AMBIENT)])),
];

#[rustfmt::skip]
pub(super) const BEFORE: &[Row] = &[
    number("hot", "steady at this fraction of the rated current", D::Fraction,
        Bounds::not_negative(5.0, "a fraction of the rated current, for example 0.8"), May, Slot::ByHand),
    number("steady_at", "steady at this current", D::Current,
        Bounds::not_negative(1e5, ""), May, Slot::ByHand),
];

/// A load that is one current for ever.
#[rustfmt::skip]
pub(super) const LOAD: &[Row] = &[
    number("current", "one current for ever", D::Current, AMPERES, May,
        Slot::Here(|s, _| match s.load.segments.as_mut_slice() {
            [only] if s.load.repeat == Repeat::Once && only.duration_s.is_infinite() => match &mut only.current {
                Current::Constant(a) => Some(a),
                _ => None,
            },
            _ => None,
        })).beside(),
];

pub(super) const CURRENT: &[Row] = &[number(
    "current",
    "one current for ever",
    D::Current,
    AMPERES,
    May,
    Slot::ByHand,
)];

/// Other forms of a current against time, beside steps.
#[rustfmt::skip]
pub(super) const PROGRAMME: &[Row] = &[
    other("points", "straight lines between points of time and current", May,
        Value::Pairs([(D::Time, TIMES), (D::Current, AMPERES)])),
    other("repeat", "how often it is repeated", May, Value::WholeOr(1_000_000, "for ever")),
];

#[rustfmt::skip]
pub(super) const STEP: &[Row] = &[
    number("current", "a constant current", D::Current, AMPERES, May, Slot::ByHand),
    number("from", "current at the beginning of a ramp", D::Current, AMPERES, May, Slot::ByHand),
    number("to", "current at the end of a ramp", D::Current, AMPERES, May, Slot::ByHand),
    number("inrush", "current that decays", D::Current, AMPERES, May, Slot::ByHand),
    number("decaying_to", "current it decays to", D::Current, AMPERES, May, Slot::ByHand),
    number("time_constant", "time constant of the decay", D::Time, SECONDS, May, Slot::ByHand),
    number("for", "how long it lasts", D::Time, SECONDS, May, Slot::ByHand),
];

#[rustfmt::skip]
pub(super) const START_UP: &[Row] = &[
    number("horizon", "time over which it must not trip", D::Time,
        Bounds::positive(1e7, "an hour is usual"), Or(3600.0), inside!(start_up.horizon_s)),
    number("margin", "deflection that must stay in hand", D::Length,
        Bounds::not_negative(0.05, "a few hundredths of a millimetre"),
        Or(2e-5), inside!(start_up.margin_m)),
];

#[rustfmt::skip]
pub(super) const HISTORY: &[Row] = &[
    words("do", "what happens", Needed, &[
        ("run", WORD), ("wait", WORD), ("wait for relatch", WORD), ("reset", WORD),
    ]),
    words("load", "which current a run carries", May, &[("main", WORD), ("start-up", WORD)]),
    number("longest", "longest time of a run", D::Time, Bounds::positive(1e9, ""),
        Or(f64::INFINITY), Slot::ByHand),
    number("for", "how long it waits", D::Time, Bounds::positive(1e8, ""), May, Slot::ByHand),
    number("and_then", "how much longer than until it relatches", D::Time, Bounds::not_negative(1e8, ""),
        Or(0.0), Slot::ByHand),
];

#[rustfmt::skip]
pub(super) const ASK: &[Row] = &[
    other("states_at", "times at which the whole state is reported", May,
        Value::List(D::Time, TIMES, |s, _| Some(&mut s.ask.states_at_s))),
    other("preload_losses", "losses of the preload table", May,
        Value::List(D::Fraction, Bounds::between(0.0, 0.95, "a loss lies below 95 %").without_most(),
            |s, _| Some(&mut s.ask.losses))),
    other("ambients", "airs of the correction table", May,
        Value::List(D::Temperature, AMBIENT, |s, _| Some(&mut s.ask.ambients_k))),
    other("waits", "waits after which the load comes back", May,
        Value::List(D::Time, TIMES, |s, _| Some(&mut s.ask.waits_s))),
    number("accuracy", "relative accuracy asked for", D::Fraction,
        Bounds::between(1e-9, 1e-2, "the relative accuracy asked for, for example 1e-5"),
        Or(1e-5), here!(ask.accuracy)),
    number("longest", "longest load time simulated where nothing can be proved", D::Time,
        Bounds::positive(1e9, ""), Or(4.0 * 3600.0), here!(ask.longest_s)),
];

#[rustfmt::skip]
pub(super) const POPULATION: &[Row] = &[
    number("trips_within", "under the load it must have tripped by then", D::Time,
        Bounds::positive(1e9, "a time after the load starts"), May, Slot::ByHand),
    number("holds_for", "under the load it must not have tripped before", D::Time,
        Bounds::positive(1e9, "a time after the load starts"), May, Slot::ByHand)
        .or_word("for ever", f64::INFINITY),
];

#[rustfmt::skip]
pub(super) const BATCH: &[Row] = &[
    other("name", "name of the batch", Needed, Value::Text("\"coil\"")),
    other("units", "units made of one batch", Needed, Value::Whole(1_000_000_000)),
];

#[rustfmt::skip]
pub(super) const SPREAD: &[Row] = &[
    other("of", "path of the number, table and key", Needed, Value::Text("\"strip.layer.thickness\"")),
    words("shape", "shape of the distribution", May, &[
        ("normal", WORD), ("uniform", WORD), ("lognormal", WORD),
    ]),
    number("cut_at", "standard uncertainties beyond which parts are sorted out", D::Fraction,
        Bounds::between(0.5, 8.0, "standard uncertainties beyond which parts are sorted out, 3 for example"),
        May, Slot::ByHand),
    number("uncertainty", "standard uncertainty as a part of the number", D::Fraction,
        Bounds::positive(1.0, "the standard uncertainty as a part of the number, 2 % for example"),
        May, Slot::ByHand),
    other("batch", "batch that shares it", May, Value::Text("\"coil\"")),
    number("shared", "share of the variance between batches", D::Fraction,
        Bounds::between(0.0, 1.0, "the share of the variance between batches, 0.6 for example"),
        May, Slot::ByHand),
];

#[rustfmt::skip]
pub(super) const SETTING: &[Row] = &[
    number("current", "current at which each unit is set", D::Current,
        Bounds::positive(200_000.0, "is the unit right?"), Needed, Slot::ByHand),
    number("trips_after", "time after which it is made to trip", D::Time,
        Bounds::positive(1e6, "the time after which it is made to trip"), Needed, Slot::ByHand),
    number("ambient", "air at the setting", D::Temperature, AMBIENT,
        As("protector.reference_ambient"), Slot::ByHand),
    number("time_error", "standard uncertainty of the setting, as a part of the time", D::Fraction,
        Bounds::not_negative(0.3, "the standard uncertainty of the setting, as a part of the time"),
        Or(0.0), Slot::ByHand),
];
