//! Times as people note them: `8.3 min`, `about 40 s`, `19,8s`, `1m10`, `0:07`.

use super::Measured;

/// Reaction of a hand at a stop-watch, standard uncertainty, s. Common practice (0.2 s to 0.3 s),
/// no source.
pub const REACTION_S: f64 = 0.25;
/// Relative standard uncertainty of a time called `about`. Common practice, no source.
pub const ABOUT: f64 = 0.2;

/// Why a text is no time.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TimeFault {
    /// What was found.
    pub found: String,
    /// What to write instead.
    pub help: String,
}

const FORMS: &str = "write a time as \"8.3 min\", \"about 40 s\", \"19,8s\", \"1m10\" or \"0:07\" (minutes:seconds)";

fn fault<T>(found: impl Into<String>) -> Result<T, TimeFault> {
    Err(TimeFault {
        found: found.into(),
        help: FORMS.into(),
    })
}

/// A time as somebody noted it, s. Its standard uncertainty joins the reaction at the stop-watch,
/// the last digit written (even within half of it) and, for `about`, 20 %; a tolerance that is
/// written (`40 s +- 3 s`, a standard uncertainty) stands for all of these. Two numbers with a
/// colon are minutes and seconds.
///
/// ```
/// use relatch::internals::evidence::read_time;
/// assert_eq!(read_time("1m10").unwrap().value, 70.0);
/// assert_eq!(read_time("0:07").unwrap().value, 7.0);
/// assert!(read_time("about 40 s").unwrap().standard_uncertainty > 8.0);
/// assert!(read_time("40").is_err());
/// ```
///
/// # Errors
/// What was found, and what is allowed.
pub fn read_time(text: &str) -> Result<Measured, TimeFault> {
    let text = text.trim();
    if text.is_empty() {
        return fault("empty");
    }
    let (body, about) = without_about(text);
    let sign = ["+-", "+/-", "\u{b1}"]
        .iter()
        .filter_map(|s| body.find(s).map(|at| (at, s.len())))
        .min();
    if let Some((at, width)) = sign {
        let (value_s, _) = plain(&body[..at])?;
        let tolerance = body[at + width..].trim();
        let uncertainty_s = match tolerance.strip_suffix('%') {
            Some(share) => value_s * number(share.trim())?.0 / 100.0,
            None => plain(tolerance)?.0,
        };
        return finite(value_s, uncertainty_s);
    }
    let (value_s, last_digit_s) = plain(body)?;
    let rounding_s = 0.5 * last_digit_s / 3f64.sqrt();
    let about_s = if about { ABOUT * value_s } else { 0.0 };
    finite(value_s, REACTION_S.hypot(rounding_s).hypot(about_s))
}

fn finite(value_s: f64, uncertainty_s: f64) -> Result<Measured, TimeFault> {
    if value_s.is_finite() && uncertainty_s.is_finite() && value_s < 1e10 {
        Ok(Measured::new(value_s, uncertainty_s))
    } else {
        fault("more than a lifetime")
    }
}

/// The text without a word that says that it is a guess.
pub(super) fn without_about(text: &str) -> (&str, bool) {
    const WORDS: [&str; 9] = [
        "about", "approx.", "approx", "roughly", "around", "circa", "ca.", "ca", "~",
    ];
    for word in WORDS {
        if let Some(head) = text.get(..word.len())
            && head.eq_ignore_ascii_case(word)
        {
            let rest = &text[word.len()..];
            if word == "~" || rest.starts_with(|c: char| c.is_whitespace() || c.is_ascii_digit()) {
                return (rest.trim_start(), true);
            }
        }
    }
    (text, false)
}

/// Value and size of the last digit, s.
fn plain(text: &str) -> Result<(f64, f64), TimeFault> {
    let text = text.trim();
    if text.contains(':') {
        colons(text)
    } else {
        with_units(text)
    }
}

