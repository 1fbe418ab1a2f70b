//! What a part is, and how it was computed.

use super::mechanism;
use crate::predict::{Across, ComputedWith, MechanismKind, Part};
use crate::present::number::plain;
use crate::scenario::Reset;

/// What was set in a scenario, after what is said of it; nothing where nothing was.
pub(crate) fn changed(list: &[String]) -> String {
    match list {
        [] => String::new(),
        list => format!("; changed: {}", list.join(", ")),
    }
}

/// How it is closed again.
pub(crate) fn resets(reset: Reset) -> &'static str {
    match reset {
        Reset::ByHand => "reset by hand",
        Reset::Automatic => "resets by itself",
    }
}

/// "10 A latch, reset by hand"
pub(crate) fn part_line(rated_a: f64, kind: MechanismKind, reset: Reset) -> String {
    let name = mechanism(kind).name;
    format!("{} A {name}, {}", plain(rated_a), resets(reset))
}

/// The name of the wait for relatch.
pub(crate) fn reset_name(reset: Reset) -> &'static str {
    match reset {
        Reset::ByHand => "Reset possible after",
        Reset::Automatic => "Closes by itself after",
    }
}

/// The layers, low-expansion side first.
pub(crate) fn layers(part: &Part) -> Vec<String> {
    let layers = part.layer_thicknesses_mm.iter().zip(&part.layer_alloys);
    layers
        .map(|(mm, alloy)| format!("{mm:.3} mm {alloy}"))
        .collect()
}

/// How the temperature across the layers was treated.
pub(crate) fn across(across: Across) -> String {
    match across {
        Across::OneTemperature => "one temperature across".to_owned(),
        Across::Resolved { modes } => format!("resolved, {modes} mode{}", plural(modes)),
    }
}

/// Grid and tolerance.
pub(crate) fn computed_with(with: &ComputedWith) -> String {
    format!(
        "{} spectral element{}, order {}, tolerance {:.0e}",
        with.elements,
        plural(with.elements),
        with.order,
        with.tolerance
    )
}

fn plural(count: usize) -> &'static str {
    if count == 1 { "" } else { "s" }
}
