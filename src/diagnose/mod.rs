//! From evidence to a verdict: may it be switched on, what is wrong, how sure, what to measure
//! next. What comes out are types and numbers; the words for them live in
//! [`present`](crate::present).

mod advice;
mod aim;
mod as_far;
mod assemble;
mod bands;
mod base_rule;
mod brought;
mod burning;
mod cooling;
mod density;
mod energise;
mod hypothesis;
pub mod interview;
mod judge;
mod judged;
#[cfg(test)]
mod judged_tests;
mod latent;
mod likelihood;
mod log_pictures;
mod looked;
mod looks;
#[cfg(test)]
mod measured_tests;
mod measurement;
mod mended;
#[cfg(test)]
mod mended_tests;
mod misfit;
mod next;
mod otherwise;
mod outcome;
mod pieces;
mod plan;
mod posterior;
mod readings;
pub mod record;
mod rejuvenate;
mod scales;
mod scatter;
mod scout;
mod seen;
mod sound;
mod still_open;
mod surrogate;
mod through_log;
mod through_record;
mod too_late;
mod watch;

pub use advice::Advice;
pub use assemble::{diagnose, with_family};
pub use base_rule::base_rule;
pub use burning::BadJoint;
pub use density::Density;
pub use energise::{Energise, First, WhyNot};
pub use hypothesis::{HYPOTHESES, Hypothesis};
pub use judge::SURE_ENOUGH;
pub use judged::{Judged, judged};
pub use log_pictures::{LogPictures, log_pictures};
pub use looks::Look;
pub use measurement::{Meaning, Measurement, NextMeasurement, Shows};
pub use plan::{Action, Step, StepResult, Then};
pub use record::{
    Alike, BandPoint, BaseRule, Cause, CauseShare, Change, Combination, Computed, Contradiction,
    Diagnosis, EvidencePoint, Expected, Misfit, Otherwise, State, StillOpen, Verdict, Waits,
};
pub use seen::{Evidence, Happened, Load, Says};
pub use sound::SoundParts;
pub use through_log::{condensing, through_log};
pub use through_record::{LogPicture, PicturePoint, SoundTrip, WhyTripped};
pub use watch::{Countdown, Fallen, Feed, Forecast, Line, Status, Watch, What};