/// A number with a point or a comma, and the size of its last digit.
fn number(text: &str) -> Result<(f64, f64), TimeFault> {
    let digits = |s: &str| s.bytes().all(|b| b.is_ascii_digit());
    let (whole, decimals) = text.split_once(['.', ',']).unwrap_or((text, ""));
    if text.starts_with(['-', '\u{2212}']) {
        return fault("a time cannot be negative");
    }
    if whole.is_empty() || !digits(whole) || !digits(decimals) || text.ends_with(['.', ',']) {
        return fault(if text.is_empty() {
            "a number is missing".to_owned()
        } else {
            format!("`{}` is no number", short(text))
        });
    }
    if text.contains(',') && decimals.len() == 3 && whole.len() <= 3 && whole != "0" {
        return fault(format!("`{}` can be read in two ways", short(text)));
    }
    let value: f64 = format!("{whole}.{decimals}0").parse().unwrap_or(f64::NAN);
    let last = 10f64.powi(-i32::try_from(decimals.len()).unwrap_or(i32::MAX));
    Ok((value, last))
}

/// `0:07` is minutes and seconds, `1:02:11` hours, minutes and seconds.
fn colons(text: &str) -> Result<(f64, f64), TimeFault> {
    let parts: Vec<&str> = text.split(':').map(str::trim).collect();
    if parts.len() > 3 {
        return fault("more than two colons");
    }
    let mut value_s = 0.0;
    let mut last_digit_s = 1.0;
    for (i, part) in parts.iter().enumerate() {
        let (v, last) = number(part)?;
        if last < 1.0 && i + 1 < parts.len() {
            return fault(format!("`{}` is no whole number", short(part)));
        }
        if i > 0 && v >= 60.0 {
            return fault(format!("`{}` is more than 59", short(part)));
        }
        value_s = 60.0 * value_s + v;
        last_digit_s = last;
    }
    Ok((value_s, last_digit_s))
}

/// Units by which a time may be written, from the longest, s.
const UNITS: [(f64, &[&str]); 5] = [
    (86_400.0, &["d", "day", "days"]),
    (3600.0, &["h", "hr", "hrs", "hour", "hours"]),
    (60.0, &["m", "min", "mins", "minute", "minutes"]),
    (1.0, &["s", "sec", "secs", "second", "seconds"]),
    (1e-3, &["ms"]),
];

/// `1 min 10 s`, `1m10`, `19,8s`.
fn with_units(text: &str) -> Result<(f64, f64), TimeFault> {
    let mut rest = text;
    let (mut value_s, mut last_digit_s) = (0.0, 1.0);
    let mut before: Option<usize> = None;
    while !rest.is_empty() {
        let end = rest
            .find(|c: char| c.is_alphabetic() || c.is_whitespace())
            .unwrap_or(rest.len());
        let (v, last) = number(&rest[..end])?;
        let tail = rest[end..].trim_start();
        let end = tail
            .find(|c: char| !c.is_alphabetic())
            .unwrap_or(tail.len());
        let word = tail[..end].to_lowercase();
        let place = match (word.is_empty(), before) {
            // `1m10`: the last number counts the next smaller unit.
            (true, Some(b)) if b + 1 < UNITS.len() - 1 => b + 1,
            (true, _) => return fault("the unit is missing"),
            (false, _) => match UNITS.iter().position(|u| u.1.contains(&word.as_str())) {
                Some(place) => place,
                None => return fault(format!("`{}` is no unit of time", short(&word))),
            },
        };
        if before.is_some_and(|b| place <= b) {
            return fault("the units do not fall");
        }
        value_s += v * UNITS[place].0;
        last_digit_s = last * UNITS[place].0;
        before = Some(place);
        rest = tail[end..].trim_start_matches('.').trim_start();
    }
    if before.is_none() {
        return fault("empty");
    }
    Ok((value_s, last_digit_s))
}

/// The start of a word, for messages.
fn short(word: &str) -> String {
    word.chars().take(24).collect()
}
