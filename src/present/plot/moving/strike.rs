//! The armature of an instantaneous element as it strikes: core, gap, armature, rod and trigger,
//! over the current, the forces and the closing of the gap.

use super::super::area::{Area, Point};
use super::super::axis::Axis;
use super::super::canvas::{Anchor, Canvas};
use super::super::plane::Plane;
use super::super::style::*;
use super::super::{PlotError, Theme};
use super::animation::Times;
use super::compose::film;
use super::{Moving, cautioned};
use crate::predict::{Outcome, Strike, StrikeFrame};
use crate::present::chart::header::Header;
use crate::present::number::{duration, plain, significant};

/// Time one picture is shown, and the last one, hundredths of a second.
const SHOWN_CS: u32 = 8;
const STANDS_CS: u32 = 120;
/// Face of the core, and the axis of the rod.
const FACE: f64 = 1180.0;
const AXIS: f64 = 470.0;
/// Sheet units a millimetre of the gap.
const PER_MM: f64 = 90.0;
const READINGS: f64 = 212.0;
const PANELS: (f64, f64) = (900.0, 1340.0);
const COLUMNS: [(f64, f64); 3] = [(190.0, 760.0), (980.0, 1550.0), (1770.0, 2340.0)];

type Value = fn(&StrikeFrame) -> f64;
/// Panel, stroke, value.
const CURVES: [(usize, Stroke, Value); 4] = [
    (0, stroke(INK, 6, SOLID), |f| f.current_a),
    (1, stroke(MOSS, 6, SOLID), |f| f.pull_n),
    (1, stroke(EMBER, 6, DASHED), |f| f.against_n),
    (2, stroke(LAKE, 6, SOLID), |f| f.closing_mm),
];

/// Draws it; `None` when the outcome keeps no strike.
pub(super) fn moving(
    outcome: &Outcome,
    theme: Theme,
    width: u32,
) -> Result<Option<Moving>, PlotError> {
    let Some(strike) = outcome.strike.as_ref().filter(|s| s.frames.len() > 1) else {
        return Ok(None);
    };
    let planes = planes(strike);
    let last = strike.frames.len() - 1;
    let clockwork = Times {
        for_cs: (0..=last)
            .map(|k| if k == last { STANDS_CS } else { SHOWN_CS })
            .collect(),
        still: last,
        is_alone: true,
    };
    let drawn = film(
        outcome,
        theme,
        (SHEET, strike.frames.len()),
        |canvas, _| backdrop(canvas, outcome, strike, &planes),
        Some(&|canvas, n| step(canvas, strike, &planes, n)),
        &[
            &|canvas, n| sketch(canvas, strike, &strike.frames[n]),
            &|canvas, n| readings(canvas, strike, &strike.frames[n]),
        ],
    );
    let title = word!("Moving picture of the armature");
    let told = (title, cautioned(outcome, &description(outcome, strike)));
    let frames_per_s = 100.0 / f64::from(SHOWN_CS);
    Moving::of(&drawn, &clockwork, told, frames_per_s, width).map(Some)
}

fn release_s(strike: &Strike) -> f64 {
    strike.frames.last().map_or(0.0, |f| f.time_s)
}

fn description(outcome: &Outcome, strike: &Strike) -> String {
    let released = duration(release_s(strike), 2);
    let then = match strike.strike_s {
        Some(s) => say!(
            "The striker meets the trigger after {}; the trigger releases after {released}.",
            duration(s, 2)
        ; released),
        None => say!("The trigger releases after {released}."; released),
    };
    say!(
        "{}: the armature of the instantaneous element crosses its gap while the current rises, drawn with \
         current, forces and closing of the gap against time. {then}",
        outcome.scenario
    ; then)
}

