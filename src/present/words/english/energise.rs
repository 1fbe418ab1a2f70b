//! May it be switched on again?

use super::{capital, list, sign};
use crate::diagnose::{BadJoint, Diagnosis, Energise, First, Verdict, WhyNot};
use crate::evidence::Joints;
use crate::present::number::{duration, percent, plain, significant};

/// From here on a joint is no longer only perhaps bad; up to here it is only not ruled out.
const MOST_LIKELY: f64 = 0.5;
const NOT_RULED_OUT: f64 = 0.2;

/// The answer with its reasons.
pub(crate) fn energise_text(diagnosis: &Diagnosis) -> String {
    match &diagnosis.energise {
        Energise::No { why } => {
            let why: Vec<String> = once(why).into_iter().map(why_not).collect();
            say!("NO: do not reset, do not switch on. {}", why.join(" "))
        }
        Energise::NotYet { after } => {
            let after: Vec<String> = after.iter().map(first).collect();
            say!("NOT YET. {}", after.join(" "))
        }
        Energise::Yes if diagnosis.bench_only => {
            word!("YES, where the tests of the part say that it is kept.").to_owned()
        }
        Energise::Yes if diagnosis.nothing_tripped => word!("YES: nothing has tripped.").to_owned(),
        Energise::Yes if diagnosis.verdict == Verdict::NotEnoughEvidence => {
            word!("YES for the steps below, attended; for use once the cause is mended.").to_owned()
        }
        Energise::Yes if diagnosis.verdict == Verdict::NothingToMend => {
            word!("YES, once it is cold; stay with it through the first run.").to_owned()
        }
        Energise::Yes => word!("YES, once the cause is found and mended.").to_owned(),
    }
}

/// Of trips that came too soon the soonest alone: one is enough.
fn once(why: &[WhyNot]) -> Vec<&WhyNot> {
    let time_s = |w: &WhyNot| match w {
        WhyNot::TooSoon { time_s, .. } => Some(*time_s),
        _ => None,
    };
    let soonest = why.iter().filter_map(time_s).fold(f64::INFINITY, f64::min);
    let mut told = false;
    let is_told = |w: &&WhyNot| match time_s(w) {
        Some(t) => t == soonest && !std::mem::replace(&mut told, true),
        None => true,
    };
    why.iter().filter(is_told).collect()
}

fn why_not(why: &WhyNot) -> String {
    match why {
        WhyNot::Signs { signs } => {
            let seen: Vec<&str> = signs.iter().map(|s| sign(*s)).collect();
            say!(
                "{}. A qualified person looks for a short, an earth fault or a broken latch first.",
                capital(&list(&seen))
            )
        }
        WhyNot::TooSoon {
            time_s,
            soonest_s,
            at_most_a,
            opens,
            ..
        } => {
            let text = say!(
                "It tripped within {}: no heated strip of this rating can before {} at the {} A that this load draws at \
                 most. A short circuit, an earth fault, an instantaneous element or a broken latch: a qualified person \
                 looks first.",
                duration(*time_s, 2),
                duration(*soonest_s, 2),
                significant(*at_most_a, 2)
            );
            let element = opens.map(|opens| match opens > 0.005 {
                true => say!(
                    " Its instantaneous element picks up below that and opens at once in {} of closings (fewer by eddy \
                     currents, which are left out): a start onto too sensitive a type explains it, but so does a short \
                     circuit.",
                    percent(opens)
                ),
                false => word!(" Its instantaneous element does not open at that current.").into(),
            });
            text + &element.unwrap_or_default()
        }
        WhyNot::AtOnce { time_s } => say!(
            "It tripped within {} when it was warm or closed again: a heated strip takes longer from any state. A short \
             circuit, an earth fault or a broken latch: a qualified person looks first.",
            duration(*time_s, 2)
        ),
        WhyNot::TooLate(passed) => say!(
            "It let its load flow for {}; the slowest part of this rating opens within {}. It protects nothing, unless \
             that current is wrong: prove it with the part out.",
            duration(passed.time_s, 2),
            duration(passed.latest_s, 2)
        ),
        WhyNot::ElementOpens {
            picks_up_a: [low, high],
            at_most_a,
            opens,
        } => say!(
            "Its instantaneous element picks up between {} A and {} A: at the {} A that this load draws at most it opens \
             at once in {} of closings. A start onto too sensitive a type explains it, but so does a short circuit.",
            plain(*low),
            plain(*high),
            significant(*at_most_a, 3),
            percent(*opens)
        ),
        WhyNot::HotTerminal { temperature_c } => say!(
            "A terminal at {:.0} °C is hotter than insulation bears: it burns. Isolate, let it cool, replace what is \
             burnt.",
            temperature_c
        ),
        WhyNot::Late { .. } => word!("It trips too late or not at all.").to_owned(),
    }
}

fn first(first: &First) -> String {
    match first {
        First::ReMakeTheConnection {
            shows: Some(shown), ..
        } => bad_joint(*shown),
        First::ReMakeTheConnection {
            probability, found, ..
        } => {
            let bad = percent(*probability);
            match found {
                None if *probability > MOST_LIKELY => say!(
                    "A joint is most probably bad ({bad}) and can burn: first re-make it, dead."
                ; bad),
                None if *probability < NOT_RULED_OUT => say!(
                    "A bad joint is not ruled out ({bad}, the limit is 5 %): first look at both, dead."
                ; bad),
                None => say!(
                    "A joint may be bad ({bad}) and can burn: first open, check and re-make it, dead."
                ; bad),
                Some(Joints::MarksOfHeat) => say!(
                    "A joint shows marks of heat (bad: {bad}) and can burn: first re-make it, dead."
                ; bad),
                Some(Joints::NoMarks) => say!(
                    "A joint may be bad without marks ({bad}) and can burn: first re-make both, dead."
                ; bad),
                Some(Joints::ReMade) => say!(
                    "A joint may be bad though re-made ({bad}): first compare its drop with a sister's."
                ; bad),
            }
        }
        First::TimeATrip {
            passed: Some(passed),
            ..
        } => say!(
            "By the current that was read it held for {}; the slowest part of this rating opens within {}: first time a \
             trip of it on a bench.",
            duration(passed.time_s, 2),
            duration(passed.latest_s, 2)
        ),
        First::FitThePartOfTheDrawing => word!(
            "The fitted part is not that of the drawing, which may ask for less: first fit that one."
        )
        .to_owned(),
        First::LookWhyItHums => word!(
            "It hums and stands: first look for the cause, dead."
        )
        .to_owned(),
        First::TimeATrip {
            probability,
            in_window: true,
            ..
        } => say!(
            "The protector may be late ({}) though within its window: first compare its trip time with its label's or a \
             sister's.",
            percent(*probability)
        ),
        First::TimeATrip { probability, .. } => say!(
            "The protector may be late ({}) and protect nothing: first time a trip of it on a bench.",
            percent(*probability)
        ),
    }
}

/// What was measured at a joint, and what comes first.
fn bad_joint(shown: BadJoint) -> String {
    match shown {
        BadJoint::Heat { heat_w } => say!(
            "A joint makes {} W more than a sound part and can burn: first re-make both, dead. Do not measure it live again.",
            significant(heat_w, 2)
        ),
        BadJoint::Apart { apart_k } => say!(
            "One terminal is {:.0} K hotter than the other: its joint is bad and can burn: first re-make it, dead.",
            apart_k
        ),
        BadJoint::Rise { rise_k } => say!(
            "A terminal {:.0} K above the air is hotter than terminals may be: joints or wire can burn: first check and \
             re-make both, dead.",
            rise_k
        ),
    }
}
