//! What a pupil plots: a few points by hand, beside the curve of the full model.

use super::{LessonError, Level};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::predict::{TripPointAnswer, trip_point};
use crate::study::by_hand::unit::{CELSIUS, MM, Unit};
use crate::study::by_hand::{Explanation, Expression, Full, Quantity, Step, evaluated};

/// Points that are computed by hand.
const BY_HAND: usize = 4;
/// Points of the full model's curve.
const FULL: usize = 9;

/// A plot to complete.
#[derive(Debug, Clone, PartialEq)]
pub struct Graph {
    /// Symbol of the horizontal axis.
    pub x_symbol: &'static str,
    /// Its unit.
    pub x_unit: Unit,
    /// Symbol of the vertical axis.
    pub y_symbol: &'static str,
    /// Its unit.
    pub y_unit: Unit,
    /// By hand, in order.
    pub points: Vec<Point>,
    /// The full model's curve, SI.
    pub full: Vec<(f64, f64)>,
    /// A height that matters: where it releases.
    pub level: Option<Quantity>,
}

/// A point by hand.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// Where it lies, SI.
    pub x_si: f64,
    /// The step that gives its height.
    pub step: Step,
}

/// What differs from one plot to another.
pub(super) struct Kind<'f> {
    pub(super) x: (&'static str, Unit),
    pub(super) y: (&'static str, Unit),
    /// Formula of a point, of quantities of the explanation and of x.
    pub(super) formula: &'static str,
    /// Symbols written otherwise: (from, to).
    pub(super) names: &'f [(&'f str, &'f str)],
    pub(super) source: &'static str,
}

impl Graph {
    /// The plot of a level; `None` where the explanation lacks what it needs.
    pub(super) fn of(
        level: Level,
        explanation: &Explanation,
        full: &Full<'_>,
    ) -> Result<Option<Graph>, LessonError> {
        Ok(match level {
            Level::Curvature => deflection(explanation, full),
            Level::Heating => warming(explanation, full),
            Level::Preload => drift(explanation, full)?,
            Level::Bench => None,
        })
    }

    /// The full model at a place, between its points; `None` beyond them.
    pub fn full_at(&self, x_si: f64) -> Option<f64> {
        let near = self.full.windows(2).find(|w| {
            let [a, b] = [w[0].0, w[1].0];
            a <= x_si && x_si <= b && a < b
        })?;
        let share = (x_si - near[0].0) / (near[1].0 - near[0].0);
        Some(near[0].1 + share * (near[1].1 - near[0].1))
    }

    /// The steps of its points.
    pub(super) fn steps(&self) -> Vec<&Step> {
        self.points.iter().map(|p| &p.step).collect()
    }
}

impl Kind<'_> {
    pub(super) fn graph(
        &self,
        explanation: &Explanation,
        at: impl IntoIterator<Item = f64>,
        full: Vec<(f64, f64)>,
        level: Option<Quantity>,
    ) -> Option<Graph> {
        let tree = Expression::read(self.formula)?.renamed(self.names);
        let known = explanation.quantities().into_iter().cloned();
        let known: Vec<Quantity> = known.filter(|q| q.symbol != self.x.0).collect();
        let point = |x_si: f64| {
            let x = Quantity {
                symbol: self.x.0.to_owned(),
                value_si: x_si,
                unit: self.x.1,
            };
            let known = [known.as_slice(), &[x]].concat();
            let mut step = evaluated(self.y.0, tree.clone(), self.source, &known).ok()?;
            step.result.unit = self.y.1;
            Some(Point { x_si, step })
        };
        let points = at.into_iter().map(point).collect::<Option<Vec<_>>>()?;
        let full: Vec<(f64, f64)> = full
            .into_iter()
            .filter(|(x, y)| x.is_finite() && y.is_finite())
            .collect();
        Some(Graph {
            x_symbol: self.x.0,
            x_unit: self.x.1,
            y_symbol: self.y.0,
            y_unit: self.y.1,
            points,
            full,
            level,
        })
    }
}

/// From 0 to 1 in equal steps.
fn shares(count: usize) -> impl Iterator<Item = f64> {
    (0..count).map(move |k| k as f64 / (count - 1) as f64)
}

/// Where the strip pushes stands for its length.
pub(super) fn at_push<'a>(full: &Full<'_>) -> &'a [(&'a str, &'a str)] {
    match (full.device.push_point_m - full.device.length_m).abs() > 1e-12 {
        true => &[("L", "x_P")],
        false => &[],
    }
}

