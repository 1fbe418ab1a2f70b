//! What one fitted part does at everything that is published.

use crate::family::{AirRow, Carries, Drawn, Family, Nameplate, Opened, Part, Wear};
use crate::load::Programme;

/// Relative spread with which a part may miss a window from hot.
const WINDOW_EDGE: f64 = 0.05;
/// Least relative spread about a point, as from cold.
const LEAST_SPREAD: f64 = 0.05;

/// Behaviour of one part.
#[derive(Debug, Clone)]
pub(super) struct Behaviour {
    /// Trip times at the windows, then at the points, s; infinite: holds; 0: tripped in the load before.
    pub trip_s: Vec<f64>,
    /// Logarithm of what the hot windows and points say (at most 0).
    pub hot: f64,
    /// Wait for relatch after a cold trip at twice the rating, s; infinite: never.
    pub reset_s: f64,
    /// Resistance at the reference air, ohm.
    pub resistance_ohm: f64,
    /// Usable current at the air rows over that at the reference air; `None`: none.
    pub usable: Vec<Option<f64>>,
}

/// A place of a drawn member.
pub(super) fn place(family: &Family, drawn: Drawn) -> Part {
    Part::new(
        &family.members()[drawn.member],
        drawn.placing,
        Wear::NONE,
        family.nameplate().rated_current_a,
        1.0,
    )
}

pub(super) fn behaviour(family: &Family, drawn: Drawn, rows: &[AirRow]) -> Behaviour {
    let plate = family.nameplate();
    let part = place(family, drawn);
    let air = [(0.0, plate.reference_ambient_k)];
    let time = |multiple: f64, after: f64| {
        if after > 0.0 {
            from_hot(&part, &air, plate.rated_current_a, multiple, after)
        } else {
            family.cold_trip_s(drawn, multiple)
        }
    };
    let windows = plate.windows.iter().map(|w| (w.multiple, w.after_multiple));
    let points = plate.points.iter().map(|p| (p.multiple, p.after_multiple));
    let trip_s: Vec<f64> = windows.chain(points).map(|(m, a)| time(m, a)).collect();
    let load = Programme::constant(2.0 * plate.rated_current_a);
    let reset_s = Opened::from_cold(&part, &air, &load)
        .and_then(|(_, opened)| opened.relatch_s())
        .unwrap_or(f64::INFINITY);
    let reference_a = drawn.placing.trip_multiple * plate.rated_current_a;
    Behaviour {
        hot: hot(plate, &trip_s),
        reset_s,
        resistance_ohm: part.resistance_ohm(plate.reference_ambient_k),
        usable: rows
            .iter()
            .map(|r| part.trip_point_a(r.ambient_k).map(|a| a / reference_a))
            .collect(),
        trip_s,
    }
}

/// Trip time after a steady load, s.
fn from_hot(part: &Part, air: &[(f64, f64)], rated_a: f64, multiple: f64, after: f64) -> f64 {
    let Some(mut run) = part.hot(air, after * rated_a) else {
        return 0.0;
    };
    match run.carry(&Programme::constant(multiple * rated_a), 1e6) {
        Some(Carries::Trips(t)) => t,
        _ => f64::INFINITY,
    }
}

/// Logarithm of what the hot windows and points say of trip times in the order of [`Behaviour::trip_s`].
fn hot(plate: &Nameplate, trip_s: &[f64]) -> f64 {
    let (windows, points) = trip_s.split_at(plate.windows.len());
    let mut sum = 0.0;
    for (w, t) in plate.windows.iter().zip(windows) {
        if w.after_multiple > 0.0 {
            let early = miss(w.at_least_s, *t).max(0.0);
            let late = miss(*t, w.at_most_s).max(0.0);
            sum -= 0.5 * ((early + late) / WINDOW_EDGE).min(30.0).powi(2);
        }
    }
    for (p, t) in plate.points.iter().zip(points) {
        if p.after_multiple > 0.0 {
            let spread = p.relative.max(LEAST_SPREAD);
            sum -= 0.5 * (miss(*t, p.time_s) / spread).clamp(-30.0, 30.0).powi(2);
        }
    }
    sum
}

/// `ln(a / b)`, large and finite where one is none or infinite; equal infinities are no miss.
fn miss(a: f64, b: f64) -> f64 {
    match (a.is_infinite(), b.is_infinite()) {
        (true, true) => 0.0,
        (true, false) => 100.0,
        (false, true) => -100.0,
        (false, false) => (a.max(1e-9) / b.max(1e-9)).ln(),
    }
}