fn planes(strike: &Strike) -> [Plane; 3] {
    let all = || strike.frames.iter();
    let time = Axis::linear(word!("Time, ms"), 0.0, 1e3 * release_s(strike), 4);
    let around = |title, values: Vec<f64>| Axis::airy(title, values.into_iter(), 4, 0.1);
    let ys = [
        around(word!("Current, A"), all().map(|f| f.current_a).collect()),
        around(
            word!("Force, N"),
            all().flat_map(|f| [f.pull_n, f.against_n]).collect(),
        ),
        around(word!("Closing of the gap, mm"), vec![0.0, strike.gap_mm]),
    ];
    let mut columns = COLUMNS.iter();
    ys.map(|y| {
        let (left, right) = *columns.next().unwrap_or(&COLUMNS[0]);
        Plane::new(Area::new(left, PANELS.0, right, PANELS.1), &time, &y)
    })
}

fn backdrop(canvas: &mut Canvas, outcome: &Outcome, strike: &Strike, planes: &[Plane; 3]) {
    let slower = 0.01 * f64::from(SHOWN_CS) * (strike.frames.len() - 1) as f64 / release_s(strike);
    let below = say!(
        "{}: closed {}° after voltage zero; {} times slower than life",
        outcome.scenario,
        plain(strike.angle_deg),
        significant(slower, 2)
    );
    Header::cut(
        word!("The armature strikes"),
        &below,
        f64::from(WIDTH) - 160.0,
    )
    .draw(canvas);
    for plane in planes {
        plane.draw(canvas, true, true);
    }
    for (mm, name) in [
        (strike.strike_mm, word!("meets the trigger")),
        (strike.release_mm, word!("releases")),
    ] {
        planes[2].level(canvas, mm, stroke(PLUM, 3, DASHED));
        let at = (planes[2].frame.left + 14.0, planes[2].up(mm) - 20.0);
        canvas.text(name, at, SMALL, PLUM, Anchor::Left);
    }
    let top = planes[1].frame.top - 28.0;
    for (x, text, stroke) in [
        (980.0, word!("pull"), CURVES[1].1),
        (1180.0, word!("spring and trigger"), CURVES[2].1),
    ] {
        canvas.line(&[(x, top), (x + 70.0, top)], stroke);
        canvas.text(text, (x + 84.0, top), SMALL, stroke.colour, Anchor::Left);
    }
    for (panel, curve, value) in CURVES {
        let points = strike
            .frames
            .iter()
            .map(|f| planes[panel].at(1e3 * f.time_s, value(f)));
        canvas.line(
            &points.collect::<Vec<Point>>(),
            stroke(GRID, curve.width, SOLID),
        );
    }
    core(canvas);
    let scale = word!(
        "Gap and travel to one scale, across the gap only; core, coil, rod and trigger sketched"
    );
    canvas.text(scale, (80.0, 790.0), SMALL, QUIET, Anchor::Left);
}

/// The core with its coil, bored for the rod.
fn core(canvas: &mut Canvas) {
    for y in [AXIS - 150.0, AXIS + 60.0] {
        let iron = Area::new(FACE - 420.0, y, FACE, y + 90.0);
        canvas.rectangle(iron, fill(QUIET, 0.35));
        canvas.outline(iron, INK, 3);
    }
    for k in 0..9 {
        let x = FACE - 390.0 + 42.0 * f64::from(k);
        for y in [AXIS - 190.0, AXIS + 190.0] {
            canvas.disc((x, y), 17, CLAY);
        }
    }
    canvas.text(
        word!("core and coil"),
        (FACE - 210.0, AXIS - 240.0),
        SMALL,
        CLAY,
        Anchor::Centre,
    );
}

