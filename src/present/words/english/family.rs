//! Waits over the parts that a nameplate may stand for, and what a fit leaves open.

use super::{capital, never, no_reset, no_wait, wait, wait_why};
use crate::answer::{Wait, WhyNever, WhyNotAsked};
use crate::diagnose::Waits;
use crate::family::{Agreement, Instantaneous, LeftOpen, LeftOut, PartsWait, WaitAnswer};
use crate::present::number::{percent, plain};
use crate::standards::{Band, covered};

/// The wait in one line.
pub(crate) fn wait_headline(answer: &WaitAnswer) -> String {
    if let Some(why) = no_reset(answer) {
        return why;
    }
    let strip = match &answer.instantaneous {
        Some(element) if is_its_own(answer, element) => at_once(element),
        Some(element) => at_its_start(element, &answer.start.nine_of_ten),
        None => None,
    };
    let strip = strip.unwrap_or_else(|| strip_headline(answer));
    let never_at_all = counted(answer).half.is_never();
    let rest = if answer.not_modelled.contains(&LeftOut::HeatOfTheMachine) {
        // Pumps 10 to 20 min, vacuum cleaners 30 min, air compressors 30 to 60 min (trade pages and
        // a service guide).
        match never_at_all {
            true => say!("{strip} On a motor besides: its heat stays 10 min to 1 h."; strip),
            false => say!(
                "WAIT 10 min to 1 h, until the motor has cooled: its heat rules here. The strip alone: {strip}"
            ; strip),
        }
    } else {
        strip
    };
    match at_once_perhaps(answer) {
        Some(multiple) => say!(
            "FIRST find out what drew {multiple} times the rating: it may be a short circuit. If it was not: {rest}"
        ; multiple, rest),
        None => rest,
    }
}

/// How many times the rating a load is that an instantaneous element may have opened, where nobody said whether there
/// is one and no trip was timed.
fn at_once_perhaps(answer: &WaitAnswer) -> Option<String> {
    let is_open = |l: &LeftOut| matches!(l, LeftOut::InstantaneousElement { .. });
    let multiple = answer.load_a / answer.rated_current_a;
    let may_be = answer.not_modelled.iter().any(is_open) && multiple >= 5.0;
    (may_be && answer.timed == Agreement::Nothing).then(|| plain((10.0 * multiple).round() / 10.0))
}

/// A share below which something does not happen.
const FEW: f64 = 0.05;

/// Whether the element acts and the strip does not.
fn is_its_own(answer: &WaitAnswer, element: &Instantaneous) -> bool {
    answer.trips < FEW || element.by_load > 1.0 - FEW
}

/// Where the element acts and the strip does not.
fn at_once(element: &Instantaneous) -> Option<String> {
    let opens = element.by_load.max(element.by_start.unwrap_or(0.0));
    (opens >= FEW).then(|| {
        let wait = how_long(&element.reset.nine_of_ten);
        let share = percent(opens);
        say!(
            "{wait} for the strip: the instantaneous element opens it at once ({share} of closings), and the strip stays \
             hardly warm. Do not reset onto a fault: first find what drew that current."
        ; wait, share)
    })
}

/// Where the strip lets the machine start, and the element may not.
fn at_its_start(element: &Instantaneous, strip: &Wait) -> Option<String> {
    let share = element.by_start.filter(|share| *share >= FEW)?;
    let wait = match strip {
        Wait::None | Wait::After(_) => how_long(strip),
        _ => return None,
    };
    Some(match percent(share) {
        share if element.by_start > Some(1.0 - FEW) => say!(
            "{}: this start opens the instantaneous element at once, in {share} of closings, however long one waits.",
            never()
        ; share),
        share => say!(
            "{wait} for the strip; but in {share} of closings this start opens the instantaneous element at once, however \
             long one waits."
        ; wait, share),
    })
}

