//! A latch at work: strip, lever with nose and tooth, slider with contact and button.

use super::super::area::{Area, Point};
use super::super::axis::extent;
use super::super::canvas::{Anchor, Canvas};
use super::super::strip_drawing::{Place, draw, enlarged, scale_words};
use super::super::style::*;
use super::case::{button, case, clamp, coil, contact, piece};
use super::forces::Scale;
use super::story::{Moment, Stage, story};
use super::{Part, Reel};
use crate::predict::{Film, Outcome, Shape};
use crate::present::number::{percent, significant};
use crate::present::words::mechanism as say;
use std::sync::Arc;

/// Where the first stage begins, and the height of each.
const TOP: f64 = 190.0;
const HEIGHT: f64 = 620.0;
/// Inner faces of the left and the right wall; the clamp; the length of the strip.
const WALLS: (f64, f64) = (150.0, 2130.0);
const CLAMP: f64 = 250.0;
const LENGTH: f64 = 1000.0;
/// The pivot of the lever and its tooth, across.
const PIVOT: f64 = 2050.0;
const TOOTH: f64 = 1450.0;
/// How far the slider goes, and how deep the tooth holds it.
const GAP: f64 = 84.0;
const CATCH: f64 = 30.0;
/// Least lift of the nose.
const LIFT: f64 = 52.0;

/// One stage on the sheet.
struct Scene<'a> {
    outcome: &'a Outcome,
    film: &'a Film,
    stage: Stage,
    place: Place,
    inside: Area,
    /// The nose of the lever at rest, and how far it is lifted.
    nose: Point,
    lift: f64,
    forces: Option<Scale>,
}

