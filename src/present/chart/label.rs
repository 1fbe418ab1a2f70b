//! Direct labels: each stands beside its own curve, clear of every other curve and label.

use super::area::{Area, Point};
use super::canvas::{Anchor, Canvas};
use super::spot::{LEADER_FROM, Spot, around, resampled};
use super::style::{BODY, Colour, PAPER, QUIET};
use super::text::width;
use super::trail::Trail;

/// Curves and boxes that labels keep clear of.
pub(crate) struct Labels {
    rooms: Vec<Area>,
    curves: Vec<Curve>,
    boxes: Vec<Area>,
    marks: Vec<Point>,
}

struct Curve {
    trail: Trail,
    /// A helper line: a label may lie on it, though not gladly.
    is_soft: bool,
}

/// Gap between a label and anything else.
const GAP: f64 = 9.0;
/// How far from its curve a label may stand without a leader, nearest first.
const NEAR: [f64; 2] = [0.0, 14.0];
/// How far it may stand with one.
const FAR: [f64; 7] = [40.0, 75.0, 120.0, 180.0, 260.0, 380.0, 520.0];
/// What it costs to hide words.
const WORDS: f64 = 1000.0;
/// Distance from other curves beyond which more is no better.
const CLEAR: f64 = 140.0;

impl Labels {
    /// Labels stay inside one of `rooms`.
    pub(crate) fn inside(rooms: &[Area]) -> Self {
        let rooms = rooms.iter().map(|room| room.grown(-6.0)).collect();
        Self {
            rooms,
            curves: Vec::new(),
            boxes: Vec::new(),
            marks: Vec::new(),
        }
    }

    /// A curve on the sheet; its number serves [`Labels::beside`].
    pub(crate) fn curve(&mut self, points: &[Point]) -> usize {
        self.add(points, false)
    }

    /// A helper line on the sheet: levels, poles.
    pub(crate) fn helper(&mut self, points: &[Point]) -> usize {
        self.add(points, true)
    }

    fn add(&mut self, points: &[Point], is_soft: bool) -> usize {
        self.curves.push(Curve {
            trail: Trail::along(points),
            is_soft,
        });
        self.curves.len() - 1
    }

    /// A marked point: the label of another one must not seem to be its own.
    pub(crate) fn mark(&mut self, at: Point) {
        self.marks.push(at);
    }

    /// A box to keep clear of.
    pub(crate) fn block(&mut self, area: Area) {
        self.boxes.push(area);
    }

    /// Whether nothing that is kept clear of lies in a box.
    pub(crate) fn is_free(&self, area: &Area) -> bool {
        !self.boxes.iter().any(|b| b.overlaps(area))
    }

    /// Writes `text` beside a curve, where it is clearest; with a thin leader when only a place
    /// further away is free.
    pub(crate) fn beside(&mut self, canvas: &mut Canvas, curve: usize, text: &str, colour: Colour) {
        let anchors = self
            .curves
            .get(curve)
            .map(|c| c.trail.points.clone())
            .unwrap_or_default();
        self.put(canvas, (&anchors, 0.0), Some(curve), (text, true), colour)
    }

    /// Writes `text` beside a mark of this size, or nowhere when it may go and finds no free place.
    pub(crate) fn beside_mark(
        &mut self,
        canvas: &mut Canvas,
        (point, half): (Point, f64),
        (text, must): (&str, bool),
        colour: Colour,
    ) {
        self.put(canvas, (&[point], half), None, (text, must), colour)
    }

