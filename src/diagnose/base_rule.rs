//! The usual base rule, as a technician would apply it by head.

use super::record::{BaseRule, Verdict};
use crate::evidence::Case;

/// The usual base rule.
pub fn base_rule(case: &Case) -> BaseRule {
    let rated_a = case.nameplate.rated_current_a;
    let Some(reading) = case.readings.first() else {
        return BaseRule {
            verdict: Verdict::NotEnoughEvidence,
            current_a: None,
        };
    };
    let current_a = reading.current_a.value;
    let doubt_a = 2.0 * reading.current_a.standard_uncertainty;
    let verdict = if current_a + doubt_a < rated_a {
        Verdict::ReplaceTheProtector
    } else if current_a - doubt_a > rated_a {
        Verdict::FindTheLoad
    } else {
        Verdict::NotEnoughEvidence
    };
    BaseRule {
        verdict,
        current_a: Some(current_a),
    }
}
