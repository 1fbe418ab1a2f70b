//! From a recorded log to readings and events.
//!
//! A log is read three times, each time as a stream: for its levels, for its runs and falls, and
//! for the heat of each trip. Nothing is guessed that a person could know: which falls to zero are
//! trips is asked where the log alone does not tell.

use super::falls::{Falls, Marks};
use super::log_alike::few;
use super::log_course::{Collect, Course};
use super::log_event::{before, event, gap_note, too_short, too_slowly};
use super::log_gather::{Gathered, gather};
use super::log_targets::{Target, targets};
use super::log_words::span_words;
use super::{
    Air, AirPlace, Event, FromLogError, JAW, LogFindings, LogNote, LogQuestions, Measured, Meter,
    Reading, Taken, TripFound, TripsAre,
};
use crate::family::Assumed;
use crate::logs::{
    CurrentKind, Finder, Finding, Layout, Levels, LogError, LogReader, Statistic, each_span,
};
use std::io::BufRead;

/// Window before a trip over which the current is stated, s.
pub const WINDOW_S: f64 = 600.0;
/// Longer intervals do not show starts and pauses, s.
pub const TOO_SLOW_S: f64 = 60.0;

/// What a log has shown, and what it says for the case.
#[derive(Debug, Clone, PartialEq)]
pub struct FromLog {
    /// For people.
    pub findings: LogFindings,
    /// The current before each trip, or of the last run.
    pub readings: Vec<Reading>,
    /// Trips, or the time without one, which a log that is too slow does not tell.
    pub events: Vec<Event>,
    /// Temperatures of its air column.
    pub air: Vec<Air>,
    /// What was assumed.
    pub assumed: Vec<Assumed>,
}

impl FromLog {
    /// The same, recorded after so many mends.
    pub(super) fn after(mut self, mended: usize) -> FromLog {
        self.readings.iter_mut().for_each(|r| r.mended = mended);
        self.air.iter_mut().for_each(|a| a.mended = mended);
        self.events.iter_mut().for_each(|e| e.mended = mended);
        self
    }
}

/// Reads a log. `open` opens it anew, for each of the three readings.
///
/// ```
/// use relatch::internals::evidence::{LogQuestions, Outcome, from_log};
/// use relatch::internals::logs::LogReader;
/// let mut text = String::from("time (s),current (A)\n");
/// for s in 0..400 {
///     let amperes = if (60..360).contains(&s) { 16.7 } else { 0.0 };
///     text += &format!("{s},{amperes}\n");
/// }
/// let open = || LogReader::new("mill", text.as_bytes(), Default::default());
/// let log = from_log("mill", &LogQuestions::default(), open)?;
/// let Outcome::Tripped { after_s } = log.events[0].outcome else { panic!() };
/// assert!((after_s.value - 359.5).abs() < 1.0);
/// assert!((log.readings[0].current_a.value - 16.7).abs() < 1e-9);
/// # Ok::<(), relatch::internals::evidence::FromLogError>(())
/// ```
///
/// # Errors
/// The log cannot be read, or a question has to be answered first.
pub fn from_log<R: BufRead>(
    name: &str,
    questions: &LogQuestions,
    mut open: impl FnMut() -> Result<LogReader<R>, LogError>,
) -> Result<FromLog, FromLogError> {
    let mut levels = Levels::default();
    let mut log = open()?;
    let at = log.layout().stamp_at;
    each_span(&mut log, at, |span| levels.add(span))?;
    let thresholds = levels.thresholds().ok_or(FromLogError::NoCurrent)?;
    let mut marks = Marks::default();
    let mut finder = Finder::new(Finding::new(thresholds));
    let mut log = open()?;
    each_span(&mut log, at, |span| {
        finder.push(span, &mut |s| marks.push(s))
    })?;
    finder.finish(&mut |s| marks.push(s));
    let falls = marks.finish();
    let interval_s = log.account().interval_s;
    let starts_at_unix_s = log.account().starts_at_unix_s;
    let (targets, notes) = targets(
        &falls,
        questions,
        log.layout(),
        interval_s,
        starts_at_unix_s,
    )?;
    let mut gathered: Vec<Gathered> = targets.iter().map(Gathered::new).collect();
    let mut log = open()?;
    let loads = falls.runs.iter().map(|r| r.rms_a);
    let mut whole = Collect::new(
        loads.fold(f64::MIN_POSITIVE, f64::max),
        log.layout().kind == CurrentKind::Average,
    );
    gather(&mut log, at, &mut gathered, &mut whole)?;
    let mut out = conclude(name, questions, &log, falls, gathered);
    out.findings.notes.splice(0..0, notes);
    out.findings.course = whole.finish();
    Ok(out)
}

