//! From a recorded log to readings and events.
//!
//! A log is read three times, each time as a stream: for its levels, for its runs and falls, and for the heat
//! of each trip. Nothing is guessed that a person could know: which falls to zero are trips is asked where the
//! log alone does not tell.

use super::falls::{Falls, Marks};
use super::log_targets::{Target, targets};
use super::log_words::{dropped, span_words};
use super::{
    Accuracy, Air, AirPlace, Before, Event, JAW, LogFindings, Measured, Meter, Outcome, Reading,
    Setting, Taken, TripFound, Unit,
};
use crate::load::{Current, Programme, Repeat, Segment};
use crate::logs::{
    Condensed, Condenser, Condensing, CurrentKind, Finder, Finding, GapFill, Layout, Levels,
    LogError, LogReader, Options, Span, Spans, StampAt, Statistic, Totals, each_span,
};
use std::fmt;
use std::io::BufRead;

/// Window before a trip over which the current is stated, s.
pub const WINDOW_S: f64 = 600.0;
/// Longer intervals do not show starts and pauses, s.
pub const TOO_SLOW_S: f64 = 60.0;
/// A rest after which everything is at the temperature of the air, s. Common practice (45 min to 60 min), no
/// source.
const REST_S: f64 = 2700.0;
/// Most pieces of the programme of an event.
const MOST_PIECES: usize = 200;
/// The heat of a programme differs from that of the log by at most this share of what its RMS current gives in
/// half a minute.
const HEAT_SHARE: f64 = 0.005;

/// Which falls to zero are trips.
#[derive(Debug, Clone, PartialEq)]
pub enum TripsAre {
    /// Not said: taken as one where there is only one, asked where there are several.
    NotSaid,
    /// Every one.
    EveryFall,
    /// The last one.
    TheLastFall,
    /// None: a hand at the switch.
    None,
    /// Those nearest to what somebody noted.
    At(Vec<Noted>),
}

/// When somebody noted a trip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Noted {
    /// This long after the first row, s.
    Since(f64),
    /// At this time of the day on the log's own clock, s after midnight.
    OfTheDay(f64),
}

/// What a person says about a log.
#[derive(Debug, Clone, PartialEq)]
pub struct LogQuestions {
    /// How it is laid out.
    pub options: Options,
    /// What the meter of the log shows, where it is known.
    pub meter: Option<Meter>,
    /// Its accuracy.
    pub accuracy: Accuracy,
    /// Whether the accuracy was stated.
    pub accuracy_stated: bool,
    /// Size of its last digit, A.
    pub digit_a: f64,
    /// Which falls are trips.
    pub trips: TripsAre,
    /// How far a noted time may lie from its fall, s.
    pub within_s: f64,
    /// Where a temperature column was measured.
    pub air_at: AirPlace,
    /// Air at the protector during the log, K, where it was measured otherwise.
    pub air_k: Option<Measured>,
    /// State at the first row.
    pub before: Option<Before>,
}

impl Default for LogQuestions {
    fn default() -> Self {
        LogQuestions {
            options: Options::default(),
            meter: None,
            accuracy: Accuracy {
                digits: 0.0,
                ..Accuracy::CLAMP
            },
            accuracy_stated: false,
            digit_a: 0.0,
            trips: TripsAre::NotSaid,
            within_s: 180.0,
            air_at: AirPlace::InTheRoom,
            air_k: None,
            before: None,
        }
    }
}

/// What a log has shown, and what it says for the case.
#[derive(Debug, Clone, PartialEq)]
pub struct FromLog {
    /// For people.
    pub findings: LogFindings,
    /// The current before each trip, or of the last run.
    pub readings: Vec<Reading>,
    /// Trips, or the time without one. None where the log is too slow.
    pub events: Vec<Event>,
    /// Temperatures of its air column.
    pub air: Vec<Air>,
    /// What was assumed, one sentence each.
    pub assumed: Vec<String>,
}

