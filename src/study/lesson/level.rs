//! What a lesson is about, and how much of it fits into its minutes.

use super::LessonError;
use crate::study::by_hand::{Full, Step};

/// Fewest minutes of a lesson.
pub const LEAST_MINUTES: u32 = 30;
/// Most minutes of a lesson.
pub const MOST_MINUTES: u32 = 240;
/// Most sheets.
pub const MOST_VARIANTS: usize = 100;

/// Minutes for reading, for the plot and for talking about it: common practice, no source.
pub(super) const AROUND_MIN: f64 = 20.0;

/// What a lesson is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Level {
    /// From the layers to curvature and deflection.
    Curvature,
    /// One temperature for the whole strip: its time constant and when it trips.
    Heating,
    /// What the spring holds, and how the trip point drifts when it tires.
    Preload,
    /// A strip on the bench at a safe voltage, measured.
    Bench,
}

/// A lesson that is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Plan {
    /// What it is about.
    pub level: Level,
    /// How long it lasts.
    pub minutes: u32,
    /// Sheets, each with numbers of its own.
    pub variants: usize,
    /// Start of the random numbers.
    pub seed: u64,
}

impl Plan {
    pub(super) fn check(&self) -> Result<(), LessonError> {
        if !(LEAST_MINUTES..=MOST_MINUTES).contains(&self.minutes) {
            return Err(LessonError::Minutes(self.minutes));
        }
        if !(1..=MOST_VARIANTS).contains(&self.variants) {
            return Err(LessonError::Variants(self.variants));
        }
        Ok(())
    }

    /// Minutes that are left for steps or for readings.
    pub(super) fn for_work_min(&self) -> f64 {
        f64::from(self.minutes) - AROUND_MIN
    }
}

impl Level {
    /// Symbols of the steps that may be asked. What a lesson is for comes first; what a short one
    /// has no time for is given.
    pub(super) fn wanted(self) -> &'static [&'static str] {
        match self {
            Level::Curvature => &[
                "kappa_T", "F", "d_h", "Deltaeps", "m", "n", "N", "M", "A", "B", "D", "EI", "S",
            ],
            Level::Heating => &[
                "t_far",
                "theta_far",
                "tau_far",
                "I_far",
                "Q",
                "R",
                "C",
                "G",
                "t_0",
                "t_w_far",
                "G_s",
            ],
            Level::Preload => &[
                "T_rel",
                "d_rel",
                "P",
                "s_P",
                "theta",
                "DeltaI_P",
                "DeltaI_T",
                "S",
                "T_relatch",
            ],
            Level::Bench => &["tau_far", "F", "G", "R"],
        }
    }

    /// Whether a part suits it.
    pub(super) fn suits(self, full: &Full<'_>) -> Result<(), LessonError> {
        let latch = full.device.release.mechanism.latch();
        if full.point.is_none() {
            return Err(LessonError::NeverReleases);
        }
        match self {
            Level::Curvature => Ok(()),
            Level::Heating if full.is_whole_load && full.run.trip_time_s.is_some() => Ok(()),
            Level::Heating => Err(LessonError::LoadChanges),
            Level::Preload if latch.is_some_and(|l| l.preload_n > 0.0) => Ok(()),
            Level::Preload => Err(LessonError::NoPreload),
            Level::Bench if latch.is_some() => Ok(()),
            Level::Bench => Err(LessonError::NoFreeEnd),
        }
    }
}

/// Minutes that a step takes by hand, from how much is put in: common practice, no source.
pub(super) fn minutes_of(step: &Step) -> f64 {
    2.0 + 0.5 * step.inputs.len() as f64
}