fn conclude<R: BufRead>(
    name: &str,
    questions: &LogQuestions,
    log: &LogReader<R>,
    mut falls: Falls,
    gathered: Vec<Gathered>,
) -> FromLog {
    let (layout, account) = (log.layout(), log.account());

    let mut findings = LogFindings {
        file: name.into(),
        layout: layout.clone(),
        account: account.clone(),
        runs: std::mem::take(&mut falls.runs),
        runs_in_all: falls.runs_in_all,
        trips: Vec::new(),
        notes: Vec::new(),
        course: Course::default(),
    };
    let too_slow = findings.too_slow();
    let mut out = FromLog {
        findings: findings.clone(),
        readings: Vec::new(),
        events: Vec::new(),
        air: Vec::new(),
        assumed: Vec::new(),
    };
    let meter = questions.meter.unwrap_or_else(|| meter_of(layout));
    if too_slow {
        findings.notes.push(LogNote::TooSlow {
            interval_s: account.interval_s,
        });
    }
    let only_assumed = questions.trips == TripsAre::NotSaid;
    let mut opened_at: Option<f64> = None;
    let mut airs: Vec<(String, f64)> = Vec::new();
    for g in gathered {
        let t = g.target;
        let air_k = (g.air.1 > 0).then(|| Measured::new(g.air.0 / f64::from(g.air.1), AIR_K));
        if t.tripped {
            if only_assumed {
                out.assumed.push(Assumed::FallIsATrip {
                    log: name.into(),
                    at_s: t.not_before_s - falls.first_s,
                });
            }
            findings.trips.push(trip_found(&g, air_k));
        }
        let label = target_label(name, &t, &falls);
        if let Some(reading) = reading(&label, questions, layout, meter, &g) {
            out.readings.push(reading);
        }
        if let Some(temperature_k) = air_k {
            airs.push((format!("air before {label}"), temperature_k.value));
        }
        let at_part = air_k.filter(|_| questions.air_at == AirPlace::AtThePart);
        // Rows too far apart tell of trips, and neither how long it held nor under what.
        if !too_slow || t.tripped {
            let before = before(
                &t,
                opened_at,
                questions,
                falls.first_s,
                name,
                &mut out.assumed,
            );
            let air_k = questions.air_k.or(at_part);
            if t.tripped && too_slow {
                out.events
                    .push(too_slowly(label, &t, account.interval_s, before, air_k));
            } else if t.tripped && g.is_too_short() {
                findings.notes.push(LogNote::TooShort {
                    label: label.clone(),
                });
                out.events.push(too_short(label, &t, before, air_k));
            } else {
                let gaps_s = g.gap_s;
                let condensed = g.condenser.finish();
                let gaps_note = gap_note(&label, gaps_s, &g.all, &condensed);
                findings.notes.extend(gaps_note);
                out.events
                    .extend(event(label, &t, condensed, before, air_k));
            }
        }
        opened_at = t.tripped.then_some(0.5 * (t.not_before_s + t.not_after_s));
    }
    let trips = out.events.iter().filter(|e| e.is_trip()).count();
    out.events = few(out.events);
    let weighed = out.events.iter().filter(|e| e.is_trip()).count();
    if weighed < trips {
        findings.notes.push(LogNote::Alike { trips, weighed });
    }
    out.air.extend(air(name, questions.air_at, &airs));
    if questions.air_at == AirPlace::NotSaid && !airs.is_empty() {
        out.assumed
            .push(Assumed::LogAirAnywhere { log: name.into() });
    }
    if !questions.accuracy_stated {
        out.assumed.push(Assumed::LogMeterAsUsual {
            log: name.into(),
            sheet: questions.accuracy.describe(),
        });
    }
    if layout.kind == CurrentKind::Average {
        findings.notes.push(LogNote::HiddenHeat {
            bounded: bounded(layout),
        });
    }
    out.findings = findings;
    out
}

/// Standard uncertainty of an air temperature in a log, K. Common practice, no source.
const AIR_K: f64 = 1.5;

/// The air of a log's column before its trips, as one entry: it changes between them, and a case
/// has one.
fn air(name: &str, place: AirPlace, airs: &[(String, f64)]) -> Option<Air> {
    let (label, n) = match airs {
        [] => return None,
        [(label, _)] => (label.clone(), 1.0),
        several => {
            let n = several.len();
            (format!("air before the {n} trips of {name}"), n as f64)
        }
    };
    let mean = |f: &dyn Fn(f64) -> f64| airs.iter().map(|(_, k)| f(*k)).sum::<f64>() / n;
    let middle_k = mean(&|k| k);
    let spread_k = mean(&|k| (k - middle_k).powi(2)).sqrt();
    Some(Air {
        label,
        place,
        temperature_k: Measured::new(middle_k, AIR_K.hypot(spread_k)),
        mended: 0,
    })
}

