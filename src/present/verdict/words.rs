//! Names of causes and verdicts as a technician says them.

use crate::diagnose::{Cause, Verdict};

/// A cause in a few words.
///
/// ```
/// use relatch::internals::{diagnose::Cause, present::cause_words};
/// assert_eq!(cause_words(Cause::HotSurroundings), "hot air at the protector");
/// ```
pub fn cause_words(cause: Cause) -> &'static str {
    match cause {
        Cause::Overload => "machine draws too much while it runs",
        Cause::StartOrStall => "heavy, long or frequent starts; a stall",
        Cause::HotSurroundings => "hot air at the protector",
        Cause::BadConnection => "bad joint at the protector",
        Cause::WornEarly => "protector worn: trips too early",
        Cause::WornLate => "protector worn: trips too late or never",
        Cause::WrongRating => "rating does not suit the machine",
        Cause::NothingWrong => "nothing wrong: one-off, warm, misread",
    }
}

/// A cause in a word or two, for lists.
pub(in crate::present) fn short_words(cause: Cause) -> &'static str {
    match cause {
        Cause::Overload => "overload",
        Cause::StartOrStall => "start or stall",
        Cause::HotSurroundings => "hot air",
        Cause::BadConnection => "bad joint",
        Cause::WornEarly => "worn early",
        Cause::WornLate => "worn late",
        Cause::WrongRating => "wrong rating",
        Cause::NothingWrong => "nothing wrong",
    }
}

/// A verdict as a heading.
///
/// ```
/// use relatch::internals::{diagnose::Verdict, present::verdict_words};
/// assert_eq!(verdict_words(Verdict::NotEnoughEvidence), "Cannot tell yet");
/// ```
pub fn verdict_words(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::DoNotReEnergise => "Do not switch on again",
        Verdict::ReplaceTheProtector => "Replace the protector",
        Verdict::FindTheLoad => "Find out why the machine draws too much",
        Verdict::CoolOrReRate => "Cool the place or fit a part made for it",
        Verdict::ReMakeTheConnection => "Re-make the connection",
        Verdict::TwoCauses => "Two causes together",
        Verdict::NothingToMend => "Nothing to mend",
        Verdict::NotEnoughEvidence => "Cannot tell yet",
    }
}

/// Things joined as in speech: "a", "a and b", "a, b and c".
pub(in crate::present) fn in_words(things: &[&str]) -> String {
    match things {
        [] => String::new(),
        [only] => (*only).to_owned(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}
