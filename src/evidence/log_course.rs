//! The whole of a log in little: its current as few pieces, and where it has gaps.

use crate::logs::{Condensed, Condenser, Condensing, Current, GapFill, Span};

/// Most pieces of the current.
const MOST_PIECES: usize = 400;
/// The heat of the pieces differs from that of the log by at most this share of what its RMS
/// current under load gives in a minute.
const HEAT_SHARE: f64 = 0.01;
/// Heats closer than this are the same.
const SAME_HEAT: f64 = 1.001;
/// Most gaps told apart; the nearest are joined.
const MOST_GAPS: usize = 60;

/// The whole of a log, in little.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Course {
    /// Its current. In gaps the largest one before them is put, so that no heat is missed.
    pub condensed: Condensed,
    /// The same with the most heat that its averages allow, where it holds averages with their
    /// least and largest values.
    pub most: Option<Condensed>,
    /// Gaps: from and to, s on the log's clock.
    pub gaps_s: Vec<(f64, f64)>,
}

/// Collects a [`Course`] span by span in constant memory.
pub(super) struct Collect {
    condenser: Condenser,
    most: Option<Condenser>,
    gaps_s: Vec<(f64, f64)>,
}

impl Collect {
    /// Of a log whose RMS current under load is `rms_a`, A, and which holds averages or not.
    pub(super) fn new(rms_a: f64, averages: bool) -> Collect {
        let mut settings = Condensing::new(HEAT_SHARE, rms_a, 60.0);
        settings.most_pieces = MOST_PIECES;
        settings.gaps = GapFill::Largest;
        Collect {
            condenser: Condenser::new(settings),
            most: averages.then(|| Condenser::new(settings)),
            gaps_s: Vec::new(),
        }
    }

    /// Takes the next span.
    pub(super) fn span(&mut self, span: &Span) {
        self.condenser.push(span);
        if let Some(most) = &mut self.most {
            let hot = |c: Current| Current {
                value: c.most_square_a2().max(0.0).sqrt(),
                ..c
            };
            most.push(&Span {
                current: span.current.map(hot),
                ..*span
            });
        }
        if span.current.is_some() {
            return;
        }
        match self.gaps_s.last_mut() {
            Some(last) if span.from_s <= last.1 => last.1 = last.1.max(span.to_s),
            _ => self.gaps_s.push((span.from_s, span.to_s)),
        }
        if self.gaps_s.len() > MOST_GAPS {
            self.join_the_nearest();
        }
    }

    fn join_the_nearest(&mut self) {
        let apart = |k: &usize| self.gaps_s[k + 1].0 - self.gaps_s[*k].1;
        let nearest = (0..self.gaps_s.len() - 1).min_by(|a, b| apart(a).total_cmp(&apart(b)));
        if let Some(k) = nearest {
            self.gaps_s[k].1 = self.gaps_s[k + 1].1;
            self.gaps_s.remove(k + 1);
        }
    }

    pub(super) fn finish(self) -> Course {
        let condensed = self.condenser.finish();
        let most = self.most.map(Condenser::finish);
        Course {
            most: most.filter(|m| m.i2t_a2s > SAME_HEAT * condensed.i2t_a2s),
            condensed,
            gaps_s: self.gaps_s,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    fn span(from_s: f64, to_s: f64, current_a: Option<f64>) -> Span {
        Span {
            from_s,
            to_s,
            current: current_a.map(|value| Current {
                value,
                min: None,
                max: None,
            }),
            row: 1,
        }
    }

    #[test]
    fn gaps_are_kept_and_filled_with_the_largest_current() {
        let mut all = Collect::new(10.0, false);
        for s in [
            span(5.0, 65.0, Some(12.0)),
            span(65.0, 125.0, Some(9.0)),
            span(125.0, 185.0, None),
            span(185.0, 245.0, Some(9.0)),
        ] {
            all.span(&s);
        }
        let course = all.finish();
        assert_eq!(course.gaps_s, [(125.0, 185.0)]);
        let heat = 144.0 * 60.0 + 81.0 * 60.0 + 144.0 * 60.0 + 81.0 * 60.0;
        let pieces: f64 = course.condensed.pieces.iter().map(|(s, a)| s * a * a).sum();
        assert!((pieces - heat).abs() < 0.01 * heat, "{pieces} {heat}");
    }

    #[test]
    fn a_log_full_of_gaps_takes_no_more_memory() {
        let mut all = Collect::new(10.0, false);
        for k in 0..5000 {
            let at = 100.0 * f64::from(k);
            all.span(&span(at, at + 90.0, Some(10.0)));
            all.span(&span(at + 90.0, at + 100.0, None));
        }
        let course = all.finish();
        assert!(course.gaps_s.len() <= MOST_GAPS);
        assert!(course.condensed.pieces.len() <= MOST_PIECES);
        assert!(course.gaps_s.windows(2).all(|w| w[0].1 < w[1].0));
        assert_eq!(course.gaps_s[0].0, 90.0);
        assert_eq!(course.gaps_s.last().map(|g| g.1), Some(500_000.0));
    }

    /// Half the time 20 A, half none: the average hides half of the heat, and its least and largest
    /// values give it back.
    #[test]
    fn averages_have_a_course_of_the_most_heat() {
        let mut all = Collect::new(10.0, true);
        for k in 0..30 {
            let at = 60.0 * f64::from(k);
            let mut one = span(at, at + 60.0, Some(10.0));
            if let Some(c) = &mut one.current {
                (c.min, c.max) = (Some(0.0), Some(20.0));
            }
            all.span(&one);
        }
        let course = all.finish();
        let most = course.most.expect("averages hide heat");
        assert!(
            (most.i2t_a2s - 200.0 * 1800.0).abs() < 1.0,
            "{}",
            most.i2t_a2s
        );
        assert!((course.condensed.i2t_a2s - 100.0 * 1800.0).abs() < 1.0);
    }
}
