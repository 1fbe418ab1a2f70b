//! What is asked about a wait.

use crate::family::nameplate::Nameplate;
use crate::family::timed::Timed;
use crate::load::Programme;
use serde::{Deserialize, Serialize};

/// Where the protector sits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Sits {
    /// In a box of its own.
    InABox,
    /// On or in a motor, pump or compressor, whose heat it feels.
    OnTheMachine,
}

/// What is asked.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct WaitQuestion {
    /// The nameplate.
    pub nameplate: Nameplate,
    /// Current that tripped it, A.
    pub load_a: f64,
    /// Air at the part, K.
    pub ambient_k: f64,
    /// What the machine draws when it is started again: the start and the run after it.
    pub start: Option<Programme>,
    /// What was timed at the part in hand.
    pub timed: Timed,
    /// Where it sits; `None`: nobody said.
    pub sits: Option<Sits>,
}

impl WaitQuestion {
    /// A nameplate and the current, A, that tripped it, in air of 25 degC; nothing else is known.
    pub fn new(nameplate: Nameplate, load_a: f64) -> WaitQuestion {
        WaitQuestion {
            nameplate,
            load_a,
            ambient_k: 298.15,
            start: None,
            timed: Timed::default(),
            sits: None,
        }
    }

    /// Temperature of the air that the part feels, K.
    pub(super) fn felt_k(&self) -> f64 {
        self.nameplate.felt_k(self.ambient_k)
    }
}
