//! Waits over the parts that a nameplate may stand for, and what a fit leaves open.

use super::{NEVER, NO_WAIT, capital, wait, wait_why};
use crate::answer::{Wait, WhyNever, WhyNotAsked};
use crate::diagnose::Waits;
use crate::family::{Agreement, LeftOpen, LeftOut, PartsWait, WaitAnswer};
use crate::present::number::{percent, plain};
use crate::standards::covered;

/// The wait in one line.
pub(crate) fn wait_headline(answer: &WaitAnswer) -> String {
    let strip = strip_headline(answer);
    if answer.not_modelled.contains(&LeftOut::HeatOfTheMachine) {
        // Pumps 10 to 20 min, vacuum cleaners 30 min, air compressors 30 to 60 min (trade pages and
        // a service guide).
        format!(
            "WAIT 10 min to 1 h, until the motor has cooled: its heat rules here. The strip alone: {strip}"
        )
    } else {
        strip
    }
}

fn strip_headline(answer: &WaitAnswer) -> String {
    let asks_start = !matches!(answer.start.half, Wait::NotAsked { .. });
    let (all, ready): (&PartsWait, _) = match asks_start {
        true => (&answer.start, "start again"),
        false => (&answer.reset, "hold"),
    };
    let never = || {
        let worst = &all.ninety_nine_of_hundred;
        let why = wait_why(worst).map_or(String::new(), |why| format!(" ({why})"));
        format!("{:.0} % {NEVER} do{why}", 100.0 * all.never)
    };
    match (all.half, all.nine_of_ten) {
        (
            Wait::NotAsked {
                why: WhyNotAsked::DoesNotTrip,
            },
            _,
        ) => "Nothing to wait for: sound parts of this kind \
            carry that without tripping. If it did trip, ask `relatch diagnose`."
            .to_owned(),
        (Wait::Never { why }, _) => {
            let share = format!("{:.0} %", 100.0 * all.never);
            let because = wait_why(&all.half).unwrap_or_default();
            match why {
                WhyNever::StaysWarm => format!(
                    "{NEVER} in this air, in {share} of such parts: {because}. Cool the place first."
                ),
                _ => format!("{NEVER}, in {share} of the parts that trip: {because}."),
            }
        }
        (half, Wait::Never { .. }) => {
            format!(
                "{}: half of such parts {ready} then; {}.",
                how_long(&half),
                never()
            )
        }
        (_, nine) => {
            let rest = match all.ninety_nine_of_hundred {
                Wait::Never { .. } => never(),
                Wait::None => "ninety-nine of a hundred too".to_owned(),
                longer => format!("{}: ninety-nine of a hundred", rounded_up(&longer)),
            };
            format!(
                "{}: nine of ten such parts {ready} then; {rest}.",
                how_long(&nine)
            )
        }
    }
}

fn how_long(wait: &Wait) -> String {
    match wait {
        Wait::None => NO_WAIT.to_uppercase(),
        wait => format!("WAIT {}", rounded_up(wait)),
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
        false => "Tripped at twice the rating: ",
    };
    let (reset, start) = (
        parts_wait(&waits.reset, "in this air it does not cool enough"),
        parts_wait(&waits.start, "as it is, it trips again"),
    );
    match reset == start {
        true => capital(&format!("{by}reset and start {reset}.")),
        false => capital(&format!("{by}reset {reset}; start {start}.")),
    }
}

/// Over parts that agree with what is known: half and nineteen of twenty of them, and those that
/// never do.
fn parts_wait(all: &PartsWait, why: &str) -> String {
    let never = match all.never {
        share if share < 0.005 => String::new(),
        share => format!(", {NEVER} in {}", percent(share)),
    };
    match (&all.half, &all.nineteen_of_twenty) {
        (Wait::Never { .. }, _) => format!("{NEVER} ({}): {why}", percent(all.never)),
        (half, longer @ (Wait::None | Wait::After(_))) if half != longer => format!(
            "after {} (half of such parts) to {} (19 of 20){never}",
            wait(half, 2),
            wait(longer, 2)
        ),
        (half, _) => format!("after {}{never}", wait(half, 2)),
    }
}

/// What stands below the wait: what only some of the parts do, and what became of what was timed.
pub(crate) fn wait_shares(answer: &WaitAnswer) -> Vec<String> {
    let mut said = Vec::new();
    match answer.timed {
        Agreement::Narrowed { parts } => said.push(format!(
            "Narrowed by what was timed: worth {parts:.0} equal parts that agree with it."
        )),
        Agreement::NoPartAgrees => said.push(
            "No sound part of the family agrees with what was timed: a slip in a time or a current, another kind of \
             protector, or a part that is not sound. The waits are those of all parts."
                .to_owned(),
        ),
        Agreement::Nothing => {}
    }
    if answer.start.half
        == (Wait::NotAsked {
            why: WhyNotAsked::NoStartUp,
        })
    {
        said.push(
            "Start: say what the machine draws with --start \"60 A for 0.6 s\" to be told when it \
             can be started."
                .to_owned(),
        );
    }
    let shares = [
        (1.0 - answer.trips, "carry that without a trip"),
        (
            answer.trips_by_start,
            "carry the load, but the start trips them from cold",
        ),
        (answer.melts, "melt before the latch lets go"),
        (
            answer.reset.never - answer.melts / answer.trips.max(1e-12),
            "never reset in this air",
        ),
    ];
    let shares = shares
        .iter()
        .filter(|(share, _)| (0.005..0.995).contains(share));
    let shares: Vec<String> = shares
        .map(|(share, what)| format!("{:.0} % {what}", 100.0 * share))
        .collect();
    if !shares.is_empty() {
        said.push(format!("Of such parts {}.", shares.join("; ")));
    }
    said
}

/// What is not modelled.
pub(crate) fn left_out(left_out: &LeftOut) -> String {
    match left_out {
        LeftOut::InstantaneousElement {
            by_limits,
            multiple,
        } => {
            let parts = match by_limits {
                true => "parts of the named limits usually have one",
                false => "where the part has one",
            };
            format!(
                "Not modelled: an instantaneous (magnetic) element ({parts}). At {} times the rating it may open \
                 within a cycle or two, before the strip: types B, C and D of IEC 60898-1 do from 3 to 5, 5 to 10 and \
                 10 to 20 times. A trip at once may then be a short circuit or a start, and the strip is hardly warm.",
                plain((10.0 * multiple).round() / 10.0)
            )
        }
        LeftOut::LimitsOfAnotherRating { covers_a } => format!(
            "No source: the named limits hold {}; that this one keeps them is assumed.",
            covered(*covers_a)
        ),
        LeftOut::HeatOfTheMachine => {
            "Not modelled: the heat of the machine on which the protector sits.".to_owned()
        }
    }
}

/// What the published values of a sheet do not settle.
pub(crate) fn left_open(open: LeftOpen) -> &'static str {
    match open {
        LeftOpen::PreloadShare => {
            "the share of the preload, and so what a tired spring does: trip times as new hardly depend on it; \
             measure trip point or force"
        }
        LeftOpen::Dimensions => {
            "layers, length and thickness: strips that differ in them follow the same curve"
        }
        LeftOpen::Resistance => "the resistance: print or measure it",
        LeftOpen::CompensatingStrip => {
            "the second strip that cancels the air: it is not modelled, the parts are those at the \
             reference air"
        }
        LeftOpen::EffectOfTheAir => "the effect of the air: no air table is given",
        LeftOpen::HotCurve => "the hot curve: no point or window from hot is given",
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
