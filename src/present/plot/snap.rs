//! Why a blade or a disc snaps: its energy at a few temperatures, and the rises at which it can stand.

use crate::predict::{BranchPoint, Outcome, SnapPicture, Warning};
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Chart, Column, Datum, Item, Line, Mark, Panel, Shape};
use crate::present::number::celsius;
use crate::present::words;

const STROKES: [Stroke; 4] = [
    stroke(LAKE, 6, SOLID),
    stroke(MOSS, 6, DASH_DOT),
    stroke(PLUM, 6, LONG),
    stroke(EMBER, 7, DASHED),
];

/// What snaps; `None` for a latch, and for a blade or a disc that creeps.
pub(super) fn snapping(outcome: &Outcome) -> Option<&SnapPicture> {
    let creeps = |w: &Warning| matches!(w, Warning::Creeps | Warning::DiscCreeps);
    let snap = outcome.snap.as_ref();
    snap.filter(|_| !outcome.warnings.iter().any(creeps))
}

/// Draws the figure; `None` for what does not snap.
pub(super) fn figure(outcome: &Outcome) -> Option<Chart> {
    let snap = snapping(outcome).filter(|s| s.branches.len() > 2)?;
    let back = match snap.reset_temperature_c {
        Some(t) => say!("and back at {}", celsius(Some(t), 0)),
        None => word!("and does not snap back by cooling").to_owned(),
    };
    let columns = [energy(snap), branches(snap)].map(|panel| Column::of(vec![panel]));
    let subtitle = say!(
        "{} (all of it at one temperature, no current)",
        outcome.scenario
    );
    Chart::new("snap", word!("Why it snaps"), subtitle, columns.into()).described(say!(
        "Left: energy against the rise of the middle; a dot marks a rise at which it stands. Warming \
         lifts the valley on the side of the closed contacts until it is gone. Right: the rises at which \
         it can stand against temperature; it snaps through at {} {back}.",
        celsius(Some(snap.trip_temperature_c), 0)
    ; back))
}

fn energy(snap: &SnapPicture) -> Panel {
    let curves: Vec<_> = snap.energy.iter().take(STROKES.len()).collect();
    let rises = curves.iter().flat_map(|c| c.rise_mm.iter().copied());
    // What matters lies between the lowest valley and a little above the highest pass.
    let energies = curves.iter().flat_map(|c| c.energy_mj.iter().copied());
    let lowest = energies.filter(|e| e.is_finite()).fold(0.0, f64::min);
    let y = Axis::linear(
        word!("Energy above the flat shape, mJ"),
        1.12 * lowest,
        -0.75 * lowest,
        6,
    );
    let mut items = vec![Item::upright(0.0, stroke(QUIET, 3, SOLID), "")];
    for (curve, stroke) in curves.iter().zip(STROKES) {
        let points = curve
            .rise_mm
            .iter()
            .copied()
            .zip(curve.energy_mj.iter().copied());
        let points: Vec<Datum> = points.collect();
        let stands = |rise: &f64| {
            let shown = points.iter().filter(|p| y.contains(p.1));
            shown
                .min_by(|a, b| (a.0 - rise).abs().total_cmp(&(b.0 - rise).abs()))
                .map(|at| Mark::new(*at, Shape::Disc(15), stroke.colour).into())
        };
        items.extend(curve.stands_at_mm.iter().filter_map(stands));
        let text = format!(
            "{}, {}",
            words::snap_moment(curve.moment),
            celsius(Some(curve.temperature_c), 0)
        );
        items.push(Line::new(points, stroke).named(text).into());
    }
    let x = Axis::airy(word!("Rise of the middle, mm"), rises, 6, 0.0);
    Panel::new(x, y, items).captioned(word!("Energy: a dot lies where it stands"))
}

fn branches(snap: &SnapPicture) -> Panel {
    let points = &snap.branches;
    let rises = points
        .iter()
        .flat_map(|p| [p.closed_mm, p.unstable_mm, p.snapped_mm])
        .flatten();
    let temperatures = points.iter().map(|p| p.temperature_c);
    let x = Axis::airy(word!("Temperature, °C"), temperatures, 6, 0.02);
    let y = Axis::airy(word!("Rise of the middle, mm"), rises, 6, 0.10);
    let line = |of: fn(&BranchPoint) -> Option<f64>| -> Vec<Datum> {
        let at = |p: &BranchPoint| (p.temperature_c, of(p).unwrap_or(f64::NAN));
        points.iter().map(at).collect()
    };
    let named = [
        (
            word!("contacts closed"),
            line(|p| p.closed_mm),
            stroke(LAKE, 7, SOLID),
        ),
        (
            word!("topples"),
            line(|p| p.unstable_mm),
            stroke(QUIET, 5, DOTTED),
        ),
        (
            word!("snapped: contacts open"),
            line(|p| p.snapped_mm),
            stroke(MOSS, 7, LONG),
        ),
    ];
    let line = |(name, points, stroke)| Item::from(Line::new(points, stroke).named(name));
    let mut items = vec![Item::level(0.0, stroke(QUIET, 3, SOLID), "")];
    items.extend(named.map(line));
    let through = stroke(EMBER, 5, DASHED);
    let back = stroke(PLUM, 5, DASH_DOT);
    let jumps = [
        (
            Some(snap.trip_temperature_c),
            true,
            word!("snaps through"),
            through,
        ),
        (snap.reset_temperature_c, false, word!("snaps back"), back),
    ];
    for (at, is_through, name, stroke) in jumps {
        let Some((at, (from, to))) = at.and_then(|at| Some((at, jump(points, at, is_through)?)))
        else {
            continue;
        };
        let text = say!("{name} at {}", celsius(Some(at), 0); name);
        let mut arrow = Line::new(vec![(at, from), (at, to)], stroke).named(text);
        arrow.is_arrow = true;
        items.push(arrow.into());
    }
    Panel::new(x, y, items).captioned(word!("Hysteresis: where it can stand"))
}

/// From where to where it jumps at a temperature.
fn jump(points: &[BranchPoint], at: f64, is_through: bool) -> Option<(f64, f64)> {
    let near = |of: fn(&BranchPoint) -> Option<f64>| {
        points
            .iter()
            .filter_map(|p| of(p).map(|v| ((p.temperature_c - at).abs(), v)))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .map(|(_, v)| v)
    };
    let (closed, snapped) = (near(|p| p.closed_mm)?, near(|p| p.snapped_mm)?);
    Some(if is_through {
        (closed, snapped)
    } else {
        (snapped, closed)
    })
}
