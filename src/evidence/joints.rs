//! What a look at the joints, dead, has shown.

use crate::evidence::flags::near_and_known;
use serde::{Deserialize, Serialize};

/// What somebody found or did at both joints of the protector, dead.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Joints {
    /// No marks of heat.
    NoMarks,
    /// Discoloured, brittle or molten.
    MarksOfHeat,
    /// Re-made, and it has tripped since.
    ReMade,
}

impl Joints {
    /// As they are written.
    pub const NAMES: [(&'static str, Joints); 3] = [
        ("no marks", Joints::NoMarks),
        ("marks of heat", Joints::MarksOfHeat),
        ("re-made", Joints::ReMade),
    ];

    /// What a text says.
    ///
    /// ```
    /// use relatch::internals::evidence::Joints;
    /// assert_eq!(Joints::read("Marks of heat"), Ok(Joints::MarksOfHeat));
    /// assert!(Joints::read("no mark").unwrap_err().contains("did you mean \"no marks\"?"));
    /// ```
    ///
    /// # Errors
    /// What can be said.
    pub fn read(text: &str) -> Result<Joints, String> {
        let said = text.trim().to_lowercase();
        let named = Self::NAMES.iter().find(|(name, _)| *name == said);
        let known = Self::NAMES.iter().map(|(name, _)| *name);
        named
            .map(|n| n.1)
            .ok_or_else(|| near_and_known(&said, known))
    }
}
