//! Numbers as people read them: as many digits as the error and the reader allow, with a unit.

use super::language::marked;
use crate::family::Spread;

/// What stands where there is no number.
pub(crate) const NONE: &str = "–";

/// `value` to `digits` significant digits, trailing zeros kept (they say how far it is known);
/// powers of ten below 1e-4 and from 1e7. A value that is not finite reads "not known".
///
/// ```
/// use relatch::internals::present::significant;
/// assert_eq!(significant(9.218_38, 4), "9.218");
/// assert_eq!(significant(9.999_6, 4), "10.00");
/// assert_eq!(significant(f64::NAN, 3), "not known");
/// ```
pub fn significant(value: f64, digits: usize) -> String {
    if !value.is_finite() {
        return word!("not known").to_owned();
    }
    if value == 0.0 {
        return "0".to_owned();
    }
    let digits = digits.max(1);
    // Rounding first, so that 9.9996 counts as 10.00 and not as 10.000.
    let scientific = format!("{value:.*e}", digits - 1);
    let (mantissa, exponent) = scientific.split_once('e').unwrap_or((&scientific, "0"));
    let exponent: i32 = exponent.parse().unwrap_or(0);
    if !(-4..7).contains(&exponent) {
        return marked(format!("{mantissa}e{exponent}"));
    }
    let decimals = digits as i32 - 1 - exponent;
    if decimals >= 0 {
        return marked(format!("{value:.*}", decimals as usize));
    }
    let step = 10f64.powi(-decimals);
    format!("{:.0}", (value / step).round() * step)
}

/// Digits, at least so many, that tell a number from another that is not the same.
pub(crate) fn digits_apart(value: f64, other: f64, digits: usize) -> usize {
    let same = |digits: &usize| significant(value, *digits) == significant(other, *digits);
    let most = 8;
    if value == other {
        return digits;
    }
    (digits..most).find(|d| !same(d)).unwrap_or(most)
}

/// A value as a file has it, with the sign of its unit as people read it.
pub(crate) fn as_read(written: &str) -> String {
    written.replace("degC", "°C")
}

/// A length to three digits, mm; what is less than a nanometre is noise.
pub(crate) fn length_mm(mm: f64) -> String {
    match mm.abs() < 1e-6 {
        true => "0".to_owned(),
        false => significant(mm, 3),
    }
}

/// How small something is, as a power of ten: 1e-6.
pub(crate) fn power_of_ten(value: f64, decimals: usize) -> String {
    marked(format!("{value:.decimals$e}"))
}

/// Digits that a relative error leaves standing, 2 to 4; three when the error is not known.
pub(crate) fn digits(relative_error: Option<f64>) -> usize {
    match relative_error {
        Some(error) if error.is_finite() && error > 0.0 => {
            (-error.log10()).floor().clamp(2.0, 4.0) as usize
        }
        Some(0.0) => 4,
        _ => 3,
    }
}

/// A finite value, or nothing.
pub(crate) fn finite(value: Option<f64>) -> Option<f64> {
    value.filter(|v| v.is_finite())
}

/// `value` with `unit`, or a dash.
pub(crate) fn with_unit(value: Option<f64>, digits: usize, unit: &str) -> String {
    match finite(value) {
        Some(v) => format!("{} {unit}", significant(v, digits)),
        None => NONE.to_owned(),
    }
}

/// A value and how far it can be trusted, in its unit: the error rounded to one digit (two where
/// the first is 1), the value to the same place. Without an error that can be told, the value to
/// three digits: 11.3 A ± 0.9 A.
pub(crate) fn give_or_take(value: f64, error: f64, unit: &str) -> String {
    if !value.is_finite() {
        return significant(value, 3);
    }
    let error = error.abs();
    if !(error.is_finite() && error > 0.0) {
        return format!("{} {unit}", significant(value, 3));
    }
    let scientific = format!("{error:.1e}");
    let digits = if scientific.starts_with('1') { 2 } else { 1 };
    // Rounding first: 0.097 is 0.10 and ends a place further left than its first digit says.
    let rounded = format!("{error:.*e}", digits - 1);
    let exponent = |text: &str| {
        text.split_once('e')
            .map_or(0, |(_, e)| e.parse().unwrap_or(0))
    };
    let place: i32 = exponent(&rounded) - (digits as i32 - 1);
    if place < -6 {
        let (value, error) = (significant(value, 6), significant(error, digits));
        return format!("{value} {unit} ± {error} {unit}");
    }
    let step = 10f64.powi(place);
    let decimals = (-place).max(0) as usize;
    let shown = |v: f64| match place {
        1.. => fixed((v / step).round() * step, 0),
        _ => fixed(v, decimals),
    };
    format!("{} {unit} ± {} {unit}", shown(value), shown(error))
}

