//! Strips from which the members of a family are made.
//!
//! The laws of a strip are fitted once; whatever is not in the fit (length, terminals, housing,
//! latch) is then changed freely.

use crate::device::Device;
use crate::scenario::{self, Scenario};

/// The pattern: its metals and its structure are kept, its numbers are replaced.
pub(super) const PATTERN: &str = include_str!("pattern.toml");

/// Thickness (m), width at 10 A (m), emissivity of the strips. Blades are 0.3 to 1.2 mm by 4 to 10
/// mm (common practice, no source).
const STRIPS: [(f64, f64, f64); 8] = [
    (0.40e-3, 4.0e-3, 0.35),
    (0.50e-3, 5.5e-3, 0.65),
    (0.60e-3, 4.5e-3, 0.50),
    (0.68e-3, 6.0e-3, 0.35),
    (0.76e-3, 4.2e-3, 0.70),
    (0.85e-3, 5.0e-3, 0.45),
    (0.95e-3, 6.5e-3, 0.60),
    (1.10e-3, 4.8e-3, 0.40),
];

/// Share of the surface that a heater winding leaves to the air, for each of the strips (common
/// practice, no source).
const UNCOVERED: [f64; 8] = [0.25, 0.4, 0.3, 0.5, 0.2, 0.35, 0.45, 0.3];
/// From this rating on, A, a strip of the list makes the heat itself: all parts are heated
/// directly.
const DIRECT_FROM_A: f64 = 5.0;
/// Below this rating, A, no strip of the list does: all parts have a winding. Between, both are
/// built. (Common practice, no source; by the heat: 1 W at 2 A takes a quarter of an ohm, twenty
/// times what such strips have.)
const WOUND_BELOW_A: f64 = 2.0;

/// Emissivity of a strip of the list.
pub(super) fn emissivity(strip: usize) -> f64 {
    STRIPS[strip % STRIPS.len()].2
}

/// Share of the surface that the winding of a strip of the list leaves to the air.
pub(super) fn uncovered(strip: usize) -> f64 {
    UNCOVERED[strip % UNCOVERED.len()]
}

/// How much larger the terminals, housing and widths of a part are than those of a 10 A part: parts
/// make about 1 W at 10 A, 3 W at 32 A and 5 to 6 W at 63 A (from memory), so they give off that
/// much.
pub(super) fn size(rated_current_a: f64) -> f64 {
    (rated_current_a / 10.0).max(1.0).powf(0.95)
}

/// The pattern as a scenario.
pub(super) fn pattern() -> Scenario {
    match scenario::read_text("pattern", PATTERN) {
        Ok(scenario) => scenario,
        Err(report) => unreachable!("the pattern is part of the program and tested: {report}"),
    }
}

/// Devices with the strips of a rating, at a reference air: heated directly, by a winding, or some
/// of both. Motor overload relays have a winding at every rating (common practice, no source).
pub(super) fn strips(rated_current_a: f64, of_a_motor_class: bool) -> Vec<Device> {
    let mut all = Vec::new();
    if rated_current_a >= WOUND_BELOW_A && !of_a_motor_class {
        all.extend(heated(rated_current_a, false));
    }
    if rated_current_a < DIRECT_FROM_A || of_a_motor_class {
        all.extend(heated(rated_current_a, true));
    }
    all
}

fn heated(rated_current_a: f64, by_winding: bool) -> Vec<Device> {
    let mut pattern = pattern();
    if !by_winding {
        pattern.winding = None;
    }
    let wider = size(rated_current_a).sqrt();
    STRIPS
        .iter()
        .enumerate()
        .filter_map(|(k, (thickness_m, width_m, emissivity))| {
            let mut s = pattern.clone();
            for layer in &mut s.strip.layers {
                layer.thickness_m = 0.5 * thickness_m;
            }
            s.strip.width_m = width_m * wider;
            s.cooling.emissivity = *emissivity;
            if by_winding {
                s.cooling.uncovered_fraction = uncovered(k);
            }
            Device::new(&s).ok()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_pattern_reads_and_gives_every_strip() {
        let wound = |rated_a: f64| {
            let all = strips(rated_a, false);
            let count = all.iter().filter(|d| d.winding.is_some()).count();
            (all.len(), count)
        };
        assert_eq!(wound(0.5), (8, 8));
        assert_eq!(wound(3.0), (16, 8));
        assert_eq!(wound(5.0), (8, 0));
        assert_eq!(wound(63.0), (8, 0));
    }
}
