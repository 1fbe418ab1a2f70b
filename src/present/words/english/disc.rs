//! Discs, and parts that close by themselves.

use crate::predict::{Cycling, DiscPart};
use crate::present::number::{duration, fixed, significant};

/// The disc of a part, its layers and thickness named.
pub(crate) fn disc(disc: &DiscPart, layers: &str, thickness_mm: &str) -> String {
    let (across, rise) = (
        significant(disc.diameter_mm, 3),
        significant(disc.rise_mm, 3),
    );
    let one_term = match disc.one_term_relative {
        Some(late) => say!(
            "; the one-term form would trip it {} % of its warming {}",
            fixed(100.0 * late.abs(), 0),
            if late < 0.0 {
                word!("sooner")
            } else {
                word!("later")
            }
        ),
        None if disc.creeps => String::new(),
        None => word!("; the one-term form would not let it snap").to_owned(),
    };
    say!("{layers} | {across} mm across, {thickness_mm} mm thick, rises {rise} mm{one_term}"; layers, across, thickness_mm, rise, one_term)
}

/// What a part that closes by itself does while the fault stays.
pub(crate) fn cycling(cycling: &Cycling) -> String {
    let mut text = say!(
        "Left alone it goes on by itself: {} on, {} off, {} operations an hour, on for {} % of the time",
        duration(cycling.on_s, 3),
        duration(cycling.off_s, 3),
        significant(cycling.operations_per_hour(), 3),
        fixed(100.0 * cycling.duty(), 0)
    );
    text += &match cycling.is_settled {
        true => say!(
            " (each round like the last from no. {} on).",
            cycling.cycles
        ),
        false => say!(" (still changing after {} rounds).", cycling.cycles),
    };
    if let Some(rated) = cycling.rated_closings {
        text += &say!(
            " Its contacts are rated for {} closings at such a current: {} of this.",
            significant(rated, 4),
            duration(cycling.rated_for_s().unwrap_or(f64::NAN), 2)
        );
    }
    text
}
