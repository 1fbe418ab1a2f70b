//! From evidence to a verdict: what is wrong, how sure, what to measure next.

mod record;

pub use record::{
    BandPoint, BaseRule, Cause, CauseShare, Combination, Contradiction, Diagnosis, Energise,
    EvidenceLine, EvidencePoint, NextMeasurement, OutcomeMeaning, Range, ReplacementField, State,
    Verdict, Waits,
};
