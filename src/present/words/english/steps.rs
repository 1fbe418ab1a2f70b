//! What to do now, by verdict. The steps are common practice of electrical maintenance; local rules
//! prevail.

use super::planned::not_yet;
use super::{cause, list};
use crate::diagnose::{Cause, Diagnosis, Energise, Evidence, First, Says, StillOpen, Verdict};
use crate::evidence::Joints;
use crate::present::number::{percent, plain};

/// A protector that may leave the machine unprotected is told from this probability on. It weighs
/// more than a nuisance: a tenth is enough.
const LATE_FROM: f64 = 0.1;
/// From here on a lost phase is looked for although something else is more probable: a fuse is soon
/// looked at.
const PHASE_FROM: f64 = 0.1;
/// From here on it is told as a finding.
const LATE_FOUND: f64 = 0.5;

pub(super) fn isolate() -> &'static str {
    word!("Switch off, lock, prove dead, let it cool.")
}
fn re_make() -> &'static str {
    word!(
        "Cut back and re-make the joint: conductor, ferrule, torque; replace burnt parts. Never \
                       tighten or probe it live."
    )
}
fn cool() -> &'static str {
    word!(
        "Shade, ventilate or move the protector; or fit one whose maker rates it for this air. Never simply \
                    a larger one."
    )
}
fn look(diagnosis: &Diagnosis) -> &'static str {
    match is_supply_measured(diagnosis) {
        true => word!("Look for a stiff or blocked drive, wear, misuse, heavy or frequent starts."),
        false => word!(
            "Look for a stiff or blocked drive, wear, misuse, low voltage under load, heavy or frequent starts."
        ),
    }
}
/// Whether the voltage was measured while it ran: then it is in order, or a step of its own.
fn is_supply_measured(diagnosis: &Diagnosis) -> bool {
    let measured = |e: &Evidence| {
        matches!(
            e.says,
            Says::Supply {
                running_v: Some(_),
                nominal_v: Some(_),
                ..
            }
        )
    };
    diagnosis.evidence.iter().any(measured)
}
fn look_at_the_phases() -> &'static str {
    word!(
        "Isolate, lock, prove dead: look for a blown fuse, an open pole of a switch or contactor, a loose wire. Test the \
         motor's insulation before it runs again."
    )
}
/// What to look at first in a machine that draws too much.
fn look_at_it(diagnosis: &Diagnosis) -> Vec<&'static str> {
    let phase = diagnosis.probability(Cause::LostPhase);
    let hums = diagnosis.energise.first().contains(&First::LookWhyItHums);
    match hums {
        // That comes first in any case.
        true => vec![look(diagnosis)],
        false if diagnosis.has_lost_a_phase() => vec![look_at_the_phases()],
        false if phase > PHASE_FROM => vec![look_at_the_phases(), look(diagnosis)],
        false => vec![look(diagnosis)],
    }
}
fn replace() -> &'static str {
    word!("Fit a part of the same rating, type and reference air.")
}

/// The loudest line, for a protector that comes too late or not at all.
pub(crate) fn lateness(diagnosis: &Diagnosis) -> Option<String> {
    let probability = diagnosis.probability(Cause::WornLate);
    let told = percent(probability);
    if diagnosis.energise.is_at_once() {
        None
    } else if probability >= LATE_FOUND {
        Some(say!(
            "LATE OR NO TRIP (probability {told}): the equipment is unprotected. Take it out of \
             service now."
        ; told))
    } else if diagnosis.is_late_or_misread() {
        Some(
            word!(
                "IT MAY PROTECT NOTHING: treat the equipment as unprotected until a timed trip shows otherwise."
            )
            .to_owned(),
        )
    } else if probability >= LATE_FROM && diagnosis.energise != Energise::Yes {
        Some(say!(
            "IT MAY TRIP TOO LATE (probability {told}): treat the equipment as unprotected until a timed trip shows \
             otherwise."
        ; told))
    } else {
        None
    }
}

