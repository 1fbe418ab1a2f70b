//! Sweeps, comparisons and designs.

use crate::answer::LimitDemand;
use crate::present::number::{plain, significant};
use crate::study::design::{End, FoundDocument, Wanted};

/// Below a table of which some rows are left out.
pub(crate) fn some_rows() -> &'static str {
    word!("Not every point is shown; sweep.csv has them all.")
}

/// How many points of a sweep trip.
pub(crate) fn swept(points: usize, trips: usize) -> String {
    match points - trips {
        0 => word!("It trips under its load at every point.").to_owned(),
        _ if trips == 0 => {
            word!("It trips under its load at no point; why stands below.").to_owned()
        }
        _ => say!(
            "It trips under its load at {trips} of {points} points; what happens at the others \
             stands below."
        ; trips, points),
    }
}

/// Values that do not go together.
pub(crate) fn impossible(why: &str) -> String {
    say!("not a possible scenario: {why}"; why)
}

/// What can be wanted.
pub(crate) fn wanted(wanted: Wanted) -> &'static str {
    match wanted {
        Wanted::TripTime => word!("trip time"),
        Wanted::TripPoint => word!("trip point"),
        Wanted::ResetWait => word!("wait for the reset"),
        Wanted::StartWait => word!("wait for the start"),
        Wanted::StripTemperature => word!("hottest point at release"),
        Wanted::StressOverYield => word!("stress over yield strength"),
        Wanted::Drop => word!("drop at the rated current"),
        Wanted::PreloadShare => word!("preload share of the travel"),
        Wanted::PreloadEffect => word!("trip point per % of preload"),
        Wanted::Cost => word!("cost"),
    }
}

/// In what an answer is said to move.
pub(crate) fn per_percent(wanted: Wanted) -> &'static str {
    match wanted {
        Wanted::StripTemperature => "K",
        Wanted::PreloadShare => word!("points"),
        _ => "%",
    }
}

/// A window.
pub(crate) fn window(least: Option<String>, most: Option<String>) -> String {
    match (least, most) {
        (Some(least), Some(most)) => say!("{least} to {most}"; least, most),
        (Some(least), None) => say!("at least {least}"; least),
        (None, Some(most)) => say!("at most {most}"; most),
        (None, None) => word!("any").to_owned(),
    }
}

/// Whether it is inside.
pub(crate) fn met(met: bool) -> &'static str {
    if met { word!("met") } else { word!("MISSED") }
}

/// What came of a design, with its lot where a share of one was wanted.
pub(crate) fn designed(wants: usize, missed: usize, is_met: bool) -> String {
    match (missed, is_met) {
        (0, true) => say!("MET: this part meets all {wants} wants."; wants),
        (0, false) => say!(
            "NOT MET: this part itself meets all {wants} wants, but fewer units of its lot do than were wanted."
        ; wants),
        _ => say!(
            "NOT MET: no part was found within these bounds that meets all; this one misses {missed} of {wants} wants, \
             and of all parts looked at it misses them least."
        ; missed, wants),
    }
}

/// Two wants that pull against each other.
pub(crate) fn fight(one: &str, other: &str) -> String {
    say!("They fight: what brings the {one} nearer takes the {other} away."; one, other)
}

/// Where a free number lies.
pub(crate) fn end_of(end: End) -> &'static str {
    match end {
        End::Least => word!("the least it may be"),
        End::Most => word!("the most it may be"),
    }
}

/// A free number at its end.
pub(crate) fn at_end(path: &str, end: End) -> String {
    match end {
        End::Least => say!("{path} lower"; path),
        End::Most => say!("{path} higher"; path),
    }
}

/// Bounds that hold a design back.
pub(crate) fn wider(ends: &[String]) -> String {
    say!("Bounds hold it back; it would go on: {}.", ends.join(", "))
}

