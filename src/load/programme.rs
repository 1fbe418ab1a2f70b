//! A programme is a list of segments, done once, several times or for ever. The last value is kept
//! after the end of a programme that is done once or several times.

/// A current programme.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Programme {
    /// Segments in order (at least one). Only the last may last for ever.
    pub segments: Vec<Segment>,
    /// How often the segments are done.
    pub repeat: Repeat,
}

/// One piece of a programme.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct Segment {
    /// How long, s (> 0; infinite only in the last segment of a programme done once).
    pub duration_s: f64,
    /// Current within the segment.
    pub current: Current,
}

/// Current within a segment; time counts from the start of the segment.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum Current {
    /// Constant, A rms.
    Constant(f64),
    /// Straight line over the segment's (finite) duration, A rms.
    Linear {
        /// At the start of the segment, A.
        from_a: f64,
        /// At the end of the segment, A.
        to_a: f64,
    },
    /// Inrush decaying exponentially to a running current, A rms.
    Decay {
        /// At the start, A.
        from_a: f64,
        /// Long after, A.
        to_a: f64,
        /// Time constant, s.
        time_constant_s: f64,
    },
}

/// How often the segments are done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Repeat {
    /// Once; the final current then stays.
    Once,
    /// This many times; the final current then stays.
    Times(u32),
    /// For ever.
    Forever,
}

/// Time constants after which a decay without end is taken as settled: what is left is below the
/// last digit of a number.
const SETTLED: f64 = 40.0;

/// The smooth piece of a programme around one instant, in programme time.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Piece {
    /// Start of the piece, s.
    pub start_s: f64,
    /// End of the piece, s (may be infinite).
    pub end_s: f64,
    current: Current,
    duration_s: f64,
}

impl Piece {
    /// A piece with the same current for ever.
    pub fn constant(current_a: f64) -> Piece {
        Piece {
            start_s: f64::NEG_INFINITY,
            end_s: f64::INFINITY,
            current: Current::Constant(current_a),
            duration_s: f64::INFINITY,
        }
    }

    /// The same with its current multiplied.
    pub fn times(&self, factor: f64) -> Piece {
        let current = match self.current {
            Current::Constant(a) => Current::Constant(factor * a),
            Current::Linear { from_a, to_a } => Current::Linear {
                from_a: factor * from_a,
                to_a: factor * to_a,
            },
            Current::Decay {
                from_a,
                to_a,
                time_constant_s,
            } => Current::Decay {
                from_a: factor * from_a,
                to_a: factor * to_a,
                time_constant_s,
            },
        };
        Piece { current, ..*self }
    }

    /// Current, A, and its slope, A/s, at programme time `t_s` (continued smoothly past the ends).
    pub fn at(&self, t_s: f64) -> (f64, f64) {
        match self.current {
            Current::Constant(a) => (a, 0.0),
            Current::Linear { from_a, to_a } => {
                let slope = (to_a - from_a) / self.duration_s;
                (from_a + slope * (t_s - self.start_s), slope)
            }
            Current::Decay {
                from_a,
                to_a,
                time_constant_s,
            } => {
                let part = (from_a - to_a) * (-(t_s - self.start_s) / time_constant_s).exp();
                (to_a + part, -part / time_constant_s)
            }
        }
    }

    /// The constant current of the piece, if it is constant for ever after some decay.
    pub fn final_current_a(&self) -> f64 {
        self.current.last(self.duration_s)
    }

    /// Highest current of the piece, A.
    pub fn highest_a(&self) -> f64 {
        match self.current {
            Current::Constant(a) => a,
            Current::Linear { from_a, to_a } | Current::Decay { from_a, to_a, .. } => {
                from_a.max(to_a)
            }
        }
    }

    /// Whether the current of the piece does not change.
    pub fn is_constant(&self) -> bool {
        matches!(self.current, Current::Constant(_))
    }

    /// Shortest time over which the current changes, s (infinite when constant).
    pub fn time_scale_s(&self) -> f64 {
        match self.current {
            Current::Constant(_) => self.end_s - self.start_s.max(0.0),
            Current::Linear { .. } => self.duration_s,
            Current::Decay {
                time_constant_s, ..
            } => time_constant_s,
        }
    }
}

impl Current {
    fn last(&self, duration_s: f64) -> f64 {
        match *self {
            Current::Constant(a) => a,
            Current::Linear { to_a, .. } => to_a,
            Current::Decay {
                from_a,
                to_a,
                time_constant_s,
            } => to_a + (from_a - to_a) * (-duration_s / time_constant_s).exp(),
        }
    }

    fn largest(&self) -> f64 {
        match *self {
            Current::Constant(a) => a,
            Current::Linear { from_a, to_a } | Current::Decay { from_a, to_a, .. } => {
                from_a.max(to_a)
            }
        }
    }
}

impl Programme {
    /// The same current for ever.
    pub fn constant(current_a: f64) -> Programme {
        Programme::steps([(f64::INFINITY, current_a)], Repeat::Once)
    }

