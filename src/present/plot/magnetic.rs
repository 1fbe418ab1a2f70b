//! The instantaneous element on a characteristic: the earliest and the latest time to clear, and
//! its published band.

use super::log_log::is_positive;
use crate::predict::{ClosingLaw, MagneticAnswer, OpeningTime};
use crate::present::chart::style::*;
use crate::present::chart::{Bar, Datum, Foot, Item, Line, Mark, Shape, Side};
use crate::present::number::{percent, significant};
use crate::present::words;

/// Currents drawn, up to this multiple of the rms pick-up.
const DRAWN_UP_TO: f64 = 3.0;
/// A band ends where it is joined to the strip's, s.
const JOINED_AT_S: f64 = 0.1;

/// Currents, A, and times, s, that the axes must hold.
pub(super) fn extent(answer: &MagneticAnswer, rated_a: f64) -> Vec<Datum> {
    let points = earliest(answer).into_iter().chain(latest(answer));
    let band = answer.band.iter().flat_map(|check| check.multiples);
    points
        .chain(band.map(|m| (m * rated_a, JOINED_AT_S)))
        .chain(own(answer).map(|(at, _)| at))
        .collect()
}

/// The band below, the lines above it; `bottom_s` is where the axis begins.
pub(super) fn items(answer: &MagneticAnswer, rated_a: f64, bottom_s: f64) -> Vec<Item> {
    let mut items = Vec::new();
    if let Some(check) = &answer.band {
        let [low, high] = check.multiples.map(|m| m * rated_a);
        let mut bar = Bar::ground([(low, bottom_s), (high, JOINED_AT_S)], fill(PLUM, 0.12));
        bar.border = Some(stroke(PLUM, 3, DOTTED));
        items.push(bar.into());
        let text = say!("{}: may open", words::band_name(check.band));
        // In the corner: the lines run below.
        let at = (low * 1.04, JOINED_AT_S * 0.7);
        items.push(Item::small(at, text, PLUM, Side::Right));
    }
    let lines = [
        (
            earliest(answer),
            word!("instantaneous, earliest"),
            stroke(MOSS, 6, SOLID),
        ),
        (latest(answer), word!("latest"), stroke(MOSS, 4, DASHED)),
    ];
    let lines = lines.into_iter().filter(|(points, ..)| points.len() > 1);
    items.extend(lines.map(|(points, name, stroke)| Line::new(points, stroke).named(name).into()));
    items.extend(own(answer).map(|(at, text)| Mark::new(at, Shape::Ring, INK).named(text).into()));
    items
}

/// What a reader must know of these lines.
pub(super) fn notes(answer: &MagneticAnswer) -> Vec<Foot> {
    let band = answer.band.as_ref().map(|check| {
        Foot::Note(format!(
            "{} {}",
            words::band_name(check.band),
            words::band(check)
        ))
    });
    let lines = word!(
        "Earliest: at the closing angle that clears first; latest: drawn from where every angle releases."
    );
    let left_out = Foot::Note(format!("{lines} {}", words::neglected()));
    band.into_iter().chain([left_out]).collect()
}

/// What the closing of the scenario does, where it is as the lines are: alternating, and some angle
/// releases.
fn own(answer: &MagneticAnswer) -> Option<(Datum, String)> {
    let closing = &answer.closing;
    let is_rms = closing.law == ClosingLaw::Alternating;
    let first_s = closing.earliest_s.filter(|t| is_rms && is_positive(*t))?;
    let (size, share) = (significant(closing.size_a, 3), percent(closing.probability));
    let text = say!("this closing: {size} A, opens in {share}"; size, share);
    Some(((closing.size_a, first_s), text))
}

fn earliest(answer: &MagneticAnswer) -> Vec<Datum> {
    points(answer, |row| row.earliest_s)
}

/// Below it some angle does not release at all.
fn latest(answer: &MagneticAnswer) -> Vec<Datum> {
    points(answer, |row| {
        row.latest_s.filter(|_| row.probability >= 1.0)
    })
}

fn points(answer: &MagneticAnswer, time: impl Fn(&OpeningTime) -> Option<f64>) -> Vec<Datum> {
    let most_a = answer.pick_up_rms_a.unwrap_or(0.0) * DRAWN_UP_TO;
    let rows = answer.opening.iter().filter(|row| row.current_a <= most_a);
    rows.filter_map(|row| Some((row.current_a, time(row).filter(|t| is_positive(*t))?)))
        .collect()
}
