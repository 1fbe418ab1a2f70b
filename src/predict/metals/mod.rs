//! What is known of the metals, carried to the answers.
//!
//! Each property is moved up and down within what is known of it, and the main answers are asked
//! again; slopes and bends of their logarithms then give any number of draws (properties independent
//! of each other, lognormal, alike in all layers of one alloy). The time to trip is drawn through the
//! trip point: a draw that holds the load for ever is one. `tests/engine/metals.rs` holds this to
//! draws that the engine answered one by one.

mod asked;
mod unknown;

use super::case::Case;
use super::fidelity::Fidelity;
use super::{PredictError, parallel};
use crate::answer::{DataBand, DataShare, Known, MetalData};
use crate::scenario::{Before, Scenario};
use crate::statistics::{StatisticsError, normal, sobol::SobolSequence};
use asked::{Answers, Asked, READY, RELATCH, TRIP_POINT, TRIP_TIME};
use unknown::Unknown;

/// How far a property is moved, in standard deviations of its logarithm: about the reach of the
/// middle nine tenths.
const MOVED: f64 = 1.5;
/// Draws of a quasi-random sequence. What chance leaves in their quantiles is taken out by what it does
/// to straight lines, whose quantiles are known.
const DRAWS: u64 = 1024;
/// Of its scrambling; any other gives as good an answer.
const SEED: u64 = 15;

/// What the nominal part was found to do.
pub(super) struct Nominal {
    pub trip_point_a: Option<f64>,
    pub trips: bool,
    /// Whether something else than the relatch governs the wait before a start.
    pub start_governs: bool,
    pub fidelity: Fidelity,
}

/// What the metals' data leave open of a scenario's answers.
///
/// # Errors
/// A setting of the metals that cannot be computed.
pub(super) fn metal_data(
    scenario: &Scenario,
    case: &Case,
    nominal: &Nominal,
) -> Result<MetalData, PredictError> {
    let asked = Asked {
        case,
        fidelity: nominal.fidelity,
        nominal_a: nominal.trip_point_a,
        trips: nominal.trips,
        load_a: scenario.load.only_a().filter(|_| case.ambient.len() == 1),
        starts: nominal.start_governs,
    };
    let unknown = Unknown::of(scenario);
    let mut settings = vec![scenario.clone()];
    for one in &unknown {
        settings.extend([-MOVED, MOVED].map(|z| one.moved(scenario, z)));
    }
    let found = parallel::map(&settings, |s| asked.of(s), &mut |_| {});
    let found: Vec<Answers> = found.into_iter().collect::<Result<_, _>>()?;
    let response = Response::of(&unknown, &found);
    Ok(response
        .data(&asked, scenario)
        .unwrap_or_else(|_| response.nothing()))
}

/// Logarithms of the answers against the deviations of each property: a parabola each.
struct Response<'a> {
    unknown: &'a [Unknown],
    middle: Answers,
    /// Slope and bend of every property.
    terms: Vec<[Answers; 2]>,
}

