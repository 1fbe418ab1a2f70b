//! What is asked of every unit of a population, answered for many units side by side or for one alone.
//!
//! A unit's calibration, trip points and trips follow one another on the same register, so that its laws are made
//! polynomials once. What cannot be answered side by side is NaN here and is asked of the unit alone
//! ([`examine_alone`]), which is also the reference that the answers side by side are held against.

use super::case::Case;
use super::fidelity::{Fidelity, Ladder};
use super::lane_steady::LaneSteady;
use super::run::{run, run_on};
use super::session::{Carried, Cooled, Session, Unwatched};
use super::trip_point::{TripPointAnswer, closed_steady, trip_point, trip_point_on};
use super::{Halt, PredictError};
use crate::device::{Beside, Device, Fineness, LaneLoad, Sheet, Unit};
use crate::load::Programme;
use crate::scenario::{Before, Scenario};
use crate::solve::wide::{MOST_LANES, Row, lanes};
use crate::solve::{LaneEnd, Lanes, Patience};
use pulp::Simd;

/// Least clearance that a setting screw can leave, m.
pub const LEAST_CLEARANCE_M: f64 = 1e-6;
/// Relative accuracy of units side by side: far below any scatter of parts.
pub const ACCURACY: f64 = 1e-4;
/// What units side by side are held to in the tests, relative.
pub const BESIDE_ACCURACY: f64 = 1e-3;
/// Accuracy of the grids side by side, before they are trimmed.
const GRID_ACCURACY: f64 = 1e-3;
/// Accuracy of the nominal unit alone, by which they are trimmed.
const NOMINAL_ACCURACY: f64 = 1e-5;
/// A correction larger than this, relative, is none: something else is the matter.
const MOST_TRIM: f64 = 5e-3;
/// Tolerance of the marches. Tighter than what one unit needs that aims at its event from the first step: where a
/// winding has to get hot first the event is not in sight at the start, and only the error of the steps bounds them.
const TOLERANCE: f64 = 1e-5;

/// The air of a question.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Air {
    /// The unit's own ambient.
    Own,
    /// This, K.
    At(f64),
}

/// The current of a question.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Amperes {
    /// The unit's own load.
    Own,
    /// This, A.
    Of(f64),
}

/// A current carried until the unit trips.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Carry {
    /// Current.
    pub current: Amperes,
    /// Number of the air in [`Questions::airs`].
    pub air: usize,
    /// Current of the steady state it starts from, A; 0: cold.
    pub before_a: f64,
    /// Whether the wait to relatch is asked, too.
    pub cool: bool,
}

/// Factory setting: each unit's clearance is set so that it trips at this current after this time, from cold.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Setting {
    /// A.
    pub current_a: f64,
    /// s.
    pub time_s: f64,
    /// K.
    pub ambient_k: f64,
}

/// What is asked of every unit.
#[derive(Debug, Clone, PartialEq)]
pub struct Questions {
    /// Factory setting, if the units get one.
    pub setting: Option<Setting>,
    /// Airs at which the trip point is asked.
    pub airs: Vec<Air>,
    /// Currents to be carried.
    pub carries: Vec<Carry>,
    /// Time from release to open contacts, s.
    pub opening_s: f64,
}

/// One unit and what is its own in the questions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Member {
    /// The unit.
    pub unit: Unit,
    /// Its load, A.
    pub current_a: f64,
    /// Its ambient, K.
    pub ambient_k: f64,
    /// Factor on the time of the factory setting: how well it was set.
    pub set_factor: f64,
}

/// Answers of one unit. NaN: to be asked alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// Clearance, m: as given, or as set; infinite for a part without one. Not above [`LEAST_CLEARANCE_M`]: it cannot be set, and there are no answers.
    pub clearance_m: f64,
    /// Trip point at every air, A: 0 when it stays open without any current, infinite when no current releases it.
    pub trip_points_a: Vec<f64>,
    /// Trip time of every carry, s: infinite when it is held for ever, 0 when the state before is beyond release.
    pub times_s: Vec<f64>,
    /// Wait from open contacts to relatch after every carry, s: infinite when it never comes; NaN also when not
    /// asked, or when there was no trip.
    pub waits_s: Vec<f64>,
}