/// Units inside every window.
pub(crate) fn lot_inside(units: u64, of: u64, share: &str, low: &str, high: &str) -> String {
    say!(
        "{units} of {of} units are inside every window: {share} % (95 % confidence: {low} to {high} %)."
    ; units, of, share, low, high)
}

/// How much of a map meets the wants.
pub(crate) fn map_met(met: usize, of: usize, across: &str, up: &str) -> String {
    say!("Over {across} and {up}, all else as found, {met} of {of} cells meet every want."; across, up, met, of)
}

/// How the slopes were checked.
pub(crate) fn slopes_checked(percent: &str) -> String {
    say!(
        "What moves what is told by the equations where they tell it; from differences of whole predictions it is at \
         most {percent} % away."
    ; percent)
}

/// Below tables of causes.
pub(crate) fn one_at_a_time() -> &'static str {
    word!(
        "Each row changes the first scenario in that alone. What they do together and \
     their sum leaves out is interaction: of several changes none owns it."
    )
}
/// Two scenarios that differ in words alone.
pub(crate) fn same() -> &'static str {
    word!("Nothing that changes an answer differs.")
}
/// All changes at once.
pub(crate) fn together() -> &'static str {
    word!("all together")
}
/// What the sum leaves out.
pub(crate) fn interaction() -> &'static str {
    word!("interaction")
}
/// A change that cannot be made alone.
pub(crate) fn not_alone() -> &'static str {
    word!("alone it makes no part that can be predicted")
}

/// Over the causes of the differences of two scenarios.
pub(crate) fn from_to(first: &str, other: &str) -> String {
    say!("From {first} to {other}"; first, other)
}

/// Keys that go together.
pub(crate) fn several(all: &[String]) -> String {
    match all {
        [first, _, ..] => say!("{first} and {} more", all.len() - 1; first),
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
        Wanted::Cost => "",
    }
}

/// The answer of a row of published limits.
pub(crate) fn limit_row(demand: &LimitDemand, rated_a: f64) -> String {
    let amperes = |multiple: f64| significant(multiple * rated_a, 3);
    let at = match demand.poles {
        None => amperes(demand.multiple),
        Some(poles) => poles.map(|part| amperes(part * demand.multiple)).join("/"),
    };
    let after = (demand.after_multiple > 0.0).then(|| amperes(demand.after_multiple));
    match (after, demand.air_c.map(plain)) {
        (None, None) => say!("limit at {at} A"; at),
        (Some(after), None) => say!("limit at {at} A after {after} A"; at, after),
        (None, Some(air)) => say!("limit at {at} A in {air} °C"; at, air),
        (Some(after), Some(air)) => {
            say!("limit at {at} A after {after} A in {air} °C"; at, after, air)
        }
    }
}

/// As far as it goes.
pub(crate) fn aim(end: End) -> &'static str {
    match end {
        End::Least => word!("as little as can be"),
        End::Most => word!("as much as can be"),
    }
}

/// What came of a document.
pub(crate) fn document(found: &FoundDocument) -> String {
    let (name, met) = (&found.name, met(found.met));
    let Some(inside) = &found.inside else {
        return format!("{name}: {met}.");
    };
    let percent = |share: f64| significant(100.0 * share, 3);
    let [share, low, high] = [inside.share, inside.low, inside.high].map(percent);
    let (units, of) = (inside.units, inside.of);
    let by = say!(
        "{units} of {of} units meet every row, {share} % (95 % confidence: {low} to {high} %)"
    ; units, of, share, low, high);
    match found.share_wanted {
        None => format!("{name}: {met}; {by}."),
        Some(wanted) => {
            say!("{name}: {met}; {by}, and {} % were wanted.", percent(wanted); name, met, by)
        }
    }
}

/// The formula of the cost.
pub(crate) fn cost_formula(formula: &str) -> String {
    say!("The cost is {formula}."; formula)
}

/// Over the table of what one want costs the other.
pub(crate) fn trade(first: &str, second: &str) -> String {
    say!("What the {first} costs the {second}"; first, second)
}
