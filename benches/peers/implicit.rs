//! The implicit peers: BDF, TR-BDF2 and ESDIRK34 (and the explicit Tsitouras 5(4)) of the `diffsol`
//! crate with analytic slopes and a tridiagonal solve; the event by the library's own root finding.

use super::strip::{RELATCH_M, RELEASE_M, Strip};
use super::tridiagonal::Thomas;
use super::tridiagonal::Tridiagonal;
use super::{Method, Run, Setting};
use diffsol::{
    ConstantOp, NalgebraContext, NalgebraVec, NonLinearOp, NonLinearOpJacobian, OdeBuilder,
    OdeEquations, OdeEquationsRef, OdeSolverMethod, OdeSolverProblem, OdeSolverState,
    OdeSolverStopReason, Op, ParameterisedOp, UnitCallable, Vector, VectorHost,
};
use std::cell::Cell;

type V = NalgebraVec<f64>;

/// One of the functions the equations consist of.
macro_rules! operator {
    ($name:ident) => {
        impl Op for $name {
            type T = f64;
            type V = V;
            type M = Tridiagonal;
            type C = NalgebraContext;
            fn context(&self) -> &NalgebraContext {
                &NalgebraContext
            }
            fn nstates(&self) -> usize {
                self.nstates
            }
            fn nout(&self) -> usize {
                self.nout
            }
            fn nparams(&self) -> usize {
                0
            }
        }
    };
}

struct Flow {
    strip: Strip,
    calls: Cell<usize>,
    nstates: usize,
    nout: usize,
}
struct Margin {
    strip: Strip,
    event_m: f64,
    nstates: usize,
    nout: usize,
}
struct Start {
    state: Vec<f64>,
    nstates: usize,
    nout: usize,
}
struct Equations {
    flow: Flow,
    margin: Margin,
    start: Start,
    unit: UnitCallable<Tridiagonal>,
    none: V,
    nstates: usize,
    nout: usize,
}
operator!(Flow);
operator!(Margin);
operator!(Start);
operator!(Equations);

impl NonLinearOp for Flow {
    fn call_inplace(&self, u: &V, _t: f64, rate: &mut V) {
        self.calls.set(self.calls.get() + 1);
        self.strip.rate(u.as_slice(), rate.as_mut_slice());
    }
}

impl NonLinearOpJacobian for Flow {
    fn jac_mul_inplace(&self, u: &V, t: f64, v: &V, out: &mut V) {
        use diffsol::Matrix;
        let mut slopes = Tridiagonal::zeros(self.nstates, self.nstates, NalgebraContext);
        self.jacobian_inplace(u, t, &mut slopes);
        slopes.gemv(1.0, v, 0.0, out);
    }
    fn jacobian_inplace(&self, u: &V, _t: f64, m: &mut Tridiagonal) {
        self.strip
            .slopes(u.as_slice(), &mut m.before, &mut m.own, &mut m.after);
    }
}

impl NonLinearOp for Margin {
    fn call_inplace(&self, u: &V, _t: f64, out: &mut V) {
        out.as_mut_slice()[0] = self.strip.deflection(u.as_slice()) - self.event_m;
    }
}

impl ConstantOp for Start {
    fn call_inplace(&self, _t: f64, u: &mut V) {
        u.as_mut_slice().copy_from_slice(&self.state);
    }
}

type Unused<'a> = ParameterisedOp<'a, UnitCallable<Tridiagonal>>;

impl<'a> OdeEquationsRef<'a> for Equations {
    type Rhs = &'a Flow;
    type Root = &'a Margin;
    type Init = &'a Start;
    type Mass = Unused<'a>;
    type Out = Unused<'a>;
    type Reset = Unused<'a>;
}

impl OdeEquations for Equations {
    fn rhs(&self) -> &Flow {
        &self.flow
    }
    fn root(&self) -> Option<&Margin> {
        Some(&self.margin)
    }
    fn init(&self) -> &Start {
        &self.start
    }
    fn mass(&self) -> Option<Unused<'_>> {
        None
    }
    fn set_params(&mut self, p: &V) {
        self.none.clone_from(p);
    }
    fn get_params(&self, p: &mut V) {
        p.clone_from(&self.none);
    }
}

/// Everything that is built once.
pub struct Implicit {
    problem: OdeSolverProblem<Equations>,
    setting: Setting,
}

impl Implicit {
    /// From cold at a current to the release.
    pub fn trip(setting: Setting, current_a: f64) -> Self {
        let strip = Strip::closed(setting.cells, setting.grading, current_a);
        let cold = vec![0.0; strip.unknowns()];
        Self::new(setting, strip, cold, RELEASE_M)
    }

    /// From where the trip at `current_a` ended, opened, to relatching.
    pub fn cool(setting: Setting, current_a: f64) -> Self {
        let trip = Self::trip(setting, current_a);
        let (_, state) = trip.event();
        let strip = trip.problem.eqn.flow.strip.opened();
        Self::new(setting, strip, state.as_slice().to_vec(), RELATCH_M)
    }

    fn new(setting: Setting, strip: Strip, state: Vec<f64>, event_m: f64) -> Self {
        let nstates = strip.unknowns();
        let nout = nstates;
        let equations = Equations {
            flow: Flow {
                strip: strip.clone(),
                calls: Cell::new(0),
                nstates,
                nout,
            },
            margin: Margin {
                strip,
                event_m,
                nstates,
                nout: 1,
            },
            start: Start {
                state,
                nstates,
                nout,
            },
            unit: UnitCallable::new(nstates, NalgebraContext),
            none: V::zeros(0, NalgebraContext),
            nstates,
            nout,
        };
        let mut problem = OdeBuilder::<Tridiagonal>::new()
            .rtol(setting.tolerance)
            .atol([10.0 * setting.tolerance])
            .build_from_eqn(equations)
            .expect("problem");
        // From a small first step the default factor of 2 costs a dozen steps.
        problem.ode_options.max_timestep_growth = Some(10.0);
        Self { problem, setting }
    }

    /// The timed call.
    pub fn run(&self) -> Run {
        self.event().0
    }

    fn event(&self) -> (Run, V) {
        let p = &self.problem;
        p.eqn.flow.calls.set(0);
        let first = |state: &mut f64| {
            if self.setting.first_step_s > 0.0 {
                *state = self.setting.first_step_s;
            }
        };
        let (time_s, steps, state) = match self.setting.method {
            Method::Bdf => {
                let mut state = p.bdf_state::<Thomas>().expect("state");
                first(state.as_mut().h);
                to_event(p.bdf_solver::<Thomas>(state).expect("solver"))
            }
            Method::TrBdf2 => to_event(p.tr_bdf2::<Thomas>().expect("solver")),
            Method::Esdirk34 => to_event(p.esdirk34::<Thomas>().expect("solver")),
            Method::Tsit45 => to_event(p.tsit45().expect("solver")),
            other => unreachable!("{other:?} is of another library"),
        };
        let evaluations = p.eqn.flow.calls.get();
        (
            Run {
                time_s,
                evaluations,
                steps,
            },
            state,
        )
    }
}

fn to_event<'a>(mut solver: impl OdeSolverMethod<'a, Equations>) -> (f64, usize, V) {
    for steps in 1..100_000 {
        if let OdeSolverStopReason::RootFound(time_s, _) = solver.step().expect("step") {
            let state = solver.interpolate(time_s).expect("state");
            return (time_s, steps, state);
        }
    }
    panic!("no event");
}