/// What is left to do where it was mended and holds since.
fn mended() -> [&'static str; 2] {
    [
        word!("Leave the rest as it is. Write down what was mended, and when."),
        word!("Stay with it through a whole run under the load that tripped it before."),
    ]
}

/// Steps to take now, in their order; while the plan is one, at most so many.
pub(crate) fn steps(diagnosis: &Diagnosis, most: usize) -> Vec<String> {
    let late = match &diagnosis.energise {
        Energise::No { .. } => diagnosis.energise.is_late(),
        _ => diagnosis.probability(Cause::WornLate) >= LATE_FOUND,
    };
    if diagnosis.is_mended {
        return mended().map(str::to_owned).to_vec();
    }
    let looks = look_at_it(diagnosis);
    let found;
    let steps: &[&str] = match diagnosis.verdict {
        Verdict::DoNotReEnergise if late => &[
            word!("Switch off, lock and tag the circuit; the machine stays out of service."),
            word!(
                "Replace the protector before the machine runs again. Do not work it to and fro first: that hides what \
             was found."
            ),
            word!(
                "Have a qualified person check what it should have protected: winding, cable, plug."
            ),
        ],
        Verdict::DoNotReEnergise => &[
            word!("Switch off, lock and tag the circuit. Do not reset, not even to test."),
            word!(
                "Have a qualified person look for the fault with the circuit dead: short circuit, earth fault, burnt \
             parts, broken latch."
            ),
            word!("Only that person releases the machine again."),
        ],
        Verdict::ReplaceTheProtector => &[
            isolate(),
            replace(),
            word!(
                "Time the new part once at 200 % before it goes in, and write that time on its label."
            ),
        ],
        Verdict::FindTheLoad => {
            let leave = word!("Leave the protector: it did its job.");
            let read = word!("Then read the true-RMS current through a whole run.");
            found = [&[leave], &looks[..], &[read]].concat();
            &found
        }
        Verdict::CoolOrReRate if diagnosis.rating_is_wrong() => return re_rate(diagnosis),
        Verdict::CoolOrReRate => &[
            cool(),
            word!("Test again there: only then is it known whether the protector is worn as well."),
        ],
        Verdict::ReMakeTheConnection => &[
            isolate(),
            re_make(),
            word!(
                "Measure drop and terminals again: only then is it known whether the protector is worn as well."
            ),
        ],
        Verdict::TwoCauses => return two_causes(diagnosis),
        Verdict::NothingToMend if diagnosis.bench_only => &[word!(
            "Keep the times on its label: they are what a later test is compared with."
        )],
        Verdict::NothingToMend if diagnosis.nothing_tripped => {
            let nothing = word!("Nothing has tripped: there is nothing to find.");
            let write =
                word!("If it trips, write down when, and record the current up to the trip.");
            let is_sound = diagnosis.energise == Energise::Yes;
            found = Vec::from_iter(is_sound.then_some(nothing).into_iter().chain([write]));
            &found
        }
        Verdict::NothingToMend => &[
            word!("Reset once when cold, and stay with it through a whole run."),
            word!("Write the trip down. If it comes again, record the current up to the trip."),
        ],
        Verdict::NotEnoughEvidence => return not_yet(diagnosis, most),
    };
    let supply = supply_first(diagnosis).into_iter();
    let supply = supply.chain(phases_first(diagnosis));
    let supply = supply.filter(|_| diagnosis.verdict == Verdict::FindTheLoad);
    let before = before_it_runs(diagnosis);
    // It is isolated once, before the first step at the part.
    let again = |step: &&str| !before.is_empty() && *step == isolate();
    let rest = steps.iter().copied().filter(|step| !again(step));
    let mut rest: Vec<String> = before
        .iter()
        .copied()
        .chain(rest)
        .map(str::to_owned)
        .collect();
    // To isolate is no step without what follows.
    if rest.len() > 1 && rest[0] == isolate() {
        let next = rest.remove(1);
        rest[0] = format!("{} {next}", rest[0]);
    }
    let mut steps: Vec<String> = supply.chain(rest).collect();
    if !diagnosis.also.is_empty() {
        let also: Vec<&str> = diagnosis.also.iter().map(|c| cause(*c)).collect();
        steps.push(say!(
            "It may then run, but put this right as well: {}.",
            list(&also)
        ));
    }
    steps
}