impl Finding {
    fn unknown(questions: &Questions, clearance_m: f64) -> Finding {
        Finding {
            clearance_m,
            trip_points_a: vec![f64::NAN; questions.airs.len()],
            times_s: vec![f64::NAN; questions.carries.len()],
            waits_s: vec![f64::NAN; questions.carries.len()],
        }
    }

    /// Whether the factory setting was possible.
    pub fn is_set(&self) -> bool {
        self.clearance_m > LEAST_CLEARANCE_M || self.clearance_m.is_nan()
    }

    /// Whether every question has its answer.
    pub fn is_whole(&self, questions: &Questions) -> bool {
        if !self.is_set() {
            return true;
        }
        let waits = questions.carries.iter().zip(&self.times_s);
        !self.clearance_m.is_nan()
            && self.trip_points_a.iter().all(|a| !a.is_nan())
            && self.times_s.iter().all(|t| !t.is_nan())
            && waits
                .zip(&self.waits_s)
                .all(|((c, t), w)| !c.cool || !t.is_finite() || !w.is_nan())
    }
}

/// One grid and the carries that are asked on it.
struct Stage {
    sheet: Sheet,
    tolerance: f64,
    carries: Vec<usize>,
    /// Steady state of the nominal unit before each carry, where it starts hot.
    before: Vec<Option<Vec<f64>>>,
}

/// Asks the questions of many units side by side.
pub struct Examiner {
    questions: Questions,
    /// The first stage serves the trip points and the setting.
    stages: Vec<Stage>,
    /// Trip point of the nominal unit at every air: current and state, and the air.
    start: Vec<(f64, Vec<f64>, f64)>,
    trim: Trim,
}

/// What the nominal unit alone, to a higher accuracy, has over itself side by side. Units are alike, so what the
/// polynomials of the sheets and their grids do to one they do to all: every answer is trimmed by it.
#[derive(Debug, Clone, PartialEq)]
struct Trim {
    clearance_m: f64,
    trip_points: Vec<f64>,
    times: Vec<f64>,
    waits: Vec<f64>,
}

impl Trim {
    fn none(questions: &Questions) -> Trim {
        Trim {
            clearance_m: 0.0,
            trip_points: vec![1.0; questions.airs.len()],
            times: vec![1.0; questions.carries.len()],
            waits: vec![1.0; questions.carries.len()],
        }
    }

    /// `None` when the two are too far apart: then these units are not to be computed side by side.
    fn of(alone: &Finding, beside: &Finding, clearance_m: f64) -> Option<Trim> {
        let ratios = |alone: &[f64], beside: &[f64]| -> Option<Vec<f64>> {
            let pairs = alone.iter().zip(beside);
            pairs
                .map(|(a, b)| {
                    // What is NaN is asked alone, unit by unit; two that never come agree.
                    if a.is_nan() || b.is_nan() || a == b {
                        return Some(1.0);
                    }
                    let ratio = a / b;
                    ((ratio - 1.0).abs() < MOST_TRIM).then_some(ratio)
                })
                .collect()
        };
        Some(Trim {
            clearance_m,
            trip_points: ratios(&alone.trip_points_a, &beside.trip_points_a)?,
            times: ratios(&alone.times_s, &beside.times_s)?,
            waits: ratios(&alone.waits_s, &beside.waits_s)?,
        })
    }

    fn apply(&self, finding: &mut Finding) {
        for (values, factors) in [
            (&mut finding.trip_points_a, &self.trip_points),
            (&mut finding.times_s, &self.times),
            (&mut finding.waits_s, &self.waits),
        ] {
            for (value, factor) in values.iter_mut().zip(factors) {
                *value *= factor;
            }
        }
    }

    /// Largest relative correction.
    fn largest(&self) -> f64 {
        let all = self
            .trip_points
            .iter()
            .chain(&self.times)
            .chain(&self.waits);
        all.map(|f| (f - 1.0).abs()).fold(0.0, f64::max)
    }
}

