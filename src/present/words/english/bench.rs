//! Sweeps, comparisons and designs.

use crate::study::design::{End, Wanted};

/// Below a table of which some rows are left out.
pub(crate) const SOME_ROWS: &str = "Not every point is shown; sweep.csv has them all.";

/// How many points of a sweep trip.
pub(crate) fn swept(points: usize, trips: usize) -> String {
    match points - trips {
        0 => "It trips under its load at every point.".to_owned(),
        _ if trips == 0 => "It trips under its load at no point; why stands below.".to_owned(),
        _ => format!(
            "It trips under its load at {trips} of {points} points; what happens at the others \
             stands below."
        ),
    }
}

/// Values that do not go together.
pub(crate) fn impossible(why: &str) -> String {
    format!("not a possible scenario: {why}")
}

/// What can be wanted.
pub(crate) fn wanted(wanted: Wanted) -> &'static str {
    match wanted {
        Wanted::TripTime => "trip time",
        Wanted::TripPoint => "trip point",
        Wanted::ResetWait => "wait for the reset",
        Wanted::StartWait => "wait for the start",
        Wanted::StripTemperature => "hottest point at release",
        Wanted::StressOverYield => "stress over yield strength",
        Wanted::Drop => "drop at the rated current",
        Wanted::PreloadShare => "preload share of the travel",
        Wanted::PreloadEffect => "trip point per % of preload",
    }
}

/// In what an answer is said to move.
pub(crate) fn per_percent(wanted: Wanted) -> &'static str {
    match wanted {
        Wanted::StripTemperature => "K",
        Wanted::PreloadShare => "points",
        _ => "%",
    }
}

/// A window.
pub(crate) fn window(least: Option<String>, most: Option<String>) -> String {
    match (least, most) {
        (Some(least), Some(most)) => format!("{least} to {most}"),
        (Some(least), None) => format!("at least {least}"),
        (None, Some(most)) => format!("at most {most}"),
        (None, None) => "any".to_owned(),
    }
}

/// Whether it is inside.
pub(crate) fn met(met: bool) -> &'static str {
    if met { "met" } else { "MISSED" }
}

/// What came of a design.
pub(crate) fn designed(wants: usize, missed: usize) -> String {
    match missed {
        0 => format!("MET: this part meets all {wants} wants."),
        _ => format!(
            "NOT MET: no part was found within these bounds that meets all; this one misses {missed} of {wants} wants, \
             and of all parts looked at it misses them least."
        ),
    }
}

/// Two wants that pull against each other.
pub(crate) fn fight(one: &str, other: &str) -> String {
    format!("They fight: what brings the {one} nearer takes the {other} away.")
}

/// Where a free number lies.
pub(crate) fn end_of(end: End) -> &'static str {
    match end {
        End::Least => "the least it may be",
        End::Most => "the most it may be",
    }
}

/// A free number at its end.
pub(crate) fn at_end(path: &str, end: End) -> String {
    match end {
        End::Least => format!("{path} lower"),
        End::Most => format!("{path} higher"),
    }
}

/// Bounds that hold a design back.
pub(crate) fn wider(ends: &[String]) -> String {
    format!("Bounds hold it back; it would go on: {}.", ends.join(", "))
}

/// Units inside every window.
pub(crate) fn lot_inside(units: u64, of: u64, share: &str, low: &str, high: &str) -> String {
    format!(
        "{units} of {of} units are inside every window: {share} % (95 % confidence: {low} to {high} %)."
    )
}

/// How much of a map meets the wants.
pub(crate) fn map_met(met: usize, of: usize, across: &str, up: &str) -> String {
    format!("Over {across} and {up}, all else as found, {met} of {of} cells meet every want.")
}

/// How the slopes were checked.
pub(crate) fn slopes_checked(percent: &str) -> String {
    format!(
        "What moves what is a difference of whole predictions; half the step changes it by at most \
         {percent} %."
    )
}

/// Below tables of causes.
pub(crate) const ONE_AT_A_TIME: &str = "Each row changes the first scenario in that alone. What they do together and \
     their sum leaves out is interaction: of several changes none owns it.";
/// Two scenarios that differ in words alone.
pub(crate) const SAME: &str = "Nothing that changes an answer differs.";
/// All changes at once.
pub(crate) const TOGETHER: &str = "all together";
/// What the sum leaves out.
pub(crate) const INTERACTION: &str = "interaction";
/// A change that cannot be made alone.
pub(crate) const NOT_ALONE: &str = "alone it makes no part that can be predicted";

/// Over the causes of the differences of two scenarios.
pub(crate) fn from_to(first: &str, other: &str) -> String {
    format!("From {first} to {other}")
}

/// Keys that go together.
pub(crate) fn several(all: &[String]) -> String {
    match all {
        [first, _, ..] => format!("{first} and {} more", all.len() - 1),
        all => all.join(""),
    }
}

/// A value that finds room in a table.
pub(crate) fn short(value: &str) -> String {
    const MOST: usize = 18;
    match value.chars().count() > MOST {
        true => value.chars().take(MOST - 1).chain(['…']).collect(),
        false => value.to_owned(),
    }
}

/// The unit of a want on an axis.
pub(crate) fn unit_of(wanted: Wanted) -> &'static str {
    match wanted {
        Wanted::TripTime | Wanted::ResetWait | Wanted::StartWait => "s",
        Wanted::TripPoint | Wanted::PreloadEffect => "A",
        Wanted::StripTemperature => "°C",
        Wanted::Drop => "mV",
        Wanted::StressOverYield | Wanted::PreloadShare => "%",
    }
}

/// Over the table of what one want costs the other.
pub(crate) fn trade(first: &str, second: &str) -> String {
    format!("What the {first} costs the {second}")
}
