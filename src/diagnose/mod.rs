//! From evidence to a verdict: what is wrong, how sure, what to measure next.

mod advice;
mod aim;
mod assemble;
mod bands;
mod base_rule;
mod conflict;
mod cooling;
mod density;
mod energise;
mod hypothesis;
mod judge;
mod judged;
mod latent;
mod log_pictures;
mod next;
mod otherwise;
mod outcome;
mod pieces;
mod posterior;
mod quickly;
mod readings;
pub mod record;
mod say;
mod scales;
mod scatter;
mod scout;
mod sheet;
mod sound;
mod through_log;
mod through_record;
mod walk;
mod watch;
mod watch_log;
mod watch_record;
#[cfg(test)]
mod watch_tests;
mod watch_waits;
mod watch_window;
mod weigh;
mod words;

pub use advice::Advice;
pub use assemble::{diagnose, with_family};
pub use base_rule::base_rule;
pub use density::Density;
pub use energise::{Energise, First, WhyNot};
pub use hypothesis::{HYPOTHESES, Hypothesis};
pub use judged::{Judged, judged};
pub use log_pictures::{LogPictures, log_pictures};
pub use record::{
    BandPoint, BaseRule, Cause, CauseShare, Combination, Contradiction, Diagnosis, EvidenceLine,
    EvidencePoint, NextMeasurement, OutcomeMeaning, Range, ReplacementField, State, Verdict, Waits,
};
pub use sound::SoundParts;
pub use through_log::{condensing, through_log};
pub use through_record::{LogPicture, PicturePoint, SoundTrip, WhyTripped};
pub use watch::Watch;
pub use watch_log::Feed;
pub use watch_record::{Countdown, Fallen, Forecast, Line, Status, What};
