//! Where everything lies in the moving picture: the strip above, temperatures and current below,
//! one column for heating and one for cooling.

use super::super::area::{Area, Point};
use super::super::axis::{Axis, extent};
use super::super::plane::Plane;
use super::super::stretch::Stretch;
use super::super::strip_drawing::{Place, enlarged};
use super::reel::Reel;
use crate::predict::{Outcome, State};
use crate::present::number::finite;

const LEFT: f64 = 200.0;
const RIGHT: f64 = 2340.0;
const STRIP_LENGTH: f64 = 1430.0;
/// Room of the drawn strip.
pub(super) const STAGE: Area = Area::new(60.0, 170.0, 2340.0, 700.0);
const WARMTH: (f64, f64) = (800.0, 1120.0);
const CURRENT: (f64, f64) = (1180.0, 1380.0);

/// One column of panels.
pub(super) struct Column {
    pub(super) is_cooling: bool,
    pub(super) warmth: Plane,
    pub(super) current: Plane,
    stretch: Stretch,
}

impl Column {
    pub(super) fn point(&self, panel: &Plane, state: &State, value: f64) -> Point {
        panel.at(self.stretch.at(state.time_s), value)
    }
}

/// Places and scales.
pub(super) struct Layout {
    pub(super) place: Place,
    pub(super) columns: Vec<Column>,
}

impl Layout {
    pub(super) fn new(outcome: &Outcome, reel: &Reel<'_>) -> Self {
        let states = || reel.shown.iter().map(|s| &s.frame.state);
        let level = finite(outcome.part.trip_temperature_c);
        let warm = states().flat_map(|s| [s.strip_peak_c, s.strip_mean_c, s.ambient_c]);
        let warmth = Axis::airy(word!("Temperature, °C"), warm.chain(level), 5, 0.08);
        let (_, most) = extent(states().map(|s| s.current_a)).unwrap_or((0.0, 1.0));
        let current = Axis::linear(word!("Current, A"), 0.0, 1.25 * most.max(1e-3), 3);
        let times = |cooling: bool| {
            extent(
                states()
                    .zip(&reel.shown)
                    .filter_map(|(s, shown)| (shown.is_cooling == cooling).then_some(s.time_s)),
            )
        };
        let column = |is_cooling, stretch: Stretch, left, right| {
            let x = stretch.axis();
            let panel = |y: &Axis, (top, bottom)| {
                let frame = Area::new(left, top, right, bottom);
                Plane::new(frame, &x, y)
            };
            Column {
                is_cooling,
                warmth: panel(&warmth, WARMTH),
                current: panel(&current, CURRENT),
                stretch,
            }
        };
        let mut columns = Vec::new();
        let (from, to) = times(false).unwrap_or((0.0, 1.0));
        let heating = Stretch::of_load(from, to.max(from + 1e-9));
        match times(true) {
            Some((from, to)) if to > from => {
                let opened = reel.opened_s.unwrap_or(from).min(from);
                let middle = 0.5 * (LEFT + RIGHT);
                columns.push(column(false, heating, LEFT, middle - 30.0));
                let cooling = Stretch::of_cooling(opened, to);
                columns.push(column(true, cooling, middle + 30.0, RIGHT));
            }
            _ => columns.push(column(false, heating, LEFT, RIGHT)),
        }
        Self {
            place: place(outcome, reel),
            columns,
        }
    }
}

fn place(outcome: &Outcome, reel: &Reel<'_>) -> Place {
    let heights = reel
        .shown
        .iter()
        .flat_map(|s| s.frame.shape.y_mm.iter().copied());
    let (low, high) = extent(heights.chain([0.0])).unwrap_or((0.0, 1.0));
    let units_per_mm = STRIP_LENGTH / outcome.part.length_mm.max(1e-6);
    let times = enlarged(high - low, units_per_mm, 70.0, 330.0);
    let middle = 0.5 * (STAGE.top + STAGE.bottom) + 10.0;
    Place {
        origin: (LEFT, middle + 0.5 * (high + low) * units_per_mm * times),
        units_per_mm,
        times,
    }
}