/// What the log's own header says of its meter.
fn meter_of(layout: &Layout) -> Meter {
    match (layout.kind, layout.statistic) {
        (CurrentKind::Samples, _) => Meter::TrueRms,
        (CurrentKind::MeterRms, Statistic::Rms) => Meter::TrueRms,
        (CurrentKind::Average, _) if bounded(layout) => Meter::TrueRms,
        (CurrentKind::Average, _) => Meter::AverageResponding,
        (CurrentKind::MeterRms, _) => Meter::Unknown,
    }
}

/// Whether least and largest values bound what averages hide.
fn bounded(layout: &Layout) -> bool {
    layout.minimum.is_some() && layout.maximum.is_some()
}

fn target_label(name: &str, t: &Target, falls: &Falls) -> String {
    let what = match (t.tripped, falls.ends_under_load) {
        (true, _) => "trip",
        (false, true) => "its end",
        (false, false) => "end of the load",
    };
    let at_s = t.not_before_s - falls.first_s;
    format!("{name}: {what}, {} into it", span_words(at_s))
}

fn trip_found(g: &Gathered, air_k: Option<Measured>) -> TripFound {
    let t = &g.target;
    let largest = g.all.peak_a * g.all.peak_a * g.gap_s;
    let with = |gaps_a2s: f64| {
        let time_s = g.all.time_s + g.gap_s;
        if time_s > 0.0 {
            ((g.all.i2t_a2s + gaps_a2s) / time_s).sqrt()
        } else {
            0.0
        }
    };
    let (window_from_s, window_to_s) = g.window();
    TripFound {
        from_s: t.load_from_s,
        not_before_s: t.not_before_s,
        not_after_s: t.not_after_s,
        rms_a: g.all.rms_a(),
        rms_high_a: g.all.rms_high_a(),
        last_run_rms_a: t.rms_a,
        window_s: window_to_s - window_from_s,
        window_rms_a: g.window.rms_a(),
        window_rms_high_a: g.window.rms_high_a(),
        window_mean_a: g.window.mean_a(),
        peak_a: g.all.peak_a,
        gap_s: g.gap_s,
        rms_with_gaps_a: (with(0.0), with(largest)),
        air_k: air_k.map(|m| m.value),
    }
}

/// How far a steady current that heats alike may lie from the RMS of one that comes and goes, as a
/// standard uncertainty over its standard deviation: a strip that settles in each pulse feels more
/// (common practice, no source).
const COMES_AND_GOES: f64 = 0.3;

