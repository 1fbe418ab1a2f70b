//! The cautions that an ageing study calls for, most urgent first. They cannot be switched off.

use super::outcome::{AgeOutcome, Date};
use crate::answer::Caution;
use crate::predict::MechanismKind;
use crate::scenario::{Reset, UsedFor};

/// The cautions that concern this outcome.
pub fn cautions(outcome: &AgeOutcome) -> Vec<Caution> {
    let within = |d: &Date| d.years().is_some_and(|y| y <= outcome.horizon_years);
    let late_share = outcome.lives.by_year.last().and_then(|y| y.late);
    let mut list = Vec::new();
    if within(&outcome.dates.leaves_limits_late) {
        list.push(Caution::LateInTime);
    } else if late_share.is_some_and(|s| s.high >= 0.05) {
        list.push(Caution::LatePerhaps);
    }
    list.extend([Caution::FindCause, Caution::FaultSigns]);
    if outcome.reset == Reset::Automatic {
        list.push(Caution::StartsByItself);
    }
    list.extend([Caution::ReplaceBefore, Caution::NeverRaise]);
    if outcome.mechanism == MechanismKind::Latch {
        list.push(Caution::ExerciseHides);
    }
    list.push(Caution::DeliberateOverload);
    if outcome.used_for == UsedFor::Teaching {
        list.push(Caution::Teaching);
    }
    list.push(Caution::ModelEstimate);
    list
}
