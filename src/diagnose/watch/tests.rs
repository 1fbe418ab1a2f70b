//! A watch over logs whose truth is known: they are computed with a part of the family.

use super::Watch;
use super::log::Feed;
use super::record::{Line, What};
use crate::diagnose::sound::SoundParts;
use crate::diagnose::through_log::{condensing, through_log};
use crate::diagnose::through_record::WhyTripped;
use crate::family::{Carries, Family, Nameplate};
use crate::load::Programme;
use crate::logs::{Condensed, Condenser, Current, LogReader, Options, Span};

const RATED_A: f64 = 10.0;
const AIR_K: f64 = 296.15;

fn family() -> Family {
    Family::new(&Nameplate::of_rating(RATED_A), 12).expect("a family")
}

fn span(from_s: f64, to_s: f64, current_a: f64) -> Span {
    Span {
        from_s,
        to_s,
        current: Some(Current {
            value: current_a,
            min: None,
            max: None,
        }),
        row: 1,
    }
}

fn gap(from_s: f64, to_s: f64) -> Span {
    Span {
        current: None,
        ..span(from_s, to_s, 0.0)
    }
}

/// A current a second from one time to another.
fn flow(watch: &mut Watch<'_>, from_s: u32, to_s: u32, current_a: f64) -> Vec<Line> {
    (from_s..to_s)
        .flat_map(|s| watch.push(&span(f64::from(s), f64::from(s + 1), current_a)))
        .collect()
}

#[test]
fn a_trip_is_forecast_and_the_wait_after_it_counts_down() {
    let family = family();
    let sound = SoundParts::of(&family, 15, AIR_K);
    let load = Programme::constant(16.0);
    // The part in the middle of the family by its trip time.
    let mut truth: Vec<(f64, f64)> = sound
        .parts
        .iter()
        .filter_map(|part| {
            let mut run = part.cold(&sound.air);
            match run.carry(&load, 1e5)? {
                Carries::Trips(trip_s) => Some((trip_s, run.relatch()?)),
                _ => None,
            }
        })
        .collect();
    truth.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (trip_s, relatch_s) = truth[truth.len() / 2];
    assert!(trip_s > 20.0, "{trip_s}");

    let mut watch = Watch::new(&sound);
    let begins = 10;
    let mut lines = flow(&mut watch, 0, begins, 0.0);
    assert!(lines.is_empty());
    let falls = begins + trip_s.round() as u32;
    lines = flow(&mut watch, begins, falls, 16.0);
    assert!(matches!(lines[0].what, What::LoadBegan { seen: true, .. }));
    let (told_s, first) = lines
        .iter()
        .find_map(|l| match l.what {
            What::Forecast(f) => Some((l.time_s, f)),
            _ => None,
        })
        .expect("a forecast");
    let in_s = first.in_s.expect("it trips");
    assert!(first.trips > 0.95 && told_s < 0.5 * trip_s);
    let forecast_s = told_s - f64::from(begins) + in_s.median;
    assert!(
        (forecast_s / trip_s - 1.0).abs() < 0.25,
        "forecast {forecast_s} s, tripped at {trip_s} s"
    );
    let used = watch.status(0.0).used.expect("parts");
    assert!(used.low < 1.0 && used.high > 1.0 && (used.median - 1.0).abs() < 0.15);

    lines = flow(&mut watch, falls, falls + 1, 0.0);
    let What::Fell(fallen) = lines[0].what else {
        panic!("{lines:?}")
    };
    let waits = fallen.waits.expect("waits");
    // To the tolerance of family runs.
    assert!(
        0.99 * waits.reset_s.low <= relatch_s && relatch_s <= 1.01 * waits.reset_s.high,
        "{relatch_s} s: {waits:?}"
    );
    // 16 A is more than any part of the family holds.
    assert_eq!((waits.never_starts, waits.start_s), (1.0, None));
    let mut before_s = waits.reset_s.high;
    let mut told = 0;
    for k in 1..=(waits.reset_s.high as u32 + 2) {
        let at = falls + k;
        told += flow(&mut watch, at, at + 1, 0.0)
            .iter()
            .filter(|l| l.what == What::CanBeReset)
            .count();
        let left_s = watch.status(0.0).countdown.expect("counting").reset_s.high;
        assert!(left_s < before_s || left_s == 0.0);
        before_s = left_s;
    }
    assert_eq!((before_s, told), (0.0, 1));
}