impl Examiner {
    /// For units about a nominal one, whose own ambients lie within a range and whose loads about its own.
    /// `None`: these units cannot be computed side by side.
    ///
    /// # Errors
    /// The nominal unit cannot be computed.
    pub fn new(
        scenario: &Scenario,
        device: &Device,
        questions: &Questions,
        own_air_k: (f64, f64),
    ) -> Result<Option<Examiner>, PredictError> {
        if Unit::of(device).is_none() {
            return Ok(None);
        }
        let own = own_case(scenario);
        let own_load = scenario.load.last_a();
        let airs: Vec<f64> = questions
            .airs
            .iter()
            .map(|a| match a {
                Air::Own => own.ambient_k(),
                Air::At(k) => *k,
            })
            .collect();
        let mut low_k = airs.iter().copied().fold(own_air_k.0, f64::min);
        let mut high_k = own_air_k.1;
        let settled = grid(device, f64::INFINITY);
        let model = device.on(settled.fineness);
        let mut start = Vec::new();
        for air_k in &airs {
            match trip_point_on(&model, *air_k, scenario.protector.rated_current_a)? {
                TripPointAnswer::At { current_a, state } => {
                    high_k = high_k.max(model.peak_k(&state));
                    start.push((current_a, state, *air_k));
                }
                // Units about one without a trip point are asked alone.
                _ => return Ok(None),
            }
        }
        let mut times = Vec::new();
        for carry in &questions.carries {
            let current_a = match carry.current {
                Amperes::Own => own_load,
                Amperes::Of(a) => a,
            };
            let case = case_of(scenario, airs[carry.air], carry.before_a);
            let load = Programme::constant(current_a);
            let time = match run_on(
                &model,
                settled.tolerance,
                &case,
                &load,
                false,
                &mut Unwatched,
            ) {
                Ok(answer) => {
                    high_k = high_k.max(model.peak_k(&answer.state));
                    answer.trip_time_s.unwrap_or(f64::INFINITY)
                }
                Err(PredictError::HotBeyondRelease { .. }) => f64::INFINITY,
                Err(e) => return Err(e),
            };
            times.push(time);
        }
        if let Some(setting) = questions.setting {
            low_k = low_k.min(setting.ambient_k);
            let mut session = case_of(scenario, setting.ambient_k, 0.0);
            session.longest_s = f64::INFINITY;
            let mut session = session.start(&model, settled.tolerance)?;
            let load = Programme::constant(setting.current_a);
            session.stay_closed(&load, 0.0, 1.1 * setting.time_s, &mut Unwatched)?;
            high_k = high_k.max(model.peak_k(&session.y));
        }
        let room = 12.0 + 0.3 * (high_k - low_k);
        let (low_k, high_k) = (low_k - 12.0, high_k + room);
        let sheet = |f: Fineness| Sheet::new(device, f, low_k, high_k);
        // The setting is marched on the first stage: its grid must serve that time, too.
        let first = questions
            .setting
            .map_or(settled, |s| finer(settled, grid(device, 0.7 * s.time_s)));
        let Some(first_sheet) = sheet(first.fineness) else {
            return Ok(None);
        };
        if first.fineness != settled.fineness {
            let model = device.on(first.fineness);
            for (current_a, state, air_k) in &mut start {
                match trip_point_on(&model, *air_k, *current_a)? {
                    TripPointAnswer::At {
                        current_a: a,
                        state: y,
                    } => (*current_a, *state) = (a, y),
                    _ => return Ok(None),
                }
            }
        }
        let mut stages = vec![Stage {
            sheet: first_sheet,
            tolerance: first.tolerance,
            carries: Vec::new(),
            before: Vec::new(),
        }];
        let mut grids = vec![first];
        for (k, carry) in questions.carries.iter().enumerate() {
            let wanted = grid(device, 0.7 * times[k]);
            let at = match grids.iter().position(|g| serves(g, &wanted)) {
                Some(at) => at,
                None => {
                    let grid = evened(wanted);
                    let Some(sheet) = sheet(grid.fineness) else {
                        return Ok(None);
                    };
                    grids.push(grid);
                    stages.push(Stage {
                        sheet,
                        tolerance: grid.tolerance,
                        carries: Vec::new(),
                        before: Vec::new(),
                    });
                    stages.len() - 1
                }
            };
            let before = if carry.before_a > 0.0 {
                let model = device.on(grids[at].fineness);
                let air_k = airs[carry.air];
                closed_steady(&model, carry.before_a, air_k, &model.uniform(air_k))?
            } else {
                None
            };
            stages[at].carries.push(k);
            stages[at].before.push(before);
        }
        let mut examiner = Examiner {
            questions: questions.clone(),
            stages,
            start,
            trim: Trim::none(questions),
        };
        let Some(unit) = Unit::of_scenario(scenario) else {
            return Ok(None);
        };
        let nominal = [Member {
            unit,
            current_a: own_load,
            ambient_k: own.ambient_k(),
            set_factor: 1.0,
        }];
        let alone = examine_alone(scenario, questions, 1.0, NOMINAL_ACCURACY)?;
        let clearance_m = alone.clearance_m - examiner.examine(&nominal)[0].clearance_m;
        if questions.setting.is_some() && clearance_m.is_finite() {
            examiner.trim.clearance_m = clearance_m;
        }
        let clearance_m = examiner.trim.clearance_m;
        match Trim::of(&alone, &examiner.examine(&nominal)[0], clearance_m) {
            Some(trim) => examiner.trim = trim,
            None => return Ok(None),
        }
        Ok(Some(examiner))
    }

