//! Finds idle times, starts, runs and falls to zero in a log, as it comes.

use super::levels::Thresholds;
use super::onset::{Onset, Stretch};
use super::span::Span;
use super::totals::Totals;

/// What a stretch of a log is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SegmentKind {
    /// No load.
    Idle,
    /// Rise above the running current, and decay to it.
    Start,
    /// Load.
    Run,
    /// The current fell from load to about zero within this stretch. A trip does that; so does a
    /// hand at the switch: only notes or a reset tell them apart.
    Trip,
    /// The log has a gap: nothing is known.
    Gap,
}

/// A stretch of a log. The segments of a log follow one another without holes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Segment {
    /// What it is.
    pub kind: SegmentKind,
    /// Start, s.
    pub from_s: f64,
    /// End, s.
    pub to_s: f64,
    /// Integrals over it: RMS, mean, peak, charge.
    pub totals: Totals,
}

impl Segment {
    /// Length, s.
    pub fn length_s(&self) -> f64 {
        self.to_s - self.from_s
    }
}

/// Settings of a [`Finder`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Finding {
    /// Between idle and load.
    pub thresholds: Thresholds,
    /// A start lasts at most this long, s. It is told from the run when twice this time is over.
    pub longest_start_s: f64,
    /// A fall is sudden when the current in the last row of the load, or in the row before it, was
    /// at least this part of that of the run: the load may end anywhere within a row.
    pub sudden: f64,
}

impl Finding {
    /// Starts of up to 15 s, falls from at least half of the running current.
    pub fn new(thresholds: Thresholds) -> Finding {
        Finding {
            thresholds,
            longest_start_s: 15.0,
            sudden: 0.5,
        }
    }
}

enum State {
    Idle(Option<Stretch>),
    /// Load, not yet split into start and run.
    Onset(Onset),
    Run(Option<Stretch>),
}

/// Finds segments, in constant memory. Feed it the spans of a log in their order.
pub struct Finder {
    settings: Finding,
    state: State,
    /// The last span under load: the fall lies in it when no load follows.
    held: Option<Span>,
    /// Current of the span before that one, A; 0 where that was no load.
    earlier_a: f64,
    /// The start of the load was seen (not behind a gap, nor at the start of the log).
    seen_start: bool,
}

impl Finder {
    /// A finder at the start of a log.
    pub fn new(settings: Finding) -> Finder {
        Finder {
            settings,
            state: State::Idle(None),
            held: None,
            earlier_a: 0.0,
            seen_start: false,
        }
    }

    /// Takes the next span and hands on the segments that have ended.
    pub fn push(&mut self, span: &Span, out: &mut impl FnMut(&Segment)) {
        let Some(current) = span.current else {
            self.close(out);
            self.seen_start = false;
            out(&Segment {
                kind: SegmentKind::Gap,
                from_s: span.from_s,
                to_s: span.to_s,
                totals: Totals::default(),
            });
            return;
        };
        let limits = self.settings.thresholds;
        match &mut self.state {
            State::Idle(idle) => {
                if current.value > limits.on_a {
                    let onset = self.seen_start || idle.is_some();
                    emit(SegmentKind::Idle, idle.take(), out);
                    self.state = if onset {
                        State::Onset(Onset::default())
                    } else {
                        State::Run(None)
                    };
                    self.held = Some(*span);
                    self.earlier_a = 0.0;
                } else {
                    grow(idle, span);
                }
            }
            State::Onset(_) | State::Run(_) => {
                if current.value < limits.off_a {
                    self.fall(out);
                    self.seen_start = true;
                    let mut idle = None;
                    grow(&mut idle, span);
                    self.state = State::Idle(idle);
                } else {
                    let held = self.held.replace(*span);
                    self.earlier_a = highest_a(held);
                    self.load(held, out);
                }
            }
        }
    }

    /// The log has ended.
    pub fn finish(&mut self, out: &mut impl FnMut(&Segment)) {
        self.close(out);
    }

    /// Adds a span under load that is not the last one.
    fn load(&mut self, span: Option<Span>, out: &mut impl FnMut(&Segment)) {
        let Some(span) = span else { return };
        match &mut self.state {
            State::Onset(onset) => {
                onset.add(&span);
                if onset.length_s() >= 2.0 * self.settings.longest_start_s {
                    let (start, run) = onset.split();
                    emit(SegmentKind::Start, start, out);
                    self.state = State::Run(run);
                }
            }
            State::Run(run) => grow(run, &span),
            State::Idle(_) => {}
        }
    }

    /// Ends the load with a fall to zero: sudden ones are told from slow ones by the last current.
    fn fall(&mut self, out: &mut impl FnMut(&Segment)) {
        let held = self.held.take();
        let (start, run) = self.take_load();
        let last_a = highest_a(held).max(self.earlier_a);
        // A load that is over within a row.
        let usual_a = run.or(start).map_or(last_a, |s| s.totals.rms_a());
        emit(SegmentKind::Start, start, out);
        let mut run = run;
        let is_trip = usual_a > 0.0 && last_a >= self.settings.sudden * usual_a;
        match held {
            Some(span) if !is_trip => {
                grow(&mut run, &span);
                emit(SegmentKind::Run, run, out);
            }
            Some(span) => {
                emit(SegmentKind::Run, run, out);
                let mut fall = None;
                grow(&mut fall, &span);
                emit(SegmentKind::Trip, fall, out);
            }
            None => emit(SegmentKind::Run, run, out),
        }
    }

    fn take_load(&mut self) -> (Option<Stretch>, Option<Stretch>) {
        match &mut self.state {
            State::Onset(onset) => onset.split(),
            State::Run(run) => (None, run.take()),
            State::Idle(_) => (None, None),
        }
    }

    /// Ends whatever is open.
    fn close(&mut self, out: &mut impl FnMut(&Segment)) {
        let held = self.held.take();
        self.load(held, out);
        if let State::Idle(idle) = &mut self.state {
            emit(SegmentKind::Idle, idle.take(), out);
        }
        let (start, run) = self.take_load();
        emit(SegmentKind::Start, start, out);
        emit(SegmentKind::Run, run, out);
        self.state = State::Idle(None);
    }
}

/// Largest current of a span, A; 0 where nothing is known.
fn highest_a(span: Option<Span>) -> f64 {
    span.and_then(|s| s.current)
        .map_or(0.0, |c| c.value.max(c.max.unwrap_or(0.0)))
}

fn grow(stretch: &mut Option<Stretch>, span: &Span) {
    let stretch = stretch.get_or_insert(Stretch {
        from_s: span.from_s,
        to_s: span.to_s,
        totals: Totals::default(),
    });
    stretch.totals.add(span);
    stretch.to_s = span.to_s;
}

fn emit(kind: SegmentKind, stretch: Option<Stretch>, out: &mut impl FnMut(&Segment)) {
    if let Some(s) = stretch {
        out(&Segment {
            kind,
            from_s: s.from_s,
            to_s: s.to_s,
            totals: s.totals,
        });
    }
}
