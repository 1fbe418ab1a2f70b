//! What a family of heated strips leaves out, where it may matter.

use super::kinds::Element;
use super::nameplate::Nameplate;
use serde::{Deserialize, Serialize};

/// From so many times the rating on an instantaneous element, where a part has one, may open first:
/// the lowest of the published bands (IEC 60898-1: type B 3 to 5, C 5 to 10, D 10 to 20 times the
/// rating).
const INSTANTANEOUS_FROM: f64 = 3.0;

/// What is not modelled and may matter here.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "code", rename_all = "snake_case")]
#[non_exhaustive]
pub enum LeftOut {
    /// An instantaneous (magnetic) element, of which nothing is known.
    InstantaneousElement {
        /// Largest current asked about, over the rating.
        multiple: f64,
    },
    /// The named limits were printed for another rating: for this one they have no source.
    LimitsOfAnotherRating {
        /// Least and largest rating they were printed for, A.
        covers_a: [f64; 2],
    },
    /// The heat of the machine that the protector sits on.
    HeatOfTheMachine,
    /// A disc or a blade that snaps back.
    SnapsBack,
    /// The same where causes are weighed: on-times and waits of such parts are not those of strips.
    ClosesByItself,
}

impl LeftOut {
    /// Limits of another rating.
    pub fn other_rating(nameplate: &Nameplate) -> Option<LeftOut> {
        let limits = nameplate
            .limits
            .as_deref()
            .and_then(Nameplate::limits_named)?;
        (!limits.covers(nameplate.rated_current_a)).then_some(LeftOut::LimitsOfAnotherRating {
            covers_a: limits.covers_a,
        })
    }

    /// An instantaneous element, for a nameplate and the largest current in question, A.
    pub fn instantaneous(nameplate: &Nameplate, largest_a: f64) -> Option<LeftOut> {
        let multiple = largest_a / nameplate.rated_current_a;
        let has_none = nameplate.resets_itself || Element::of(nameplate).is_some();
        let is_open = !has_none && multiple >= INSTANTANEOUS_FROM;
        is_open.then_some(LeftOut::InstantaneousElement { multiple })
    }
}
