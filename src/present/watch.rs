//! A log that is followed, as lines.

use super::block;
use crate::diagnose::{Countdown, Fallen, Forecast, Line, Status, What};
use crate::family::Spread;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::present::cautions::{after_a_fall, over_a_watch};
use crate::present::number::{duration, fixed, plain, significant};

/// Columns of a line at most: longer ones are hard to follow.
const MOST_COLUMNS: usize = 98;

/// What stands over a log that is followed: whose parts they are, and that all of it is an
/// estimate.
pub fn watch_head(rated_current_a: f64, ambient_k: f64, parts: usize, columns: usize) -> String {
    let wrapped = |first: &str, text: &str| wrapped(first, text, columns);
    let mut out = wrapped(
        "",
        &say!(
            "{parts} sound {} A parts follow the log in air of {:.0} °C. 0 % used is cold, 100 % is release.",
            plain(rated_current_a),
            ambient_k - ZERO_CELSIUS_K
        ; parts),
    );
    for text in over_a_watch() {
        out += &wrapped("! ", text);
    }
    out
}

/// One change, with the time since the first row; several lines where cautions belong to it.
pub fn watch_line(line: &Line, columns: usize) -> String {
    let wrapped = |first: &str, text: &str| wrapped(first, text, columns);
    let stamp = format!("{}  ", clock(line.time_s));
    let mut out = wrapped(&stamp, &words(&line.what));
    if matches!(line.what, What::Fell(Fallen { waits: Some(_), .. })) {
        for text in after_a_fall() {
            out += &wrapped(&format!("{}! ", " ".repeat(stamp.len())), text);
        }
    }
    out
}

/// Where things stand, in one line without its end: what it has no room for is left out, the last
/// first.
pub fn watch_status(status: &Status, columns: usize) -> String {
    let mut parts = Vec::new();
    match status.current_a {
        _ if status.silent_s >= 30.0 => parts.push(say!(
            "no new row for {}",
            duration(status.silent_s.round(), 2)
        )),
        Some(a) => parts.push(say!("{} A now", significant(a, 3))),
        None => parts.push(word!("gap").to_owned()),
    }
    let (rms_a, over_s) = status.rms_a;
    if over_s >= 1.0 {
        parts.push(say!(
            "{} A RMS of {}",
            significant(rms_a, 3),
            duration(over_s.round(), 2)
        ));
    }
    if let Some(used) = &status.used {
        parts.push(say!("used {}", used_words(used)));
    }
    if let (Some(forecast), true) = (&status.forecast, status.silent_s < 30.0) {
        parts.push(short(forecast));
    }
    if let Some(countdown) = &status.countdown {
        parts.push(count(countdown));
    }
    let stamp = clock(status.time_s + status.silent_s);
    let line = |parts: &[String]| format!("{stamp}  {}", parts.join(" | "));
    while parts.len() > 1 && block::width(&line(&parts)) >= columns {
        // The RMS value is the first to go: what is used and what comes is asked for.
        let least = usize::from(parts.len() > 2);
        parts.remove(least);
    }
    line(&parts)
}

fn words(what: &What) -> String {
    match what {
        What::LoadBegan {
            current_a,
            seen: true,
        } => say!("load: {} A", significant(*current_a, 3)),
        What::LoadBegan { current_a, .. } => say!(
            "load: {} A since before the first row: the ranges hold everything from a cold part to a hot one",
            significant(*current_a, 3)
        ),
        What::Forecast(f) => forecast(f),
        What::Overdue => {
            word!("every sound part would have tripped, and is well past its release. This one may be late: it may not \
             protect. Switch off, find the cause, have it checked; or the log does not show the current that flows \
             through it")
                .into()
        }
        What::WouldHaveTripped { share } => say!(
            "by now {:.0} % of the sound parts would have tripped",
            100.0 * share
        ),
        What::Fell(fallen) => fell(fallen),
        What::LoadEnded { lasted_s } => say!(
            "load gone after {}, not as suddenly as a trip",
            duration(*lasted_s, 3)
        ),
        What::Gap {
            length_s,
            at_most_a,
        } => say!(
            "the log has a gap of {}: what flowed is not known, nor whether it tripped; the ranges hold everything \
             from no current to {} A",
            duration(*length_s, 3),
            significant(*at_most_a, 3)
        ),
        What::CanBeReset => word!("it can be reset by now (19 parts in 20), if it was a trip and its cause is found").into(),
        What::CanBeStarted => {
            word!("the last load can be started by now and holds (19 parts in 20), if its cause is found").into()
        }
    }
}

