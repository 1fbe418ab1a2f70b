//! The library's explicit pair of order 8 on the engine's own ground: its nodes, its right-hand
//! side in registers, its distance from release. What differs is the stepper.
//!
//! The hook that sees every step stops at the first one beyond the event. A cubic over so long a
//! step is good to 1e-4 only: the state where it crosses is integrated again from the step's start,
//! and what is left closed by the rate there.

use super::{Prepared, Run};
use nalgebra::SVector;
use ode_solvers::Dop853;
use ode_solvers::dop_shared::{OutputType, System};
use pulp::Simd;
use relatch::internals::device::{Along, Drive, EventDistance, Gauge, Model};
use relatch::internals::solve::wide::{Row, dispatch};
use relatch::internals::solve::{Distance, Flow, Sight, Wide};
use std::cell::RefCell;
use std::sync::Arc;

/// Places of a state in registers.
const PLACES: usize = 16;
type State = SVector<f64, PLACES>;

/// How the library is to step.
#[derive(Clone, Copy, Debug)]
pub struct Steps {
    /// Order of the one element.
    pub order: usize,
    /// Tolerance of each temperature, K.
    pub tolerance_k: f64,
    /// First step, s; 0 leaves it to the library.
    pub first_s: f64,
}

/// The cheapest found for 1e-5 at 20 A: 7.8e-6 with 51 evaluations.
pub const AT_20_A_1E5: Steps = Steps {
    order: 8,
    tolerance_k: 0.3,
    first_s: 0.3,
};
/// For 1e-6: 4.3e-7 with 74 evaluations.
pub const AT_20_A_1E6: Steps = Steps {
    order: 9,
    tolerance_k: 0.3,
    first_s: 0.5,
};

/// From a uniform temperature under a current to the release.
pub fn trip(model: Arc<Model>, drive: Drive, steps: Steps) -> Prepared {
    Prepared(Box::new(move || {
        dispatch(Trip {
            model: &model,
            drive,
            steps,
        })
    }))
}

struct Trip<'a> {
    model: &'a Model,
    drive: Drive,
    steps: Steps,
}

/// What the library asks, answered in registers.
struct Asked<'a, S: Simd> {
    simd: S,
    flow: Along<'a, S>,
    distance: EventDistance<'a, S>,
    state: Row,
    slope: Row,
    evaluations: usize,
}

impl<S: Simd> Asked<'_, S> {
    fn rates(&mut self, t: f64, y: &State, dy: &mut State) {
        self.state.copy_from_slice(y.as_slice());
        let at = Wide::splat(self.simd, t);
        self.flow.rates(at, &self.state, &mut self.slope);
        dy.as_mut_slice().copy_from_slice(&self.slope);
        self.evaluations += 1;
    }

    fn sight(&mut self, t: f64, y: &State, dy: &State) -> Sight {
        self.state.copy_from_slice(y.as_slice());
        self.slope.copy_from_slice(dy.as_slice());
        let (value, rate) = self.distance.value_and_rate(t, &self.state, &self.slope);
        Sight { value, rate }
    }
}

/// A step's end as the hook saw it.
#[derive(Clone, Copy)]
struct Seen {
    t: f64,
    y: State,
    sight: Sight,
}

/// The library takes its problem by value: it is handed this.
struct Watched<'w, 'a, S: Simd> {
    asked: &'w RefCell<Asked<'a, S>>,
    /// The last two ends of steps, the newest first.
    seen: &'w RefCell<[Option<Seen>; 2]>,
}

impl<S: Simd> System<f64, State> for Watched<'_, '_, S> {
    fn system(&self, t: f64, y: &State, dy: &mut State) {
        self.asked.borrow_mut().rates(t, y, dy);
    }

    fn solout(&mut self, t: f64, y: &State, dy: &State) -> bool {
        let sight = self.asked.borrow_mut().sight(t, y, dy);
        let mut seen = self.seen.borrow_mut();
        *seen = [Some(Seen { t, y: *y, sight }), seen[0]];
        sight.value >= 0.0
    }
}

impl pulp::WithSimd for Trip<'_> {
    type Output = Run;

    #[inline(always)]
    fn with_simd<S: Simd>(self, simd: S) -> Run {
        let flow = Along::new(simd, self.model, self.drive).expect("in registers");
        assert_eq!(flow.len(), PLACES);
        let distance = flow.distance(Gauge::Release { in_hand_m: 0.0 });
        let room = || Row::zeros(PLACES);
        let asked = RefCell::new(Asked {
            simd,
            flow,
            distance,
            state: room(),
            slope: room(),
            evaluations: 0,
        });
        let cold = State::repeat(self.drive.ambient_k(0.0));
        let start = {
            let (mut asked, mut slope) = (asked.borrow_mut(), State::zeros());
            asked.rates(0.0, &cold, &mut slope);
            Seen {
                t: 0.0,
                y: cold,
                sight: asked.sight(0.0, &cold, &slope),
            }
        };
        let seen = RefCell::new([Some(start), None]);
        let Steps {
            tolerance_k,
            first_s,
            ..
        } = self.steps;
        let mut steps = 0;
        let mut march = |from: f64, to: f64, y: State, first_s: f64| {
            let watched = Watched {
                asked: &asked,
                seen: &seen,
            };
            // The library's own factors; its test for stiffness off.
            let stats = Dop853::from_param(
                watched,
                from,
                to,
                0.0,
                y,
                0.0,
                tolerance_k,
                0.9,
                0.0,
                0.333,
                6.0,
                to - from,
                first_s,
                1_000_000,
                u32::MAX,
                OutputType::Sparse,
            )
            .integrate()
            .expect("integrates");
            steps += (stats.accepted_steps + stats.rejected_steps) as usize;
        };
        march(0.0, 1e3, cold, first_s);
        let [Some(after), Some(before)] = *seen.borrow() else {
            panic!("no event");
        };
        let h = after.t - before.t;
        let near = before.t + h * crossing(before.sight, after.sight, h);
        march(before.t, near, before.y, near - before.t);
        let [Some(end), _] = *seen.borrow() else {
            panic!("no step");
        };
        Run {
            time_s: end.t - end.sight.value / end.sight.rate,
            evaluations: asked.borrow().evaluations,
            steps,
        }
    }
}

/// Where the cubic through both ends of a step crosses, in parts of it.
fn crossing(a: Sight, b: Sight, h: f64) -> f64 {
    let (rise, s0, s1) = (b.value - a.value, a.rate * h, b.rate * h);
    let (c2, c3) = (3.0 * rise - 2.0 * s0 - s1, s0 + s1 - 2.0 * rise);
    let mut x = -a.value / rise;
    for _ in 0..8 {
        let value = a.value + x * (s0 + x * (c2 + x * c3));
        x -= value / (s0 + x * (2.0 * c2 + 3.0 * x * c3));
    }
    x.clamp(0.0, 1.0)
}
