//! Why there is no number.

use crate::answer::{Failed, NoProof};
use crate::present::number::{celsius, duration};

/// Why a number could not be computed.
pub(crate) fn failed(why: &Failed) -> String {
    match why {
        Failed::OutOfRange {
            material,
            property,
            needed_c,
            range_c: [low, high],
        } => say!(
            "the {} of {material} is needed at {}, its source covers {} to {} only",
            super::property(*property),
            celsius(Some(*needed_c), 0),
            celsius(Some(*low), 0),
            celsius(Some(*high), 0)
        ; material),
        Failed::Melts { peak_c } => say!(
            "the strip would reach {}: it melts before",
            celsius(Some(*peak_c), 0)
        ),
        Failed::Integration { at_s } => {
            say!("the time steps did not go on at {}", duration(*at_s, 3))
        }
        Failed::MoreDomed { coldest_c } => say!(
            "at {} the disc is more domed than made, and may bend in ways that are not round",
            celsius(Some(*coldest_c), 0)
        ),
        Failed::NoSteadyState => word!("a steady state was not found").to_owned(),
    }
}

/// Why it is not proved that it holds.
pub(crate) fn no_proof(why: NoProof) -> &'static str {
    match why {
        NoProof::StillChanges => {
            word!("and no proof that it never does: the load or the air still changes")
        }
        NoProof::NotSettled => word!("and no proof that it never does"),
    }
}
