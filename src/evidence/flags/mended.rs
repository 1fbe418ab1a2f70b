//! What was mended, what came of it, and what was read after it.

use super::Gathered;
use super::measured::event;
use crate::evidence::{Event, Mend, Mended};
use crate::family::Assumed;

/// Behind a reading: it was taken when all that is told had been mended.
pub const AFTER_THE_MEND: &str = " after the mend";
const WAY: &str = "write it as \"load, then held 2 h\" or \"joints, then tripped after 9 min\"";

/// A text without the words that it is of the mended machine, and whether it has them.
pub fn since(text: &str) -> (&str, bool) {
    match text.trim_end().strip_suffix(AFTER_THE_MEND) {
        Some(said) => (said, true),
        None => (text, false),
    }
}

impl Gathered<'_> {
    /// How many mends had been done when something was read.
    pub(super) fn mends_before(&mut self, flag: &str, text: &str, is_since: bool) -> usize {
        let done = self.flags.mended.len();
        if is_since && done == 0 {
            self.say(flag, text, "--mended does not say what was mended");
        }
        if is_since { done } else { 0 }
    }

    pub(super) fn mended(&mut self) {
        let flags = self.flags;
        for text in &flags.mended {
            let Some((what, then)) = self.taken("mended", text, mended(text)) else {
                continue;
            };
            let label = format!("mended {text}");
            self.case.mended.push(Mended { label, what });
            let mended = self.case.mended.len();
            let then = then.map(|event| Event { mended, ..event });
            self.case.events.extend(then);
        }
        let brought = |e: &Event| e.is_trip() && e.mended == 0;
        let is_told = flags.log.is_some() || self.case.events.iter().any(brought);
        if !self.case.mended.is_empty() && !is_told {
            let trip = Event::before_mends();
            let line = trip.label.clone();
            self.case.assumed.push(Assumed::TimeNotKnown { line });
            self.case.events.insert(0, trip);
        }
    }
}

/// What was mended, and what came of it where that is said.
fn mended(text: &str) -> Result<(Mend, Option<Event>), String> {
    let (what, then) = match text.split_once(", then ") {
        Some((what, then)) => (what, Some(then.trim())),
        None => (text, None),
    };
    let what = Mend::read(what)?;
    let came = |then: &str| {
        let (tripped, time) = match (then.strip_prefix("tripped"), then.strip_prefix("held")) {
            (Some(time), _) => (true, time.trim()),
            (_, Some(time)) => (false, time.trim()),
            _ => return Err(format!("it held or it tripped; {WAY}")),
        };
        event(if time.is_empty() { "not known" } else { time }, tripped)
    };
    then.map(came).transpose().map(|event| (what, event))
}

#[cfg(test)]
mod tests {
    use crate::evidence::{Flags, Mend, Outcome, from_flags};

    fn flags(mended: &[&str]) -> Flags {
        Flags {
            rating: "13 A".into(),
            trips: vec!["after 8 min".into()],
            mended: mended.iter().map(|m| (*m).to_owned()).collect(),
            ..Flags::default()
        }
    }

    #[test]
    fn mends_and_what_came_of_them_stand_in_their_order() {
        let mut flags = flags(&[
            "joints re-made, then tripped after 9 min",
            "load, then held 2 h",
        ]);
        flags.readings = vec!["15 A".into(), "11.5 A after the mend".into()];
        let case = from_flags(&flags).expect("a case");
        let what: Vec<Mend> = case.mended.iter().map(|m| m.what).collect();
        assert_eq!(what, [Mend::Joints, Mend::Load]);
        let mended: Vec<usize> = case.events.iter().map(|e| e.mended).collect();
        assert_eq!(mended, [0, 1, 2]);
        assert_eq!(case.events[2].outcome, Outcome::Held { for_s: 7200.0 });
        let read: Vec<usize> = case.readings.iter().map(|r| r.mended).collect();
        assert_eq!(read, [0, 2]);
    }

    #[test]
    fn what_is_no_mend_or_comes_of_none_is_refused_with_the_way() {
        let refused = |mended: &[&str], reading: &str| {
            let mut flags = flags(mended);
            flags.readings = vec![reading.into()];
            from_flags(&flags).expect_err("a problem").join("\n")
        };
        let other = refused(&["protector of another type, then held 2 h"], "15 A");
        assert!(other.contains("never simply a larger one"), "{other}");
        let how = refused(&["load, then all was well"], "15 A");
        assert!(how.contains("it held or it tripped"), "{how}");
        let none = refused(&[], "11 A after the mend");
        assert!(none.contains("--mended does not say"), "{none}");
    }

    /// It was mended because it tripped.
    #[test]
    fn a_trip_before_the_first_mend_need_not_be_told() {
        let mut flags = flags(&["load, then held 2 h"]);
        flags.trips.clear();
        let case = from_flags(&flags).expect("a case");
        assert!(case.events[0].is_trip() && case.events[0].mended == 0);
        assert!(!case.is_told_without_a_trip());
    }
}