/// Why a log says nothing for a case.
#[derive(Debug)]
pub enum FromLogError {
    /// It cannot be read.
    Log(LogError),
    /// It holds no current.
    NoCurrent,
    /// It falls to zero at these times since the first row, s, this often: which are trips?
    WhichFalls(Vec<f64>, usize),
    /// There is no fall to zero, although trips were named.
    NoFall,
    /// No fall is near what was noted; the nearest is this long after the first row, s, and so far from it, s.
    NotNear(Noted, f64, f64),
    /// A time of the day was noted, but the log has no dates.
    NoClock,
    /// So many falls to zero are a duty, not trips.
    TooMany(usize),
}

impl From<LogError> for FromLogError {
    fn from(e: LogError) -> Self {
        FromLogError::Log(e)
    }
}

impl fmt::Display for FromLogError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FromLogError::Log(e) => e.fmt(f),
            FromLogError::NoCurrent => write!(f, "no current ever flows in it"),
            FromLogError::WhichFalls(at, n) => {
                let times: Vec<String> = at.iter().map(|t| span_words(*t)).collect();
                let more = if *n > at.len() { ", ..." } else { "" };
                write!(
                    f,
                    "its current falls to zero {n} times ({}{more} after the first row): which are trips?",
                    times.join(", ")
                )
            }
            FromLogError::NoFall => write!(f, "its current never falls to zero from a load"),
            FromLogError::NotNear(noted, nearest_s, off_s) => write!(
                f,
                "no fall to zero lies near {noted}; the nearest is {} after the first row, {} off",
                span_words(*nearest_s),
                span_words(*off_s)
            ),
            FromLogError::NoClock => write!(f, "it has no time of the day"),
            FromLogError::TooMany(n) => write!(
                f,
                "its current falls to zero {n} times: that is a duty, not a row of trips"
            ),
        }
    }
}

impl fmt::Display for Noted {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Noted::Since(s) => write!(f, "{} after the first row", span_words(*s)),
            Noted::OfTheDay(s) => {
                let s = s.round() as u64;
                write!(f, "{:02}:{:02}:{:02}", s / 3600, s / 60 % 60, s % 60)
            }
        }
    }
}

impl std::error::Error for FromLogError {}

/// Reads a log. `open` opens it anew, for each of the three readings.
///
/// ```
/// use relatch::evidence::{LogQuestions, Outcome, from_log};
/// use relatch::logs::LogReader;
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
/// # Ok::<(), relatch::evidence::FromLogError>(())
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
    gather(&mut log, at, &mut gathered)?;
    let mut out = conclude(name, questions, &log, falls, gathered);
    out.findings.notes.splice(0..0, notes);
    Ok(out)
}

/// What is summed up for one target.
struct Gathered {
    target: Target,
    all: Totals,
    window: Totals,
    gap_s: f64,
    condenser: Condenser,
    air: (f64, u32),
}

impl Gathered {
    fn new(target: &Target) -> Gathered {
        let mut settings = Condensing::new(HEAT_SHARE, target.rms_a, 30.0);
        settings.most_pieces = MOST_PIECES;
        settings.gaps = GapFill::Largest;
        settings.window_s = (target.from_s, target.load_to_s);
        Gathered {
            target: *target,
            all: Totals::default(),
            window: Totals::default(),
            gap_s: 0.0,
            condenser: Condenser::new(settings),
            air: (0.0, 0),
        }
    }

    fn window(&self) -> (f64, f64) {
        let t = &self.target;
        ((t.load_to_s - WINDOW_S).max(t.load_from_s), t.load_to_s)
    }

    fn span(&mut self, span: &Span) {
        self.condenser.push(span);
        let (from_s, to_s) = (self.target.load_from_s, self.target.load_to_s);
        if span.current.is_none() {
            self.gap_s += (span.to_s.min(to_s) - span.from_s.max(from_s)).max(0.0);
        }
        let window = self.window();
        for (totals, (from_s, to_s)) in
            [(&mut self.all, (from_s, to_s)), (&mut self.window, window)]
        {
            let clipped = Span {
                from_s: span.from_s.max(from_s),
                to_s: span.to_s.min(to_s),
                ..*span
            };
            if clipped.to_s > clipped.from_s {
                totals.add(&clipped);
            }
        }
    }
}