/// A change, with its sign.
pub(crate) fn signed(value: f64, digits: usize) -> String {
    let text = significant(value, digits);
    if value > 0.0 {
        format!("+{text}")
    } else {
        text
    }
}

/// A duration: milliseconds, seconds, minutes or hours, whichever a person would say.
pub(crate) fn duration(seconds: f64, digits: usize) -> String {
    if !seconds.is_finite() {
        return significant(seconds, digits);
    }
    let magnitude = seconds.abs();
    if magnitude > 0.0 && magnitude < 0.01 {
        return format!("{} ms", significant(seconds * 1e3, digits));
    }
    if magnitude < 120.0 {
        return format!("{} s", significant(seconds, digits));
    }
    let whole = magnitude.round() as u64;
    let sign = if seconds < 0.0 { "-" } else { "" };
    if whole < 7200 {
        format!("{sign}{} min {} s", whole / 60, whole % 60)
    } else {
        format!("{sign}{} h {} min", whole / 3600, whole % 3600 / 60)
    }
}

/// A duration to three digits as a sheet prints it: "1 h", not "60 min 0 s".
pub(crate) fn round_duration(seconds: f64) -> String {
    let text = duration(seconds, 3);
    match text.as_str() {
        "60 min 0 s" => "1 h".to_owned(),
        _ => text
            .strip_suffix(" 0 s")
            .or_else(|| text.strip_suffix(" 0 min"))
            .map_or(text.clone(), str::to_owned),
    }
}

/// A duration without needless zeros: "6 min".
pub(crate) fn spoken(seconds: f64) -> String {
    // Never rounded past the next ten seconds.
    let digits = if (99.5..120.0).contains(&seconds) {
        3
    } else {
        2
    };
    let told = duration(seconds, digits);
    told.trim_end_matches(" 0 s")
        .trim_end_matches(" 0 min")
        .to_owned()
}

/// A probability in whole percent; never a certain 0 or 100, because nothing here is certain.
pub(crate) fn percent(probability: f64) -> String {
    if !probability.is_finite() {
        return word!("not known").to_owned();
    }
    match (probability * 100.0).round() {
        p if p < 1.0 => word!("below 1 %").to_owned(),
        p if p > 99.0 => word!("above 99 %").to_owned(),
        p => format!("{p:.0} %"),
    }
}

/// "13.2 A (90 % range 12.8 to 13.9)", with the decimals that the width leaves; `None` when it is
/// not known.
pub(crate) fn between(range: &Spread, unit: &str, factor: f64) -> Option<String> {
    let ends = [range.low, range.median, range.high].map(|v| v * factor);
    let [low, median, high] = ends.iter().all(|v| v.is_finite()).then_some(ends)?;
    let decimals = match (high - low).abs() {
        w if w >= 5.0 => 0,
        w if w >= 0.5 => 1,
        _ => 2,
    };
    let say = |v: f64| fixed(v, decimals);
    Some(say!(
        "{} {unit} (90 % range {} to {})",
        say(median),
        say(low),
        say(high)
    ; unit))
}

/// A temperature to `decimals` places, degC; a dash when there is none.
pub(crate) fn celsius(value: Option<f64>, decimals: usize) -> String {
    match finite(value) {
        Some(v) => format!("{} °C", fixed(v, decimals)),
        None => NONE.to_owned(),
    }
}

