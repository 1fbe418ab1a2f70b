//! Strips from which the members of a family are made.
//!
//! The laws of a strip are fitted once; whatever is not in the fit (length, terminals, housing, latch) is then
//! changed freely.

use crate::device::Device;
use crate::scenario::{self, Scenario};

/// The pattern: its metals and its structure are kept, its numbers are replaced.
pub(super) const PATTERN: &str = include_str!("pattern.toml");

/// Thickness (m), width at 10 A (m), emissivity of the strips. Blades are 0.3 to 1.2 mm by 4 to 10 mm (common
/// practice, no source).
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

/// Emissivity of a strip of the list.
pub(super) fn emissivity(strip: usize) -> f64 {
    STRIPS.get(strip).map_or(0.5, |s| s.2)
}

/// How much larger the terminals, housing and widths of a part are than those of a 10 A part: parts make about
/// 1 W at 10 A, 3 W at 32 A and 5 to 6 W at 63 A (from memory), so they give off that much.
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

/// Devices with the strips of a rating, at a reference air.
pub(super) fn strips(rated_current_a: f64) -> Vec<Device> {
    let pattern = pattern();
    let wider = size(rated_current_a).sqrt();
    STRIPS
        .iter()
        .filter_map(|(thickness_m, width_m, emissivity)| {
            let mut s = pattern.clone();
            for layer in &mut s.strip.layers {
                layer.thickness_m = 0.5 * thickness_m;
            }
            s.strip.width_m = width_m * wider;
            s.cooling.emissivity = *emissivity;
            Device::new(&s).ok()
        })
        .collect()
}

#[cfg(test)]
mod tests {
    #[test]
    fn the_pattern_reads_and_gives_every_strip() {
        assert_eq!(super::strips(10.0).len(), super::STRIPS.len());
        assert_eq!(super::strips(63.0).len(), super::STRIPS.len());
    }
}
