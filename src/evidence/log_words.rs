//! Words about a log.

/// A time for people: `43.0 s`, `8 min 20 s`, `2 h 5 min`.
pub(super) fn span_words(seconds: f64) -> String {
    if seconds < 120.0 {
        return format!("{seconds:.1} s");
    }
    let s = seconds.round() as u64;
    match (s / 3600, s / 60 % 60, s % 60) {
        (0, min, 0) => format!("{min} min"),
        (0, min, s) => format!("{min} min {s} s"),
        (h, 0, _) => format!("{h} h"),
        (h, min, _) => format!("{h} h {min} min"),
    }
}
