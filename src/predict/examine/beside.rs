//! Units side by side in the lanes of a register: set, asked for their trip points, and carried to
//! their events.

use super::{Air, Amperes, Examiner, Finding, LEAST_CLEARANCE_M, Member};
use crate::device::{Beside, LaneLoad, Unit};
use crate::predict::lane_steady::LaneSteady;
use crate::solve::wide::{MOST_LANES, Row};
use crate::solve::{LaneEnd, Lanes};
use pulp::Simd;

pub(super) struct Register<'a> {
    pub examiner: &'a Examiner,
    pub members: &'a [Member],
    pub findings: &'a mut Vec<Finding>,
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
            .map(|stage| Desk::new(stage.sheet.first_columns(), width))
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
    fn new(first_columns: Vec<usize>, width: usize) -> Desk {
        let unknowns = first_columns.len();
        Desk {
            marcher: Lanes::new(unknowns * width),
            steady: LaneSteady::new(first_columns, width),
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

    /// Factory setting: march every unit to the time, and set the clearance to what is left of the
    /// free deflection after the push against the spring. The screw moves release and relatch
    /// alike.
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
        for (air, start) in self.start.iter().enumerate() {
            let air_k = lanes_of(members, |_, m| self.air_k(air, m));
            let loads: Vec<LaneLoad> = air_k[..members.len()]
                .iter()
                .map(|k| LaneLoad {
                    current_a: Some(start.current_a),
                    ambient_k: *k,
                })
                .collect();
            beside.load(&loads, 0.0);
            desk.uniform(&air_k, width);
            let cold = desk.steady.distance(beside, &desk.y);
            desk.state(&start.state, &air_k.map(|k| k - start.air_k), width);
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
        // Near the trip point a time goes by the ratio to it: what the grid does to the trip point
        // it is allowed to do to the current.
        let as_here = 1.0 / self.trim.trip_points[carry.air];
        let before_a = carry.before_a * as_here;
        let current_a = lanes_of(members, |_, m| {
            as_here
                * match carry.current {
                    Amperes::Own => m.current_a,
                    Amperes::Of(a) => a,
                }
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
            if before_a > 0.0 && before_a >= point {
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
        if before_a > 0.0 {
            let Some(before) = asked.before else { return };
            beside.load(&loads(&|_| Some(before_a)), 0.0);
            let nominal_k = self.start[carry.air].air_k;
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
            let reports = marcher.run(simd, beside, y, &marches, asked.tolerance);
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