/// What the instantaneous element does beside the strip.
fn element_acts(element: &Instantaneous, answer: &WaitAnswer) -> Vec<String> {
    let kind = element
        .band
        .map_or(word!("of type B, C or D"), |band| match band {
            Band::B => word!("of type B"),
            Band::C => word!("of type C"),
            Band::D => word!("of type D"),
        });
    let [low, high] = [element.may_open_from_a, element.opens_from_a].map(plain);
    let load = plain(answer.load_a);
    let reset = wait(&element.reset.nine_of_ten, 2);
    let mut said = vec![match element.by_load {
        p if p < 0.005 => say!(
            "Its instantaneous element ({kind}: it may open between {low} A and {high} A, rms) does not open at {load} \
             A."
        ; kind, low, high, load),
        p if p > 0.995 => say!(
            "Its instantaneous element ({kind}: it may open between {low} A and {high} A, rms) opens it at once at \
             {load} A, before the strip. Reset after that: {reset}; the fault is still there."
        ; kind, low, high, load, reset),
        p => say!(
            "Both elements may act at {load} A: the instantaneous one ({kind}: it may open between {low} A and {high} \
             A, rms) opens it at once in {} of closings, in the others the strip does. Reset after it has: {reset}; \
             the wait above is the strip's. Find the fault first.",
            percent(p)
        ; kind, low, high, load, reset),
    }];
    let is_told =
        !is_its_own(answer, element) && at_its_start(element, &answer.start.nine_of_ten).is_some();
    if let Some(p) = element.by_start.filter(|p| *p >= 0.005 && !is_told) {
        said.push(say!(
            "The start opens it at once in {} of closings, however long one waits.",
            percent(p)
        ));
    }
    if element.by_load.max(element.by_start.unwrap_or(0.0)) >= 0.005 {
        said.push(
            word!("Shares are over the moment of closing and over pick-ups within the band, at 50 Hz and X/R 0.3 to 2.3 \
             (common practice, no source); eddy currents, left out, delay and weaken the first half wave.")
                .into(),
        );
    }
    said
}

/// Waits that the headline says and a count goes down to.
pub(super) fn counted(answer: &WaitAnswer) -> &PartsWait {
    match &answer.instantaneous {
        Some(element) if is_its_own(answer, element) && at_once(element).is_some() => {
            &element.reset
        }
        _ => strips(answer),
    }
}

fn strips(answer: &WaitAnswer) -> &PartsWait {
    let asks_start = !matches!(answer.start.half, Wait::NotAsked { .. });
    match asks_start && !answer.closes_by_itself {
        true => &answer.start,
        false => &answer.reset,
    }
}

fn strip_headline(answer: &WaitAnswer) -> String {
    let asks_start = !matches!(answer.start.half, Wait::NotAsked { .. });
    let all = strips(answer);
    let ready = match asks_start {
        _ if answer.closes_by_itself => word!("have closed by themselves"),
        true => word!("start again"),
        false => word!("hold"),
    };
    let those = || {
        let worst = &all.ninety_nine_of_hundred;
        let why = wait_why(worst).map_or(String::new(), |why| format!(" ({why})"));
        say!("{:.0} % {} do{why}", 100.0 * all.never, never(); why)
    };
    match (all.half, all.nine_of_ten) {
        (
            Wait::NotAsked {
                why: WhyNotAsked::DoesNotTrip,
            },
            _,
        ) => word!(
            "Nothing to wait for: sound parts of this kind \
            carry that without tripping. If it did trip, find out why: diagnose it."
        )
        .to_owned(),
        (Wait::Never { why }, _) => {
            let share = format!("{:.0} %", 100.0 * all.never);
            let because = wait_why(&all.half).unwrap_or_default();
            match why {
                WhyNever::StaysWarm => say!(
                    "{} in this air, in {share} of such parts: {because}. Cool the place first.",
                    never();
                    share, because
                ),
                _ => {
                    say!("{}, in {share} of the parts that trip: {because}.", never(); share, because)
                }
            }
        }
        (_, Wait::Never { .. }) => {
            say!(
                "{}: nine of ten of those that ever {ready} do then; {}.",
                how_long(&all.nine_of_ten_ready),
                those()
            ; ready)
        }
        (_, nine) => {
            let rest = match all.ninety_nine_of_hundred {
                Wait::Never { .. } => those(),
                Wait::None => word!("ninety-nine of a hundred too").to_owned(),
                longer if rounded_up(&longer) == rounded_up(&nine) => {
                    word!("ninety-nine of a hundred too").to_owned()
                }
                longer => say!("{}: ninety-nine of a hundred", rounded_up(&longer)),
            };
            say!(
                "{}: nine of ten such parts {ready} then; {rest}.",
                how_long(&nine)
            ; ready, rest)
        }
    }
}