/// A supply that makes the machine draw more is mended before anything is looked for in it.
pub(super) fn supply_first(diagnosis: &Diagnosis) -> Option<String> {
    diagnosis.still_open.iter().find_map(|open| match open {
        StillOpen::SupplyIsOff {
            over_nominal,
            draws_more,
        } => {
            let of = format!("{:.0} %", 100.0 * over_nominal);
            match (draws_more, *over_nominal < 1.0) {
                (Some(false), _) => None,
                (Some(true), true) => Some(say!(
                    "Mend the supply first: at {of} of its voltage a motor draws more."
                ; of)),
                (_, false) => Some(say!(
                    "Mend the supply first: at {of} of its voltage a heater draws more."
                ; of)),
                (None, true) => Some(say!(
                    "Mend the supply first: at {of} of its voltage a motor draws more, a heater \
                     less. Which is it (--load-kind)?"
                ; of)),
            }
        }
        _ => None,
    })
}

/// Where phases carry unlike currents: their voltages, then what is in the way of the weak one.
pub(super) fn phases_first(diagnosis: &Diagnosis) -> Option<String> {
    let unlike = |open: &StillOpen| matches!(open, StillOpen::PhasesAreUnlike { .. });
    diagnosis.still_open.iter().any(unlike).then(|| {
        word!(
            "Compare the voltages of the three phases; then, dead, the contacts and joints of the \
             phase with the least current."
        )
        .to_owned()
    })
}

/// The rating or the setting does not suit the machine: wire and supply decide, not the tripping.
fn re_rate(diagnosis: &Diagnosis) -> Vec<String> {
    let mut steps: Vec<&str> = before_it_runs(diagnosis);
    let plate_a = diagnosis.plate_a();
    let reaches = |plate_a: &f64| diagnosis.dial_a().is_some_and(|most_a| *plate_a <= most_a);
    let set = plate_a.filter(reaches).map(|plate_a| {
        say!(
            "Set the dial to the plate's {} A, at the voltage and connection in use; a qualified person \
             checks that the wire carries it.",
            plain(plate_a)
        )
    });
    match &set {
        Some(set) => steps.extend([
            isolate(),
            set,
            word!("Then read the true-RMS current through a whole run."),
        ]),
        None => {
            let read = word!("Read the machine's plate: current, voltage, connection.");
            steps.extend(plate_a.is_none().then_some(read));
            steps.extend([
                word!(
                    "Leave it off until a qualified person has checked what plate, wire and supply \
                     allow."
                ),
                word!("That person chooses the rating by all three. Never simply a larger one."),
            ]);
        }
    }
    steps.into_iter().map(str::to_owned).collect()
}

/// What must come before it may be switched on, where what is to be mended does not see to it: dead.
fn before_it_runs(diagnosis: &Diagnosis) -> Vec<&'static str> {
    let first = diagnosis.energise.first().iter();
    let mut steps: Vec<&str> = first
        .filter_map(|first| before_all(first).or(look_first(first, &diagnosis.mend)))
        .collect();
    if !steps.is_empty() {
        steps.insert(0, isolate());
    }
    steps
}

