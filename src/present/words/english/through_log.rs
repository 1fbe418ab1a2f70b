//! What sound parts would have done through a recorded log.

use crate::diagnose::{LogPicture, SoundTrip, WhyTripped};
use crate::present::number::spoken;

/// The whole in a sentence.
pub(crate) fn log_picture(picture: &LogPicture) -> String {
    let after = |time_s: f64| spoken(time_s - picture.starts_at_s);
    match (picture.worst(), &picture.closest) {
        (Some(trip), _) => say!(
            "{} would have tripped {} after the first row ({} to {}): {}.",
            of_parts(trip),
            after(trip.time_s.median),
            after(trip.time_s.low),
            after(trip.time_s.high),
            why_tripped(&trip.why)
        ),
        (None, Some(p)) => say!(
            "A sound part would not have tripped: at the closest, {} after the first row, it had used {:.0} % of the \
             way to release ({:.0} % to {:.0} %).",
            after(p.time_s),
            100.0 * p.used.median,
            100.0 * p.used.low,
            100.0 * p.used.high
        ),
        (None, None) => word!("The log holds nothing that a part could carry.").into(),
    }
}

fn of_parts(trip: &SoundTrip) -> String {
    if trip.share > 0.995 {
        word!("Every sound part").into()
    } else {
        say!("{:.0} % of the sound parts", 100.0 * trip.share)
    }
}

fn why_tripped(why: &WhyTripped) -> String {
    match why {
        WhyTripped::HeatLeft => word!(
            "from cold they would have carried this load: heat left from an earlier one did it"
        )
        .into(),
        WhyTripped::Start { largest_a } => say!(
            "the first seconds, up to {largest_a:.1} A, brought the heat: the start is too heavy or too long"
        ; largest_a),
        WhyTripped::RunningCurrent {
            running_a,
            holds_a: [low_a, high_a],
        } => say!(
            "the running current of {running_a:.1} A is above what sound parts hold here for ever ({low_a:.1} A to \
             {high_a:.1} A)"
        ; running_a, low_a, high_a),
        WhyTripped::Together {
            running_a,
            holds_a,
            largest_a,
        } => say!(
            "the running current of {running_a:.1} A alone would be held (up to {holds_a:.1} A and more): what comes \
             and goes above it, up to {largest_a:.1} A, did it"
        ; running_a, holds_a, largest_a),
    }
}
