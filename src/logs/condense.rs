//! A log as a load programme: few pieces of constant current with the heat of the log.

use super::span::Span;

/// What stands for the current in a gap. The truth lies between none and the largest current:
/// compute both.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum GapFill {
    /// None.
    Zero,
    /// The last current before the gap.
    Before,
    /// The largest current so far.
    Largest,
}

/// Settings of a [`Condenser`].
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Condensing {
    /// The heat of the programme up to any moment differs from that of the log by at most this, A^2
    /// s.
    pub tolerance_a2s: f64,
    /// Most pieces. When they do not suffice the tolerance is raised, and the programme says to
    /// what.
    pub most_pieces: usize,
    /// What stands in gaps.
    pub gaps: GapFill,
    /// Window of the log that is converted, s.
    pub window_s: (f64, f64),
}

impl Condensing {
    /// A tolerance of a share of the heat that a current gives in a time. For a body with one time
    /// constant `tau` that warms by `I^2` at rest, the temperature then differs by at most twice
    /// that share of the rise of `current_a`, if `time_s` is `tau` (integrate the difference of
    /// heats by parts against `exp(-t / tau)`).
    pub fn new(share: f64, current_a: f64, time_s: f64) -> Condensing {
        Condensing {
            tolerance_a2s: share * current_a * current_a * time_s,
            most_pieces: 1000,
            gaps: GapFill::Largest,
            window_s: (f64::NEG_INFINITY, f64::INFINITY),
        }
    }
}

/// A load programme from a log.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Condensed {
    /// Time at which it begins, s.
    pub starts_at_s: f64,
    /// Duration (s) and current (A) of each piece. The integral of the squared current over each
    /// piece is that of the log.
    pub pieces: Vec<(f64, f64)>,
    /// The heat up to any moment differs from that of the log by at most this, A^2 s.
    pub tolerance_a2s: f64,
    /// Integral of the squared current of the log in the window, gaps filled, A^2 s.
    pub i2t_a2s: f64,
    /// Time that lay in gaps, s.
    pub filled_s: f64,
}

/// The programme as a chain of straight lines of heat against time.
#[derive(Debug, Clone, Copy)]
struct Line {
    from_s: f64,
    from_heat: f64,
    to_s: f64,
    to_heat: f64,
}

/// Converts a log to a load programme as it comes, in bounded memory.
///
/// Heat here is the integral of the squared current. Its curve against time is replaced by a chain
/// of straight lines whose corners lie on it and which is nowhere further from it than the
/// tolerance: the 'swinging door', a standard method of data compression. A straight line of heat
/// is a constant current.
pub struct Condenser {
    settings: Condensing,
    tolerance: f64,
    lines: Vec<Line>,
    open: Option<Open>,
    heat: f64,
    filled_s: f64,
    last_a: f64,
    largest_a: f64,
    /// How far the lines may lie from the log after they were joined.
    spent: f64,
}

#[derive(Debug, Clone, Copy)]
struct Open {
    line: Line,
    /// Slopes between which the end of the line may still lie.
    least: f64,
    most: f64,
}

impl Open {
    fn at(from_s: f64, from_heat: f64) -> Open {
        let line = Line {
            from_s,
            from_heat,
            to_s: from_s,
            to_heat: from_heat,
        };
        Open {
            line,
            least: f64::NEG_INFINITY,
            most: f64::INFINITY,
        }
    }

    /// Takes the next corner of the heat if the line can reach it and pass all before within the
    /// tolerance.
    fn reach(&mut self, to_s: f64, to_heat: f64, tolerance: f64) -> bool {
        let length = to_s - self.line.from_s;
        let rise = to_heat - self.line.from_heat;
        let slope = rise / length;
        if !(slope >= self.least && slope <= self.most) {
            return false;
        }
        self.least = self.least.max((rise - tolerance) / length);
        self.most = self.most.min((rise + tolerance) / length);
        (self.line.to_s, self.line.to_heat) = (to_s, to_heat);
        true
    }
}

impl Condenser {
    /// A condenser at the start of a log.
    pub fn new(settings: Condensing) -> Condenser {
        Condenser {
            tolerance: settings.tolerance_a2s.max(0.0),
            settings,
            lines: Vec::new(),
            open: None,
            heat: 0.0,
            filled_s: 0.0,
            last_a: 0.0,
            largest_a: 0.0,
            spent: 0.0,
        }
    }

    /// Takes the next span.
    pub fn push(&mut self, span: &Span) {
        let current_a = match (span.current, self.settings.gaps) {
            (Some(c), _) => c.value,
            (None, GapFill::Zero) => 0.0,
            (None, GapFill::Before) => self.last_a,
            (None, GapFill::Largest) => self.largest_a,
        };
        if span.current.is_some() {
            self.last_a = current_a;
            self.largest_a = self.largest_a.max(current_a);
        }
        let (first, last) = self.settings.window_s;
        let (from_s, to_s) = (span.from_s.max(first), span.to_s.min(last));
        if !(to_s > from_s) {
            return;
        }
        if span.current.is_none() {
            self.filled_s += to_s - from_s;
        }
        let heat = self.heat + current_a * current_a * (to_s - from_s);
        self.corner(from_s, to_s, heat);
        self.heat = heat;
    }

    fn corner(&mut self, from_s: f64, to_s: f64, heat: f64) {
        let (before, tolerance) = (self.heat, self.tolerance);
        let open = self.open.get_or_insert_with(|| Open::at(from_s, before));
        if open.reach(to_s, heat, tolerance) {
            return;
        }
        let done = open.line;
        *open = Open::at(done.to_s, done.to_heat);
        // The first corner of a line can always be reached.
        open.reach(to_s, heat, tolerance);
        self.lines.push(done);
        while self.lines.len() + 1 >= self.settings.most_pieces.max(2) {
            self.join();
        }
    }

    /// Joins lines within a tolerance twice as large, until half of them are left.
    fn join(&mut self) {
        let wanted = self.settings.most_pieces.max(2) / 2;
        loop {
            self.spent += self.tolerance;
            // Without any tolerance there is a smallest step to begin with.
            self.tolerance = (2.0 * self.tolerance)
                .max(1e-6 * self.heat)
                .max(f64::MIN_POSITIVE);
            let mut joined: Vec<Line> = Vec::with_capacity(wanted);
            let mut open: Option<Open> = None;
            for line in &self.lines {
                let current = open.get_or_insert_with(|| Open::at(line.from_s, line.from_heat));
                if !current.reach(line.to_s, line.to_heat, self.tolerance) {
                    joined.push(current.line);
                    *current = Open::at(line.from_s, line.from_heat);
                    current.reach(line.to_s, line.to_heat, self.tolerance);
                }
            }
            joined.extend(open.map(|o| o.line));
            self.lines = joined;
            if self.lines.len() <= wanted {
                return;
            }
        }
    }

    /// The programme of everything so far.
    pub fn finish(mut self) -> Condensed {
        self.lines.extend(self.open.take().map(|o| o.line));
        // Where a clock went back, time is not lived through twice.
        self.lines.retain(|l| l.to_s > l.from_s);
        let piece = |l: &Line| {
            let length = l.to_s - l.from_s;
            (length, ((l.to_heat - l.from_heat).max(0.0) / length).sqrt())
        };
        Condensed {
            starts_at_s: self.lines.first().map_or(0.0, |l| l.from_s),
            pieces: self.lines.iter().map(piece).collect(),
            tolerance_a2s: self.tolerance + self.spent,
            i2t_a2s: self.heat,
            filled_s: self.filled_s,
        }
    }
}
