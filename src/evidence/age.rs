//! Ages and counts, as people remember them.

use super::stop_watch::without_about;

/// Years from `9 years`, `about 18 months`, `3 weeks`.
///
/// # Errors
/// What was found.
pub fn read_age_years(text: &str) -> Result<f64, String> {
    let (body, _) = without_about(text.trim());
    let end = body
        .find(|c: char| !(c.is_ascii_digit() || c == '.'))
        .unwrap_or(body.len());
    let number: f64 = body[..end].parse().map_err(|_| "no number")?;
    let per_year = match body[end..].trim().to_lowercase().as_str() {
        "year" | "years" | "y" | "a" => 1.0,
        "month" | "months" => 12.0,
        "week" | "weeks" => 365.25 / 7.0,
        "day" | "days" | "d" => 365.25,
        "" => return Err("the unit is missing".into()),
        _ => return Err("no unit of age".into()),
    };
    let years = number / per_year;
    if years.is_finite() && years <= 150.0 {
        Ok(years)
    } else {
        Err("older than electric lighting".into())
    }
}

/// A count, `about` allowed.
pub fn read_count(text: &str) -> Option<u32> {
    let (body, _) = without_about(text.trim());
    body.trim().parse().ok().filter(|n| *n <= 1_000_000)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ages_and_counts_are_read() {
        assert_eq!(read_age_years("9 years"), Ok(9.0));
        assert_eq!(read_age_years("about 18 months"), Ok(1.5));
        assert!(read_age_years("9").is_err() && read_age_years("old").is_err());
        assert!(read_age_years("1000 years").is_err());
        assert_eq!(read_count("about 40"), Some(40));
        assert_eq!(read_count("tens"), None);
    }
}
