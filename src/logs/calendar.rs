//! Days of the calendar.

/// Which number of a date such as `03/04/2024` is the day.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum DateOrder {
    /// Day, month, year.
    DayFirst,
    /// Month, day, year.
    MonthFirst,
}

/// A date as written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Date {
    /// Year, month, day: the year came first, or the month was a word.
    Certain(u32, u32, u32),
    /// Two numbers before the year, and the mark between them.
    Open(u32, u32, u32, u8),
}

impl Date {
    /// Days since 1970-01-01; `None` when there is no such day in this order.
    pub fn days(self, order: DateOrder) -> Option<i64> {
        let (y, m, d) = match (self, order) {
            (Date::Certain(y, m, d), _) => (y, m, d),
            (Date::Open(d, m, y, _), DateOrder::DayFirst) => (y, m, d),
            (Date::Open(m, d, y, _), DateOrder::MonthFirst) => (y, m, d),
        };
        days_from_civil(y, m, d)
    }
}

/// Days since 1970-01-01 of a date of the Gregorian calendar; `None` when it does not exist.
///
/// The count of days by months that begin in March is the well-known one of Julian day numbers.
pub fn days_from_civil(year: u32, month: u32, day: u32) -> Option<i64> {
    let leap = year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400));
    let length = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => return None,
    };
    if day == 0 || day > length || !(1..=9999).contains(&year) {
        return None;
    }
    // Years that begin on the first of March put the leap day at the end.
    let (y, m) = if month > 2 {
        (i64::from(year), i64::from(month) - 3)
    } else {
        (i64::from(year) - 1, i64::from(month) + 9)
    };
    let of_year = (153 * m + 2) / 5 + i64::from(day) - 1;
    let days = 365 * y + y.div_euclid(4) - y.div_euclid(100) + y.div_euclid(400) + of_year;
    // 0000-03-01 lies 719 468 days before 1970-01-01.
    Some(days - 719_468)
}

/// Year, month and day of a count of days since 1970-01-01.
pub fn civil(days: i64) -> (i64, u32, u32) {
    let z = days + 719_468;
    let era = z.div_euclid(146_097);
    let of_era = z.rem_euclid(146_097);
    let year = (of_era - of_era / 1460 + of_era / 36_524 - of_era / 146_096) / 365;
    let of_year = of_era - (365 * year + year / 4 - year / 100);
    let m = (5 * of_year + 2) / 153;
    let day = of_year - (153 * m + 2) / 5 + 1;
    let month = if m < 10 { m + 3 } else { m - 9 };
    let year = year + era * 400 + i64::from(month <= 2);
    (year, month as u32, day as u32)
}

/// A count of seconds since 1970-01-01 as `2024-03-05 14:00:00`, with a fraction where there is
/// one.
pub fn stamp(seconds: f64) -> String {
    if !seconds.is_finite() || seconds.abs() > 1e12 {
        return format!("{seconds} s");
    }
    let millis = (seconds * 1e3).round() as i64;
    let (y, m, d) = civil(millis.div_euclid(86_400_000));
    let of_day = millis.rem_euclid(86_400_000);
    let (h, min, s, ms) = (
        of_day / 3_600_000,
        of_day / 60_000 % 60,
        of_day / 1000 % 60,
        of_day % 1000,
    );
    let fraction = if ms == 0 {
        String::new()
    } else {
        format!(".{ms:03}")
    };
    format!("{y:04}-{m:02}-{d:02} {h:02}:{min:02}:{s:02}{fraction}")
}

/// Months by their first three letters, in the languages of common instruments.
pub(super) fn month(word: &[u8]) -> Option<u32> {
    const NAMES: [&[&str]; 12] = [
        &["jan", "ene", "gen"],
        &["feb", "fev", "f\u{e9}v"],
        &["mar", "m\u{e4}r", "mrz", "maa", "mrt"],
        &["apr", "avr", "abr"],
        &["may", "mai", "mei", "mag", "maj"],
        &["jun", "jui", "giu"],
        &["jul", "lug"],
        &["aug", "aou", "ago"],
        &["sep", "set"],
        &["oct", "okt", "ott", "out"],
        &["nov"],
        &["dec", "dez", "dic", "d\u{e9}c", "des"],
    ];
    let lower = super::encoding::text(word).to_lowercase();
    if lower.starts_with("juil") {
        return Some(7);
    }
    let is = |n: &&&str| lower.starts_with(**n);
    let at = NAMES
        .iter()
        .position(|names| names.iter().any(|n| is(&n)))?;
    Some(at as u32 + 1)
}
