//! What is asked of every unit of a population, and what the answers are held against.

use super::DemandFrom;
use super::design::Points;
use super::inputs::Inputs;
use super::surrogate::{Surrogate, SurrogateRecord};
use super::{Settings, VaryError};
use crate::device::Device;
use crate::load::{Current, Programme, Repeat};
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::predict::{
    ACCURACY, Air, Amperes, Carry, Examiner, Finding, Once, Questions, Setting, examine_alone,
    turned,
};
use crate::scenario::{Before, Scenario};
use crate::standards::{Limit, PublishedLimits};
use crate::statistics::sobol::SobolSequence;

/// Currents of the bands.
const BANDS: usize = 10;
/// Excess of the lowest band's current over the nominal trip point.
const LEAST_EXCESS: f64 = 0.10;
/// Largest current of the bands, in multiples of the rating.
const MOST_MULTIPLE: f64 = 10.0;
/// Standard deviations that own airs are expected within.
const AIR_REACH: f64 = 5.0;

/// What the load demands of a unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Demand {
    /// Later than this, or never, fails to protect, s; `None`: there is nothing to protect from.
    pub trips_within_s: Option<f64>,
    /// Sooner than this is a nuisance, s; infinite: any trip is.
    pub holds_for_s: Option<f64>,
    /// Where the two come from.
    pub from: DemandFrom,
}

/// One row of published limits and the number of its carry.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LimitRow {
    /// The row.
    pub limit: Limit,
    /// Number of its carry.
    pub carry: usize,
    /// Whether the nominal unit misses it: what every unit does says nothing of their spread.
    pub missed: bool,
}

/// Everything that is asked of every unit.
pub struct Plan {
    /// The scenario.
    pub scenario: Scenario,
    /// What was asked for.
    pub settings: Settings,
    /// What differs.
    pub inputs: Inputs,
    /// Points of the population.
    pub points: Points,
    /// Points of the sensitivity analysis.
    pub rows: Option<SobolSequence>,
    /// The questions.
    pub questions: Questions,
    /// Number of the air at which the trip point and the bands are stated.
    pub stated_air: usize,
    /// That air, K.
    pub stated_air_k: f64,
    /// Carries of the bands: number and current, A.
    pub bands: Vec<(usize, f64)>,
    /// The table of limits, if the scenario names one.
    pub table: Option<&'static PublishedLimits>,
    /// Its rows.
    pub limits: Vec<LimitRow>,
    /// What the load demands.
    pub demand: Demand,
    /// The nominal unit's answers.
    pub nominal: Finding,
    /// Asks units side by side, where that is possible.
    pub examiner: Option<Examiner>,
    /// Asks them one by one where it is not.
    pub once: Option<Once>,
    /// Airs that units' own lie within, K.
    pub own_air_k: (f64, f64),
    /// Polynomials in the engine's place, where they hold.
    pub surrogate: Option<Surrogate>,
    /// What was found of them, where they were asked for.
    pub surrogate_record: Option<SurrogateRecord>,
}

impl Plan {
    /// Plan the population of a scenario.
    ///
    /// # Errors
    /// Nothing varies, an impossible tolerance, or the nominal unit cannot be computed.
    pub fn new(scenario: &Scenario, settings: &Settings) -> Result<Plan, VaryError> {
        let mut scenario = turned(scenario)?.into_owned();
        scenario.history.clear();
        let inputs = Inputs::of(&scenario)?;
        let points = Points::new(settings, inputs.len())?;
        let rows = if settings.sensitivity_rows > 0 {
            Some(super::design::row_points(settings, inputs.len())?)
        } else {
            None
        };
        let rated_a = scenario.protector.rated_current_a;
        let stated_air_k = scenario
            .surroundings
            .ambient
            .first()
            .map_or(293.15, |p| p.1);
        let varies_air = inputs.list.iter().any(|i| i.path == "surroundings.ambient");
        let mut airs = vec![Air::Own];
        let air = |wanted: f64, airs: &mut Vec<Air>| -> usize {
            let is_constant = scenario.surroundings.ambient.len() == 1 && !varies_air;
            if is_constant && wanted == stated_air_k {
                return 0;
            }
            match airs.iter().position(|a| *a == Air::At(wanted)) {
                Some(at) => at,
                None => {
                    airs.push(Air::At(wanted));
                    airs.len() - 1
                }
            }
        };
        let stated_air = air(stated_air_k, &mut airs);
        let before_a = match scenario.before {
            Before::Cold => 0.0,
            Before::Hot { fraction_of_rated } => fraction_of_rated * rated_a,
        };
        let mut carries = vec![Carry {
            current: Amperes::Own,
            air: 0,
            before_a,
            cool: true,
            unequal: None,
        }];
        let setting = scenario.population.setting.map(|s| Setting {
            current_a: s.current_a,
            time_s: s.time_s,
            ambient_k: s.ambient_k,
        });
        let mut questions = Questions {
            setting,
            airs: airs.clone(),
            carries: Vec::new(),
            opening_s: scenario.release.opening_time_s,
        };
        // Where the nominal trip point lies decides which currents are worth asking.
        let first = examine_alone(&scenario, &questions, 1.0, ACCURACY)?;
        if !first.is_set() {
            return Err(VaryError::Setting(format!(
                "[population.setting]: the nominal part cannot be set to trip at {} A after {} s: its clearance would \
                 have to be {:.3} mm",
                setting.map_or(0.0, |s| s.current_a),
                setting.map_or(0.0, |s| s.time_s),
                1e3 * first.clearance_m
            )));
        }
        let device = Device::new(&scenario)
            .map_err(|e| VaryError::Predict(crate::predict::PredictError::Device(e)))?;
        let mut bands = Vec::new();
        let trip_point_a = first.trip_points_a[stated_air];
        if trip_point_a.is_finite() && trip_point_a > 0.0 {
            for current_a in band_currents(trip_point_a, rated_a) {
                bands.push((carries.len(), current_a));
                carries.push(Carry {
                    current: Amperes::Of(current_a),
                    air: stated_air,
                    before_a: 0.0,
                    cool: false,
                    unequal: None,
                });
            }
        }
        let table = scenario.limits();
        let mut limits = Vec::new();
        if let Some(table) = table {
            let (poles, notices) = device.bar();
            for limit in table.rows_for(poles, notices) {
                limits.push(LimitRow {
                    limit,
                    carry: carries.len(),
                    missed: false,
                });
                carries.push(Carry {
                    current: Amperes::Of(limit.multiple * rated_a),
                    air: air(table.air_c(&limit) + ZERO_CELSIUS_K, &mut airs),
                    before_a: limit.after_multiple * rated_a,
                    cool: false,
                    unequal: limit.unequal.map(|_| limit),
                });
            }
        }
        questions.airs = airs;
        questions.carries = carries;
        let demand = demand(&scenario, table);
        let is_constant = constant_load(&scenario.load) && scenario.surroundings.ambient.len() == 1;
        let reach_k = inputs
            .list
            .iter()
            .find(|i| i.path == "surroundings.ambient")
            .map_or(0.0, |i| AIR_REACH * i.deviation);
        let own_air_k = (stated_air_k - reach_k, stated_air_k + reach_k);
        let examiner = if is_constant && inputs.are_served_beside() {
            Examiner::new(&scenario, &device, &questions, own_air_k)?
        } else {
            None
        };
        let nominal = examine_alone(&scenario, &questions, 1.0, ACCURACY)?;
        let once = match is_constant && examiner.is_none() {
            true => Once::new(&scenario, &questions, &nominal)?,
            false => None,
        };
        for row in &mut limits {
            let time_s = nominal.times_s[row.carry];
            row.missed = time_s < row.limit.at_least_s
                || row.limit.at_most_s.is_finite() && time_s > row.limit.at_most_s;
        }
        let mut plan = Plan {
            settings: settings.clone(),
            inputs,
            points,
            rows,
            questions,
            stated_air,
            stated_air_k,
            bands,
            table,
            limits,
            demand,
            nominal,
            examiner,
            once,
            own_air_k,
            surrogate: None,
            surrogate_record: None,
            scenario,
        };
        if settings.surrogate {
            let (surrogate, record) = Surrogate::of(&plan);
            (plan.surrogate, plan.surrogate_record) = (surrogate, Some(record));
        }
        Ok(plan)
    }