/// Armature, rod, spring and trigger.
fn sketch(canvas: &mut Canvas, strike: &Strike, frame: &StrikeFrame) {
    let gap = PER_MM * (strike.gap_mm - frame.closing_mm);
    let left = FACE + gap;
    let plate = Area::new(left, AXIS - 170.0, left + 80.0, AXIS + 170.0);
    canvas.rectangle(plate, fill(LAKE, 0.6));
    canvas.outline(plate, INK, 3);
    canvas.text(
        word!("armature"),
        (left + 40.0, AXIS + 210.0),
        SMALL,
        LAKE,
        Anchor::Centre,
    );
    // The rod goes through the core; where its tip is, the trigger may be no more.
    let travel = PER_MM * frame.closing_mm;
    let meets = FACE - 560.0;
    let tip = meets + PER_MM * strike.strike_mm - travel;
    canvas.rule((tip, AXIS), (left, AXIS), INK, 14);
    // Its rest stands still, and it stretches.
    let rest = FACE + PER_MM * strike.gap_mm + 340.0;
    spring(canvas, (left + 80.0, rest));
    let pushed = (meets - tip).max(0.0);
    let released = frame.closing_mm >= strike.release_mm * (1.0 - 1e-6);
    let pivot = (meets - 22.0, AXIS + 210.0);
    let top = (meets - 22.0 - pushed, AXIS);
    let beyond = (2.0 * top.0 - pivot.0, AXIS - 210.0);
    let colour = if released { EMBER } else { PLUM };
    canvas.rule(pivot, beyond, colour, 16);
    canvas.disc(pivot, 20, QUIET);
    let said = match (released, pushed > 0.0) {
        (true, _) => word!("trigger releases"),
        (false, true) => word!("moves the trigger"),
        (false, false) => word!("trigger"),
    };
    canvas.text(said, (pivot.0, AXIS + 262.0), SMALL, colour, Anchor::Centre);
}

/// A zigzag between the armature and its rest.
fn spring(canvas: &mut Canvas, (from, to): (f64, f64)) {
    let turns = 8;
    let points = (0..=turns).map(|k| {
        let side = [0.0, 46.0, -46.0][if k == 0 || k == turns { 0 } else { 1 + k % 2 }];
        (from + (to - from) * k as f64 / turns as f64, AXIS + side)
    });
    canvas.line(&points.collect::<Vec<Point>>(), stroke(INK, 5, SOLID));
    canvas.rule((to, AXIS - 80.0), (to, AXIS + 80.0), INK, 8);
}

fn readings(canvas: &mut Canvas, strike: &Strike, frame: &StrikeFrame) {
    let moment = if frame.closing_mm >= strike.release_mm * (1.0 - 1e-6) {
        word!("releases")
    } else if frame.closing_mm >= strike.strike_mm {
        word!("moving the trigger")
    } else if frame.closing_mm > 0.0 {
        word!("crossing the gap")
    } else {
        word!("at rest")
    };
    let time = format!("{} ms", significant(1e3 * frame.time_s, 3));
    canvas.bold(&time, (330.0, READINGS), TITLE, INK, Anchor::Right);
    canvas.bold(moment, (420.0, READINGS), BODY, INK, Anchor::Left);
    let put = |canvas: &mut Canvas, text: String, x| {
        canvas.text(&text, (x, READINGS), BODY, INK, Anchor::Left)
    };
    put(
        canvas,
        format!("{} A", significant(frame.current_a, 3)),
        1240.0,
    );
    put(
        canvas,
        say!("pull {} N", significant(frame.pull_n, 3)),
        1560.0,
    );
    put(
        canvas,
        say!(
            "gap {} mm",
            significant(strike.gap_mm - frame.closing_mm, 3)
        ),
        1960.0,
    );
}

/// What a frame adds to the curves.
fn step(canvas: &mut Canvas, strike: &Strike, planes: &[Plane; 3], n: usize) {
    let Some(before) = n.checked_sub(1).map(|k| &strike.frames[k]) else {
        return;
    };
    let now = &strike.frames[n];
    for (panel, curve, value) in CURVES {
        let at = |f: &StrikeFrame| planes[panel].at(1e3 * f.time_s, value(f));
        if curve.dash != DASHED || !n.is_multiple_of(3) {
            canvas.line(
                &[at(before), at(now)],
                stroke(curve.colour, curve.width, SOLID),
            );
        }
    }
}