    /// The current, A, that flows for ever, where the programme is no more than that.
    pub fn only_a(&self) -> Option<f64> {
        match (self.segments.as_slice(), self.repeat) {
            ([only], Repeat::Once) if only.duration_s.is_infinite() => match only.current {
                Current::Constant(current_a) => Some(current_a),
                _ => None,
            },
            _ => None,
        }
    }

    /// Constant currents one after another: how long each, s, and A.
    pub fn steps(steps: impl IntoIterator<Item = (f64, f64)>, repeat: Repeat) -> Programme {
        let segment = |(duration_s, current_a)| Segment {
            duration_s,
            current: Current::Constant(current_a),
        };
        let segments = steps.into_iter().map(segment).collect();
        Programme { segments, repeat }
    }

    /// The same course with every current and every time multiplied.
    pub fn scaled(&self, current: f64, time: f64) -> Programme {
        let scaled = |s: &Segment| Segment {
            duration_s: s.duration_s * time,
            current: match s.current {
                Current::Constant(a) => Current::Constant(a * current),
                Current::Linear { from_a, to_a } => Current::Linear {
                    from_a: from_a * current,
                    to_a: to_a * current,
                },
                Current::Decay {
                    from_a,
                    to_a,
                    time_constant_s,
                } => Current::Decay {
                    from_a: from_a * current,
                    to_a: to_a * current,
                    time_constant_s: time_constant_s * time,
                },
            },
        };
        Programme {
            segments: self.segments.iter().map(scaled).collect(),
            repeat: self.repeat,
        }
    }

    /// Duration of one pass over the segments, s.
    pub fn pass_s(&self) -> f64 {
        self.segments.iter().map(|s| s.duration_s).sum()
    }

    /// Period of a programme repeated for ever, s.
    pub fn period_s(&self) -> Option<f64> {
        (self.repeat == Repeat::Forever).then(|| self.pass_s())
    }

    /// Largest current anywhere in the programme, A.
    pub fn largest_a(&self) -> f64 {
        self.segments
            .iter()
            .map(|s| s.current.largest())
            .fold(0.0, f64::max)
    }

    /// Current at the end of a pass: what stays after a programme done once or several times, A.
    pub fn last_a(&self) -> f64 {
        self.segments
            .last()
            .map_or(0.0, |s| s.current.last(s.duration_s))
    }

    /// Root-mean-square current over one finite pass, A (the last value when a pass is endless).
    pub fn rms_a(&self) -> f64 {
        let pass = self.pass_s();
        if !pass.is_finite() {
            return self.last_a();
        }
        let heat: f64 = self
            .segments
            .iter()
            .map(|s| match s.current {
                Current::Constant(a) => a * a * s.duration_s,
                Current::Linear { from_a, to_a } => {
                    (from_a * from_a + from_a * to_a + to_a * to_a) / 3.0 * s.duration_s
                }
                Current::Decay {
                    from_a,
                    to_a,
                    time_constant_s: tau,
                } => {
                    let d = from_a - to_a;
                    let e = (-s.duration_s / tau).exp();
                    to_a * to_a * s.duration_s
                        + 2.0 * to_a * d * tau * (1.0 - e)
                        + d * d * tau / 2.0 * (1.0 - e * e)
                }
            })
            .sum();
        (heat / pass).sqrt()
    }

    /// The smooth piece that holds just after programme time `t_s >= 0`.
    pub fn piece_after(&self, t_s: f64) -> Piece {
        let pass = self.pass_s();
        let ended = match self.repeat {
            Repeat::Forever => false,
            Repeat::Once => t_s >= pass,
            Repeat::Times(n) => t_s >= pass * f64::from(n),
        };
        if ended {
            return Piece {
                start_s: t_s,
                ..Piece::constant(self.last_a())
            };
        }
        // The pass count is nudged so that a time that rounding left just before a boundary
        // belongs to the pass that starts there.
        let passes = if pass.is_finite() {
            ((t_s / pass) * (1.0 + 4.0 * f64::EPSILON)).floor()
        } else {
            0.0
        };
        let mut start = passes * pass;
        if !pass.is_finite() {
            start = 0.0;
        }
        let last = self.segments.len() - 1;
        for (i, s) in self.segments.iter().enumerate() {
            let end = if i == last && pass.is_finite() {
                (passes + 1.0) * pass
            } else {
                start + s.duration_s
            };
            if let (
                true,
                Current::Decay {
                    to_a,
                    time_constant_s,
                    ..
                },
            ) = (end.is_infinite(), s.current)
            {
                let settled = start + SETTLED * time_constant_s;
                if t_s >= settled {
                    return Piece {
                        start_s: settled,
                        ..Piece::constant(to_a)
                    };
                }
                return Piece {
                    start_s: start,
                    end_s: settled,
                    current: s.current,
                    duration_s: s.duration_s,
                };
            }
            if t_s < end * (1.0 - 4.0 * f64::EPSILON) || (i == last) {
                return Piece {
                    start_s: start,
                    end_s: end,
                    current: s.current,
                    duration_s: s.duration_s,
                };
            }
            start = end;
        }
        Piece {
            start_s: t_s,
            ..Piece::constant(self.last_a())
        }
    }
}
