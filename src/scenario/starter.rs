//! Commented starter files for `relatch new KIND`.

/// Kinds of starter file.
pub const STARTER_KINDS: &[&str] = &["latch", "heater-wound", "snap-blade", "disc", "bench-strip"];

/// The starter file of a kind.
///
/// ```
/// let text = relatch::internals::scenario::starter("latch").unwrap();
/// assert!(relatch::internals::scenario::read_text("starter", text).is_ok());
/// ```
pub fn starter(kind: &str) -> Option<&'static str> {
    match kind {
        "latch" => Some(include_str!("starters/latch.toml")),
        "heater-wound" => Some(include_str!("starters/heater-wound.toml")),
        "snap-blade" => Some(include_str!("starters/snap-blade.toml")),
        "disc" => Some(include_str!("starters/disc.toml")),
        "bench-strip" => Some(include_str!("starters/bench-strip.toml")),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_starter_reads_without_a_problem() {
        for kind in STARTER_KINDS {
            let text = starter(kind).unwrap_or_default();
            if let Err(e) = crate::scenario::read_text(kind, text) {
                panic!("{kind}: {e}");
            }
        }
    }
}
