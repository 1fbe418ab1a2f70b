//! Numbers as they are told to a technician.

use super::words::short_words;
use crate::diagnose::{CauseShare, Diagnosis, Energise, NextMeasurement, Range, State, Verdict};
use crate::present::number::{duration, fixed, plain};

/// A probability in whole percent; never a certain 0 or 100, because nothing here is certain.
pub(in crate::present) fn percent(probability: f64) -> String {
    if !probability.is_finite() {
        return "not known".to_owned();
    }
    match (probability * 100.0).round() {
        p if p < 1.0 => "below 1 %".to_owned(),
        p if p > 99.0 => "above 99 %".to_owned(),
        p => format!("{p:.0} %"),
    }
}

/// A probability as a bar of letters.
pub(in crate::present) fn bar(probability: f64, letters: usize) -> String {
    let share = if probability.is_finite() {
        probability.clamp(0.0, 1.0)
    } else {
        0.0
    };
    let full = (share * letters as f64).round() as usize;
    format!(
        "[{}{}]",
        "#".repeat(full),
        ".".repeat(letters - full.min(letters))
    )
}

/// "13.2 A (90 % range 12.8 to 13.9)"; `None` when it is not known.
pub(in crate::present) fn between(range: &Range, unit: &str, factor: f64) -> Option<String> {
    let [low, median, high] = ends(range)?.map(|v| v * factor);
    let width = (high - low).abs();
    let decimals = match width {
        w if w >= 5.0 => 0,
        w if w >= 0.5 => 1,
        _ => 2,
    };
    let say = |v: f64| fixed(v, decimals);
    Some(format!(
        "{} {unit} (90 % range {} to {})",
        say(median),
        say(low),
        say(high)
    ))
}

/// "14 s (90 % range 9 s to 22 s)".
pub(in crate::present) fn span_of_time(range: &Range) -> Option<String> {
    let [low, median, high] = ends(range)?.map(|t| match t.max(0.0) {
        t if (9.5..120.0).contains(&t) => format!("{} s", plain(t.round())),
        t => duration(t, 2),
    });
    Some(format!("{median} (90 % range {low} to {high})"))
}

fn ends(range: &Range) -> Option<[f64; 3]> {
    let ends = [range.low, range.median, range.high];
    ends.iter().all(|v| v.is_finite()).then_some(ends)
}

/// The state of the part and its place in a line.
pub(in crate::present) fn state_words(state: &State) -> String {
    let items = [
        ("trips from", &state.trip_point_now_a, "A", 1.0),
        ("preload lost", &state.preload_loss, "%", 100.0),
        ("air at the part", &state.air_at_the_part_c, "°C", 1.0),
    ];
    let told = items.iter().filter_map(|(name, range, unit, factor)| {
        between(range, unit, *factor).map(|range| format!("{name} {range}"))
    });
    let told: Vec<String> = told.collect();
    if told.is_empty() {
        return String::new();
    }
    // What the brackets mean is said once.
    let (first, others) = told.split_at(1);
    let others = others.iter().map(|t| t.replace("90 % range ", ""));
    let told: Vec<String> = first.iter().cloned().chain(others).collect();
    format!("{}.", told.join("; "))
}

/// What the bar beside the verdict shows: the words before it and its probability. Where nothing can be told yet, the
/// most probable cause so far.
pub(in crate::present) fn certainty(diagnosis: &Diagnosis) -> (String, f64) {
    let first = diagnosis.causes.first();
    match first.filter(|_| diagnosis.verdict == Verdict::NotEnoughEvidence) {
        Some(share) => {
            let words = format!("Most probable so far, {}:", short_words(share.cause));
            (words, share.probability)
        }
        None => (
            "Probability that this is right:".to_owned(),
            diagnosis.confidence,
        ),
    }
}

/// A duration without needless zeros: "6 min".
pub(in crate::present) fn spoken(seconds: f64) -> String {
    let told = duration(seconds, 2);
    told.trim_end_matches(" 0 s")
        .trim_end_matches(" 0 min")
        .to_owned()
}

/// What waits mean while it may not be switched on, or where there are none.
pub(in crate::present) fn waits_remark(diagnosis: &Diagnosis) -> Option<&'static str> {
    match (diagnosis.energise == Energise::Yes, &diagnosis.waits) {
        (true, Some(_)) => None,
        (true, None) => Some("No number: too little is known."),
        (false, Some(_)) => Some("Do not reset now. These count when it is mended and released:"),
        (false, None) => Some("No number: do not reset."),
    }
}

/// What a measurement costs.
pub(in crate::present) fn effort(measurement: &NextMeasurement) -> String {
    let minutes = spoken(60.0 * measurement.minutes.round().max(1.0));
    match measurement.trips_used.round() {
        t if t >= 2.0 => format!("about {minutes}, {t:.0} trips of its life"),
        t if t >= 1.0 => format!("about {minutes}, one trip of its life"),
        _ => format!("about {minutes}"),
    }
}

/// Causes that are told at all: at least one percent.
pub(in crate::present) fn still_plausible(
    diagnosis: &Diagnosis,
) -> impl Iterator<Item = &CauseShare> {
    diagnosis.causes.iter().filter(|c| c.probability >= 0.01)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn range(low: f64, median: f64, high: f64) -> Range {
        Range { low, median, high }
    }

    #[test]
    fn no_probability_is_told_as_certain() {
        assert_eq!(percent(0.0), "below 1 %");
        assert_eq!(percent(0.9999), "above 99 %");
        assert_eq!(percent(0.946), "95 %");
        assert_eq!(percent(f64::NAN), "not known");
    }

    #[test]
    fn bars_have_one_length() {
        for p in [-1.0, 0.0, 0.31, 1.0, 7.0, f64::NAN] {
            assert_eq!(bar(p, 10).len(), 12, "{p}");
        }
        assert_eq!(bar(0.5, 10), "[#####.....]");
    }

    #[test]
    fn ranges_have_the_digits_that_their_width_leaves() {
        let volts = between(&range(9.81, 10.04, 10.33), "A", 1.0);
        assert_eq!(volts.unwrap(), "10.0 A (90 % range 9.8 to 10.3)");
        let loss = between(&range(0.52, 0.58, 0.64), "%", 100.0);
        assert_eq!(loss.unwrap(), "58 % (90 % range 52 to 64)");
        assert_eq!(between(&range(0.0, f64::NAN, 1.0), "A", 1.0), None);
        let wait = span_of_time(&range(9.04, 14.2, 131.0));
        assert_eq!(wait.unwrap(), "14 s (90 % range 9.0 s to 2 min 11 s)");
    }
}
