//! A current programme in words.

use crate::load::{Current, Programme, Repeat};
use crate::present::number::{duration, plain};

/// Most stretches that are told one by one.
const MOST: usize = 12;

/// A programme in words, stretch by stretch.
pub(super) fn programme(load: &Programme) -> String {
    let mut parts: Vec<String> = load
        .segments
        .iter()
        .take(MOST)
        .map(|s| {
            let current = match s.current {
                Current::Constant(a) => format!("{} A", plain(a)),
                Current::Linear { from_a, to_a } => {
                    say!(
                        "{} A rising or falling evenly to {} A",
                        plain(from_a),
                        plain(to_a)
                    )
                }
                Current::Decay {
                    from_a,
                    to_a,
                    time_constant_s,
                } => say!(
                    "{} A decaying to {} A with a time constant of {}",
                    plain(from_a),
                    plain(to_a),
                    duration(time_constant_s, 3)
                ),
            };
            if s.duration_s.is_finite() {
                say!("{current} for {}", duration(s.duration_s, 3); current)
            } else {
                current
            }
        })
        .collect();
    let more = load.segments.len().saturating_sub(MOST);
    if more > 0 {
        parts.push(say!("and {more} more stretches"; more));
    }
    let list = parts.join(word!(", then "));
    match load.repeat {
        Repeat::Once => list,
        Repeat::Times(n) => say!("{n} times: {list}"; n, list),
        Repeat::Forever => say!("again and again: {list}"; list),
    }
}
