//! The usual base rule, as a technician would apply it by head.

use super::record::{BaseRule, Verdict};
use super::say::amperes;
use crate::evidence::Case;

/// The usual base rule.
pub fn base_rule(case: &Case) -> BaseRule {
    let rated = case.nameplate.rated_current_a;
    let trusts = "It trusts the meter, the moment of the reading and the air.";
    let Some(reading) = case.readings.first() else {
        return BaseRule {
            verdict: Verdict::NotEnoughEvidence,
            sentence: "it needs a reading of the current.".into(),
        };
    };
    let (i, u) = (
        reading.current_a.value,
        2.0 * reading.current_a.standard_uncertainty,
    );
    let shown = format!("{} against a rating of {}", amperes(i), amperes(rated));
    if i + u < rated {
        BaseRule {
            verdict: Verdict::ReplaceTheProtector,
            sentence: format!(
                "replace the protector ({shown}, clearly below, and it trips). {trusts}"
            ),
        }
    } else if i - u > rated {
        BaseRule {
            verdict: Verdict::FindTheLoad,
            sentence: format!("the machine draws too much ({shown}). {trusts}"),
        }
    } else {
        BaseRule {
            verdict: Verdict::NotEnoughEvidence,
            sentence: format!("it cannot say: {shown} lies within the meter's doubt."),
        }
    }
}
