//! What a part is, and how it was computed.

use super::mechanism;
use crate::predict::{Across, ComputedWith, MechanismKind, Part};
use crate::present::number::{fixed, plain, power_of_ten};
use crate::scenario::Reset;

/// What was set in a scenario, after what is said of it; nothing where nothing was.
pub(crate) fn changed(list: &[String]) -> String {
    match list {
        [] => String::new(),
        list => say!("; changed: {}", list.join(", ")),
    }
}

/// How it is closed again.
pub(crate) fn resets(reset: Reset) -> &'static str {
    match reset {
        Reset::ByHand => word!("reset by hand"),
        Reset::Automatic => word!("resets by itself"),
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
        Reset::ByHand => word!("Reset possible after"),
        Reset::Automatic => word!("Closes by itself after"),
    }
}

/// The layers, low-expansion side first.
pub(crate) fn layers(part: &Part) -> Vec<String> {
    let layers = part.layer_thicknesses_mm.iter().zip(&part.layer_alloys);
    layers
        .map(|(mm, alloy)| format!("{} mm {alloy}", fixed(*mm, 3)))
        .collect()
}

/// How the temperature across the layers was treated.
pub(crate) fn across(across: Across) -> String {
    match across {
        Across::OneTemperature => word!("one temperature across").to_owned(),
        Across::Resolved { modes: 1 } => word!("resolved, 1 mode").to_owned(),
        Across::Resolved { modes } => say!("resolved, {modes} modes"; modes),
    }
}

/// Grid and tolerance.
pub(crate) fn computed_with(with: &ComputedWith) -> String {
    let (elements, order) = (with.elements, with.order);
    let tolerance = power_of_ten(with.tolerance, 0);
    match elements {
        1 => say!("1 spectral element, order {order}, tolerance {tolerance}"; order, tolerance),
        _ => say!(
            "{elements} spectral elements, order {order}, tolerance {tolerance}";
            elements,
            order,
            tolerance
        ),
    }
}