/// The RMS current over the window before the trip; bounds from averages are an even spread. A load
/// that came and went within two rows at most was stronger than they show, up to the largest value
/// where the log has it; it may be a start.
fn reading(
    label: &str,
    questions: &LogQuestions,
    layout: &Layout,
    meter: Meter,
    g: &Gathered,
) -> Option<Reading> {
    if g.window.time_s <= 0.0 {
        return None;
    }
    let most_a = match (g.is_too_short(), &layout.maximum) {
        (true, None) => return None,
        (true, Some(_)) => g.window.peak_a,
        (false, _) => 0.0,
    };
    let (low, high) = (g.window.rms_a(), g.window.rms_high_a().max(most_a));
    let middle = 0.5 * (low + high);
    let uncertainty_a = questions
        .accuracy
        .standard_uncertainty(middle, questions.digit_a)
        .hypot(JAW * middle)
        .hypot(0.5 * (high - low) / 3f64.sqrt())
        .hypot(COMES_AND_GOES * (low * low - g.window.mean_a().powi(2)).max(0.0).sqrt());
    let what = match layout.kind {
        CurrentKind::Average if high > low => "RMS current between its bounds",
        CurrentKind::Average => "average current",
        _ => "RMS current",
    };
    let length = span_words(g.window.time_s);
    Some(Reading {
        label: format!("{what} over {length} before {label}"),
        current_a: Measured::new(middle, uncertainty_a),
        meter,
        taken: if g.target.tripped {
            Taken::UpToTheTrip
        } else {
            Taken::WhileRunning
        },
        of_log: true,
        mended: 0,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::evidence::Outcome;
    use crate::logs::LogReader;

    /// Two trips of a load that comes and goes, beside an air that warms.
    fn read(questions: &LogQuestions) -> FromLog {
        let mut text = String::from("time (s),current RMS (A),ambient (degC)\n");
        for s in 0..2600 {
            let amperes = match s % 1300 {
                ..400 => 13.0,
                400..500 => 4.0,
                500..900 => 13.0,
                _ => 0.0,
            };
            text += &format!("{s},{amperes},{}\n", 30 + 10 * (s / 1300));
        }
        let open = || LogReader::new("night", text.as_bytes(), Default::default());
        from_log("night", questions, open).unwrap_or_else(|e| panic!("{e}"))
    }

    #[test]
    fn where_a_column_of_temperatures_was_measured_is_asked() {
        let mut questions = LogQuestions {
            trips: TripsAre::EveryFall,
            ..LogQuestions::default()
        };
        let asked = |log: &FromLog| {
            let is_it = |a: &Assumed| matches!(a, Assumed::LogAirAnywhere { .. });
            log.assumed.iter().any(is_it)
        };
        let log = read(&questions);
        let [air] = &log.air[..] else {
            panic!("{:?}", log.air)
        };
        assert!(asked(&log) && air.place == AirPlace::NotSaid);
        // One entry for both trips, which lie 10 K apart.
        assert!((air.temperature_k.value - 308.15).abs() < 0.1);
        assert!((4.9..5.4).contains(&air.temperature_k.standard_uncertainty));
        questions.air_at = AirPlace::AtThePart;
        let told = read(&questions);
        assert!(!asked(&told) && told.events[1].air_k.is_some_and(|k| k.value > 312.0));
    }

    /// Averages over a minute: when it tripped is known to a row at either end.
    #[test]
    fn a_trip_that_is_told_is_one_however_slow_its_log() {
        let mut text = String::from("time (min),average current (A)\n");
        for min in 0..30 {
            let amperes = if (4..20).contains(&min) { 12.4 } else { 0.0 };
            text += &format!("{min},{amperes}\n");
        }
        let questions = LogQuestions {
            trips: TripsAre::TheLastFall,
            ..LogQuestions::default()
        };
        let open = || LogReader::new("kiln", text.as_bytes(), Default::default());
        let log = from_log("kiln", &questions, open).unwrap_or_else(|e| panic!("{e}"));
        assert!(log.findings.too_slow());
        let [event] = &log.events[..] else {
            panic!("{:?}", log.events)
        };
        let Outcome::TrippedWithin { from_s, to_s } = event.outcome else {
            panic!("{event:?}")
        };
        assert!(
            (780.0..960.0).contains(&from_s) && to_s > 960.0,
            "{from_s} {to_s}"
        );
        assert!(to_s <= 1200.0, "{to_s}");
        // A hand at the switch tells nothing that such rows could show.
        let questions = LogQuestions {
            trips: TripsAre::None,
            ..LogQuestions::default()
        };
        let open = || LogReader::new("kiln", text.as_bytes(), Default::default());
        let log = from_log("kiln", &questions, open).unwrap_or_else(|e| panic!("{e}"));
        assert!(log.events.is_empty(), "{:?}", log.events);
    }

    /// A log begins when somebody clips it on, a load when somebody switches it on.
    #[test]
    fn the_time_of_a_trip_counts_from_its_load() {
        let mut text = String::from("time (s),current RMS (A)\n");
        for s in 0..400 {
            let amperes = if (60..360).contains(&s) { 16.7 } else { 0.0 };
            text += &format!("{s},{amperes}\n");
        }
        let open = || LogReader::new("mill", text.as_bytes(), Default::default());
        let log =
            from_log("mill", &LogQuestions::default(), open).unwrap_or_else(|e| panic!("{e}"));
        let event = &log.events[0];
        let Outcome::Tripped { after_s } = event.outcome else {
            panic!("{event:?}")
        };
        let under_load_s = after_s.value - event.idle_s();
        assert!((under_load_s - 300.0).abs() < 1.5, "{under_load_s}");
        assert!(event.label.contains("into it"), "{}", event.label);
    }

    /// The mean over the window is not what heats a strip that settles in each pulse.
    #[test]
    fn the_mean_of_a_load_that_comes_and_goes_leaves_room_for_its_pulses() {
        let questions = LogQuestions {
            trips: TripsAre::EveryFall,
            ..LogQuestions::default()
        };
        let reading = &read(&questions).readings[0];
        let (mean, u) = (
            reading.current_a.value,
            reading.current_a.standard_uncertainty,
        );
        assert!(
            reading.of_log && mean < 12.5 && mean + 1.5 * u > 13.0,
            "{mean} {u}"
        );
    }
}
