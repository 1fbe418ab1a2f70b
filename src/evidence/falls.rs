//! The runs of a log and the falls that end them.

use super::{LogFindings, RunFound};
use crate::logs::{Segment, SegmentKind, Totals};

/// Most falls kept: a log with more of them is a duty, not a row of trips.
const MOST_FALLS: usize = 100_000;

/// A sudden end of a load.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Fall {
    /// Start of the load that it ends, s.
    pub load_from_s: f64,
    /// Not before, s.
    pub not_before_s: f64,
    /// Not after, s.
    pub not_after_s: f64,
    /// RMS current of the load, A.
    pub rms_a: f64,
}

/// What the segments of a log show.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Falls {
    pub first_s: f64,
    pub falls: Vec<Fall>,
    pub runs: Vec<RunFound>,
    pub runs_in_all: u64,
    /// Starts of all loads, s.
    pub loads_from_s: Vec<f64>,
    /// The log ends under load.
    pub ends_under_load: bool,
    /// End of the last load, s, and its RMS current, A.
    pub last_load: Option<(f64, f64)>,
}

/// Takes segments in their order.
#[derive(Debug, Default)]
pub(super) struct Marks {
    out: Falls,
    started: bool,
    load: Option<Load>,
}

#[derive(Debug, Clone, Copy)]
struct Load {
    from_s: f64,
    to_s: f64,
    totals: Totals,
    /// Gap since the load was last seen.
    gap_to_s: Option<f64>,
}

impl Marks {
    pub fn push(&mut self, s: &Segment) {
        if !self.started {
            self.started = true;
            self.out.first_s = s.from_s;
        }
        match s.kind {
            SegmentKind::Start | SegmentKind::Run => self.grow(s),
            SegmentKind::Trip => {
                self.grow(s);
                self.end(Some((s.from_s, s.to_s)));
            }
            SegmentKind::Gap => {
                if let Some(load) = &mut self.load {
                    load.gap_to_s = Some(s.to_s);
                }
            }
            SegmentKind::Idle => {
                // The load ended somewhere in the gap before this.
                let fall = self.load.and_then(|l| Some((l.to_s, l.gap_to_s?)));
                self.end(fall);
            }
        }
    }

    fn grow(&mut self, s: &Segment) {
        let load = self.load.get_or_insert(Load {
            from_s: s.from_s,
            to_s: s.to_s,
            totals: Totals::default(),
            gap_to_s: None,
        });
        load.totals.join(&s.totals);
        load.to_s = s.to_s;
        load.gap_to_s = None;
    }

    fn end(&mut self, fall: Option<(f64, f64)>) {
        let Some(load) = self.load.take() else { return };
        let rms_a = load.totals.rms_a();
        let out = &mut self.out;
        out.last_load = Some((load.to_s, rms_a));
        out.runs_in_all += 1;
        if out.runs.len() < LogFindings::MOST_RUNS {
            out.runs.push(RunFound {
                from_s: load.from_s,
                length_s: load.to_s - load.from_s,
                peak_a: load.totals.peak_a,
                rms_a,
                rms_high_a: load.totals.rms_high_a(),
                mean_a: load.totals.mean_a(),
                fell: fall.is_some(),
                gap_after: load.gap_to_s.is_some(),
            });
        }
        if out.loads_from_s.len() < MOST_FALLS {
            out.loads_from_s.push(load.from_s);
        }
        if let Some((not_before_s, not_after_s)) = fall
            && out.falls.len() < MOST_FALLS
        {
            out.falls.push(Fall {
                load_from_s: load.from_s,
                not_before_s,
                not_after_s,
                rms_a,
            });
        }
    }

    pub fn finish(mut self) -> Falls {
        self.out.ends_under_load = self.load.is_some();
        self.end(None);
        self.out
    }
}
