//! A wait, or why there is none to state. Never is not none.

use serde::{Deserialize, Serialize};

/// How long to wait, with `W` the reasons why it never ends and `U` why there is nothing to wait for.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "wait", rename_all = "snake_case")]
pub enum Wait<T, W, U> {
    /// It is possible at once.
    None,
    /// After this, s.
    After(T),
    /// However long one waits it never comes.
    Never {
        /// Why.
        why: W,
    },
    /// The question does not arise, or could not be answered.
    NotAsked {
        /// Why.
        why: U,
    },
}

impl<T: Copy, W, U> Wait<T, W, U> {
    /// The time to wait, where there is one.
    pub fn after(&self) -> Option<T> {
        match self {
            Self::After(time) => Some(*time),
            _ => None,
        }
    }

    /// Whether it never comes.
    pub fn is_never(&self) -> bool {
        matches!(self, Self::Never { .. })
    }
}