/// How far the end moves, or the curvature of a blade, against the temperature of the whole strip.
fn deflection(explanation: &Explanation, full: &Full<'_>) -> Option<Graph> {
    let laws = &full.device.laws;
    let flat_k = laws.flat_temperature_k;
    let release_k = explanation.step("T_rel")?.result.value_si;
    // Round temperatures from the flat strip to a little beyond release.
    let step_k = (((release_k - flat_k) * 1.15 / BY_HAND as f64) / 5.0).ceil() * 5.0;
    let model = &full.warm()?.model;
    let is_bent = laws.initial_curvature_per_m != 0.0;
    let kind = match full.device.release.mechanism.latch() {
        Some(_) => Kind {
            x: ("T", CELSIUS),
            y: ("d", MM),
            formula: match is_bent {
                false => "F L^2 (T - T_flat) / (2 h)",
                true => "L^2 / 2 (kappa_0 + F (T - T_flat) / h)",
            },
            names: at_push(full),
            source: "the tip formula with the flexivity",
        },
        None => Kind {
            x: ("T", CELSIUS),
            y: ("kappa", Unit::of("1/m", 1.0)),
            formula: match is_bent {
                false => "F (T - T_flat) / h",
                true => "kappa_0 + F (T - T_flat) / h",
            },
            names: &[],
            source: "definition of the flexivity",
        },
    };
    let of_model = |k: f64| match kind.y.0 {
        "d" => model.free_deflection_m(&model.uniform(k), 0.0),
        _ => laws.bend(k).curvature_per_m,
    };
    let at = (1..=BY_HAND).map(|k| flat_k + k as f64 * step_k);
    let last_k = flat_k + BY_HAND as f64 * step_k;
    let curve = shares(FULL).map(|share| flat_k + share * (last_k - flat_k));
    let curve = curve.map(|k| (k, of_model(k))).collect();
    let level = explanation.quantities().into_iter();
    let mut level = level.filter(|q| q.symbol == "d_rel" || q.symbol == "kappa_rel");
    let level = level.next().cloned();
    kind.graph(explanation, at, curve, level)
}

/// The mean rise of the strip against time, as one temperature with one time constant.
fn warming(explanation: &Explanation, full: &Full<'_>) -> Option<Graph> {
    let trip_s = explanation.step("t_far")?.result.value_si;
    let is_warm = explanation
        .quantities()
        .iter()
        .any(|q| q.symbol == "theta_0");
    let kind = Kind {
        x: ("t", Unit::of("s", 1.0)),
        y: ("theta_t", Unit::of("K", 1.0)),
        formula: match is_warm {
            false => "theta_far (1 - exp(-t / tau_far))",
            true => "theta_far - (theta_far - theta_0) exp(-t / tau_far)",
        },
        names: &[],
        source: "heat balance of one body; any heat transfer textbook",
    };
    let at = [0.25, 0.5, 0.75, 1.0].map(|share| digits(share * 1.2 * trip_s, 2));
    let series = full.outcome.series.iter().filter(|s| s.closed);
    let curve = series.map(|s| (s.time_s, s.strip_mean_c + ZERO_CELSIUS_K - full.air_k));
    let level = explanation.step("theta").map(|s| s.result.clone());
    kind.graph(explanation, at, curve.collect(), level)
}

/// By how much the trip point moves against the preload lost.
fn drift(explanation: &Explanation, full: &Full<'_>) -> Result<Option<Graph>, LessonError> {
    let now = full.device.release.preload_loss;
    let lost = [10.0, 20.0, 30.0, 40.0].into_iter();
    let lost: Vec<f64> = lost.filter(|p| now + 0.01 * p < 0.9).collect();
    let Some(point) = &full.point else {
        return Ok(None);
    };
    let scenario = full.scenario;
    let mut curve = vec![(0.0, 0.0)];
    for percent in &lost {
        let worn = full.device.with_loss(now + 0.01 * percent);
        let worn = worn.map_err(crate::predict::PredictError::from)?;
        let rated_a = scenario.protector.rated_current_a;
        let found = trip_point(&worn, full.air_k, rated_a, scenario.ask.accuracy)?;
        if let TripPointAnswer::At {
            current_a: worn_a, ..
        } = found.value
        {
            curve.push((*percent, worn_a - point.current_a));
        }
    }
    let kind = Kind {
        x: ("p_l", Unit::of("%", 1.0)),
        y: ("DeltaI", Unit::of("mA", 1e-3)),
        formula: "DeltaI_P p_l",
        names: &[],
        source: "a straight line: the change for each percent, times the percent",
    };
    Ok(kind.graph(explanation, lost, curve, None))
}

/// Rounded to significant digits.
pub(super) fn digits(value: f64, count: usize) -> f64 {
    let written = format!("{value:.*e}", count.max(1) - 1);
    written.parse().unwrap_or(value)
}