fn how_long(wait: &Wait) -> String {
    match wait {
        Wait::None => no_wait().to_uppercase(),
        wait => say!("WAIT {}", rounded_up(wait)),
    }
}

/// A wait as a person would wait: never shorter than it is.
fn rounded_up(wait: &Wait) -> String {
    let s = wait.time_s().unwrap_or(f64::NAN);
    let step = match s {
        ..10.0 => 1.0,
        10.0..60.0 => 5.0,
        60.0..600.0 => 30.0,
        600.0..7200.0 => 60.0,
        _ => 600.0,
    };
    let whole = ((s / step).ceil() * step) as u64;
    let (units, [large, small]) = match whole {
        ..60 => return format!("{whole} s"),
        60..7200 => ((whole / 60, whole % 60), ["min", "s"]),
        _ => ((whole / 3600, whole % 3600 / 60), ["h", "min"]),
    };
    match units {
        (n, 0) => format!("{n} {large}"),
        (n, rest) => format!("{n} {large} {rest} {small}"),
    }
}

/// Waits after a trip in a sentence.
pub(crate) fn waits(waits: &Waits) -> String {
    let by = match waits.by_own_load {
        true => "",
        false => word!("If it trips at twice the rating: "),
    };
    let (reset, start) = (
        parts_wait(&waits.reset, word!("in this air it does not cool enough")),
        parts_wait(&waits.start, word!("as it is, it trips again")),
    );
    match reset == start {
        true => capital(&say!("{by}reset and start {reset}."; by, reset)),
        false => capital(&say!("{by}reset {reset}; start {start}."; by, reset, start)),
    }
}

/// Over parts that agree with what is known: half and nineteen of twenty of them, and those that
/// never do.
fn parts_wait(all: &PartsWait, why: &str) -> String {
    let never = match all.never {
        share if share < 0.005 => String::new(),
        share => say!(", {} in {}", never(), percent(share)),
    };
    match (&all.half, &all.nineteen_of_twenty) {
        (Wait::Never { .. }, _) => {
            format!("{} ({}): {why}", super::never(), percent(all.never))
        }
        (Wait::None, longer @ Wait::After(_)) => say!(
            "at once (half of such parts) to {} later (19 of 20){never}",
            wait(longer, 2)
        ; never),
        (Wait::None, _) => format!("{}{never}", super::at_once()),
        (half, longer @ (Wait::None | Wait::After(_))) if half != longer => say!(
            "after {} (half of such parts) to {} (19 of 20){never}",
            wait(half, 2),
            wait(longer, 2)
        ; never),
        (_, Wait::Never { .. }) => say!(
            "after {} (nine of ten of those that ever do){never}",
            wait(&all.nine_of_ten_ready, 2)
        ; never),
        (half, _) => say!("after {}{never}", wait(half, 2); never),
    }
}

/// Whether a start would be asked about, if it were known.
pub(crate) fn asks_no_start(answer: &WaitAnswer) -> bool {
    let why = WhyNotAsked::NoStartUp;
    answer.start.half == Wait::NotAsked { why } && no_reset(answer).is_none()
}

