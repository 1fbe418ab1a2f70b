//! The explicit peers: Dopri5 and Dop853 of the `ode_solvers` crate, stopped by `solout` at the
//! first step beyond the event, which is then found on the cubic of the deflection over that step.

use super::strip::{RELATCH_M, RELEASE_M, Strip};
use super::{Method, Prepared, Run, Setting};
use nalgebra::{Const, DefaultAllocator, Dim, Dyn, OVector, allocator::Allocator};
use ode_solvers::dop_shared::{OutputType, System};
use ode_solvers::{Dop853, Dopri5};
use std::cell::Cell;

/// Prepares a run, with the number of unknowns as a type where `settings` names that number of
/// cells: the library's arithmetic then runs on the stack, else it allocates every sum.
pub fn prepare(setting: Setting, current_a: f64, cooling: bool) -> Prepared {
    fn with<D: Dim>(dim: D, setting: Setting, current_a: f64, cooling: bool) -> Prepared
    where
        DefaultAllocator: Allocator<D>,
        OVector<f64, D>: std::ops::Mul<f64, Output = OVector<f64, D>>,
    {
        let explicit = if cooling {
            Explicit::cool(dim, setting, current_a)
        } else {
            Explicit::trip(dim, setting, current_a)
        };
        Prepared(Box::new(move || explicit.run()))
    }
    match setting.cells {
        7 => with(Const::<9>, setting, current_a, cooling),
        13 => with(Const::<15>, setting, current_a, cooling),
        14 => with(Const::<16>, setting, current_a, cooling),
        20 => with(Const::<22>, setting, current_a, cooling),
        58 => with(Const::<60>, setting, current_a, cooling),
        64 => with(Const::<66>, setting, current_a, cooling),
        cells => with(Dyn(cells + 2), setting, current_a, cooling),
    }
}

/// Everything that is built once. `D` is the number of unknowns as a type, so that states live on
/// the stack.
pub struct Explicit<D: Dim>
where
    DefaultAllocator: Allocator<D>,
{
    strip: Strip,
    start: OVector<f64, D>,
    event_m: f64,
    setting: Setting,
}

/// The state of the deflection after a step.
#[derive(Clone, Copy, Default)]
struct Seen {
    time: f64,
    margin: f64,
    rate: f64,
}

struct Watched<'a> {
    strip: &'a Strip,
    event_m: f64,
    rising: f64,
    before: &'a Cell<Seen>,
    after: &'a Cell<Seen>,
}

impl<D: Dim> System<f64, OVector<f64, D>> for Watched<'_>
where
    DefaultAllocator: Allocator<D>,
{
    fn system(&self, _t: f64, u: &OVector<f64, D>, rate: &mut OVector<f64, D>) {
        self.strip.rate(u.as_slice(), rate.as_mut_slice());
    }

    fn solout(&mut self, t: f64, u: &OVector<f64, D>, rate: &OVector<f64, D>) -> bool {
        let now = Seen {
            time: t,
            margin: self.rising * (self.strip.deflection(u.as_slice()) - self.event_m),
            rate: self.rising * self.strip.deflection_rate(u.as_slice(), rate.as_slice()),
        };
        self.before.set(self.after.replace(now));
        now.margin >= 0.0
    }
}

/// Zero of the cubic through both ends of a step, by Newton's method kept between them.
fn crossing(a: Seen, b: Seen) -> f64 {
    let h = b.time - a.time;
    let (rise, s0, s1) = (b.margin - a.margin, a.rate * h, b.rate * h);
    let (c2, c3) = (3.0 * rise - 2.0 * s0 - s1, s0 + s1 - 2.0 * rise);
    let mut x = -a.margin / rise;
    for _ in 0..8 {
        let value = a.margin + x * (s0 + x * (c2 + x * c3));
        let slope = s0 + x * (2.0 * c2 + 3.0 * x * c3);
        x = (x - value / slope).clamp(0.0, 1.0);
    }
    a.time + h * x
}

impl<D: Dim> Explicit<D>
where
    DefaultAllocator: Allocator<D>,
    OVector<f64, D>: std::ops::Mul<f64, Output = OVector<f64, D>>,
{
    /// From cold at a current to the release.
    pub fn trip(dim: D, setting: Setting, current_a: f64) -> Self {
        let strip = Strip::closed(setting.cells, setting.grading, current_a);
        assert_eq!(strip.unknowns(), dim.value());
        Self {
            strip,
            start: OVector::zeros_generic(dim, Const::<1>),
            event_m: RELEASE_M,
            setting,
        }
    }

    /// From where the trip at `current_a` ended, opened, to relatching.
    pub fn cool(dim: D, setting: Setting, current_a: f64) -> Self {
        let mut this = Self::trip(dim, setting, current_a);
        let time_s = this.run().time_s;
        this.start = this.at(time_s);
        this.strip = this.strip.opened();
        this.event_m = RELATCH_M;
        this
    }

    /// The state at a time.
    fn at(&self, time_s: f64) -> OVector<f64, D> {
        let seen = Cell::new(Seen::default());
        let system = Watched {
            strip: &self.strip,
            event_m: f64::INFINITY,
            rising: 1.0,
            before: &seen,
            after: &seen,
        };
        let Setting { tolerance, .. } = self.setting;
        let mut stepper = Dop853::new(
            system,
            0.0,
            time_s,
            0.0,
            self.start.clone(),
            tolerance,
            10.0 * tolerance,
        );
        stepper.set_output(OutputType::Sparse);
        stepper.integrate().expect("integrates");
        stepper.y_out().last().expect("a state").clone()
    }

    /// The timed call.
    pub fn run(&self) -> Run {
        let start = self.start.as_slice();
        let margin = self.strip.deflection(start) - self.event_m;
        let mut rate = self.start.clone();
        self.strip.rate(start, rate.as_mut_slice());
        let first = Seen {
            time: 0.0,
            margin: -margin.abs(),
            rate: -margin.signum() * self.strip.deflection_rate(start, rate.as_slice()),
        };
        let (before, after) = (Cell::new(first), Cell::new(first));
        let system = Watched {
            strip: &self.strip,
            event_m: self.event_m,
            rising: -margin.signum(),
            before: &before,
            after: &after,
        };
        let Setting {
            tolerance,
            first_step_s,
            ..
        } = self.setting;
        let (end, u) = (1e3, self.start.clone());
        // The library's own factors; its test for stiffness off, because steps at the limit of
        // stability are meant here.
        let (never, most) = (u32::MAX, 1_000_000);
        let stats = match self.setting.method {
            Method::Dopri5 => Dopri5::from_param(
                system,
                0.0,
                end,
                0.0,
                u,
                tolerance,
                10.0 * tolerance,
                0.9,
                0.04,
                0.2,
                10.0,
                end,
                first_step_s,
                most,
                never,
                OutputType::Sparse,
            )
            .integrate(),
            _ => Dop853::from_param(
                system,
                0.0,
                end,
                0.0,
                u,
                tolerance,
                10.0 * tolerance,
                0.9,
                0.0,
                0.333,
                6.0,
                end,
                first_step_s,
                most,
                never,
                OutputType::Sparse,
            )
            .integrate(),
        }
        .expect("integrates");
        assert!(after.get().margin >= 0.0, "no event");
        Run {
            time_s: crossing(before.get(), after.get()),
            evaluations: stats.num_eval as usize,
            steps: (stats.accepted_steps + stats.rejected_steps) as usize,
        }
    }
}