impl<'a> Response<'a> {
    fn of(unknown: &'a [Unknown], found: &[Answers]) -> Response<'a> {
        let middle = found[0];
        let term = |pair: &[Answers]| {
            let each = |f: &dyn Fn(f64, f64, f64) -> f64| {
                std::array::from_fn(|n| f(pair[0][n], middle[n], pair[1][n]))
            };
            [
                each(&|low, _, high| (high - low) / (2.0 * MOVED)),
                each(&|low, at, high| (high + low - 2.0 * at) / (2.0 * MOVED * MOVED)),
            ]
        };
        Response {
            unknown,
            middle,
            terms: found[1..].chunks_exact(2).map(term).collect(),
        }
    }

    fn at(&self, deviations: &[f64]) -> Answers {
        std::array::from_fn(|n| {
            let moved = self.terms.iter().zip(deviations);
            moved.fold(self.middle[n], |sum, ([slope, bend], z)| {
                sum + z * (slope[n] + z * bend[n])
            })
        })
    }

    fn nothing(&self) -> MetalData {
        MetalData {
            properties: self.unknown.len(),
            holds_share: None,
            trip_time_s: Known::NotAsked,
            trip_point_a: Known::NotAsked,
            relatch_wait_s: Known::NotAsked,
            ready_wait_s: Known::NotAsked,
        }
    }

    fn data(&self, asked: &Asked<'_>, scenario: &Scenario) -> Result<MetalData, StatisticsError> {
        let mut data = self.nothing();
        if self.unknown.is_empty() {
            return Ok(data);
        }
        let points = SobolSequence::scrambled(self.unknown.len(), SEED)?;
        let score = |point, k| normal::quantile(points.coordinate(point, k));
        let through_held = self.through_held(asked);
        let mut draws: [Draws; 4] = Default::default();
        let mut holds = 0;
        for point in 0..DRAWS {
            let deviations: Vec<f64> = (0..self.unknown.len()).map(|k| score(point, k)).collect();
            let mut one = self.at(&deviations).map(f64::exp);
            if let Some(load_a) = asked.load_a {
                let pace = asked.pace(load_a, one[TRIP_POINT]);
                one[TRIP_TIME] *= pace;
                holds += u32::from(pace.is_infinite());
            }
            for n in 0..4 {
                draws[n].answers.push(one[n]);
                let slopes = self
                    .terms
                    .iter()
                    .map(|t| self.straight(&t[0], n, through_held));
                let line = slopes.zip(&deviations).map(|(slope, z)| slope * z).sum();
                draws[n].lines.push(line);
            }
        }
        let mut band = |n: usize| self.band(n, &mut draws[n], through_held);
        data.trip_point_a = band(TRIP_POINT);
        data.trip_time_s = band(TRIP_TIME);
        data.relatch_wait_s = band(RELATCH);
        data.ready_wait_s = band(READY);
        let starts_below = scenario.before == Before::Cold || asked.trips;
        if asked.load_a.is_some() && starts_below && !self.middle[TRIP_POINT].is_nan() {
            data.holds_share = Some(f64::from(holds) / DRAWS as f64);
        }
        Ok(data)
    }

    /// Slope of the logarithm of the pace against that of the trip point, at the nominal part.
    fn through_held(&self, asked: &Asked<'_>) -> f64 {
        let held_a = self.middle[TRIP_POINT].exp();
        asked.load_a.map_or(0.0, |load_a| {
            let step = 1e-4;
            let pace = |by: f64| asked.pace(load_a, held_a * by).ln();
            let slope = (pace(1.0 + step) - pace(1.0 - step)) / (2.0 * step);
            if slope.is_finite() { slope } else { 0.0 }
        })
    }

    /// A term of an answer's logarithm; the trip time's with what it adds through the trip point.
    fn straight(&self, term: &Answers, n: usize, through_held: f64) -> f64 {
        match n {
            TRIP_TIME if through_held != 0.0 => term[n] + through_held * term[TRIP_POINT],
            _ => term[n],
        }
    }

    fn band(&self, n: usize, draws: &mut Draws, through_held: f64) -> Known {
        if self.middle[n].is_nan() {
            return Known::NotAsked;
        }
        if let Some(k) = self.terms.iter().position(|t| t[1][n].is_nan()) {
            let by = self.unknown[k].source.clone();
            return Known::Undecided { by };
        }
        let of = |term: &Answers| self.straight(term, n, through_held).powi(2);
        let (mut straight, mut variances) = (0.0, Vec::new());
        for [slope, bend] in &self.terms {
            straight += of(slope);
            variances.push(of(slope) + 2.0 * of(bend));
        }
        let [low, high] = draws.ends(straight.sqrt());
        let all: f64 = variances.iter().sum();
        let mut shares: Vec<DataShare> = (self.unknown.iter().zip(variances))
            .map(|(one, variance)| DataShare {
                source: one.source.clone(),
                share: if all > 0.0 { variance / all } else { 0.0 },
            })
            .collect();
        shares.sort_by(|a, b| b.share.total_cmp(&a.share));
        Known::Within(DataBand {
            low,
            high: Some(high).filter(|x| x.is_finite()),
            shares,
        })
    }
}

/// Draws of one answer, and of the straight line that it nearly is.
#[derive(Default)]
struct Draws {
    answers: Vec<f64>,
    lines: Vec<f64>,
}

impl Draws {
    /// 5 % and 95 % of the answers. Where the line spreads about as they do, what chance did to its
    /// quantiles, which are those of a normal distribution, is taken from theirs.
    fn ends(&mut self, line_deviation: f64) -> [f64; 2] {
        let at = |all: &mut Vec<f64>| {
            all.sort_by(f64::total_cmp);
            [0.05, 0.95].map(|p| all[(p * (all.len() - 1) as f64).round() as usize])
        };
        let (answers, lines) = (at(&mut self.answers), at(&mut self.lines));
        let alike = (answers[1] / answers[0]).ln() / (lines[1] - lines[0]);
        if !(0.5..2.0).contains(&alike) {
            return answers;
        }
        let known = [0.05, 0.95].map(|p| line_deviation * normal::quantile(p));
        std::array::from_fn(|k| answers[k] * (known[k] - lines[k]).exp())
    }
}
