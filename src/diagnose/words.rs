//! Sentences that do not depend on numbers.

use super::advice::Advice;
use super::record::{Cause, Verdict};

/// A cause in a sentence.
pub fn cause(cause: Cause) -> &'static str {
    match cause {
        Cause::Overload => {
            "The machine draws more than the protector is made to carry while it runs."
        }
        Cause::StartOrStall => "It draws too much for too long when it starts, or it stalls.",
        Cause::HotSurroundings => "The air at the protector is much hotter than in the room.",
        Cause::BadConnection => "A joint at the protector makes heat of its own.",
        Cause::WornEarly => {
            "The protector releases too early: its preload is lost or its calibration has moved."
        }
        Cause::WornLate => {
            "The protector releases too late or not at all: the machine is unprotected."
        }
        Cause::WrongRating => "The protector's rating does not suit the machine.",
        Cause::NothingWrong => {
            "Nothing: a single trip, heat left from an earlier one, or a measuring error."
        }
    }
}

/// A verdict in a sentence.
pub fn verdict(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::DoNotReEnergise => {
            "Do not switch on again. Take the protector out of service and have a qualified person find out why \
             before anything is energised."
        }
        Verdict::ReplaceTheProtector => {
            "Replace the protector by one of the same rating and type: it trips too early. Never fit a higher \
             rating to stop the tripping."
        }
        Verdict::FindTheLoad => {
            "The protector did its job: the machine draws too much, running or starting. Find out why before it \
             runs again."
        }
        Verdict::CoolOrReRate => {
            "Cool, shield or move the protector, or choose a part suited to that load and place by its maker's \
             table; then test again. Until then nothing is known against the protector."
        }
        Verdict::ReMakeTheConnection => {
            "Isolate, lock, prove dead, let it cool, and re-make the connection at the protector; then measure \
             the drop again. Until then nothing is known against the protector."
        }
        Verdict::TwoCauses => {
            "Two causes work together: mend the machine or the place first, and the protector or the joint as \
             well."
        }
        Verdict::NothingToMend => {
            "Protector, place and machine look sound: a single trip, or heat left from an earlier one. Write it \
             down and watch."
        }
        Verdict::NotEnoughEvidence => {
            "The evidence does not tell yet: make the next measurement below."
        }
    }
}

/// Two causes in a sentence.
pub fn two(first: Verdict, second: Verdict) -> String {
    format!(
        "Two causes work together: {}, and {}. Mend both, the machine and the place before the protector.",
        found(first),
        found(second)
    )
}

/// What was found, for what is to be mended.
fn found(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::FindTheLoad => "the machine draws too much",
        Verdict::CoolOrReRate => "the place is too hot for the part",
        Verdict::ReMakeTheConnection => "a joint at the protector makes heat",
        Verdict::ReplaceTheProtector => "the protector trips too early",
        other => in_a_few(other),
    }
}

/// An advice in a few words.
pub fn in_short(advice: Advice) -> String {
    match advice.second {
        None => in_a_few(advice.first).into(),
        Some(second) => format!("two causes, {} and {}", found(advice.first), found(second)),
    }
}

/// What to do, in a few words.
pub fn in_a_few(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::DoNotReEnergise => "the protector is late: take it out of service",
        Verdict::ReplaceTheProtector => "replace the protector",
        Verdict::FindTheLoad => "the machine draws too much: find out why",
        Verdict::CoolOrReRate => "cool the place, or fit a part rated for it",
        Verdict::ReMakeTheConnection => "re-make the connection",
        Verdict::TwoCauses => "two causes together",
        Verdict::NothingToMend => "nothing to mend",
        Verdict::NotEnoughEvidence => "not enough evidence",
    }
}

/// What would prove a verdict wrong.
pub fn proved_wrong_by(verdict: Verdict) -> &'static [&'static str] {
    match verdict {
        Verdict::DoNotReEnergise => &[
            "A timed trip at 200 % from cold within the maker's band, before the part was operated by hand.",
        ],
        Verdict::ReplaceTheProtector => &[
            "The part carries its rated current for two hours on a bench at its reference air.",
            "A sound twin trips in the same place under the same load.",
            "A true-RMS meter shows more than the rated current right up to the trip.",
        ],
        Verdict::FindTheLoad => &[
            "A true-RMS reading right up to the trip that stays clearly below the rated current.",
            "A sound twin carries the same load without a trip.",
        ],
        Verdict::CoolOrReRate => &[
            "It trips as soon with the air at the part as cool as its reference.",
            "On a bench at its reference air it does not carry its rated current.",
        ],
        Verdict::ReMakeTheConnection => &[
            "The drop across the part stays as high after the joint was re-made.",
            "Both terminals are equally warm under load.",
        ],
        Verdict::TwoCauses => {
            &["With one of the two put right it never trips again, whatever the other does."]
        }
        Verdict::NothingToMend => &["It trips again under the same conditions."],
        Verdict::NotEnoughEvidence => &[],
    }
}

/// What trip times cannot tell apart.
pub const LOSS_OR_DRIFT: &str = "Lost preload and a drifted calibration both lower the release threshold; trip times cannot tell them \
     apart. What to do is the same: replace the part.";
/// Without a new time for comparison.
pub const NO_BASELINE: &str = "New parts of one rating differ by a quarter in what they carry. Without the time this part took when it \
     was new, or a sister's, a small loss cannot be told from that.";
/// Overload or rating.
pub const LOAD_OR_RATING: &str = "Without the current on the machine's own plate, a machine that draws too much cannot be told from a \
     protector that is too small for it.";