fn gather<R: BufRead>(
    log: &mut LogReader<R>,
    at: StampAt,
    gathered: &mut [Gathered],
) -> Result<(), LogError> {
    let mut spans = Spans::new(at);
    while let Some(row) = log.next_row()? {
        if let Some(air) = row.ambient_k {
            for g in gathered.iter_mut() {
                let (from_s, to_s) = g.window();
                if (from_s..=to_s).contains(&row.time_s) {
                    g.air = (g.air.0 + air, g.air.1 + 1);
                }
            }
        }
        spans.push(&row, &mut |s| gathered.iter_mut().for_each(|g| g.span(s)));
    }
    spans.finish(&mut |s| gathered.iter_mut().for_each(|g| g.span(s)));
    Ok(())
}

fn conclude<R: BufRead>(
    name: &str,
    questions: &LogQuestions,
    log: &LogReader<R>,
    falls: Falls,
    gathered: Vec<Gathered>,
) -> FromLog {
    let (layout, account) = (log.layout(), log.account());
    let too_slow = account.interval_s >= TOO_SLOW_S;
    let mut findings = LogFindings {
        file: name.into(),
        import: log.summary().to_string(),
        rows_read: account.rows_read,
        rows_used: account.rows_used,
        dropped: dropped(account),
        interval_s: account.interval_s,
        lasting_s: account.last_time_s - account.first_time_s,
        gaps: account.gaps.count,
        gap_time_s: account.gap_time_s,
        clock_jumps: account.clock_jumps.count,
        duplicates: account.duplicates.count,
        assumed: layout.assumptions.clone(),
        runs: falls.runs,
        runs_in_all: falls.runs_in_all,
        trips: Vec::new(),
        too_slow,
        notes: Vec::new(),
    };
    let mut out = FromLog {
        findings: findings.clone(),
        readings: Vec::new(),
        events: Vec::new(),
        air: Vec::new(),
        assumed: Vec::new(),
    };
    let meter = questions.meter.unwrap_or_else(|| meter_of(layout));
    if too_slow {
        findings.notes.push(format!(
            "a row every {} shows neither starts nor pauses: the log gives bounds of the heat, and no trip is \
             computed from it",
            span_words(account.interval_s)
        ));
    }
    let only_assumed = questions.trips == TripsAre::NotSaid;
    let mut opened_at: Option<f64> = None;
    for g in gathered {
        let t = g.target;
        let air_k = (g.air.1 > 0).then(|| Measured::new(g.air.0 / f64::from(g.air.1), AIR_K));
        if t.tripped {
            if only_assumed {
                out.assumed.push(format!(
                    "{name}: the fall to zero {} after the first row is a trip, not a hand at the switch",
                    span_words(t.not_before_s - falls.first_s)
                ));
            }
            findings.trips.push(trip_found(&g, air_k));
        }
        let label = target_label(name, &t, falls.first_s);
        if let Some(reading) = reading(&label, questions, layout, meter, &g) {
            out.readings.push(reading);
        }
        if let Some(temperature_k) = air_k {
            out.air.push(Air {
                label: format!("air before {label}"),
                place: questions.air_at,
                temperature_k,
            });
        }
        let at_part = air_k.filter(|_| questions.air_at == AirPlace::AtThePart);
        if !too_slow {
            let before = before(
                &t,
                opened_at,
                questions,
                falls.first_s,
                name,
                &mut out.assumed,
            );
            let gaps_s = g.gap_s;
            let condensed = g.condenser.finish();
            let gaps_note = gap_note(&label, gaps_s, &g.all, &condensed);
            findings.notes.extend(gaps_note);
            out.events.extend(event(
                label,
                &t,
                condensed,
                before,
                questions.air_k.or(at_part),
            ));
        }
        opened_at = t.tripped.then_some(0.5 * (t.not_before_s + t.not_after_s));
    }
    if !questions.accuracy_stated {
        out.assumed.push(format!(
            "{name}: the recorded current is off by at most {} (usual sheets), and the jaw by 1 % (common practice)",
            questions.accuracy.describe()
        ));
    }
    if layout.kind == CurrentKind::Average {
        findings.notes.push(average_note(layout));
    }
    out.findings = findings;
    out
}

/// Standard uncertainty of an air temperature in a log, K. Common practice, no source.
const AIR_K: f64 = 1.5;

