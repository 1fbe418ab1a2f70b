//! May it be switched on again?

use crate::diagnose::{Energise, First, WhyNot};
use crate::evidence::Sign;
use crate::present::number::{duration, significant};
use crate::present::verdict::{in_words, percent};

/// The answer in a word or two.
pub(crate) fn energise(energise: &Energise) -> &'static str {
    match energise {
        Energise::No { .. } => "NO - do not reset, do not switch on",
        Energise::NotYet { .. } => "NOT YET - first what is said here",
        Energise::Yes => "YES, but find the cause first",
    }
}

/// The answer with its reasons.
pub(crate) fn energise_text(energise: &Energise) -> String {
    match energise {
        Energise::No { why } => {
            let why: Vec<String> = why.iter().map(why_not).collect();
            format!("NO. {}", why.join(" "))
        }
        Energise::NotYet { after } => {
            let after: Vec<String> = after.iter().map(first).collect();
            format!("NOT YET. {}", after.join(" "))
        }
        Energise::Yes => {
            "Only after the cause is found and mended, by whoever is allowed to; never \
             by resetting again and again."
                .to_owned()
        }
    }
}

fn why_not(why: &WhyNot) -> String {
    match why {
        WhyNot::Signs { signs } => {
            let seen: Vec<&str> = signs.iter().map(|s| sign(*s)).collect();
            format!(
                "{}: do not reset. A qualified person looks for a short, an earth fault or a broken latch first.",
                in_words(&seen)
            )
        }
        WhyNot::TooSoon {
            time_s,
            soonest_s,
            at_most_a,
            ..
        } => format!(
            "It tripped within {}: no heated strip of this rating can release before {} at the {} A that this load \
             draws at most. That is a short circuit, an earth fault, an instantaneous element or a broken latch: do \
             not reset. A qualified person looks for it first.",
            duration(*time_s, 2),
            duration(*soonest_s, 2),
            significant(*at_most_a, 2)
        ),
        WhyNot::Late { .. } => {
            "The protector trips too late or not at all: the machine is unprotected. Out of service now."
                .to_owned()
        }
    }
}

fn first(first: &First) -> String {
    match first {
        First::ReMakeTheConnection { probability } => format!(
            "A joint at the protector may be bad (probability {}): it can burn. First have the connection opened, \
             looked at and re-made, dead.",
            percent(*probability)
        ),
        First::TimeATrip { probability } => format!(
            "The protector may be late (probability {}): a late part protects nothing. First time a trip of it on a \
             bench.",
            percent(*probability)
        ),
    }
}

fn sign(sign: Sign) -> &'static str {
    match sign {
        Sign::Smell => "smell or smoke",
        Sign::Soot => "soot or melted parts",
        Sign::TripsAtOnceCold => "it trips at once from cold",
        Sign::TripsWithoutLoad => "it trips with nothing connected",
        Sign::LatchDoesNotHold => "the latch does not hold when cold",
    }
}