    /// Largest relative correction by which answers were trimmed to the nominal unit alone.
    pub fn largest_trim(&self) -> f64 {
        self.trim.largest()
    }

    /// Answers of some units, in order, on the calling thread.
    pub fn examine(&self, members: &[Member]) -> Vec<Finding> {
        let mut findings = Vec::with_capacity(members.len());
        pulp::Arch::new().dispatch(Register {
            examiner: self,
            members,
            findings: &mut findings,
        });
        findings
    }

    /// Units that fit a register.
    pub fn width() -> usize {
        lanes()
    }
}

/// Grid for an event after a time. A coarse one will do, because what it leaves is much the same for every unit and is
/// trimmed away; the steps in time are far better.
fn grid(device: &Device, time_s: f64) -> Fidelity {
    Fidelity {
        fineness: Ladder::new(device, time_s, GRID_ACCURACY).rung(0).fineness,
        tolerance: TOLERANCE,
    }
}

/// The finer of two grids of one element; the other where they are graded.
fn finer(a: Fidelity, b: Fidelity) -> Fidelity {
    if b.fineness.order > a.fineness.order || b.fineness.end_element_m < a.fineness.end_element_m {
        evened(b)
    } else {
        a
    }
}

/// Whether carries that ask for one grid may be asked on another.
fn serves(grid: &Fidelity, wanted: &Fidelity) -> bool {
    grid.fineness.end_element_m == wanted.fineness.end_element_m
        && grid.fineness.order >= wanted.fineness.order
        && grid.fineness.order <= wanted.fineness.order + 2
}

/// Orders in steps of two, so that few grids serve many carries.
fn evened(mut grid: Fidelity) -> Fidelity {
    grid.fineness.order += grid.fineness.order % 2;
    grid
}

/// The scenario's own surroundings and start.
fn own_case(s: &Scenario) -> Case {
    Case {
        ambient: s.surroundings.ambient.clone(),
        before: s.before,
        rated_current_a: s.protector.rated_current_a,
        accuracy: ACCURACY,
        longest_s: s.ask.longest_s,
        halt: Halt::default(),
    }
}

/// Constant air, cold or hot from a current.
fn case_of(s: &Scenario, air_k: f64, before_a: f64) -> Case {
    let before = if before_a > 0.0 {
        Before::Hot {
            fraction_of_rated: before_a / s.protector.rated_current_a,
        }
    } else {
        Before::Cold
    };
    Case {
        longest_s: 1e9,
        ..own_case(s).at_ambient(air_k).from(before)
    }
}

struct Register<'a> {
    examiner: &'a Examiner,
    members: &'a [Member],
    findings: &'a mut Vec<Finding>,
}

impl pulp::WithSimd for Register<'_> {
    type Output = ();

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) {
        let width = S::F64_LANES;
        let mut desks: Vec<Desk> = self
            .examiner
            .stages
            .iter()
            .map(|stage| Desk::new(stage.sheet.unknowns(), width))
            .collect();
        for members in self.members.chunks(width) {
            let mut units: Vec<Unit> = members.iter().map(|m| m.unit).collect();
            let first = self.findings.len();
            for m in members {
                let finding = Finding::unknown(&self.examiner.questions, m.unit.release_travel_m);
                self.findings.push(finding);
            }
            let findings = &mut self.findings[first..];
            for (k, stage) in self.examiner.stages.iter().enumerate() {
                let served: Vec<bool> = units.iter().map(|u| stage.sheet.serves(u)).collect();
                let mut beside = Beside::new(simd, &stage.sheet, &units);
                let desk = &mut desks[k];
                if k == 0 {
                    self.examiner
                        .set(simd, desk, &mut beside, members, &mut units, findings);
                    beside.set_travels(&units);
                    self.examiner
                        .trip_points(simd, desk, &mut beside, members, &served, findings);
                }
                for (carry, before) in stage.carries.iter().zip(&stage.before) {
                    let asked = Asked {
                        carry: *carry,
                        before: before.as_deref(),
                        tolerance: stage.tolerance,
                        served: &served,
                    };
                    self.examiner
                        .carry(simd, desk, &mut beside, members, &asked, findings);
                }
            }
            for finding in findings {
                self.examiner.trim.apply(finding);
            }
        }
    }
}