/// What stands below the wait: what only some of the parts do, and what became of what was timed.
pub(crate) fn wait_shares(answer: &WaitAnswer) -> Vec<String> {
    let mut said = Vec::new();
    if no_reset(answer).is_some() {
        return said;
    }
    match answer.timed {
        Agreement::Narrowed { parts } => said.push(say!(
            "Narrowed by what was timed: worth {parts:.0} equal parts that agree with it."
        ; parts)),
        Agreement::NoPartAgrees => said.push(
            word!("No sound part of the family agrees with what was timed: a slip in a time or a current, another kind of \
             protector, or a part that is not sound. The waits are those of all parts.")
                .to_owned(),
        ),
        _ => {}
    }
    if let Some(element) = &answer.instantaneous {
        said.extend(element_acts(element, answer));
    }
    if asks_no_start(answer) {
        said.push(
            word!("When it can be started is not known: nothing says what the machine draws then.")
                .to_owned(),
        );
    }
    let shares = [
        (1.0 - answer.trips, word!("carry that without a trip")),
        (
            answer.trips_by_start,
            word!("carry the load, but the start trips them from cold"),
        ),
        (answer.melts, word!("melt before the latch lets go")),
        (
            answer.reset.never - answer.melts / answer.trips.max(1e-12),
            word!("never reset in this air"),
        ),
    ];
    let shares = shares
        .iter()
        .filter(|(share, _)| (0.005..0.995).contains(share));
    let shares: Vec<String> = shares
        .map(|(share, what)| format!("{:.0} % {what}", 100.0 * share))
        .collect();
    if !shares.is_empty() {
        said.push(say!("Of such parts {}.", shares.join("; ")));
    }
    said
}

/// What is not modelled.
pub(crate) fn left_out(left_out: &LeftOut) -> String {
    match left_out {
        LeftOut::InstantaneousElement { multiple } => say!(
            "Nobody said whether an instantaneous (magnetic) element is beside the strip. At {} times the rating it \
             may open within a cycle or two, before the strip: types B, C and D of IEC 60898-1 do from 3 to 5, 5 to \
             10 and 10 to 20 times. Where a type is printed on the part, say which. A trip at once may be a short \
             circuit or a start.",
            plain((10.0 * multiple).round() / 10.0)
        ),
        LeftOut::LimitsOfAnotherRating { covers_a } => say!(
            "No source: the named limits hold {}; that this one keeps them is assumed.",
            covered(*covers_a)
        ),
        LeftOut::HeatOfTheMachine => {
            word!("Not modelled: the heat of the machine on which the protector sits.").to_owned()
        }
        LeftOut::ClosesByItself => word!("Not modelled: the snap of a disc or blade that closes by itself. It cools further \
            before it closes than these strips, and on or in a motor the motor's heat decides: times to the trip and waits \
            are weighed as those of a strip beside the motor. Tell how long it is on and off (cycles): that is weighed by \
            its share, which holds for both.")
            .to_owned(),
        LeftOut::SnapsBack => word!("Not modelled: a disc or blade that snaps back. Parts that close by themselves usually \
            have one (common practice, no source), and it cools much further before it closes than these strips \
            before their latch catches: waits may be several times longer.")
            .to_owned(),
    }
}

/// What the published values of a sheet do not settle.
pub(crate) fn left_open(open: LeftOpen) -> &'static str {
    match open {
        LeftOpen::PreloadShare => {
            word!(
                "the share of the preload, and so what a tired spring does: trip times as new hardly depend on it; \
             measure trip point or force"
            )
        }
        LeftOpen::Dimensions => {
            word!("layers, length and thickness: strips that differ in them follow the same curve")
        }
        LeftOpen::Resistance => word!("the resistance: print or measure it"),
        LeftOpen::CompensatingStrip => {
            word!(
                "the second strip that cancels the air: it is not modelled, the parts are those at the \
             reference air"
            )
        }
        LeftOpen::EffectOfTheAir => word!("the effect of the air: no air table is given"),
        LeftOpen::HotCurve => word!("the hot curve: no point or window from hot is given"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::answer::Estimate;

    #[test]
    fn a_wait_is_rounded_up_to_what_a_person_waits() {
        let said = |s: f64| rounded_up(&Wait::After(Estimate::of(s)));
        for (s, text) in [
            (2.1, "3 s"),
            (31.0, "35 s"),
            (58.0, "1 min"),
            (61.0, "1 min 30 s"),
            (91.0, "2 min"),
            (121.0, "2 min 30 s"),
            (601.0, "11 min"),
            (7201.0, "2 h 10 min"),
        ] {
            assert_eq!(said(s), text, "{s}");
        }
    }
}