    /// How far each value of a unit lies from its middle, in standard deviations.
    pub fn scores(&self, values: &[f64]) -> Vec<f64> {
        let inputs = self.inputs.list.iter().zip(values);
        inputs.map(|(i, v)| (v - i.nominal) / i.deviation).collect()
    }

    /// The current of a unit's own load, where that is constant, A.
    pub fn own_current_a(&self, values: &[f64]) -> f64 {
        let mut own = self.inputs.list.iter().zip(values);
        let drawn = own.find(|(input, _)| input.path == "load.current");
        drawn.map_or(self.scenario.load.last_a(), |(_, a)| *a)
    }

    /// Trip point of a unit at the stated air, A.
    pub fn trip_point_a(&self, finding: &Finding) -> f64 {
        finding.trip_points_a[self.stated_air]
    }
}

/// Evenly spaced in the logarithm of the excess over the trip point.
fn band_currents(trip_point_a: f64, rated_a: f64) -> Vec<f64> {
    let most = (MOST_MULTIPLE * rated_a / trip_point_a - 1.0).max(4.0 * LEAST_EXCESS);
    (0..BANDS)
        .map(|k| {
            let part = k as f64 / (BANDS - 1) as f64;
            trip_point_a * (1.0 + LEAST_EXCESS * libm::pow(most / LEAST_EXCESS, part))
        })
        .collect()
}

fn constant_load(load: &Programme) -> bool {
    load.repeat == Repeat::Once
        && matches!(load.segments.as_slice(), [only] if matches!(only.current, Current::Constant(_)))
}

/// What the file says; else what the published limits say of this load; else the rating.
fn demand(scenario: &Scenario, table: Option<&PublishedLimits>) -> Demand {
    let population = &scenario.population;
    if population.trips_within_s.is_some() || population.holds_for_s.is_some() {
        return Demand {
            trips_within_s: population.trips_within_s,
            holds_for_s: population.holds_for_s,
            from: DemandFrom::Population,
        };
    }
    let rated_a = scenario.protector.rated_current_a;
    // An inrush above the rating is what a start looks like; what is carried in the end decides.
    if scenario.load.rms_a() <= rated_a {
        return Demand {
            trips_within_s: None,
            holds_for_s: Some(f64::INFINITY),
            from: DemandFrom::WithinRating,
        };
    }
    if let Some(table) = table
        && constant_load(&scenario.load)
        && scenario.before == Before::Cold
        && let Some(row) = table.rows.iter().find(|r| {
            r.after_multiple == 0.0
                && r.at_most_s.is_finite()
                && (r.multiple * rated_a - scenario.load.last_a()).abs() < 1e-9 * rated_a
        })
    {
        return Demand {
            trips_within_s: Some(row.at_most_s),
            holds_for_s: (row.at_least_s > 0.0).then_some(row.at_least_s),
            from: DemandFrom::Limits {
                multiple: row.multiple,
            },
        };
    }
    Demand {
        trips_within_s: Some(f64::INFINITY),
        holds_for_s: None,
        from: DemandFrom::AboveRating,
    }
}