/// Work space for one stage.
struct Desk {
    marcher: Lanes,
    steady: LaneSteady,
    y: Row,
}

impl Desk {
    fn new(unknowns: usize, width: usize) -> Desk {
        Desk {
            marcher: Lanes::with_patience(unknowns * width, Patience::LONG),
            steady: LaneSteady::new(unknowns, width),
            y: Row::zeros(unknowns * width),
        }
    }

    /// Every lane at a temperature of its own.
    fn uniform(&mut self, temperatures_k: &[f64; MOST_LANES], width: usize) {
        for row in self.y.chunks_exact_mut(width) {
            row.copy_from_slice(&temperatures_k[..width]);
        }
    }

    /// Every lane in a state of one unit, warmer by a difference.
    fn state(&mut self, state: &[f64], warmer_k: &[f64; MOST_LANES], width: usize) {
        for (row, t) in self.y.chunks_exact_mut(width).zip(state) {
            for (y, by) in row.iter_mut().zip(warmer_k) {
                *y = t + by;
            }
        }
    }
}

/// One carry and the units it can be asked of.
struct Asked<'a> {
    carry: usize,
    before: Option<&'a [f64]>,
    tolerance: f64,
    served: &'a [bool],
}

/// A number of every lane; lanes without a unit repeat the first.
fn lanes_of(members: &[Member], of: impl Fn(usize, &Member) -> f64) -> [f64; MOST_LANES] {
    let mut out = [0.0; MOST_LANES];
    for (lane, x) in out.iter_mut().enumerate() {
        let lane = if lane < members.len() { lane } else { 0 };
        *x = of(lane, &members[lane]);
    }
    out
}

impl Examiner {
    fn air_k(&self, air: usize, member: &Member) -> f64 {
        match self.questions.airs[air] {
            Air::Own => member.ambient_k,
            Air::At(k) => k,
        }
    }

    /// Factory setting: march every unit to the time, and set the clearance to what is left of the free deflection
    /// after the push against the spring. The screw moves release and relatch alike.
    fn set<S: Simd>(
        &self,
        simd: S,
        desk: &mut Desk,
        beside: &mut Beside<'_, S>,
        members: &[Member],
        units: &mut [Unit],
        findings: &mut [Finding],
    ) {
        let Some(setting) = self.questions.setting else {
            return;
        };
        let width = S::F64_LANES;
        let loads: Vec<LaneLoad> = members
            .iter()
            .map(|_| LaneLoad {
                current_a: Some(setting.current_a),
                ambient_k: setting.ambient_k,
            })
            .collect();
        beside.load(&loads, 0.0);
        desk.uniform(&[setting.ambient_k; MOST_LANES], width);
        let durations = lanes_of(members, |_, m| setting.time_s * m.set_factor);
        let mut asked = [false; MOST_LANES];
        asked[..members.len()].fill(true);
        let tolerance = self.stages[0].tolerance;
        let arrived =
            desk.marcher
                .advance(simd, beside, &mut desk.y, &durations, &asked, tolerance);
        let over = desk.steady.distance(beside, &desk.y);
        for (lane, unit) in units.iter_mut().enumerate() {
            if arrived[lane] && over[lane].is_finite() {
                let over_m = over[lane] + self.trim.clearance_m;
                unit.release_travel_m += over_m;
                unit.relatch_travel_m += over_m;
                findings[lane].clearance_m = unit.release_travel_m;
            } else {
                findings[lane].clearance_m = f64::NAN;
            }
        }
    }