    fn put(
        &mut self,
        canvas: &mut Canvas,
        (anchors, half): (&[Point], f64),
        own: Option<usize>,
        (text, must): (&str, bool),
        colour: Colour,
    ) {
        let width = width(text, BODY);
        let every = (anchors.len() / 200).max(1);
        let anchors: Vec<Point> = anchors.iter().step_by(every).copied().collect();
        let at_reach = |reach: f64| {
            let anchors = anchors.iter();
            anchors.flat_map(move |p| around(*p, width, half + reach).map(move |area| (*p, area)))
        };
        // The cheapest place, the first of equals; what cannot be cheaper is not looked at.
        let better = |mut best: Option<Spot>, reach: &f64| {
            for (anchor, area) in at_reach(*reach) {
                let cheaper = |spot: &Spot, than: f64| spot.cost > than;
                if best.as_ref().is_none_or(|b| cheaper(b, least_cost(*reach)))
                    && let Some(spot) = self.free((anchor, half), area, *reach, own)
                    && best.as_ref().is_none_or(|b| cheaper(b, spot.cost))
                {
                    best = Some(spot);
                }
            }
            best
        };
        let near = || NEAR.iter().find_map(|reach| better(None, reach));
        let free = near().or_else(|| FAR.iter().fold(None, better));
        // Nothing is free: the place that hides least, on a white ground; the nearest that hides
        // no words.
        let cheapest =
            |spots: &mut dyn Iterator<Item = Spot>| spots.min_by(|a, b| a.cost.total_cmp(&b.cost));
        let crowded = || {
            let at = |reach: f64| {
                let places = at_reach(reach).filter(|(p, area)| self.is_inside(*p, area));
                cheapest(&mut places.map(|(p, area)| self.crowded((p, half), area, reach)))
            };
            let all = || [0.0].into_iter().chain(FAR).filter_map(at);
            let clear = all().find(|spot| spot.cost < WORDS);
            clear.or_else(|| cheapest(&mut all()))
        };
        if let Some(spot) = free.or_else(|| crowded().filter(|_| must)) {
            self.write(canvas, text, &spot, colour);
        }
    }

    fn write(&mut self, canvas: &mut Canvas, text: &str, spot: &Spot, colour: Colour) {
        let Spot { anchor, area, .. } = spot;
        if spot.is_backed {
            canvas.rectangle(area.grown(3.0), PAPER);
        }
        if spot.has_leader() {
            let end = spot.leader_end();
            canvas.rule(*anchor, end, QUIET, 2);
            // Later labels keep clear of the leader, too.
            self.add(&[*anchor, end], false);
        }
        let middle = 0.5 * (area.top + area.bottom);
        canvas.text(text, (area.left, middle), BODY, colour, Anchor::Left);
        self.boxes.push(*area);
    }

    /// Whether a place lies in the room of what it names: no leader goes from one panel to another.
    fn is_inside(&self, anchor: Point, area: &Area) -> bool {
        let mut rooms = self.rooms.iter();
        rooms.any(|room| room.holds(area) && room.distance(anchor) < 40.0)
    }

    /// A place clear of boxes and curves; `None` when it is not.
    fn free(
        &self,
        (anchor, half): (Point, f64),
        area: Area,
        reach: f64,
        own: Option<usize>,
    ) -> Option<Spot> {
        if !self.is_inside(anchor, &area) || self.boxes.iter().any(|b| b.overlaps(&area.grown(GAP)))
        {
            return None;
        }
        let mut nearest_other = CLEAR;
        let mut nearest_own = f64::INFINITY;
        let mut hides_helper = false;
        for (k, curve) in self.curves.iter().enumerate() {
            if Some(k) == own {
                nearest_own = curve.trail.distance(&area, CLEAR);
            } else if curve.is_soft {
                hides_helper |= curve.trail.distance(&area, 0.5 * GAP).is_finite();
            } else {
                nearest_other = nearest_other.min(curve.trail.distance(&area, nearest_other));
                if nearest_other < GAP {
                    return None;
                }
            }
        }
        // Clearly nearer to its own curve than to any other.
        let mut spot = Spot {
            cost: 0.0,
            anchor,
            area,
            reach,
            is_backed: hides_helper,
        };
        let is_ambiguous = own.is_some() && !spot.has_leader() && nearest_own > 0.8 * nearest_other;
        let own_mark = area.distance(anchor);
        let is_others = own.is_none()
            && !spot.has_leader()
            && self.marks.iter().any(|m| {
                let is_own = (m.0 - anchor.0).hypot(m.1 - anchor.1) < 1.0;
                !is_own && area.distance(*m) < 1.5 * own_mark
            });
        if nearest_own < 0.4 * GAP || is_ambiguous || is_others {
            return None;
        }
        spot.cost = if hides_helper { 200.0 } else { 0.0 } - nearest_other;
        if spot.has_leader() {
            let leader = resampled(&[anchor, spot.leader_end()]);
            // It begins in the box of its own mark.
            let is_outside = |p: &&Point| (p.0 - anchor.0).hypot(p.1 - anchor.1) > 1.5 * half;
            if leader
                .iter()
                .filter(is_outside)
                .any(|p| self.boxes.iter().any(|b| b.distance(*p) <= 0.0))
            {
                return None;
            }
            spot.cost += reach + 300.0 * self.crossed(&leader, own) as f64;
        }
        Some(spot)
    }