/// What the log's own header says of its meter.
fn meter_of(layout: &Layout) -> Meter {
    let bounded = layout.minimum.is_some() && layout.maximum.is_some();
    match (layout.kind, layout.statistic) {
        (CurrentKind::Samples, _) => Meter::TrueRms,
        (CurrentKind::MeterRms, Statistic::Rms) => Meter::TrueRms,
        (CurrentKind::Average, _) if bounded => Meter::TrueRms,
        (CurrentKind::Average, _) => Meter::AverageResponding,
        (CurrentKind::MeterRms, _) => Meter::Unknown,
    }
}

fn average_note(layout: &Layout) -> String {
    if layout.minimum.is_some() && layout.maximum.is_some() {
        "the log holds averages, which hide heat where the current varies: the RMS current lies between the \
         average and the bound from the least and the largest value"
            .into()
    } else {
        "the log holds averages without least and largest values: they hide heat where the current varies, and \
         nothing bounds how much"
            .into()
    }
}

fn target_label(name: &str, t: &Target, first_s: f64) -> String {
    let what = if t.tripped { "trip" } else { "end of the load" };
    format!(
        "{name}: {what} {} after the first row",
        span_words(t.not_before_s - first_s)
    )
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

/// The RMS current over the window before the trip; bounds from averages are an even spread.
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
    let (low, high) = (g.window.rms_a(), g.window.rms_high_a());
    let middle = 0.5 * (low + high);
    let uncertainty_a = questions
        .accuracy
        .standard_uncertainty(middle, questions.digit_a)
        .hypot(JAW * middle)
        .hypot(0.5 * (high - low) / 3f64.sqrt());
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
    })
}

/// State before the programme of a target.
fn before(
    t: &Target,
    opened_at_s: Option<f64>,
    questions: &LogQuestions,
    first_s: f64,
    name: &str,
    assumed: &mut Vec<String>,
) -> Before {
    match opened_at_s {
        Some(opened_s) if t.from_s - opened_s < REST_S => Before::AfterTrip {
            wait_s: (t.from_s - opened_s).max(0.0),
        },
        None if t.from_s <= first_s => questions.before.unwrap_or(Before::Unknown),
        _ => {
            assumed.push(format!(
                "{name}: cold {} after the first row, after a rest of more than 45 min (common practice)",
                span_words(t.from_s - first_s)
            ));
            Before::Cold
        }
    }
}

fn event(
    label: String,
    t: &Target,
    condensed: Condensed,
    before: Before,
    air_k: Option<Measured>,
) -> Option<Event> {
    let segments: Vec<Segment> = condensed
        .pieces
        .iter()
        .filter(|(duration_s, _)| *duration_s > 0.0)
        .map(|(duration_s, current_a)| Segment {
            duration_s: *duration_s,
            current: Current::Constant(*current_a),
        })
        .collect();
    if segments.is_empty() {
        return None;
    }
    let (from_s, to_s) = (t.not_before_s - t.from_s, t.not_after_s - t.from_s);
    let middle_s = 0.5 * (from_s + to_s);
    let outcome = if !t.tripped {
        Outcome::Held { for_s: from_s }
    } else if to_s - from_s <= 0.02 * middle_s {
        // The moment lies evenly between two rows.
        Outcome::Tripped {
            after_s: Measured::new(middle_s, (to_s - from_s) / 12f64.sqrt()),
        }
    } else {
        Outcome::TrippedWithin { from_s, to_s }
    };
    Some(Event {
        label,
        unit: Unit::ThisPart,
        setting: Setting::Recorded(Programme {
            segments,
            repeat: Repeat::Once,
        }),
        before,
        air_k,
        outcome,
        times: 1,
        reset_between_s: None,
    })
}

fn gap_note(label: &str, gap_s: f64, all: &Totals, condensed: &Condensed) -> Option<String> {
    if !(gap_s > 0.0) {
        return None;
    }
    let rms = |i2t: f64| (i2t / (all.time_s + gap_s)).sqrt();
    let zero = rms(all.i2t_a2s);
    Some(format!(
        "{label}: {} before it lie in gaps; with nothing there the RMS current is {zero:.3} A, with the largest \
         current {:.3} A; the event is computed with the largest ({} pieces)",
        span_words(gap_s),
        rms(all.i2t_a2s + all.peak_a * all.peak_a * gap_s),
        condensed.pieces.len()
    ))
}
