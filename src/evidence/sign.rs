//! Signs that come before every number.

use serde::{Deserialize, Serialize};

/// A sign that comes before every number.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Sign {
    /// Smell of burning, smoke.
    Smell,
    /// Soot, melted or discoloured parts.
    Soot,
    /// Trips at once from cold.
    TripsAtOnceCold,
    /// Trips with nothing connected.
    TripsWithoutLoad,
    /// The latch does not stay in when cold.
    LatchDoesNotHold,
}

impl Sign {
    /// Every sign with the key that says it.
    pub const NAMES: [(&'static str, Sign); 5] = [
        ("smell", Sign::Smell),
        ("soot", Sign::Soot),
        ("trips_at_once_cold", Sign::TripsAtOnceCold),
        ("trips_without_load", Sign::TripsWithoutLoad),
        ("does_not_latch_cold", Sign::LatchDoesNotHold),
    ];

    /// Whether words say that there is no such sign: "no smell", "without soot".
    pub fn is_denied(words: &str) -> bool {
        const DENIALS: [&str; 14] = [
            "no", "not", "none", "never", "without", "kein", "keine", "nicht", "ohne", "sin",
            "ningún", "sans", "pas", "aucun",
        ];
        let first = words.split([' ', '_', '-']).find(|w| !w.is_empty());
        first.is_some_and(|w| DENIALS.contains(&w.to_lowercase().as_str()))
    }
}