    /// How many other curves a leader crosses or touches.
    fn crossed(&self, leader: &[Point], own: Option<usize>) -> usize {
        let others = self
            .curves
            .iter()
            .enumerate()
            .filter(|(k, _)| Some(*k) != own);
        others
            .filter(|(_, curve)| curve.trail.touches(leader, 6.0))
            .count()
    }

    /// How much of everything a place would hide, its leader included.
    fn crowded(&self, (anchor, half): (Point, f64), area: Area, reach: f64) -> Spot {
        let mut spot = Spot {
            cost: 0.0,
            anchor,
            area,
            reach,
            is_backed: true,
        };
        let leader = match spot.has_leader() {
            true => resampled(&[anchor, spot.leader_end()]),
            false => Vec::new(),
        };
        let is_outside = |p: &&Point| (p.0 - anchor.0).hypot(p.1 - anchor.1) > 1.5 * half;
        let through = |b: &Area| {
            let mut leader = leader.iter().filter(is_outside);
            leader.any(|p| b.distance(*p) <= 0.0)
        };
        // A leader through words leaves them legible.
        let costs = self.boxes.iter().map(|b| match b.overlaps(&area) {
            true => WORDS,
            false if through(b) => 0.1 * WORDS,
            false => 0.0,
        });
        let points = self.curves.iter().flat_map(|c| &c.trail.points);
        let hidden = points.filter(|p| area.distance(**p) <= 0.0).count();
        // A long curve has more points than words weigh.
        spot.cost = costs.sum::<f64>() + (hidden as f64).min(0.5 * WORDS);
        spot
    }
}

/// Least that a free place so far away may cost.
fn least_cost(reach: f64) -> f64 {
    if reach > LEADER_FROM {
        reach - CLEAR
    } else {
        -CLEAR
    }
}

#[cfg(test)]
mod tests {
    use super::super::canvas::drawn;
    use super::super::style::INK;
    use super::*;

    #[test]
    fn a_number_stands_nearer_to_its_own_mark_than_to_a_neighbour() {
        let room = Area::new(0.0, 0.0, 900.0, 700.0);
        let marks = [(300.0, 300.0), (352.0, 300.0), (404.0, 300.0)];
        let mut labels = Labels::inside(&[room]);
        labels.curve(&marks);
        marks.iter().for_each(|m| labels.mark(*m));
        drawn(|canvas| {
            for mark in marks {
                labels.beside_mark(canvas, (mark, 0.0), ("23.2", true), INK);
            }
        });
        for (own, area) in marks.iter().zip(&labels.boxes) {
            let others = marks.iter().filter(|m| *m != own);
            let nearest = others
                .map(|m| area.distance(*m))
                .fold(f64::INFINITY, f64::min);
            let is_led = area.distance(*own) > 20.0;
            assert!(is_led || area.distance(*own) < nearest, "{own:?} {area:?}");
        }
    }

    /// Where no place is free it hides lines rather than words.
    #[test]
    fn a_label_that_must_be_there_hides_no_words() {
        let room = Area::new(0.0, 0.0, 900.0, 700.0);
        let own = (300.0, 300.0);
        let mut labels = Labels::inside(&[room]);
        for k in 0..120 {
            let y = 6.0 * f64::from(k);
            labels.curve(&[(0.0, y), (900.0, y)]);
        }
        let words = Area::around(own, 90.0);
        labels.block(words);
        drawn(|canvas| labels.beside_mark(canvas, (own, 17.0), ("this load", true), INK));
        let label = labels.boxes.last().expect("a label");
        assert!(
            labels.boxes.len() == 2 && !label.overlaps(&words),
            "{label:?}"
        );
    }
}