    fn trip_points<S: Simd>(
        &self,
        simd: S,
        desk: &mut Desk,
        beside: &mut Beside<'_, S>,
        members: &[Member],
        served: &[bool],
        findings: &mut [Finding],
    ) {
        let width = S::F64_LANES;
        for (air, (current_a, state, nominal_k)) in self.start.iter().enumerate() {
            let air_k = lanes_of(members, |_, m| self.air_k(air, m));
            let loads: Vec<LaneLoad> = air_k[..members.len()]
                .iter()
                .map(|k| LaneLoad {
                    current_a: Some(*current_a),
                    ambient_k: *k,
                })
                .collect();
            beside.load(&loads, 0.0);
            desk.uniform(&air_k, width);
            let cold = desk.steady.distance(beside, &desk.y);
            desk.state(state, &air_k.map(|k| k - nominal_k), width);
            let found = desk.steady.trip_points(simd, beside, &mut desk.y);
            for (lane, finding) in findings.iter_mut().enumerate() {
                if finding.clearance_m > LEAST_CLEARANCE_M && served[lane] {
                    finding.trip_points_a[air] = if cold[lane] >= 0.0 { 0.0 } else { found[lane] };
                }
            }
        }
    }

    fn carry<S: Simd>(
        &self,
        simd: S,
        desk: &mut Desk,
        beside: &mut Beside<'_, S>,
        members: &[Member],
        asked: &Asked<'_>,
        findings: &mut [Finding],
    ) {
        let width = S::F64_LANES;
        let carry = &self.questions.carries[asked.carry];
        let air_k = lanes_of(members, |_, m| self.air_k(carry.air, m));
        let current_a = lanes_of(members, |_, m| match carry.current {
            Amperes::Own => m.current_a,
            Amperes::Of(a) => a,
        });
        let loads = |current_a: &dyn Fn(usize) -> Option<f64>| -> Vec<LaneLoad> {
            (0..members.len())
                .map(|lane| LaneLoad {
                    current_a: current_a(lane),
                    ambient_k: air_k[lane],
                })
                .collect()
        };
        let mut marches = [false; MOST_LANES];
        for (lane, finding) in findings.iter_mut().enumerate() {
            let point = finding.trip_points_a[carry.air];
            let is_possible = finding.clearance_m > LEAST_CLEARANCE_M && asked.served[lane];
            if !is_possible || point.is_nan() {
                continue;
            }
            if carry.before_a > 0.0 && carry.before_a >= point {
                finding.times_s[asked.carry] = 0.0;
            } else if current_a[lane] <= point {
                finding.times_s[asked.carry] = f64::INFINITY;
            } else {
                marches[lane] = true;
            }
        }
        if !marches.contains(&true) {
            return;
        }
        if carry.before_a > 0.0 {
            let Some(before) = asked.before else { return };
            beside.load(&loads(&|_| Some(carry.before_a)), 0.0);
            let nominal_k = self.start[carry.air].2;
            desk.state(before, &air_k.map(|k| k - nominal_k), width);
            let settled = desk.steady.settle(simd, beside, &mut desk.y);
            for lane in 0..members.len() {
                marches[lane] &= settled[lane];
            }
        } else {
            desk.uniform(&air_k, width);
        }
        // Closed, then open: one march in the code for both, because every copy of it is long.
        for closed in [true, false] {
            if closed {
                beside.load(&loads(&|lane| Some(current_a[lane])), 0.0);
            } else if marches.contains(&true) {
                let opening = [self.questions.opening_s; MOST_LANES];
                let tolerance = asked.tolerance;
                let (marcher, y) = (&mut desk.marcher, &mut desk.y);
                marches = marcher.advance(simd, beside, y, &opening, &marches, tolerance);
                beside.load(&loads(&|_| None), 0.0);
            } else {
                return;
            }
            let (marcher, y) = (&mut desk.marcher, &mut desk.y);
            let reports = marcher.run_asked(simd, beside, y, &marches, asked.tolerance);
            let mut cold = [0.0; MOST_LANES];
            if !closed {
                desk.uniform(&air_k, width);
                cold = desk.steady.distance(beside, &desk.y);
            }
            for (lane, finding) in findings.iter_mut().enumerate() {
                if !marches[lane] {
                    continue;
                }
                let answers = if closed {
                    &mut finding.times_s
                } else {
                    &mut finding.waits_s
                };
                answers[asked.carry] = match reports[lane].end {
                    LaneEnd::Event => reports[lane].t,
                    LaneEnd::Already => 0.0,
                    // It cools towards the ambient from above and does not relatch even there.
                    LaneEnd::Alone if cold[lane] < 0.0 => f64::INFINITY,
                    LaneEnd::Alone => f64::NAN,
                };
                marches[lane] = closed && carry.cool && reports[lane].end == LaneEnd::Event;
            }
        }
    }
}