/// The film of a latch.
pub(in crate::present::plot) fn reel<'a>(outcome: &'a Outcome, film: &'a Film) -> Option<Reel<'a>> {
    let story = story(outcome, film)?;
    let most_n = story.stages.iter().map(|s| s.latch.holds_n);
    let forces = Scale::of(most_n.fold(0.0, f64::max));
    let scenes = story.stages.into_iter().zip(0..);
    let scenes = scenes.map(|(stage, k)| Arc::new(Scene::new((outcome, film), stage, k, forces)));
    let scenes: Vec<Arc<Scene<'a>>> = scenes.collect();
    let times = scenes.first()?.place.times;
    let bottom = TOP + HEIGHT * scenes.len() as f64;
    let mut parts: Vec<Part<'a>> = Vec::new();
    let drawers: [fn(&Scene<'a>, &mut Canvas, &Moment); 5] = [
        Scene::strip,
        Scene::lever,
        Scene::slider,
        Scene::arrows,
        Scene::words,
    ];
    for scene in &scenes {
        for drawer in drawers {
            let scene = scene.clone();
            parts.push(Box::new(move |canvas, n| {
                drawer(&scene, canvas, &scene.stage.moments[n])
            }));
        }
    }
    let clock = story.clock;
    parts.push(Box::new(move |canvas, n| {
        canvas.bold(&clock[n], (WALLS.1, TOP - 34.0), BODY, INK, Anchor::Right);
    }));
    let description = say::description(&outcome.scenario, scenes.len() > 1);
    let below = move |canvas: &mut Canvas| {
        scenes.iter().for_each(|scene| scene.still(canvas));
        let at = (WALLS.0, bottom + 14.0);
        if let Some(forces) = forces {
            forces.key(canvas, at);
        }
        for (k, line) in say::latch_sketched().iter().enumerate() {
            let at = (at.0, at.1 + 44.0 + 36.0 * k as f64);
            canvas.text(line, at, SMALL, QUIET, Anchor::Left);
        }
    };
    Some(Reel {
        height: ((bottom + 115.0) / 15.0).ceil() as i32 * 15,
        subtitle: say!(
            "Strip and clearance {}; all else sketched",
            scale_words(times)
        ),
        below: Box::new(below),
        parts,
        times: story.times,
        description,
    })
}

impl<'a> Scene<'a> {
    fn new(
        (outcome, film): (&'a Outcome, &'a Film),
        stage: Stage,
        number: i32,
        forces: Option<Scale>,
    ) -> Scene<'a> {
        let top = TOP + f64::from(number) * HEIGHT;
        let inside = Area::new(WALLS.0, top + 62.0, WALLS.1, top + HEIGHT - 40.0);
        let part = &outcome.part;
        let frames = film.heating.iter().chain(&film.cooling);
        let heights = frames.flat_map(|f| f.shape.y_mm.iter().copied());
        let (low, high) = extent(heights.chain([0.0])).unwrap_or((0.0, 1.0));
        let units_per_mm = LENGTH / part.length_mm.max(1e-6);
        let times = enlarged(high - low, units_per_mm, 80.0, 170.0);
        let bottom = inside.bottom - 100.0 + low * units_per_mm * times;
        let place = Place {
            origin: (CLAMP, bottom),
            units_per_mm,
            times,
        };
        let latch = &stage.latch;
        let half_mm = 0.5 * part.thickness_mm;
        let nose = place.at(part.push_point_mm, latch.clearance_mm + half_mm);
        // Lifted, the nose is clear of the strip.
        let beyond = place.at(part.push_point_mm, high.max(latch.release_mm) + half_mm);
        Scene {
            lift: LIFT.max(nose.1 - beyond.1 + 12.0),
            outcome,
            film,
            stage,
            place,
            inside,
            nose,
            forces,
        }
    }

    /// The lever's bar and the top of the slider, at rest.
    fn bar(&self) -> f64 {
        self.nose.1 - 70.0
    }

    fn slides(&self) -> f64 {
        self.bar() + 120.0
    }

    /// A point of the lever, turned as far as it is lifted.
    fn turned(&self, at: Point, lifted: f64) -> Point {
        let angle = (lifted * self.lift / (PIVOT - self.nose.0)).atan();
        let (dx, dy) = (at.0 - PIVOT, at.1 - self.bar());
        let (sin, cos) = angle.sin_cos();
        (
            PIVOT + dx * cos - dy * sin,
            self.bar() + dx * sin + dy * cos,
        )
    }

    /// Everything that stands still.
    fn still(&self, canvas: &mut Canvas) {
        let button_at = self.slides() + 22.0;
        case(canvas, self.inside, (button_at - 52.0, button_at + 52.0));
        clamp(canvas, self.place.origin, WALLS.0);
        let latch = &self.stage.latch;
        let title = match latch.lost > 0.0 {
            true => say::preload_lost(&percent(latch.lost)),
            false => say::as_new().to_owned(),
        };
        let at = (WALLS.0, self.inside.top - 42.0);
        canvas.bold(&title, at, BODY, INK, Anchor::Left);
        // Heights of the middle of the strip: where it touches, and where it catches.
        let part = &self.outcome.part;
        let mut last = f64::INFINITY;
        for (mm, text, line) in [
            (
                latch.relatch_mm,
                say::catches_below(&significant(latch.relatch_mm, 3)),
                stroke(MOSS, 3, DASH_DOT),
            ),
            (
                latch.clearance_mm,
                say::touches(&significant(latch.clearance_mm, 3)),
                stroke(INK, 3, DASHED),
            ),
        ] {
            let to = self.place.at(part.push_point_mm, mm);
            let from = (self.place.at(0.52 * part.push_point_mm, mm).0, to.1);
            canvas.line(&[from, (to.0 - 30.0, to.1)], line);
            let y = to.1.min(last - 34.0);
            canvas.text(&text, (from.0 - 14.0, y), SMALL, line.colour, Anchor::Right);
            last = y;
        }
        // The fixed contact on its post, with its terminal through the floor.
        let contact_at = self.contact_at();
        contact(canvas, contact_at, true);
        let post = Area::new(
            contact_at.0 - 40.0,
            contact_at.1 - 30.0,
            contact_at.0 - 16.0,
            self.inside.bottom + 36.0,
        );
        canvas.rectangle(post, fill(CLAY, 0.55));
        canvas.outline(post, INK, 2);
        // What the opening spring leans on.
        let stop = Area::new(
            TOOTH + 70.0,
            self.slides() + 46.0,
            TOOTH + 92.0,
            self.inside.bottom,
        );
        canvas.rectangle(stop, fill(QUIET, 0.35));
        canvas.outline(stop, INK, 2);
    }

    /// Where both contacts touch.
    fn contact_at(&self) -> Point {
        (TOOTH - 70.0, self.slides() + 22.0)
    }

    /// The strip, held back by the latch while that holds.
    fn strip(&self, canvas: &mut Canvas, now: &Moment) {
        let shape = self.shape(now);
        draw(canvas, &self.place, self.outcome, &shape, now.is_past);
    }

    fn shape(&self, now: &Moment) -> Shape {
        let frame = match now.strip {
            (true, k) => &self.film.cooling[k],
            (false, k) => &self.film.heating[k],
        };
        let mut shape = frame.shape.clone();
        let back_mm = now.push_n * self.stage.latch.give_mm_per_n;
        let push_mm = self.outcome.part.push_point_mm;
        // A cantilever under a force at its push point, and straight beyond it.
        for (x, y) in shape.x_mm.iter().zip(shape.y_mm.iter_mut()) {
            let share = x / push_mm;
            *y -= back_mm
                * match share < 1.0 {
                    true => share * share * (3.0 - share) / 2.0,
                    false => 1.0 + 1.5 * (share - 1.0),
                };
        }
        shape
    }

    /// The lever with its nose and tooth, and the spring that presses it down.
    fn lever(&self, canvas: &mut Canvas, now: &Moment) {
        let (bar, nose) = (self.bar(), self.nose);
        let foot = self.slides() + 4.0;
        let outline = [
            (nose.0 - 16.0, bar - 12.0),
            (PIVOT, bar - 12.0),
            (PIVOT, bar + 12.0),
            (TOOTH + 34.0, bar + 12.0),
            (TOOTH + 34.0, foot),
            (TOOTH, foot),
            (TOOTH, bar + 12.0),
            (nose.0 + 14.0, bar + 12.0),
            (nose.0 + 4.0, nose.1),
            (nose.0 - 4.0, nose.1),
            (nose.0 - 16.0, bar + 12.0),
        ];
        let turned: Vec<Point> = outline
            .iter()
            .map(|p| self.turned(*p, now.lifted))
            .collect();
        piece(canvas, &turned);
        canvas.disc((PIVOT, bar), 16, QUIET);
        let seat = self.turned((nose.0 + 110.0, bar - 12.0), now.lifted);
        let width = if self.stage.latch.holds_n > 1e-6 {
            MOSS
        } else {
            GRID
        };
        coil(canvas, (seat.0, self.inside.top), seat, width);
    }

    /// The slider with the moving contact, its opening spring, the button and the braid.
    fn slider(&self, canvas: &mut Canvas, now: &Moment) {
        let moved = GAP * now.open;
        let top = self.slides();
        let left = self.contact_at().0 + 16.0 + moved;
        let step = TOOTH + moved - 2.0;
        let right = WALLS.1 + 20.0 + moved;
        piece(
            canvas,
            &[
                (left, top),
                (left, top - CATCH),
                (step, top - CATCH),
                (step, top + 4.0),
                (right, top + 4.0),
                (right, top + 44.0),
                (TOOTH + 210.0 + moved, top + 44.0),
                (TOOTH + 210.0 + moved, top + 108.0),
                (TOOTH + 188.0 + moved, top + 108.0),
                (TOOTH + 188.0 + moved, top + 44.0),
                (left, top + 44.0),
            ],
        );
        contact(canvas, (left - 16.0, top + 22.0), false);
        button(canvas, (right, top + 22.0), now.is_pressed);
        let spring = top + 80.0;
        coil(
            canvas,
            (TOOTH + 92.0, spring),
            (TOOTH + 188.0 + moved, spring),
            QUIET,
        );
        // The braid hangs between the end of the strip and the slider.
        let shape = self.shape(now);
        let (Some(x), Some(y)) = (shape.x_mm.last(), shape.y_mm.last()) else {
            return;
        };
        let (from, to) = (self.place.at(*x, *y), (left + 8.0, top + 44.0));
        let low = (0.5 * (from.0 + to.0), from.1.max(to.1) + 70.0);
        let curve = (0..=12).map(|k| {
            let t = f64::from(k) / 12.0;
            let along = |a: f64, b: f64, c: f64| {
                (1.0 - t).powi(2) * a + 2.0 * t * (1.0 - t) * b + t * t * c
            };
            (along(from.0, low.0, to.0), along(from.1, low.1, to.1))
        });
        let carries = now.open == 0.0 && !now.is_past;
        let colour = if carries { EMBER } else { QUIET };
        canvas.line(&curve.collect::<Vec<_>>(), stroke(colour, 7, SOLID));
    }

    /// The strip pushes up, the latch holds down.
    fn arrows(&self, canvas: &mut Canvas, now: &Moment) {
        let Some(forces) = self.forces.filter(|_| now.push_n > 0.0 || now.open == 0.0) else {
            return;
        };
        if now.is_past || now.lifted > 0.0 {
            return;
        }
        let half_mm = 0.5 * self.outcome.part.thickness_mm;
        let strip_mm = self.stage.latch.clearance_mm - half_mm;
        let below = self.place.at(self.outcome.part.push_point_mm, strip_mm);
        forces.arrow(canvas, (below.0, below.1 + 4.0), now.push_n, true, EMBER);
        let above = (self.nose.0, self.bar() - 14.0);
        forces.arrow(canvas, above, self.stage.latch.holds_n, false, MOSS);
    }

    fn words(&self, canvas: &mut Canvas, now: &Moment) {
        let at = (WALLS.0 + 520.0, self.inside.top - 42.0);
        let colour = match (now.is_past, now.open > 0.0) {
            (true, _) => QUIET,
            (false, true) => EMBER,
            (false, false) => INK,
        };
        canvas.text(&now.words, at, BODY, colour, Anchor::Left);
    }
}
