//! Numbers in sentences.

/// A current with sensible digits.
pub fn amperes(a: f64) -> String {
    format!("{} A", digits(a))
}

/// A time in the unit that a person would use.
pub fn time(s: f64) -> String {
    if !s.is_finite() {
        return "for ever".into();
    }
    if s < 1.0 {
        return format!("{s:.2} s");
    }
    if s < 10.0 {
        return format!("{s:.1} s");
    }
    if s < 100.0 {
        return format!("{s:.0} s");
    }
    if s < 7200.0 {
        let whole = s.round();
        let (m, r) = ((whole / 60.0).floor(), whole % 60.0);
        return if s > 600.0 || r == 0.0 {
            format!("{:.0} min", s / 60.0)
        } else {
            format!("{m:.0} min {r:.0} s")
        };
    }
    format!("{:.1} h", s / 3600.0)
}

/// Three significant digits, no exponent.
pub fn digits(x: f64) -> String {
    let size = x.abs();
    if size >= 100.0 {
        format!("{x:.0}")
    } else if size >= 10.0 {
        format!("{x:.1}")
    } else if size >= 1.0 {
        format!("{x:.2}")
    } else {
        format!("{x:.3}")
    }
}

/// A probability as a person says it; never 0 or 100 %.
pub fn percent(p: f64) -> String {
    let p = 100.0 * p;
    if p < 0.5 {
        "less than 1 %".into()
    } else if p > 99.5 {
        "more than 99 %".into()
    } else {
        format!("{p:.0} %")
    }
}

/// Degrees Celsius of a kelvin temperature.
pub fn celsius(k: f64) -> String {
    format!("{:.0} °C", k - 273.15)
}

#[cfg(test)]
mod tests {
    #[test]
    fn times_are_said_in_the_unit_a_person_would_use() {
        for (s, said) in [
            (0.33, "0.33 s"),
            (7.25, "7.2 s"),
            (48.0, "48 s"),
            (119.7, "2 min"),
            (130.0, "2 min 10 s"),
            (2880.0, "48 min"),
            (9000.0, "2.5 h"),
        ] {
            assert_eq!(super::time(s), said);
        }
    }
}
