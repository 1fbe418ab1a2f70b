//! Why nothing is to be reset, however long one waits.

use crate::family::{Agreement, WaitAnswer};
use crate::present::number::{duration, plain};

/// The line that stands in place of a wait, or `None` where there is one.
pub(crate) fn no_reset(answer: &WaitAnswer) -> Option<String> {
    match answer.timed {
        Agreement::TooSoon { soonest_s } => Some(say!(
            "NO: no heated strip of this rating trips so soon (before {}). Do not reset: look for a short circuit or \
             an earth fault, dead.",
            duration(soonest_s, 2)
        )),
        Agreement::TooLate { latest_s } => Some(say!(
            "NO: sound parts of this rating have all tripped by {}. This one protects nothing: take it out of service.",
            duration(latest_s, 2)
        )),
        _ if answer.short_circuit => {
            let multiple = plain((answer.load_a / answer.rated_current_a).round());
            Some(say!(
                "NO: {multiple} times the rating is a short circuit. Do not reset: find it, dead; what had to break such a \
                 current is tested or replaced first."
            ; multiple))
        }
        Agreement::NeverLatches { refused_s, usual_s } => Some(say!(
            "NO: it did not reset after {}, and nine of ten sound parts do by {}. Its latch is broken, it is still \
             heated, or it is another kind of part: do not try again, find out which, dead.",
            duration(refused_s, 2),
            duration(usual_s, 2)
        )),
        Agreement::Contradicts { held_s, refused_s } => Some(say!(
            "CANNOT TELL: it reset after {}, and did not after {}. One of the two is wrong, or the latch catches only now \
             and then: such a part is taken out of service.",
            duration(held_s, 2),
            duration(refused_s, 2)
        )),
        Agreement::Nothing | Agreement::Narrowed { .. } | Agreement::NoPartAgrees => None,
    }
}
