//! From evidence to a verdict: what is wrong, how sure, what to measure next.

mod assemble;
mod bands;
mod cloud;
mod conflict;
mod cooling;
mod density;
mod hypothesis;
mod judge;
mod latent;
mod next;
mod otherwise;
mod posterior;
mod quantiles;
mod record;
mod say;
mod sheet;
mod weigh;
mod words;

pub use assemble::{Judged, base_rule, diagnose, judged, with_family};
pub use density::Density;
pub use hypothesis::{HYPOTHESES, Hypothesis};
pub use record::{
    BandPoint, BaseRule, Cause, CauseShare, Combination, Contradiction, Diagnosis, Energise,
    EvidenceLine, EvidencePoint, NextMeasurement, OutcomeMeaning, Range, ReplacementField, State,
    Verdict, Waits,
};
