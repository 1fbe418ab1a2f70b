//! What is not at hand, so that no step may need it.

use crate::diagnostic::nearest;

/// What a look, a measurement or a test needs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Missing {
    /// The machine's plate.
    Plate,
    /// The drawing or the maker's list.
    Drawing,
    /// A look at the joints.
    Joints,
    /// A true-RMS meter.
    TrueRms,
    /// A reading up to the trip, attended.
    UpToTheTrip,
    /// A sensor in the air at the part.
    Air,
    /// A millivoltmeter, a sister part.
    Millivolts,
    /// Sensors at the terminals.
    Terminals,
    /// A bench to trip the part, or to load it for hours.
    Bench,
    /// Hours for a hold test.
    HoldTest,
    /// A recorder of starts.
    Start,
    /// An identical part.
    Swap,
}

impl Missing {
    /// What can be struck, in words.
    pub const NAMES: [(&'static str, Missing); 12] = [
        ("plate", Missing::Plate),
        ("marking", Missing::Drawing),
        ("joints", Missing::Joints),
        ("true RMS", Missing::TrueRms),
        ("up to the trip", Missing::UpToTheTrip),
        ("air", Missing::Air),
        ("millivolts", Missing::Millivolts),
        ("terminals", Missing::Terminals),
        ("bench", Missing::Bench),
        ("hold test", Missing::HoldTest),
        ("start", Missing::Start),
        ("swap", Missing::Swap),
    ];

    /// What a text strikes.
    ///
    /// ```
    /// use relatch::internals::evidence::Missing;
    /// assert_eq!(Missing::read("Swap"), Ok(Missing::Swap));
    /// assert!(Missing::read("milivolts").unwrap_err().contains("did you mean \"millivolts\"?"));
    /// ```
    ///
    /// # Errors
    /// What can be struck.
    pub fn read(text: &str) -> Result<Missing, String> {
        let said = text.trim().to_lowercase().replace('-', " ");
        let named = Self::NAMES
            .iter()
            .find(|(name, _)| name.to_lowercase() == said);
        if let Some((_, missing)) = named {
            return Ok(*missing);
        }
        let names = || Self::NAMES.iter().map(|(name, _)| *name);
        let near = nearest(&said, names()).map(|n| format!("did you mean \"{n}\"? "));
        Err(format!(
            "no step needs that; {}what can be struck: {}",
            near.unwrap_or_default(),
            names().collect::<Vec<_>>().join(", ")
        ))
    }
}
