//! What is summed up of a log for each trip, in one reading of it.

use super::WINDOW_S;
use super::log_course::Collect;
use super::log_targets::Target;
use crate::logs::{
    Condenser, Condensing, GapFill, LogError, LogReader, Span, Spans, StampAt, Totals,
};
use std::io::BufRead;

/// Most pieces of the programme of an event.
const MOST_PIECES: usize = 200;
/// The heat of a programme differs from that of the log by at most this share of what its RMS
/// current gives in half a minute.
const HEAT_SHARE: f64 = 0.005;
/// Two rows whose RMS current is at least this part of the larger one are both full of load.
const ALIKE: f64 = 0.97;

/// What is summed up for one target.
pub(super) struct Gathered {
    pub target: Target,
    pub all: Totals,
    pub window: Totals,
    pub gap_s: f64,
    /// Current of the row in which the load ends, A, where it is another than those of the window.
    pub last_a: f64,
    pub condenser: Condenser,
    pub air: (f64, u32),
}

impl Gathered {
    pub fn new(target: &Target) -> Gathered {
        let mut settings = Condensing::new(HEAT_SHARE, target.rms_a, 30.0);
        settings.most_pieces = MOST_PIECES;
        settings.gaps = GapFill::Largest;
        settings.window_s = (target.from_s, target.load_to_s);
        Gathered {
            target: *target,
            all: Totals::default(),
            window: Totals::default(),
            gap_s: 0.0,
            last_a: 0.0,
            condenser: Condenser::new(settings),
            air: (0.0, 0),
        }
    }

    /// The window before the end of the load, s.
    pub fn window(&self) -> (f64, f64) {
        let t = &self.target;
        ((t.load_to_s - WINDOW_S).max(t.load_from_s), t.load_to_s)
    }

    /// Whether the load came and went within one row, or two of which one shows less of it than the
    /// other: they show neither how strong nor how long it was.
    pub fn is_too_short(&self) -> bool {
        let of_two = [self.window.rms_a(), self.last_a];
        let (least, most) = (of_two[0].min(of_two[1]), of_two[0].max(of_two[1]));
        let is_one = self.window.rows.is_some_and(|(first, last)| first == last);
        is_one && least < ALIKE * most
    }

    fn span(&mut self, span: &Span) {
        self.condenser.push(span);
        let (from_s, to_s) = (self.target.load_from_s, self.target.load_to_s);
        if span.current.is_none() {
            self.gap_s += (span.to_s.min(to_s) - span.from_s.max(from_s)).max(0.0);
        }
        if span.to_s > to_s && span.from_s < self.target.not_after_s {
            let shown_a = span.current.map_or(0.0, |c| c.value);
            self.last_a = self.last_a.max(shown_a);
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

pub(super) fn gather<R: BufRead>(
    log: &mut LogReader<R>,
    at: StampAt,
    gathered: &mut [Gathered],
    whole: &mut Collect,
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
        spans.push(&row, &mut |s| {
            whole.span(s);
            gathered.iter_mut().for_each(|g| g.span(s));
        });
    }
    spans.finish(&mut |s| {
        whole.span(s);
        gathered.iter_mut().for_each(|g| g.span(s));
    });
    Ok(())
}