#[test]
fn the_countdown_goes_on_when_the_logger_is_silent() {
    let family = family();
    let sound = SoundParts::of(&family, 6, AIR_K);
    let mut watch = Watch::new(&sound);
    flow(&mut watch, 0, 5, 0.0);
    flow(&mut watch, 5, 60, 20.0);
    flow(&mut watch, 60, 62, 0.0);
    let now = watch.status(0.0).countdown.expect("counting").reset_s.high;
    let later = watch.status(3.0).countdown.expect("counting").reset_s.high;
    assert!((now - later - 3.0).abs() < 1e-9, "{now} {later}");
}

#[test]
fn a_gap_widens_the_ranges_to_what_it_may_hide() {
    let family = family();
    let sound = SoundParts::of(&family, 8, AIR_K);
    let mut watch = Watch::new(&sound);
    flow(&mut watch, 0, 5, 0.0);
    flow(&mut watch, 5, 60, 12.0);
    let known = watch.status(0.0).used.expect("parts");
    let lines = watch.push(&gap(60.0, 360.0));
    let What::Gap {
        length_s,
        at_most_a,
    } = lines[0].what
    else {
        panic!("{lines:?}")
    };
    assert_eq!((length_s, at_most_a), (300.0, 12.0));
    let status = watch.status(0.0);
    let wide = status.used.expect("parts");
    assert_eq!(status.current_a, None);
    assert!(
        wide.low < 0.5 * known.low && wide.high > known.high,
        "{wide:?}"
    );
    // Hours later what the gap hid no longer matters.
    for k in 0..200u32 {
        let at = 360.0 + 300.0 * f64::from(k);
        watch.push(&span(at, at + 300.0, 0.0));
    }
    let cold = watch.status(0.0).used.expect("parts");
    assert!(cold.high < 0.01, "{cold:?}");
}

#[test]
fn a_part_that_outlasts_all_sound_ones_is_called_out() {
    let family = family();
    let sound = SoundParts::of(&family, 6, AIR_K);
    let mut watch = Watch::new(&sound);
    flow(&mut watch, 0, 5, 0.0);
    let lines = flow(&mut watch, 5, 400, 30.0);
    assert!(
        lines
            .iter()
            .any(|l| matches!(l.what, What::WouldHaveTripped { share } if share == 1.0))
    );
    assert_eq!(lines.iter().filter(|l| l.what == What::Overdue).count(), 1);
    assert!(watch.status(0.0).forecast.expect("a forecast").overdue);
}

#[test]
fn a_light_load_holds_and_its_slow_end_is_no_trip() {
    let family = family();
    let sound = SoundParts::of(&family, 6, AIR_K);
    let mut watch = Watch::new(&sound);
    flow(&mut watch, 0, 5, 0.0);
    let lines = flow(&mut watch, 5, 65, 7.0);
    assert_eq!(lines.len(), 2, "{lines:?}");
    assert!(matches!(lines[1].what, What::Forecast(f) if f.trips == 0.0 && f.in_s.is_none()));
    for (k, a) in [4.0, 2.5, 1.5, 0.0].into_iter().enumerate() {
        let at = 65 + k as u32;
        let lines = flow(&mut watch, at, at + 1, a);
        let ended = matches!(lines.first().map(|l| l.what), Some(What::LoadEnded { .. }));
        assert_eq!(ended, a == 0.0, "{a}: {lines:?}");
    }
}

#[test]
fn a_shipped_log_is_followed_to_its_end() {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/scenarios/cases/09-pug-mill-seed-7.csv"
    );
    let table = Nameplate::limits_named("equipment breaker window").expect("shipped limits");
    let plate = Nameplate::of_rating(13.0).with_limits(table);
    let family = Family::new(&plate, 8).expect("a family");
    let sound = SoundParts::of(&family, 10, AIR_K);
    let text = std::fs::read(path).expect("the log");
    let options = Options {
        growing: true,
        ..Options::default()
    };
    let log = LogReader::new("mill", &text[..], options).expect("a layout");
    let mut feed = Feed::new(log);
    let mut watch = Watch::new(&sound);
    let mut lines = Vec::new();
    let mut rows = 0;
    // In small helpings, as a logger writes.
    loop {
        let read = feed
            .poll(&mut watch, 50, &mut |l| lines.push(*l))
            .expect("rows");
        rows += read;
        if read < 50 {
            break;
        }
    }
    feed.finish(&mut watch, &mut |l| lines.push(*l));
    assert_eq!(rows, 720);
    let fell: Vec<&Line> = lines
        .iter()
        .filter(|l| matches!(l.what, What::Fell(_)))
        .collect();
    assert_eq!(fell.len(), 1, "{lines:?}");
    let What::Fell(fallen) = fell[0].what else {
        panic!()
    };
    assert!(
        fallen.waits.is_some() && fallen.used.high > 0.9,
        "{fallen:?}"
    );
    assert!(lines.iter().all(|l| l.time_s.is_finite()));
    for line in &lines {
        let text = crate::present::watch_line(line, 80);
        assert!(text.lines().all(|l| l.chars().count() <= 100), "{text}");
        assert!(!text.contains("NaN") && !text.contains("inf"), "{text}");
        print!("{text}");
    }
    println!("{}", crate::present::watch_status(&watch.status(0.0), 80));
}

