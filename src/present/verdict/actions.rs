//! What to do now, by verdict. The steps are common practice of electrical maintenance; local rules prevail.

use super::words::{cause_words, in_words};
use crate::diagnose::{Cause, Diagnosis, Energise, First, Verdict};

/// A protector that may leave the machine unprotected is told from this probability on. It weighs more than a
/// nuisance: a tenth is enough.
const LATE_FROM: f64 = 0.1;
/// From here on it is told as a finding.
const LATE_FOUND: f64 = 0.5;

const ISOLATE: &str = "Switch off, lock, prove dead, let it cool before anything is touched.";
const ONCE_COLD: &str = "Reset once when cold, and stay with it through a whole run.";

const RE_MAKE: &str = "Cut back and re-make the joint: right conductor, ferrule and torque; replace burnt parts. \
                       Never tighten or probe a hot joint live.";
const JOINT_FIRST: &str = "The joint is out of order whatever else is: change no other part on a guess, and do not \
                           leave the machine running unattended to see whether it trips.";
/// A joint as probable as this is re-made although another cause is still open.
const JOINT_SURE: f64 = 0.9;

/// Whether a joint that can burn is as good as certain.
fn joint_is_sure(diagnosis: &Diagnosis) -> bool {
    let Energise::NotYet { after } = &diagnosis.energise else {
        return false;
    };
    after.iter().any(|first| {
        matches!(first, First::ReMakeTheConnection { probability } if *probability >= JOINT_SURE)
    })
}

/// Probability that the protector is late.
fn late(diagnosis: &Diagnosis) -> f64 {
    let shares = diagnosis.causes.iter();
    let late = shares.filter(|c| c.cause == Cause::WornLate && c.probability.is_finite());
    late.map(|c| c.probability).fold(0.0, f64::max)
}

/// Whether the verdict is about a protector that comes too late.
fn is_about_lateness(diagnosis: &Diagnosis) -> bool {
    late(diagnosis) >= LATE_FOUND
}

/// The loudest line, for a protector that comes too late or not at all.
pub(in crate::present) fn lateness(diagnosis: &Diagnosis) -> Option<String> {
    let probability = late(diagnosis);
    let told = super::percent(probability);
    if probability >= LATE_FOUND {
        Some(format!(
            "LATE OR NO TRIP (probability {told}): the equipment is unprotected. Take it out of service now."
        ))
    } else if probability >= LATE_FROM {
        Some(format!(
            "IT MAY TRIP TOO LATE (probability {told}): treat the equipment as unprotected until a timed trip shows \
             otherwise."
        ))
    } else {
        None
    }
}

/// Steps to take now, in their order.
pub(in crate::present) fn actions(diagnosis: &Diagnosis) -> Vec<String> {
    let steps: &[&str] = match diagnosis.verdict {
        Verdict::DoNotReEnergise => {
            if is_about_lateness(diagnosis) {
                &[
                    "Switch off, lock and tag the circuit; the machine stays out of service.",
                    "Replace the protector before the machine runs again. Do not work it to and fro first: that hides \
                     what was found.",
                    "Have a qualified person check what it should have protected: winding, cable, plug.",
                ]
            } else {
                &[
                    "Switch off, lock and tag the circuit. Do not reset, not even to test.",
                    "Have a qualified person look for the fault with the circuit dead: short circuit, earth fault, burnt \
                     parts, broken latch.",
                    "Only that person releases the machine again.",
                ]
            }
        }
        Verdict::ReplaceTheProtector => &[
            ISOLATE,
            "Fit a part of the same rating at the same reference air. Never a higher rating to stop the tripping.",
            "Time the new part once at 200 % before it goes in, and write that time on its label.",
        ],
        Verdict::FindTheLoad => &[
            "Leave the protector: it did its job.",
            "Look for what makes the machine draw more: stiff or blocked drive, wear, misuse, low voltage under load, \
             starts too heavy or too often.",
            "Then read the true-RMS current again through a whole run.",
        ],
        Verdict::CoolOrReRate => &[
            "Shade, ventilate or move the protector; or fit one whose maker rates it for this air. Never simply a larger \
             one.",
            "Test again at that place. Until then nobody knows whether the protector is worn as well.",
        ],
        Verdict::ReMakeTheConnection => &[
            ISOLATE,
            RE_MAKE,
            "Measure the drop and both terminals again. Until then nobody knows whether the protector is worn as well.",
        ],
        Verdict::TwoCauses => return two_causes(diagnosis),
        Verdict::NothingToMend => &[
            ONCE_COLD,
            "Write the trip down. If it comes again, record the current up to the trip.",
        ],
        Verdict::NotEnoughEvidence => &[
            "Take the next measurement below; it says which result leads where.",
            "Change no part on a guess. Do not leave the machine running unattended to see whether it trips.",
        ],
    };
    let mut steps: Vec<String> = steps.iter().map(|s| (*s).to_owned()).collect();
    if diagnosis.verdict == Verdict::NotEnoughEvidence && joint_is_sure(diagnosis) {
        // What is known and safe to mend is said first, even if a second cause is open.
        steps[1] = JOINT_FIRST.to_owned();
        steps.splice(0..0, [ISOLATE.to_owned(), RE_MAKE.to_owned()]);
    }
    if !diagnosis.also.is_empty() {
        let also: Vec<&str> = diagnosis.also.iter().map(|c| cause_words(*c)).collect();
        steps.push(format!(
            "It may then run, but put this right as well: {}.",
            in_words(&also)
        ));
    }
    steps
}

/// The machine or the place first, the protector in any case.
fn two_causes(diagnosis: &Diagnosis) -> Vec<String> {
    let together = diagnosis.combinations.iter().find(|c| c.causes.len() > 1);
    let causes = together.map_or(&[] as &[Cause], |c| &c.causes);
    let is_protector = |c: &Cause| matches!(c, Cause::WornEarly | Cause::WornLate);
    let mut steps = Vec::new();
    let outside: Vec<&str> = causes
        .iter()
        .filter(|c| !is_protector(c))
        .map(|c| cause_words(*c))
        .collect();
    if outside.is_empty() {
        steps.push("Mend the machine or the place first.".to_owned());
    } else {
        steps.push(format!("Mend first: {}.", in_words(&outside)));
    }
    if causes.iter().any(is_protector) {
        steps.push(format!(
            "Replace the protector all the same, by one of the same rating at the same reference air. {ISOLATE}"
        ));
    }
    steps.push("Test again when one is mended: the other must not be forgotten.".to_owned());
    steps
}
