//! The first stretch of a load, kept in a bounded number of pieces until its start can be told from
//! its run.

use super::span::Span;
use super::totals::Totals;

/// Pieces kept; when they are full, neighbours are joined.
const PIECES: usize = 256;
/// A start is at least this much above the run.
const RISE: f64 = 1.4;
/// The start has ended when this part of the rise is left.
const LEFT: f64 = 0.15;

#[derive(Debug, Clone, Copy)]
struct Piece {
    from_s: f64,
    to_s: f64,
    totals: Totals,
}

/// The first stretch of a load.
#[derive(Debug, Clone, Default)]
pub(super) struct Onset {
    pieces: Vec<Piece>,
    shortest_s: f64,
}

/// A stretch with its totals.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stretch {
    pub from_s: f64,
    pub to_s: f64,
    pub totals: Totals,
}

impl Onset {
    pub fn add(&mut self, span: &Span) {
        if let Some(last) = self.pieces.last_mut()
            && last.to_s - last.from_s < self.shortest_s
        {
            last.totals.add(span);
            last.to_s = span.to_s;
            return;
        }
        if self.pieces.len() == PIECES {
            self.join();
        }
        let mut totals = Totals::default();
        totals.add(span);
        self.pieces.push(Piece {
            from_s: span.from_s,
            to_s: span.to_s,
            totals,
        });
    }

    fn join(&mut self) {
        let joined = self.pieces.chunks(2).map(|pair| {
            let mut piece = pair[0];
            if let Some(later) = pair.get(1) {
                piece.totals.join(&later.totals);
                piece.to_s = later.to_s;
            }
            piece
        });
        self.pieces = joined.collect();
        let longest = self
            .pieces
            .iter()
            .map(|p| p.to_s - p.from_s)
            .fold(0.0, f64::max);
        self.shortest_s = longest;
    }

    pub fn length_s(&self) -> f64 {
        match (self.pieces.first(), self.pieces.last()) {
            (Some(a), Some(b)) => b.to_s - a.from_s,
            _ => 0.0,
        }
    }

    /// Splits the stretch into start and run and empties it. The start is there when a current
    /// clearly above that of the second half is seen before it.
    pub fn split(&mut self) -> (Option<Stretch>, Option<Stretch>) {
        let pieces = std::mem::take(&mut self.pieces);
        self.shortest_s = 0.0;
        let (Some(first), Some(last)) = (pieces.first(), pieces.last()) else {
            return (None, None);
        };
        let middle = 0.5 * (first.from_s + last.to_s);
        // A piece across the middle belongs to the half in which it ends.
        let late = stretch(pieces.iter().filter(|p| p.to_s > middle));
        let settled = late.map_or(0.0, |s| s.totals.rms_a());
        let (top_at, top) = pieces
            .iter()
            .enumerate()
            .map(|(i, p)| (i, p.totals.rms_a()))
            .fold((0, 0.0), |best, p| if p.1 > best.1 { p } else { best });
        if !(top >= RISE * settled) || pieces[top_at].to_s > middle {
            return (None, stretch(pieces.iter()));
        }
        let edge = settled + LEFT * (top - settled);
        let after = pieces[top_at..]
            .iter()
            .position(|p| p.totals.rms_a() <= edge);
        let end = after.map_or(pieces.len(), |n| top_at + n);
        (stretch(pieces[..end].iter()), stretch(pieces[end..].iter()))
    }
}

fn stretch<'p>(pieces: impl Iterator<Item = &'p Piece>) -> Option<Stretch> {
    let mut found: Option<Stretch> = None;
    for p in pieces {
        match &mut found {
            None => {
                found = Some(Stretch {
                    from_s: p.from_s,
                    to_s: p.to_s,
                    totals: p.totals,
                })
            }
            Some(s) => {
                s.totals.join(&p.totals);
                s.to_s = p.to_s;
            }
        }
    }
    found
}
