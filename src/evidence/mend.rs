//! What was mended, and in which order.

use super::{Case, Event};
use crate::evidence::flags::near_and_known;
use serde::{Deserialize, Serialize};

/// What somebody mended, with nothing else changed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Mend {
    /// The protector was replaced by a new one of the same type and rating.
    Protector,
    /// The load was freed, or brought back to what the machine's plate says.
    Load,
    /// The air was cooled, or the enclosure opened.
    Air,
    /// The supply was put right: its voltage, a phase.
    Supply,
    /// Both joints of the protector were re-made.
    Joints,
    /// Another meter was taken, because the one before was doubted.
    Meter,
}

/// Why a protector of another type is no mend of this case.
pub const ANOTHER: &str = "another type or rating makes another case: begin a new one with what is printed on it; fit \
     what the drawing asks for, never simply a larger one";

impl Mend {
    /// As they are written; none: what is no mend.
    pub const NAMES: [(&'static str, Option<Mend>); 7] = [
        ("protector", Some(Mend::Protector)),
        ("load", Some(Mend::Load)),
        ("air", Some(Mend::Air)),
        ("supply", Some(Mend::Supply)),
        ("joints", Some(Mend::Joints)),
        ("meter", Some(Mend::Meter)),
        ("another protector", None),
    ];
    /// Words by which people say the same, looked for in their order.
    const SAID: [(&'static str, Option<Mend>); 13] = [
        ("another type", None),
        ("other type", None),
        ("another protector", None),
        ("other protector", None),
        ("larger", None),
        ("protector", Some(Mend::Protector)),
        ("joint", Some(Mend::Joints)),
        ("terminal", Some(Mend::Joints)),
        ("supply", Some(Mend::Supply)),
        ("meter", Some(Mend::Meter)),
        ("load", Some(Mend::Load)),
        ("enclosure", Some(Mend::Air)),
        ("air", Some(Mend::Air)),
    ];

    /// As it is written.
    pub fn name(self) -> &'static str {
        let named = Self::NAMES.iter().find(|n| n.1 == Some(self));
        named.map_or("", |n| n.0)
    }

    /// What a text says.
    ///
    /// ```
    /// use relatch::internals::evidence::Mend;
    /// assert_eq!(Mend::read("Load freed"), Ok(Mend::Load));
    /// assert!(Mend::read("protector of another type").unwrap_err().contains("a new one"));
    /// assert!(Mend::read("suply").unwrap_err().contains("did you mean \"supply\"?"));
    /// ```
    ///
    /// # Errors
    /// What can be said.
    pub fn read(text: &str) -> Result<Mend, String> {
        let said = text.trim().to_lowercase();
        match Self::SAID.iter().find(|(word, _)| said.contains(word)) {
            Some((_, Some(mend))) => Ok(*mend),
            Some((_, None)) => Err(ANOTHER.into()),
            None => {
                let known = Self::NAMES.iter().filter(|n| n.1.is_some()).map(|n| n.0);
                Err(near_and_known(&said, known))
            }
        }
    }
}

/// A mend that was done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mended {
    /// The line as the case has it.
    pub label: String,
    /// What.
    pub what: Mend,
}

impl Case {
    /// Whether a mend was done.
    pub fn has_mended(&self, what: Mend) -> bool {
        self.is_undone(0, &[what])
    }

    /// Whether an entry, before which so many mends had been done, tells of what a later one has
    /// changed.
    pub fn is_undone(&self, mended: usize, by: &[Mend]) -> bool {
        let mut later = self.mended.iter().skip(mended);
        later.any(|m| by.contains(&m.what))
    }

    /// What the machine did last since the last of its mends, where somebody saw to it.
    pub fn since_mended(&self) -> Option<&Event> {
        let done = self.mended.len();
        let mut since = self.of_this_part_in_service().filter(|e| e.mended == done);
        since.next_back().filter(|_| done > 0)
    }
}
