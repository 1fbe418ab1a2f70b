//! Cautions. The wording is our own; where a rule stands behind a caution it is named.

use crate::answer::Caution;

/// A caution in full.
pub(crate) fn caution(caution: Caution) -> &'static str {
    match caution {
        Caution::NotProtected => {
            word!(
                "LATE: as modelled, the equipment is not protected at twice the rating or more. \
             Take it out of service now."
            )
        }
        Caution::LateInTime => {
            word!(
                "LATE within the time looked at: from that date on the part no longer trips as \
             soon as its limits demand and the equipment is not protected. Replace or exercise \
             it before."
            )
        }
        Caution::LatePerhaps => {
            word!(
                "LATE: more than one unit in twenty may no longer trip as soon as its limits \
             demand within the time looked at."
            )
        }
        Caution::LateUnits => {
            word!(
                "LATE: some units leave the equipment unprotected. A rate says nothing about the \
             one in hand: time it before it is trusted."
            )
        }
        Caution::FindCause => {
            word!(
                "Find the cause before switching on again. At work, repeated reclosing by hand is \
             prohibited (OSHA 1910.334(b)(2), NFPA 70E) unless an overload is clearly \
             established with the circuit dead."
            )
        }
        Caution::FaultSigns => {
            word!(
                "Smell, soot, discolouration, an instant trip when cold, a trip with no load: do \
             not reset."
            )
        }
        Caution::Teaching => {
            word!(
                "Bench or classroom: 24 V at most, guard the hot strip, no mains boards, never \
             unattended."
            )
        }
        Caution::StartsByItself => {
            word!(
                "The machine may start by itself after cooling or when power returns: switch off \
             and lock first."
            )
        }
        Caution::NeverHold => word!("Never hold the reset button in, and never tape or bridge it."),
        Caution::NeverBridge => word!("Never hold the protector closed and never bridge it."),
        Caution::WindingCoolsLonger => {
            word!("These waits are for the protector; a motor winding may need far longer to cool.")
        }
        Caution::LiveWork => {
            word!(
                "Measuring a drop is live work: a qualified worker, a meter of the fitting \
             category, no open terminals. Isolate, lock, prove dead and let cool before \
             touching or tightening."
            )
        }
        Caution::DeliberateOverload => {
            word!(
                "Test a trip only with the part removed and the equipment disconnected: a \
             low-voltage source, a time limit, ventilation, never a shared supply; parts get \
             hotter than 60 °C. Count the test trips: they use up life."
            )
        }
        Caution::ExerciseHides => {
            word!(
                "Take the as-found trip time before the latch is exercised: one movement hides \
             that it was late."
            )
        }
        Caution::ReplaceBefore => {
            word!(
                "A date is a model estimate from the constants in the scenario: test in time, and \
             replace before it."
            )
        }
        Caution::OneOfMany => {
            word!(
                "Many different parts follow the same published curve. A fitted part is no \
             approval, no replacement and no setting: choose and replace a protector by the \
             maker's sheet."
            )
        }
        Caution::ModelledScatter => {
            word!(
                "Rates are those of the tolerances written in the scenario, as new. A lot is \
             accepted by tests of its own parts, not by this."
            )
        }
        Caution::NeverRaise => {
            word!("Never raise the rating to stop the tripping: wiring and equipment set it.")
        }
        Caution::ModelEstimate => {
            word!("Numbers are model estimates; the maker's curve and local rules prevail.")
        }
    }
}

/// A caution beside a measurement that is asked for there, where the reader has no room for all of
/// it.
pub(crate) fn caution_short(which: Caution) -> &'static str {
    match which {
        Caution::LiveWork => {
            word!(
                "Live measuring is for qualified people: a meter of the fitting category, no open \
             terminals. Isolate, lock, prove dead, let it cool before touching or tightening."
            )
        }
        Caution::DeliberateOverload => {
            word!(
                "Force a trip only with the part removed: low-voltage source, time limit, \
             ventilation, never a shared supply; parts get hotter than 60 °C. Count the trips: \
             they use up life."
            )
        }
        other => caution(other),
    }
}

/// A caution in the fewest words, for a screen that is read in seconds.
pub(crate) fn caution_brief(which: Caution) -> &'static str {
    match which {
        Caution::FindCause => {
            word!("Find the cause first: repeated reclosing is prohibited at work.")
        }
        Caution::FaultSigns => word!("Smell, soot, an instant or unloaded trip: do not reset."),
        Caution::StartsByItself => word!("It may start by itself: switch off, lock."),
        Caution::NeverHold => word!("Never hold, tape or bridge the reset."),
        Caution::WindingCoolsLonger => word!("A motor winding may cool far slower."),
        Caution::LiveWork => {
            word!("Live work: qualified people. Before touching isolate, lock, prove dead, cool.")
        }
        Caution::DeliberateOverload => {
            word!(
                "Force a trip only with the part removed: low voltage, limited time, parts get hot."
            )
        }
        Caution::NeverRaise => word!("Never raise the rating to stop the tripping."),
        Caution::ModelEstimate => word!("Estimates: maker's curve, local rules prevail."),
        Caution::NotProtected => {
            word!("LATE: the equipment is not protected. Take it out of service now.")
        }
        Caution::LateInTime => {
            word!("LATE within the time looked at: replace or exercise it before.")
        }
        Caution::LatePerhaps => word!("LATE: more than one unit in twenty may become late."),
        Caution::LateUnits => {
            word!("LATE: some units protect nothing. Time the one in hand before it is trusted.")
        }
        Caution::Teaching => word!("Bench: 24 V at most, guard the hot strip, never unattended."),
        Caution::ReplaceBefore => word!("A date is an estimate: test in time, replace before it."),
        Caution::OneOfMany => word!("A fitted part is no approval, no replacement, no setting."),
        Caution::ModelledScatter => {
            word!("Rates are of modelled tolerances, as new: test the lot.")
        }
        other => caution(other),
    }
}
