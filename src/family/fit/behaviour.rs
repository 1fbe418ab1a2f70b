//! What one fitted part does at everything that is published.

use crate::family::{AirRow, Carries, Drawn, Family, Nameplate, Opened, Part, Wear};
use crate::load::Programme;

/// Relative spread with which a simulated part may miss a window; that from cold is kept by
/// interpolation already.
const WINDOW_EDGE: f64 = 0.05;
/// Least relative spread about a point, as from cold.
pub(super) const LEAST_SPREAD: f64 = 0.05;

/// Behaviour of one part.
#[derive(Debug, Clone)]
pub(super) struct Behaviour {
    /// Trip times at the windows, then at the points, s; infinite: holds; 0: tripped in the load
    /// before.
    pub trip_s: Vec<f64>,
    /// Logarithm of what the simulated times say beyond the density that was drawn from: windows,
    /// hot points, and cold points where the simulation differs from the characteristic
    /// interpolated for the draws.
    pub beyond: f64,
    /// Wait for relatch after a cold trip at twice the rating, s; infinite: never.
    pub reset_s: f64,
    /// Resistance at the reference air, ohm.
    pub resistance_ohm: f64,
    /// Usable current at the air rows over that at the reference air; `None`: none.
    pub usable: Vec<Option<f64>>,
}

/// A drawn member, placed, for events as soon as a time, s.
pub(super) fn place(family: &Family, drawn: Drawn, shortest_s: f64) -> Part {
    Part::new(
        &family.members()[drawn.member],
        drawn.placing,
        Wear::NONE,
        family.nameplate().rated_current_a,
        shortest_s,
    )
}

pub(super) fn behaviour(family: &Family, drawn: Drawn, rows: &[AirRow]) -> Behaviour {
    let plate = family.nameplate();
    let air = [(0.0, plate.reference_ambient_k)];
    let windows = plate.windows.iter().map(|w| (w.multiple, w.after_multiple));
    let points = plate.points.iter().map(|p| (p.multiple, p.after_multiple));
    let asked: Vec<(f64, f64)> = windows.chain(points).collect();
    let interpolated: Vec<f64> = asked
        .iter()
        .map(|(multiple, _)| family.cold_trip_s(drawn, *multiple))
        .collect();
    // From hot it may take a third of the time from cold.
    let shortest_s = interpolated.iter().copied().fold(3.0, f64::min) / 3.0;
    let part = place(family, drawn, shortest_s);
    let trip_s: Vec<f64> = asked
        .iter()
        .map(|(multiple, after)| trip_time_s(&part, &air, plate.rated_current_a, *multiple, *after))
        .collect();
    let load = Programme::constant(2.0 * plate.rated_current_a);
    let reset_s = Opened::from_cold(&part, &air, &load)
        .and_then(|(_, opened)| opened.relatch_s())
        .unwrap_or(f64::INFINITY);
    let reference_a = drawn.placing.trip_multiple * plate.rated_current_a;
    Behaviour {
        beyond: beyond(plate, &trip_s, &interpolated),
        reset_s,
        resistance_ohm: part.resistance_ohm(plate.reference_ambient_k),
        usable: rows
            .iter()
            .map(|r| part.trip_point_a(r.ambient_k).map(|a| a / reference_a))
            .collect(),
        trip_s,
    }
}

/// Trip time from cold or after a steady load, s; infinite: holds; 0: tripped in the load before.
fn trip_time_s(part: &Part, air: &[(f64, f64)], rated_a: f64, multiple: f64, after: f64) -> f64 {
    let run = if after > 0.0 {
        part.hot(air, after * rated_a)
    } else {
        Some(part.cold(air))
    };
    let Some(mut run) = run else {
        return 0.0;
    };
    match run.carry(&Programme::constant(multiple * rated_a), 1e6) {
        Some(Carries::Trips(t)) => t,
        _ => f64::INFINITY,
    }
}

/// See [`Behaviour::beyond`]; times in the order of [`Behaviour::trip_s`].
fn beyond(plate: &Nameplate, trip_s: &[f64], interpolated: &[f64]) -> f64 {
    let (windows, points) = trip_s.split_at(plate.windows.len());
    let cold = &interpolated[plate.windows.len()..];
    let mut sum = 0.0;
    for (w, t) in plate.windows.iter().zip(windows) {
        let early = miss(w.at_least_s, *t).max(0.0);
        let late = miss(*t, w.at_most_s).max(0.0);
        sum -= 0.5 * ((early + late) / WINDOW_EDGE).min(30.0).powi(2);
    }
    for ((p, t), drawn_from) in plate.points.iter().zip(points).zip(cold) {
        let spread = p.relative.max(LEAST_SPREAD);
        let weigh = |t: f64| 0.5 * (miss(t, p.time_s) / spread).clamp(-30.0, 30.0).powi(2);
        sum -= weigh(*t);
        if p.after_multiple == 0.0 {
            sum += weigh(*drawn_from);
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
