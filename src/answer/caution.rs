//! Cautions for the person at the machine: which there are and where each stands.

use serde::{Deserialize, Serialize};

/// Where a caution stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
#[non_exhaustive]
pub enum Place {
    /// Before everything else.
    Top,
    /// Before the waits.
    BeforeWaits,
    /// Beside the waits.
    BesideWaits,
    /// At the head of anything that is to be measured.
    Measuring,
    /// At the head of anything that a test may be planned from.
    Testing,
    /// In the list of cautions at the end.
    End,
}

/// A caution. Whoever computes an answer adds those that concern it; nothing can switch them off.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Caution {
    /// As modelled, the equipment is not protected at twice the rating or more.
    NotProtected,
    /// Within the years looked at the part becomes late.
    LateInTime,
    /// More than one unit in twenty may become late within the years looked at.
    LatePerhaps,
    /// Some units of a lot leave the equipment unprotected.
    LateUnits,
    /// Find the cause before switching on again.
    FindCause,
    /// Smell, soot, an instant trip when cold: do not reset.
    FaultSigns,
    /// Bench or classroom: low voltage, guard the hot strip.
    Teaching,
    /// The machine may start by itself.
    StartsByItself,
    /// Never hold the reset in, never tape or bridge it.
    NeverHold,
    /// Never hold it closed, never bridge it.
    NeverBridge,
    /// A motor winding may need far longer to cool than the protector.
    WindingCoolsLonger,
    /// Measuring is live work.
    LiveWork,
    /// Test a trip only with the part removed, at low voltage.
    DeliberateOverload,
    /// Time the part as found before the latch is moved.
    ExerciseHides,
    /// A date is an estimate: test in time and replace before it.
    ReplaceBefore,
    /// A fitted part is no approval, no replacement and no setting.
    OneOfMany,
    /// Rates are those of the tolerances in the scenario, as new.
    ModelledScatter,
    /// Never raise the rating to stop the tripping.
    NeverRaise,
    /// Numbers are estimates; the maker's curve and local rules prevail.
    ModelEstimate,
}

impl Caution {
    /// Where it stands.
    pub fn place(self) -> Place {
        match self {
            Self::NotProtected
            | Self::LateInTime
            | Self::LatePerhaps
            | Self::LateUnits
            | Self::FindCause
            | Self::FaultSigns
            | Self::Teaching => Place::Top,
            Self::StartsByItself => Place::BeforeWaits,
            Self::NeverHold | Self::NeverBridge | Self::WindingCoolsLonger => Place::BesideWaits,
            Self::LiveWork => Place::Measuring,
            Self::DeliberateOverload | Self::ExerciseHides => Place::Testing,
            Self::ReplaceBefore
            | Self::OneOfMany
            | Self::ModelledScatter
            | Self::NeverRaise
            | Self::ModelEstimate => Place::End,
        }
    }
}