#[test]
fn a_log_that_grows_is_read_on_and_a_half_line_waits_for_its_end() {
    use std::io::{BufReader, Write};
    let family = Family::new(&Nameplate::of_rating(RATED_A), 4).expect("a family");
    let sound = SoundParts::of(&family, 4, AIR_K);
    let mut file = tempfile::NamedTempFile::new().expect("a file");
    let mut text = String::from("time (s),current (A)\n");
    for s in 0..20 {
        text += &format!("{s},0.0\n");
    }
    let path = file.path().to_owned();
    let mut write = |text: &str| {
        file.write_all(text.as_bytes()).expect("written");
        file.flush().expect("written");
    };
    write(&(text + "20,1"));
    let options = Options {
        growing: true,
        ..Options::default()
    };
    let reader = BufReader::new(std::fs::File::open(path).expect("the log"));
    let mut feed = Feed::new(LogReader::new("oven", reader, options).expect("a layout"));
    let mut watch = Watch::new(&sound);
    let mut lines = Vec::new();
    let mut poll = |lines: &mut Vec<Line>| {
        feed.poll(&mut watch, 100, &mut |l| lines.push(*l))
            .expect("rows")
    };
    let first = poll(&mut lines);
    assert!((18..=20).contains(&first) && lines.is_empty(), "{first}");
    assert_eq!(poll(&mut lines), 0);
    write("5.5\n21,15.5\n22,15.5\n23,15.5\n24,15.5\n25,15.5\n26,15.5\n");
    let second = poll(&mut lines);
    assert!(first + second >= 25, "{first} {second}");
    assert!(
        matches!(lines[0].what, What::LoadBegan { current_a, seen: true } if current_a == 15.5),
        "{lines:?}"
    );
    assert_eq!(lines[0].time_s, 20.0);
}

fn condensed(pieces: &[(f64, f64)]) -> Condensed {
    let mut condenser = Condenser::new(condensing(RATED_A));
    let mut at = 100.0;
    for (length_s, current_a) in pieces {
        condenser.push(&span(at, at + length_s, *current_a));
        at += length_s;
    }
    condenser.finish()
}

#[test]
fn the_picture_says_why_sound_parts_would_have_tripped() {
    let family = Family::new(&Nameplate::of_rating(RATED_A), 6).expect("a family");
    let why = |pieces: &[(f64, f64)]| {
        let picture = through_log(&family, &condensed(pieces), AIR_K);
        assert!(picture.points.len() >= 200);
        assert!(
            picture
                .points
                .windows(2)
                .all(|w| w[0].time_s < w[1].time_s && w[0].used.low <= w[0].used.high)
        );
        picture
    };
    let held = why(&[(60.0, 0.0), (1800.0, 7.0), (60.0, 0.0)]);
    assert!(held.trips.is_empty());
    let closest = held.closest.expect("a moment");
    // Warmest at the end of the load.
    assert!((closest.time_s - 1960.0).abs() < 60.0, "{closest:?}");
    assert!(closest.used.high < 1.0);

    let running = why(&[(60.0, 0.0), (1800.0, 18.0), (60.0, 0.0)]);
    assert!(matches!(
        running.trips[0].why,
        WhyTripped::RunningCurrent { .. }
    ));
    assert_eq!(running.trips[0].share, 1.0);

    let start = why(&[(60.0, 0.0), (14.0, 70.0), (1800.0, 6.0), (60.0, 0.0)]);
    assert!(matches!(start.trips[0].why, WhyTripped::Start { .. }));

    // Loads that are carried from cold, one soon after the other.
    let again = [(6.0, 20.0), (3.0, 0.0)].repeat(4);
    let last = why(&[vec![(60.0, 0.0)], again].concat());
    let last = last.trips.last().expect("the last load trips some");
    assert_eq!(
        (last.load_s.0, last.why),
        (187.0, WhyTripped::HeatLeft),
        "{last:?}"
    );
}
