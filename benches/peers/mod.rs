//! General-purpose peers for the worked strip: finite volumes written natively, as fast as we can
//! make them for a general Rust library, sharing no line with the engine.
//!
//! What is built once (grid, fitted cooling law, the library's problem) stays outside the timed
//! call, as it does for the engine:
//!
//! ```ignore
//! let prepared = peers::trip(peers::settings::BDF_1E4, 20.0);
//! bencher.iter(|| prepared.run().time_s)
//! ```
#![allow(dead_code)]

pub mod cooling;
pub mod explicit;
pub mod implicit;
pub mod same_space;
pub mod settings;
pub mod strip;
pub mod tridiagonal;

/// Which method of which library.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Method {
    /// `diffsol`: backward differences of order 1 to 5.
    Bdf,
    /// `diffsol`: implicit, order 2.
    TrBdf2,
    /// `diffsol`: implicit, order 3.
    Esdirk34,
    /// `diffsol`: explicit, order 5.
    Tsit45,
    /// `ode_solvers`: explicit, order 5.
    Dopri5,
    /// `ode_solvers`: explicit, order 8.
    Dop853,
}

/// How a peer is to run.
#[derive(Clone, Copy, Debug)]
pub struct Setting {
    /// Method.
    pub method: Method,
    /// Cells along the strip.
    pub cells: usize,
    /// 0: equal cells; towards 1: the ends ever finer (ends : middle = 1 - g : 1 + g).
    pub grading: f64,
    /// Relative tolerance of the time integration; the absolute one is ten times it, in kelvin.
    pub tolerance: f64,
    /// First step of the backward differences, s; 0 leaves it to the library, as the other methods
    /// do.
    pub first_step_s: f64,
}

/// What a run gave and cost.
#[derive(Clone, Copy, Debug)]
pub struct Run {
    /// Time of the event, s.
    pub time_s: f64,
    /// Evaluations of the right-hand side.
    pub evaluations: usize,
    /// Steps taken.
    pub steps: usize,
}

/// A peer with everything built that is built once.
pub struct Prepared(Box<dyn Fn() -> Run>);

impl Prepared {
    /// The timed call.
    pub fn run(&self) -> Run {
        (self.0)()
    }
}

/// From cold at a current to the release.
pub fn trip(setting: Setting, current_a: f64) -> Prepared {
    match setting.method {
        Method::Dopri5 | Method::Dop853 => explicit::prepare(setting, current_a, false),
        _ => {
            let implicit = implicit::Implicit::trip(setting, current_a);
            Prepared(Box::new(move || implicit.run()))
        }
    }
}

/// From where the peer's own trip at a current ended, opened, to relatching.
pub fn cool(setting: Setting, current_a: f64) -> Prepared {
    match setting.method {
        Method::Dopri5 | Method::Dop853 => explicit::prepare(setting, current_a, true),
        _ => {
            let implicit = implicit::Implicit::cool(setting, current_a);
            Prepared(Box::new(move || implicit.run()))
        }
    }
}

/// Times of the worked strip in the continuum, s: volumes centred in cells, equal and graded by
/// 0.8, with 400 and 800 cells at a tolerance of 1e-9, extrapolated by Richardson; both series
/// agree to the digits given.
pub mod continuum {
    /// Trip at 13 A.
    pub const TRIP_13_A: f64 = 11.039_791_4;
    /// Trip at 20 A.
    pub const TRIP_20_A: f64 = 3.576_757_2;
    /// Trip at 60 A.
    pub const TRIP_60_A: f64 = 0.330_095_5;
    /// From the trip at 20 A to relatching.
    pub const COOL_20_A: f64 = 8.006_606_6;
}
