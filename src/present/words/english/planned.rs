//! The plan of a diagnosis in words: at most a handful of steps, each with what it leads to.

use super::capital;
use super::measurement::{shown, to_mend};
use super::steps::{before_all, isolate, look_first, mends_first, phases_first, supply_first};
use crate::diagnose::{
    Action, Diagnosis, First, Look, Measurement, Says, Step, StepResult, Then, Verdict,
};
use crate::present::number::{plain, spoken};

/// Where no more steps have room, what costs nothing is left to the full text.
const FEW: usize = 2;

/// What stands above the steps.
pub(crate) fn in_order(diagnosis: &Diagnosis) -> &'static str {
    let is_open = diagnosis.verdict == Verdict::NotEnoughEvidence && !diagnosis.bench_only;
    match (diagnosis.plan.is_empty(), is_open) {
        _ if diagnosis.is_late_or_misread() => "",
        (true, false) => "",
        (true, true) => word!("Never leave it running unattended."),
        (false, false) => word!("In this order:"),
        (false, true) => word!("In this order, until it runs, never unattended:"),
    }
}

/// What is known and safe to mend is said first, even if a second cause is open; then what costs
/// nothing; then the plan. At most so many steps, and those without which it must not be switched on.
pub(super) fn not_yet(diagnosis: &Diagnosis, most: usize) -> Vec<String> {
    let before = diagnosis.energise.first();
    let (mends, mut certain) = mends_first(diagnosis);
    let is_certain = !certain.is_empty();
    // A joint that is re-made first is not looked at or re-made once more.
    let remade = mends.contains(&Verdict::ReMakeTheConnection);
    let is_new = |step: &&Step| !(remade && is_of_the_joint_alone(step));
    let plan: Vec<&Step> = diagnosis.plan.iter().filter(is_new).collect();
    let is_left = |first: &&First| before_all(first).is_none() && !first.is_seen_to(&plan);
    let left = before.iter().filter(is_left);
    certain.extend(left.filter_map(|first| look_first(first, &mends)));
    let is_at_the_part = |m: &Verdict| {
        matches!(
            m,
            Verdict::ReMakeTheConnection | Verdict::ReplaceTheProtector
        )
    };
    let touches = |step: &&&Step| match &step.action {
        Action::Measure { measurement } => *measurement == Measurement::LookAtTheJoints,
        Action::Mend { mend } => mend.iter().any(is_at_the_part),
    };
    let is_touched = !before.is_empty()
        || mends.iter().any(is_at_the_part)
        || plan.first().filter(touches).is_some();
    let mut steps: Vec<String> = certain.into_iter().map(str::to_owned).collect();
    steps.extend(looks(diagnosis).filter(|_| most > FEW));
    steps.extend(supply_first(diagnosis));
    steps.extend(phases_first(diagnosis));
    steps.extend(read_again(diagnosis));
    let room = most.saturating_sub(steps.len());
    // What it must not be switched on without is never cut.
    let demanded = |step: &&Step| (step.measured()).is_some_and(|m| diagnosis.energise.demands(m));
    let cut = plan.iter().copied().skip(room).filter(demanded);
    let told = plan.iter().copied().take(room).chain(cut);
    steps.extend(told.map(plan_step));
    if diagnosis.bench_only {
        steps.push(
            word!(
                "Keep it only if its times and a sister's agree with its limits; in doubt do not refit it."
            )
            .to_owned(),
        );
    } else if plan.is_empty() && !diagnosis.is_late_or_misread() {
        // A plan says what is tried, and in which order.
        let guess = match is_certain && !mends.is_empty() {
            true => {
                word!("That is out of order whatever else is: change no other part on a guess.")
            }
            false => word!("Change no part on a guess."),
        };
        match steps.last_mut() {
            Some(last) => *last = format!("{last} {guess}"),
            None => steps.push(guess.to_owned()),
        }
    }
    // It is isolated once, before the first step.
    if let (true, Some(first)) = (is_touched, steps.first_mut()) {
        *first = format!("{} {first}", isolate());
    }
    steps
}

/// Whether a step looks at the joints or re-makes one, and goes on whatever comes of it.
fn is_of_the_joint_alone(step: &Step) -> bool {
    let is_joint = match &step.action {
        Action::Measure { measurement } => *measurement == Measurement::LookAtTheJoints,
        Action::Mend { mend } => mend[..] == [Verdict::ReMakeTheConnection],
    };
    is_joint && step.results.iter().all(|r| r.then != Then::Call)
}

/// What costs nothing, with what each shows.
fn looks(diagnosis: &Diagnosis) -> Option<String> {
    let rating = plain(diagnosis.rated_current_a);
    let one = |look: &Look| match look {
        Look::Plate => {
            say!("the machine's plate (above {rating} A: wrong rating)"; rating)
        }
        Look::Marking => word!("the marking (unlike the drawing: fit that part)").to_owned(),
        Look::History => word!("what was changed before it began").to_owned(),
    };
    let all: Vec<String> = diagnosis.looks.iter().map(one).collect();
    let all = all.join(", ");
    (!all.is_empty()).then(|| say!("Costs nothing: {all}."; all))
}