/// Fixed decimals without a negative zero.
pub(crate) fn fixed(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let is_zero = text
        .trim_start_matches('-')
        .chars()
        .all(|c| matches!(c, '0' | '.'));
    marked(if is_zero {
        text.trim_start_matches('-').to_owned()
    } else {
        text
    })
}

/// A number without needless zeros: 25, 22.5, 0.05.
pub(crate) fn plain(value: f64) -> String {
    if !value.is_finite() {
        return significant(value, 3);
    }
    let text = fixed(value, 6);
    let text = text.trim_end_matches('0').trim_end_matches(['.', ',']);
    if text.is_empty() || text == "0" && value != 0.0 {
        return significant(value, 3);
    }
    text.to_owned()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_probability_is_told_as_certain() {
        assert_eq!(percent(0.0), "below 1 %");
        assert_eq!(percent(0.9999), "above 99 %");
        assert_eq!(percent(0.946), "95 %");
        assert_eq!(percent(f64::NAN), "not known");
    }

    #[test]
    fn ranges_have_the_digits_that_their_width_leaves() {
        let range = |low, median, high| Spread { low, median, high };
        let amperes = between(&range(9.81, 10.04, 10.33), "A", 1.0);
        assert_eq!(amperes.unwrap(), "10.0 A (90 % range 9.8 to 10.3)");
        let loss = between(&range(0.52, 0.58, 0.64), "%", 100.0);
        assert_eq!(loss.unwrap(), "58 % (90 % range 52 to 64)");
        assert_eq!(between(&range(0.0, f64::NAN, 1.0), "A", 1.0), None);
    }

    #[test]
    fn significant_digits_survive_rounding_up_and_large_numbers() {
        assert_eq!(significant(1234.5, 3), "1230");
        assert_eq!(significant(0.999_95, 3), "1.00");
        assert_eq!(significant(-0.01234, 2), "-0.012");
        assert_eq!(significant(3.2e-7, 3), "3.20e-7");
        assert_eq!(significant(0.0, 3), "0");
        assert_eq!(significant(f64::INFINITY, 3), "not known");
    }

    #[test]
    fn an_error_decides_where_its_value_ends() {
        let shown = |value, error| give_or_take(value, error, "A");
        assert_eq!(shown(11.312, 0.868), "11.3 A ± 0.9 A");
        assert_eq!(shown(11.312, 0.142), "11.31 A ± 0.14 A");
        assert_eq!(shown(11.312, 0.0968), "11.3 A ± 0.1 A");
        assert_eq!(shown(12_345.0, 678.0), "12300 A ± 700 A");
        assert_eq!(shown(2.0, 30.0), "0 A ± 30 A");
        assert_eq!(shown(5.0, 0.0), "5.00 A");
        assert_eq!(shown(5.0, f64::NAN), "5.00 A");
        assert_eq!(shown(f64::NAN, 1.0), "not known");
    }

    #[test]
    fn digits_follow_the_error() {
        assert_eq!(digits(Some(1e-6)), 4);
        assert_eq!(digits(Some(2e-3)), 2);
        assert_eq!(digits(Some(1e-3)), 3);
        assert_eq!(digits(None), 3);
        assert_eq!(digits(Some(f64::NAN)), 3);
    }

    #[test]
    fn durations_read_as_a_person_says_them() {
        assert_eq!(spoken(117.0), "117 s");
        assert_eq!(spoken(1200.0), "20 min");
        assert_eq!(duration(0.0012, 3), "1.20 ms");
        assert_eq!(duration(12.3456, 4), "12.35 s");
        assert_eq!(duration(282.0, 3), "4 min 42 s");
        assert_eq!(duration(119.999, 3), "120 s");
        assert_eq!(duration(8000.0, 3), "2 h 13 min");
    }

    #[test]
    fn no_negative_zero() {
        assert_eq!(celsius(Some(-0.2), 0), "0 °C");
        assert_eq!(plain(-0.0), "0");
        assert_eq!(plain(22.50), "22.5");
        assert_eq!(plain(-20.0), "-20");
    }
}
