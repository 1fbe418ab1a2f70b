//! Why there is no lesson.

use super::level::{LEAST_MINUTES, MOST_MINUTES, MOST_VARIANTS};
use crate::predict::PredictError;
use crate::scenario::ReadError;
use crate::study::by_hand::ByHandError;
use std::fmt;

/// Why there is no lesson.
#[derive(Debug)]
#[non_exhaustive]
pub enum LessonError {
    /// The scenario has problems.
    Read(ReadError),
    /// It cannot be worked by hand.
    ByHand(ByHandError),
    /// So many minutes are no lesson.
    Minutes(u32),
    /// So many sheets are not made.
    Variants(usize),
    /// The part never releases by bending, so there is nothing to ask.
    NeverReleases,
    /// No preload that could be lost.
    NoPreload,
    /// The load is not one current.
    LoadChanges,
    /// The end of the strip does not move freely, so that nothing can be read off it.
    NoFreeEnd,
    /// Waiting for the strip takes too long.
    TooSlow {
        /// Minutes that the least number of readings takes.
        needs_min: f64,
    },
    /// Too few candidates made a sheet that can be handed out.
    TooFew {
        /// Sheets found.
        found: usize,
        /// Sheets wanted.
        wanted: usize,
    },
}

impl fmt::Display for LessonError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Read(error) => write!(f, "{error}"),
            Self::ByHand(error) => write!(f, "{error}"),
            Self::Minutes(given) => write!(
                f,
                "a lesson takes {LEAST_MINUTES} to {MOST_MINUTES} minutes, not {given}: reading, a few \
                 steps, the plot and talking about it"
            ),
            Self::Variants(given) => {
                write!(f, "1 to {MOST_VARIANTS} sheets are made, not {given}")
            }
            Self::NeverReleases => f.write_str(
                "this part does not release by bending, so there is nothing to ask of it by hand",
            ),
            Self::NoPreload => f.write_str(
                "this part has no spring whose preload could be lost: choose a scenario with a \
                 [latch] that has one, or --level curvature or heating",
            ),
            Self::LoadChanges => f.write_str(
                "a lesson on heating needs one constant current that trips it: \
                 --set load.current=\"20 A\", for example",
            ),
            Self::NoFreeEnd => f.write_str(
                "a measuring lesson reads how far the free end of a strip moves, and this part has \
                 none: choose a scenario with a [latch]",
            ),
            Self::TooSlow { needs_min } => write!(
                f,
                "this strip is too slow for so short a lesson: three readings take {needs_min:.0} \
                 minutes; choose a thinner one, or more --minutes"
            ),
            Self::TooFew { found, wanted } => write!(
                f,
                "only {found} of {wanted} sheets could be made whose steps are well posed and whose \
                 answers differ: ask for fewer, or for numbers farther from where it no longer trips"
            ),
        }
    }
}

impl std::error::Error for LessonError {}

impl From<ByHandError> for LessonError {
    fn from(error: ByHandError) -> Self {
        Self::ByHand(error)
    }
}

impl From<PredictError> for LessonError {
    fn from(error: PredictError) -> Self {
        Self::ByHand(error.into())
    }
}