/// The same questions of one unit, given as its scenario, to the accuracy of units side by side.
///
/// # Errors
/// Why this unit cannot be computed.
pub fn examine_alone(
    scenario: &Scenario,
    questions: &Questions,
    set_factor: f64,
    accuracy: f64,
) -> Result<Finding, PredictError> {
    let mut device = Device::new(scenario)?;
    let Some(latch) = scenario.release.mechanism.latch() else {
        return answers(scenario, &device, questions, f64::INFINITY, accuracy);
    };
    let mut clearance_m = latch.release_travel_m;
    if let Some(setting) = questions.setting {
        let over_m = set_alone(scenario, &device, &setting, set_factor, accuracy)?;
        clearance_m += over_m;
        if !(clearance_m > LEAST_CLEARANCE_M) {
            return Ok(Finding::unknown(questions, clearance_m));
        }
        let mut set = scenario.clone();
        if let Some(latch) = set.release.mechanism.latch_mut() {
            latch.widen(over_m);
        }
        device = Device::new(&set)?;
    }
    answers(scenario, &device, questions, clearance_m, accuracy)
}

/// How far the clearance has to be widened, m.
fn set_alone(
    scenario: &Scenario,
    device: &Device,
    setting: &Setting,
    set_factor: f64,
    accuracy: f64,
) -> Result<f64, PredictError> {
    let time_s = setting.time_s * set_factor;
    let rung = Ladder::new(device, time_s, accuracy).rung(1);
    let model = device.on(rung.fineness);
    let case = case_of(scenario, setting.ambient_k, 0.0);
    let mut session: Session<'_> = case.start(&model, rung.tolerance)?;
    let load = Programme::constant(setting.current_a);
    session.stay_closed(&load, 0.0, time_s, &mut Unwatched)?;
    let plant = session.plant(load.piece_after(time_s), 0.0);
    Ok(model.release_excess_m(&session.y, plant.strip_current_squared(time_s)))
}

fn answers(
    scenario: &Scenario,
    device: &Device,
    questions: &Questions,
    clearance_m: f64,
    accuracy: f64,
) -> Result<Finding, PredictError> {
    let mut finding = Finding::unknown(questions, clearance_m);
    let own = own_case(scenario);
    let air_k = |air: usize| match questions.airs[air] {
        Air::Own => own.ambient_k(),
        Air::At(k) => k,
    };
    for (k, point) in finding.trip_points_a.iter_mut().enumerate() {
        let guess_a = scenario.protector.rated_current_a;
        *point = match trip_point(device, air_k(k), guess_a, accuracy)?.value {
            TripPointAnswer::At { current_a, .. } => current_a,
            TripPointAnswer::StaysOpen => 0.0,
            TripPointAnswer::NeverReleases => f64::INFINITY,
        };
    }
    for (k, carry) in questions.carries.iter().enumerate() {
        let is_own = questions.airs[carry.air] == Air::Own;
        let mut case = match (carry.current, is_own) {
            (Amperes::Own, true) => own.clone(),
            _ => case_of(scenario, air_k(carry.air), carry.before_a),
        };
        case.accuracy = accuracy;
        let load = match carry.current {
            Amperes::Own => scenario.load.clone(),
            Amperes::Of(a) => Programme::constant(a),
        };
        match run(device, &case, &load, carry.cool) {
            Ok(answer) => {
                let answer = answer.value;
                finding.times_s[k] = answer.trip_time_s.unwrap_or(f64::INFINITY);
                if let (Carried::Released, Some(cooled)) = (answer.carried, answer.cooled) {
                    finding.waits_s[k] = match cooled {
                        Cooled::Relatched => answer.relatch_wait_s.unwrap_or(f64::NAN),
                        Cooled::Never | Cooled::StillOpen => f64::INFINITY,
                    };
                }
            }
            Err(PredictError::HotBeyondRelease { .. }) => finding.times_s[k] = 0.0,
            Err(e) => return Err(e),
        }
    }
    Ok(finding)
}
