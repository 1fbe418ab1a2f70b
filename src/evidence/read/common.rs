//! What several tables of a case share.

use crate::diagnostic::Problem;
use crate::document::{Bounds, Read, TableReader};
use crate::evidence::{Measured, read_time};
use crate::quantity::Dimension;
use std::ops::Range;

/// A current that a protector or a machine may carry.
pub(super) const AMPERES: Bounds = Bounds::positive(200_000.0, "is the unit right?");
/// Air at a protector or in a room.
pub(super) const AIR: Bounds = Bounds::between(
    213.15,
    423.15,
    "air at a protector lies between -60 degC and 150 degC; are these degF?",
);
/// Standard uncertainty of an air temperature that states none, K (thermocouple or infrared within
/// 2 K or so). Common practice, no source.
pub(super) const AIR_K: f64 = 1.5;

/// A word or two beside the line, for people: `trip no. 2 (line 31)`.
pub(super) fn line(t: &TableReader<'_>) -> usize {
    1 + t
        .document()
        .excerpt(0..t.span().start)
        .bytes()
        .filter(|b| *b == b'\n')
        .count()
}

/// The `label` of a table, or what else it may be called, with its line.
pub(super) fn label(t: &TableReader<'_>, otherwise: &str) -> String {
    let own = t.text("label", "\"after the lunch break\"");
    let words = own.map_or_else(|| otherwise.to_owned(), |l| l.value.trim().to_owned());
    format!("{words} (line {})", line(t))
}

/// A quantity, optional, with the tolerance written beside it.
pub(super) fn with_tolerance(
    t: &TableReader<'_>,
    key: &'static str,
    dimension: Dimension,
    bounds: Bounds,
) -> Option<(Read<f64>, Option<f64>)> {
    let read = t.optional(key, dimension, bounds)?;
    let noted = t.document().tolerance(&t.path_of(key));
    Some((read, noted.map(|n| n.standard_uncertainty_si)))
}

/// A quantity, optional; without a tolerance its uncertainty is `usual`.
pub(super) fn measured(
    t: &TableReader<'_>,
    key: &'static str,
    dimension: Dimension,
    bounds: Bounds,
    usual: impl FnOnce(f64) -> f64,
) -> Option<Measured> {
    let (read, tolerance) = with_tolerance(t, key, dimension, bounds)?;
    let u = tolerance.unwrap_or_else(|| usual(read.value));
    Some(Measured::new(read.value, u))
}

/// A temperature of the air, optional.
pub(super) fn air(t: &TableReader<'_>, key: &'static str) -> Option<Measured> {
    measured(t, key, Dimension::Temperature, AIR, |_| AIR_K)
}

/// A time above zero as somebody noted it, optional.
pub(super) fn time(t: &TableReader<'_>, key: &'static str) -> Option<Read<Measured>> {
    let text = t.text(key, "\"8.3 min\"")?;
    let value = time_text(t, &text.value, text.span.clone())?;
    Some(Read {
        value,
        span: text.span,
    })
}

/// A time above zero from a text of the file.
pub(super) fn time_text(t: &TableReader<'_>, text: &str, span: Range<usize>) -> Option<Measured> {
    match read_time(text) {
        Ok(time) if time.value > 0.0 => Some(time),
        Ok(_) => {
            t.report(
                Problem::new(span, "a time above zero belongs here")
                    .label("this is 0 s")
                    .help(
                        "for what happened at once write `trips_at_once_cold = true` under [signs]",
                    ),
            );
            None
        }
        Err(fault) => {
            t.report(
                Problem::new(span, "a time belongs here")
                    .label(fault.found)
                    .help(fault.help),
            );
            None
        }
    }
}

/// The only one of some keys that is there; a problem when none or several are.
pub(super) fn one_of(
    t: &TableReader<'_>,
    keys: &[&'static str],
    what: &str,
    example: &str,
) -> Option<&'static str> {
    let given: Vec<&'static str> = keys.iter().copied().filter(|k| t.has(k)).collect();
    match given[..] {
        [one] => Some(one),
        [] => {
            t.lacks(
                keys,
                Problem::new(t.span(), format!("{} does not say {what}", t.name()))
                    .label("needed here")
                    .help(format!("for example `{example}`")),
            );
            None
        }
        [first, second, ..] => {
            t.report(
                Problem::new(
                    t.span_of(second),
                    format!("give `{first}` or `{second}`, not both"),
                )
                .also(t.span_of(first), "the other one"),
            );
            None
        }
    }
}