fn basis(f: &Forecast) -> String {
    if f.comes_and_goes {
        say!(
            "at the RMS of the last minutes, {} A,",
            significant(f.current_a, 3)
        )
    } else {
        say!("at this current, {} A,", significant(f.current_a, 3))
    }
}

fn forecast(f: &Forecast) -> String {
    match f.in_s {
        _ if f.overdue => say!("{} a sound part would have tripped already", basis(f)),
        Some(s) if f.trips >= 0.95 => say!("{} it trips in {}", basis(f), times(&s)),
        Some(s) if f.trips > 0.1 => say!(
            "{} {:.0} % of the sound parts trip, in {}; the others hold",
            basis(f),
            100.0 * f.trips,
            times(&s)
        ),
        _ if f.comes_and_goes => say!(
            "{} it holds; a start on a warm strip may still trip it",
            basis(f)
        ),
        Some(_) => say!("{} it most likely holds", basis(f)),
        None => say!("{} it holds", basis(f)),
    }
}

fn short(f: &Forecast) -> String {
    match f.in_s {
        _ if f.overdue => word!("OVERDUE").into(),
        Some(s) if f.trips >= 0.95 => say!("trips in {}", times(&s)),
        Some(s) if f.trips > 0.1 => say!("{:.0} % trip in {}", 100.0 * f.trips, times(&s)),
        Some(_) => word!("most likely holds").into(),
        None => word!("holds").into(),
    }
}

fn fell(fallen: &Fallen) -> String {
    let head = say!(
        "fell from {} A to nothing after {}, {} of the way to release used: a trip, or a hand at the switch.",
        significant(fallen.from_a, 3),
        duration(fallen.lasted_s, 3),
        used_words(&fallen.used)
    );
    match &fallen.waits {
        Some(waits) => say!("{head} If it was a trip: {}.", count(waits); head),
        None => say!(
            "{head} A sound part would have held this load: if it was a trip, something else is wrong, and no wait \
             can be given."
        ; head),
    }
}

fn count(c: &Countdown) -> String {
    let reset = if c.reset_s.high > 0.0 {
        say!("reset possible in {}", times(&c.reset_s))
    } else {
        word!("reset possible").into()
    };
    match c.start_s {
        _ if c.never_starts >= 0.95 => {
            say!("{reset}, this load trips it again however long one waits"; reset)
        }
        Some(_) if c.never_starts > 0.5 => say!(
            "{reset}, this load trips {:.0} % of the parts again however long one waits",
            100.0 * c.never_starts
        ; reset),
        Some(s) if s.high > 0.0 => {
            let but = if c.never_starts > 0.05 {
                say!(" ({:.0} % of the parts: never)", 100.0 * c.never_starts)
            } else {
                String::new()
            };
            say!("{reset}, start possible in {}{but}", times(&s); reset, but)
        }
        Some(_) => say!("{reset}, start possible"; reset),
        None => reset,
    }
}

fn used_words(s: &Spread) -> String {
    let percent = |x: f64| {
        // Far past release the model is stretched.
        if x <= 2.0 {
            format!("{:.0}", 100.0 * x.max(0.0))
        } else {
            word!("over 200").into()
        }
    };
    say!(
        "{} % ({} to {})",
        percent(s.median),
        percent(s.low),
        percent(s.high)
    )
}

/// `6 min (4 to 9)`: one unit for all three.
fn times(s: &Spread) -> String {
    let (unit, size) = match s.high {
        h if h < 120.0 => ("s", 1.0),
        h if h < 7200.0 => ("min", 60.0),
        _ => ("h", 3600.0),
    };
    let number = |x: f64| {
        let x = x / size;
        if size > 1.0 && x < 10.0 {
            fixed(x, 1)
        } else {
            format!("{x:.0}")
        }
    };
    say!(
        "{} {unit} ({} to {})",
        number(s.median),
        number(s.low),
        number(s.high)
    ; unit)
}

/// Time since the first row.
fn clock(seconds: f64) -> String {
    let s = seconds.max(0.0).round() as u64;
    format!("{}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60)
}

/// A paragraph with a first part that stands out, its end included.
fn wrapped(first: &str, text: &str, columns: usize) -> String {
    let below = " ".repeat(block::width(first));
    let room = columns
        .min(MOST_COLUMNS)
        .saturating_sub(block::width(first));
    let lines = block::wrapped(text, room).into_iter().enumerate();
    lines
        .map(|(k, line)| format!("{}{line}\n", if k == 0 { first } else { &below }))
        .collect()
}
