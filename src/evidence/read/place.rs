//! `[[air]]`, `[[drop]]`, `[terminals]`, `[supply]`: the place, the joints and the voltage.

use super::common::{AIR, AIR_K, AMPERES, label, measured, with_tolerance};
use super::current::accuracy;
use crate::diagnostic::Problem;
use crate::document::{Bounds, TableReader};
use crate::evidence::{Accuracy, Air, AirPlace, Drop, Measured, Supply, Terminals, last_digit};
use crate::quantity::Dimension;

/// Standard uncertainty of the temperature of a terminal that states none, K. Common practice, no
/// source.
pub(in crate::evidence) const TERMINAL_K: f64 = 2.0;
const TERMINAL: Bounds = Bounds::between(
    213.15,
    873.15,
    "a terminal above 600 degC glows; are these degF?",
);
const DROP: Bounds = Bounds::positive(
    50.0,
    "the closed part drops some ten to some hundred millivolts",
);
const VOLTS: Bounds = Bounds::positive(1000.0, "is the unit right?");

pub(super) const PLACES: [(&str, AirPlace); 2] = [
    ("the part", AirPlace::AtThePart),
    ("the room", AirPlace::InTheRoom),
];

pub(super) fn air(t: &TableReader<'_>) -> Option<Air> {
    if !t.has("at") {
        t.missing("at", "\"the part\"");
    }
    let place = t.choice("at", &PLACES);
    if !t.has("temperature") {
        t.missing("temperature", "\"58 degC\"");
    }
    let temperature = measured(t, "temperature", Dimension::Temperature, AIR, |_| AIR_K);
    let words = match place.as_ref().map(|p| p.value) {
        Some(AirPlace::AtThePart) => "air at the part",
        _ => "air in the room",
    };
    let label = label(t, words);
    t.finish();
    Some(Air {
        label,
        place: place?.value,
        temperature_k: temperature?,
        mended: 0,
    })
}

/// A voltage with the error of its meter.
fn volts(t: &TableReader<'_>, key: &'static str, bounds: Bounds, of: Accuracy) -> Option<Measured> {
    let (read, tolerance) = with_tolerance(t, key, Dimension::Voltage, bounds)?;
    let digit = t
        .text(key, "\"88 mV\"")
        .and_then(|w| last_digit(&w.value, Dimension::Voltage))
        .unwrap_or(0.0);
    let u = tolerance.unwrap_or_else(|| of.standard_uncertainty(read.value, digit));
    Some(Measured::new(read.value, u))
}

pub(super) fn drop(t: &TableReader<'_>) -> Option<Drop> {
    for (key, example) in [("voltage", "\"88 mV\""), ("current", "\"13.6 A\"")] {
        if !t.has(key) {
            t.missing(key, example);
        }
    }
    let accuracy = accuracy(t, Dimension::Voltage, Accuracy::VOLTMETER);
    let of = accuracy.map_or(Accuracy::VOLTMETER, |a| a.0);
    let voltage = volts(t, "voltage", DROP, of);
    let sister = volts(t, "sister", DROP, of);
    let current = measured(t, "current", Dimension::Current, AMPERES, |i| 0.02 * i);
    let has_sister = t.has("sister");
    let label = label(t, "drop across the closed part");
    t.finish();
    accuracy?;
    if has_sister && sister.is_none() {
        return None;
    }
    let drop = Drop {
        label,
        voltage_v: voltage?,
        current_a: current?,
        sister_v: sister,
        mended: 0,
    };
    if let Some(why) = drop.is_of_no_closed_part() {
        t.report(Problem::new(t.span_of("voltage"), why));
        return None;
    }
    Some(drop)
}

pub(super) fn terminals(t: &TableReader<'_>) -> Option<Terminals> {
    for (key, example) in [("hotter", "\"58 degC\""), ("other", "\"31 degC\"")] {
        if !t.has(key) {
            t.missing(key, example);
        }
    }
    let hotter = measured(t, "hotter", Dimension::Temperature, TERMINAL, |_| {
        TERMINAL_K
    });
    let other = measured(t, "other", Dimension::Temperature, TERMINAL, |_| TERMINAL_K);
    let label = label(t, "terminals");
    t.finish();
    let (hotter, other) = (hotter?, other?);
    if other.value > hotter.value {
        t.report(
            Problem::new(t.span_of("other"), "this terminal is the hotter one")
                .also(t.span_of("hotter"), "cooler than the other")
                .help("exchange `hotter` and `other`"),
        );
        return None;
    }
    Some(Terminals {
        label,
        hotter_k: hotter,
        other_k: other,
        mended: 0,
    })
}

/// Relative error of a voltmeter on the mains, at most. Common practice, no source.
const MAINS: Accuracy = Accuracy {
    share: 0.01,
    digits: 1.0,
    fixed_si: 0.0,
};

pub(super) fn supply(t: &TableReader<'_>) -> Option<Supply> {
    let nominal = t.optional("nominal", Dimension::Voltage, VOLTS);
    let at_rest = volts(t, "at_rest", VOLTS, MAINS);
    let running = volts(t, "running", VOLTS, MAINS);
    if !["nominal", "at_rest", "running"]
        .into_iter()
        .any(|k| t.has(k))
    {
        t.lacks(
            &["nominal", "at_rest", "running"],
            Problem::new(t.span(), "[supply] says nothing")
                .help("`nominal = \"230 V\"`, `at_rest = \"229 V\"`, `running = \"196 V\"`"),
        );
    }
    let label = label(t, "supply");
    t.finish();
    let supply = Supply {
        label,
        nominal_v: nominal.map(|n| n.value),
        at_rest_v: at_rest,
        running_v: running,
    };
    if let Some(why) = supply.is_of_another_pair() {
        t.report(Problem::new(t.span_of("nominal"), why));
        return None;
    }
    Some(supply)
}
