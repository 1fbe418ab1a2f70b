//! Published limits.

use crate::answer::{LimitDemand, TripTime};
use crate::predict::{Characteristic, CurvePoint, LimitCheck};
use crate::present::number::{plain, round_duration};

/// The demand in a sentence.
pub(crate) fn demand(row: LimitDemand) -> String {
    let rated = match row.poles {
        None => say!("{} times rated", plain(row.multiple)),
        Some(poles) => {
            let [a, b, c] = poles.map(|part| plain(part * row.multiple));
            say!("{}, {} and {} times rated in the three poles", a, b, c)
        }
    };
    let time = |s: f64| {
        if s < 120.0 {
            format!("{} s", plain(s))
        } else {
            round_duration(s)
        }
    };
    let does = match (row.must_hold, row.at_least_s, row.at_most_s) {
        (true, ..) | (_, None, None) => word!("is carried").to_owned(),
        (_, Some(least), None) => say!("does not trip within {}", time(least)),
        (_, None, Some(most)) => say!("trips within {}", time(most)),
        (_, Some(least), Some(most)) => say!("trips in {} to {}", time(least), time(most)),
    };
    let after = if row.after_multiple > 0.0 {
        say!(", warm from {} times rated", plain(row.after_multiple))
    } else {
        String::new()
    };
    let memory = if row.from_memory { from_memory() } else { "" };
    format!("{rated} {does}{after}{memory}")
}

/// The same with its air, where that is not the document's usual one.
pub(crate) fn demand_in_air(row: LimitDemand) -> String {
    let asked = demand(row);
    match row.air_c {
        Some(air_c) => say!("{asked} at {} °C", plain(air_c); asked),
        None => asked,
    }
}

/// That all of so many rows are met, and how many of them nobody has read.
pub(crate) fn all_met(count: usize, rows: &[LimitCheck]) -> String {
    let memory = of_memory(rows);
    say!("all {count} met{memory}"; count, memory)
}

/// " (9 of them from memory)"; nothing where all were read.
pub(crate) fn of_memory(rows: &[LimitCheck]) -> String {
    match rows.iter().filter(|l| l.demand.from_memory).count() {
        0 => String::new(),
        count => say!(" ({count} of them from memory)"; count),
    }
}

/// Beside what was not read in a document.
fn from_memory() -> &'static str {
    word!(" (from memory)")
}

/// Why there is no hot curve, where one was asked for.
pub(crate) fn no_hot_curve(curve: &Characteristic) -> Option<String> {
    let is_open = |p: &CurvePoint| p.time == TripTime::AlreadyOpen;
    (!curve.hot.is_empty() && curve.hot.iter().all(is_open)).then(|| {
        say!(
            "at {} % of rated it has already tripped",
            plain(100.0 * curve.hot_fraction)
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_was_not_read_says_so() {
        let of_class_20 = crate::standards::find("motor class 20")
            .expect("a table")
            .rows;
        let said = of_class_20.iter().map(|row| demand(row.demand()));
        assert_eq!(
            said.collect::<Vec<String>>(),
            [
                "1 times rated does not trip within 2 h (from memory)",
                "1.2 times rated trips within 2 h, warm from 1 times rated (from memory)",
                "1.5 times rated trips within 8 min, warm from 1 times rated (from memory)",
                "7.2 times rated trips in 6 s to 20 s",
            ]
        );
    }
}