/// What draws more than its plate is looked at once a sound part is in, where the reading is in doubt.
fn read_again(diagnosis: &Diagnosis) -> Option<String> {
    let drawn = diagnosis.evidence.iter().find_map(|e| match e.says {
        Says::Plate { drawn, .. } => drawn,
        _ => None,
    });
    let drawn = drawn.filter(|_| diagnosis.is_late_or_misread())?;
    Some(say!(
        "It draws {} % of its plate: with a sound part in, read again and find what overloads it.",
        plain((100.0 * drawn).round())
    ))
}

/// A step of the plan. Where nothing else is said, the next one follows.
pub(crate) fn plan_step(step: &Step) -> String {
    let minutes = spoken(60.0 * step.minutes.round().max(1.0));
    match &step.action {
        Action::Measure { measurement: m } => {
            let leads = |r: &&StepResult| r.then != Then::GoOn;
            let mut leading = step.results.iter().filter(leads);
            let told = leading.next().and_then(|r| {
                let said = format!("{}: {}", capital(&shown(*m, r.shows?)), then(&r.then));
                Some(match leading.next() {
                    Some(other) => say!("{said}; else {}", then(&other.then); said),
                    None => said,
                })
            });
            let told = told.unwrap_or_else(|| capital(usual(*m)));
            format!("{} ({minutes}). {told}.", capital(to_look(*m)))
        }
        Action::Mend { mend } => {
            let leads = |r: &&StepResult| !matches!(r.then, Then::Done | Then::GoOn);
            let left = step.results.iter().find(leads);
            let left = left.map_or(String::new(), |r| say!(" Else {}.", then(&r.then)));
            let what = match mend[..] {
                [Verdict::NothingToMend] => {
                    word!("reset once when cold, and stay with it through a whole run").into()
                }
                _ => to_mend(mend),
            };
            format!("{} ({minutes}).{left}", capital(&what))
        }
    }
}

fn then(then: &Then) -> String {
    match then {
        Then::Mend { mend, .. } => to_mend(mend),
        Then::GoOn => word!("next").into(),
        Then::Done => word!("done").into(),
        Then::Call => word!("call a qualified person").into(),
    }
}

/// What is looked at or measured, in the fewest words.
fn to_look(measurement: Measurement) -> &'static str {
    match measurement {
        Measurement::ReadThePlate => word!("read the machine's plate"),
        Measurement::ReadTheMarking => word!("compare marking and drawing"),
        Measurement::LookAtTheJoints => {
            word!("look at both joints, dead: colour, smell, a warm cable")
        }
        Measurement::RunningCurrent => word!("true-RMS running current"),
        Measurement::PhaseCurrents => word!("currents of all three phases"),
        Measurement::CurrentUpToTheTrip => word!("true-RMS current up to a trip"),
        Measurement::AirAtThePart => word!("air at the protector"),
        Measurement::DropBesideASister => word!("millivolt drop beside a sister part"),
        Measurement::TerminalTemperatures => word!("temperatures of both terminals"),
        Measurement::TimedTrip { .. } => word!("timed trip from cold at 200 %, on a bench"),
        Measurement::HoldTest { .. } => word!("hold test at rated current, on a bench, 2 h"),
        Measurement::CaptureOfAStart => word!("capture a start"),
        Measurement::SwapWithATwin => word!("swap with an identical, sound protector"),
    }
}

/// What a result leads to that no threshold makes sure (common practice, no source).
fn usual(measurement: Measurement) -> &'static str {
    match measurement {
        Measurement::ReadThePlate => word!("above the rating: the rating does not suit"),
        Measurement::ReadTheMarking => word!("unlike the drawing: fit that part"),
        Measurement::LookAtTheJoints => word!("signs of heat: re-make the connection"),
        Measurement::RunningCurrent | Measurement::CurrentUpToTheTrip => {
            word!("above the rating: find what overloads it")
        }
        Measurement::PhaseCurrents => word!("one far below the others: look for a lost phase"),
        Measurement::AirAtThePart => word!("far above the reference air: cool or re-rate"),
        Measurement::DropBesideASister => word!("twice the sister's: re-make the connection"),
        Measurement::TerminalTemperatures => word!("one far hotter: re-make the connection"),
        Measurement::TimedTrip { .. } => word!("not within its window: replace the protector"),
        Measurement::HoldTest { .. } => word!("it trips: replace the protector"),
        Measurement::CaptureOfAStart => {
            word!("longer than the protector bears: find what slows it")
        }
        Measurement::SwapWithATwin => word!("the twin holds: replace the protector"),
    }
}
