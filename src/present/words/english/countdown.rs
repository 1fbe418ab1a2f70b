//! A wait that is counted down.

use super::family::counted;
use super::no_reset::no_reset;
use super::wait::wait_why;
use crate::family::{LeftOut, WaitAnswer};
use crate::present::number::spoken;

/// Moments that are waited for, s from open contacts, and what holds then; or why there is none.
pub fn countdown(answer: &WaitAnswer) -> Result<Vec<(f64, &'static str)>, String> {
    if no_reset(answer).is_some() {
        return Err(word!("Nothing to count down to: nothing is to be reset.").to_owned());
    }
    if answer.not_modelled.contains(&LeftOut::HeatOfTheMachine) {
        return Ok(vec![
            (600.0, word!("the first motors have cooled: feel it")),
            (3600.0, word!("motors have usually cooled")),
        ]);
    }
    let all = counted(answer);
    let some_hold = all.nine_of_ten.is_never() && !all.half.is_never();
    let most = match some_hold {
        true => (
            all.nine_of_ten_ready,
            word!("nine of ten of those that ever hold do"),
        ),
        false => (all.nine_of_ten, word!("nine of ten such parts hold")),
    };
    let targets: Vec<(f64, &str)> = [
        most,
        (
            all.ninety_nine_of_hundred,
            word!("ninety-nine of a hundred hold"),
        ),
    ]
    .into_iter()
    .filter_map(|(wait, what)| Some((wait.time_s()?, what)))
    .collect();
    match targets.is_empty() {
        true => Err(say!(
            "Nothing to count down to: {}.",
            wait_why(&all.nine_of_ten).unwrap_or_else(|| word!("there is no wait").to_owned())
        )),
        false => Ok(targets),
    }
}

/// What stands before the count.
pub fn count_head() -> &'static str {
    word!("Counted from now, as if it had opened just now. Ctrl-C ends it.")
}

/// What is left of a wait, in a line; nothing left: what holds now.
pub fn left(left_s: f64, what: &str) -> String {
    match left_s.ceil() {
        s if s >= 1.0 => say!("{} until {what}", clock(s); what),
        _ => say!("NOW {what}. Find and mend the cause first; then one reset."; what),
    }
}

/// Stopped before the end.
pub fn stopped(after_s: f64) -> String {
    say!(
        "Stopped after {}; it may still be too warm.",
        spoken(after_s.round().max(1.0))
    )
}

fn clock(s: f64) -> String {
    let s = s as u64;
    match s / 3600 {
        0 => format!("{}:{:02}", s / 60, s % 60),
        hours => format!("{hours}:{:02}:{:02}", s / 60 % 60, s % 60),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_left_is_never_said_shorter_than_it_is() {
        for (s, text) in [
            (0.2, "0:01"),
            (59.1, "1:00"),
            (754.0, "12:34"),
            (3601.0, "1:00:01"),
        ] {
            assert!(
                left(s, "it holds").starts_with(text),
                "{s}: {}",
                left(s, "it holds")
            );
        }
        assert!(left(0.0, "it holds").starts_with("NOW it holds"));
    }
}