/// The look or test that must come first, unless one of the mends sees to it.
pub(super) fn look_first(first: &First, mends: &[Verdict]) -> Option<&'static str> {
    let is_left = |mend| !mends.contains(&mend);
    match first {
        First::ReMakeTheConnection { found, shows, .. } => {
            let step = match found {
                _ if shows.is_some() => word!("First re-make both joints, dead."),
                None => word!("First look at both joints, dead; signs of heat: re-make them."),
                Some(Joints::ReMade) => {
                    word!("First compare the drop across the protector with a sister's.")
                }
                Some(_) => word!("First re-make both joints, dead."),
            };
            is_left(Verdict::ReMakeTheConnection).then_some(step)
        }
        First::TimeATrip { in_window, .. } => {
            let step = match in_window {
                true => word!(
                    "First compare its trip time with that on its label or a sister's: it may be late."
                ),
                false => word!("First time a trip of the protector on a bench: it may be late."),
            };
            is_left(Verdict::ReplaceTheProtector).then_some(step)
        }
        First::FitThePartOfTheDrawing | First::LookWhyItHums => None,
    }
}

/// What comes first whatever is planned.
pub(super) fn before_all(first: &First) -> Option<&'static str> {
    match first {
        First::FitThePartOfTheDrawing => Some(word!(
            "Fit the part that the drawing asks for: the fitted one is another."
        )),
        First::LookWhyItHums => Some(word!(
            "Look, dead: does it turn freely by hand; all fuses, all poles of switch and contactor; the capacitor."
        )),
        // What was read says that it is late; chances say only that it may be.
        First::TimeATrip {
            passed: Some(_), ..
        } => Some(word!(
            "Take it out, look at its joints, time a trip of it at 200 % on a bench. Not within its window: replace it. \
             Within it: take reading and time again."
        )),
        First::ReMakeTheConnection { .. } | First::TimeATrip { .. } => None,
    }
}

/// What is certain and safe to mend: what it is, and its steps.
pub(super) fn mends_first(diagnosis: &Diagnosis) -> (Vec<Verdict>, Vec<&'static str>) {
    let before = diagnosis.energise.first();
    let mut steps: Vec<&str> = before.iter().filter_map(before_all).collect();
    let burns = |first: &First| match first {
        First::ReMakeTheConnection { shows, found, .. } => {
            shows.is_some() || *found == Some(Joints::MarksOfHeat)
        }
        _ => false,
    };
    let is_hot = before.iter().any(burns);
    let mut mends = diagnosis.mend_first.clone();
    if is_hot && !mends.contains(&Verdict::ReMakeTheConnection) {
        mends.insert(0, Verdict::ReMakeTheConnection);
    }
    for first in &mends {
        match first {
            Verdict::ReMakeTheConnection => steps.push(re_make()),
            Verdict::FindTheLoad => steps.extend(look_at_it(diagnosis)),
            Verdict::CoolOrReRate if diagnosis.rating_is_wrong() => {
                steps.push(word!(
                    "Have a qualified person match rating, plate, wire and supply."
                ));
            }
            Verdict::CoolOrReRate => steps.push(cool()),
            Verdict::ReplaceTheProtector => steps.push(replace()),
            _ => {}
        }
    }
    (mends, steps)
}

/// The machine or the place first, the protector in any case.
fn two_causes(diagnosis: &Diagnosis) -> Vec<String> {
    let causes = diagnosis.about();
    let is_protector = |c: &Cause| matches!(c, Cause::WornEarly | Cause::WornLate);
    let outside: Vec<&str> = causes
        .iter()
        .filter(|c| !is_protector(c))
        .map(|c| cause(*c))
        .collect();
    let before = before_it_runs(diagnosis);
    let mut steps: Vec<String> = before.into_iter().map(str::to_owned).collect();
    steps.push(match outside.is_empty() {
        true => word!("Mend the machine or the place first.").to_owned(),
        false => say!("Mend first: {}.", list(&outside)),
    });
    if causes.iter().any(is_protector) {
        steps.push(say!(
            "Replace the protector all the same, by one of the same rating at the same reference \
             air. {}",
            isolate()
        ));
    }
    steps.push(word!("Test again when one is mended: the other must not be forgotten.").to_owned());
    steps
}
