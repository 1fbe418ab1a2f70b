//! Relatch predicts when a resettable thermal protector trips, how long it must cool before it can
//! be reset, and how lost spring preload moves both.
//!
//! Inside such a protector a strip of two or more metals carries the current, heats, bends, and
//! releases a spring-loaded latch or snaps over; then it must cool before it relatches. This crate
//! solves the heat equation of the strip and its terminals, takes the bending from the theory of
//! layered sections (two layers: Timoshenko 1925), and finds release and relatch as events of that
//! solution.
//!
//! A file or text is read ([`load`], [`parse`]), one function answers ([`predict()`], [`curve`],
//! [`wait`], [`diagnose()`], [`age`], [`population`], [`fit`], [`explain`]), and the answer is a
//! record: enums and numbers, with units in the names, its numerical error, its warnings and the
//! cautions that concern it. Words are made of it by [`text`] and [`json()`]. Records may grow:
//! they are made by functions and changed field by field, and a `match` of them has an arm `_`.
//!
//! ```compile_fail,E0639
//! use relatch::machine::Point;
//! let point = Point { multiple: 2.0, time_s: 30.0, relative: 0.2, after_multiple: 0.0 };
//! ```
//!
//! # Ten tasks
//!
//! **1. Does it trip, and how long must it cool?**
//!
//! ```
//! use relatch::answers::Trip;
//!
//! let scenario = relatch::parse("starter", relatch::starter("latch").expect("a starter"))?;
//! let outcome = relatch::predict(&scenario)?;
//! let Trip::After(release) = &outcome.trip else { panic!("this load trips it") };
//! let wait_s = outcome.reset.relatch_wait.time_s().expect("it cools enough to relatch");
//! println!("trips after {:.1} s, can be reset {wait_s:.1} s later", release.time_s);
//! for caution in &outcome.cautions {
//!     println!("{caution:?}");
//! }
//! # assert!(release.time_s > 0.0 && wait_s > 0.0 && !outcome.cautions.is_empty());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! **2. What can it carry for ever, and what moves that?**
//!
//! ```
//! use relatch::answers::TripPoint;
//!
//! let scenario = relatch::load("scenarios/01-pug-mill.toml".as_ref())?;
//! let TripPoint::UpTo(held) = relatch::predict(&scenario)?.trip_point else { panic!("some current") };
//! assert!(held.current_a > scenario.protector.rated_current_a);
//! assert!(held.per_kelvin_ambient_a.expect("a latch that air moves") < 0.0);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! **3. The same part with another load, in warmer air.** A scenario is plain data.
//!
//! ```
//! use relatch::{answers::Trip, part::Programme};
//!
//! let mut scenario = relatch::load("scenarios/08-worked-strip.toml".as_ref())?;
//! let cool_s = relatch::predict(&scenario)?.trip.time_s();
//! scenario.surroundings.ambient = vec![(0.0, 313.15)];
//! let warm_s = relatch::predict(&scenario)?.trip.time_s();
//! assert!(warm_s < cool_s);
//! scenario.load = Programme::constant(6.0);
//! assert!(matches!(relatch::predict(&scenario)?.trip, Trip::HoldsForEver { .. }));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! **4. Its time-current characteristic, held against published limits.**
//!
//! ```
//! let scenario = relatch::load("scenarios/01-pug-mill.toml".as_ref())?;
//! let curve = relatch::curve(&scenario, Some(&[15.0, 20.0, 60.0]))?;
//! let characteristic = &curve.characteristic;
//! assert_eq!(characteristic.cold.len(), 3);
//! for limit in characteristic.limits.iter().filter(|limit| !limit.met) {
//!     println!("misses what is asked at {} times its rating", limit.demand.multiple);
//! }
//! for caution in &curve.cautions {
//!     println!("{caution:?}");
//! }
//! # assert_eq!(characteristic.limits.iter().filter(|limit| limit.met).count(), 5);
//! # assert!(!curve.cautions.is_empty());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! **5. How long to wait, knowing only what is printed on the protector?**
//!
//! ```
//! use relatch::machine::{Nameplate, WaitQuestion};
//!
//! let mut question = WaitQuestion::new(Nameplate::of_rating(10.0), 24.0);
//! question.ambient_k = 308.15;
//! let answer = relatch::wait(&question)?;
//! println!("{}", relatch::text(&answer));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! **6. What is wrong with a machine that keeps tripping, and what to measure next?**
//!
//! ```
//! let case = relatch::Case::parse("starter", relatch::starter("case").expect("a starter"))?;
//! let diagnosis = relatch::diagnose(&case, 1)?;
//! println!("{:?}, {:.0} %", diagnosis.verdict, 100.0 * diagnosis.confidence);
//! # assert!((0.0..=1.0).contains(&diagnosis.confidence));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! **7. What do years of duty do?**
//!
//! ```
//! let scenario = relatch::load("scenarios/06-irrigation-pump-new.toml".as_ref())?;
//! let mut options = relatch::AgeOptions::default();
//! options.units = 0;
//! let outcome = relatch::age(&scenario, &options)?;
//! let left = |row: Option<&relatch::years::DriftRow>| row.and_then(|r| r.preload_left);
//! assert!(left(outcome.drift.last()) < left(outcome.drift.first()));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! **8. How much do parts of one lot differ, and which tolerance matters?** The same seed gives the
//! same bytes at any number of threads.
//!
//! ```
//! let scenario = relatch::load("scenarios/13-kiln-lot.toml".as_ref())?;
//! let outcome = relatch::population(&scenario, 256, 0, 1)?;
//! assert_eq!(outcome.units, 256);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! **9. Parts that follow a maker's published curve.**
//!
//! ```
//! use relatch::machine::Effort;
//!
//! let sheet = relatch::Datasheet::parse("starter", relatch::starter("datasheet").expect("a starter"))?;
//! let mut effort = Effort::default();
//! (effort.designs, effort.parts) = (40, 12);
//! let answer = relatch::fit(&sheet, effort, 1)?;
//! assert!(answer.trip_multiple.low <= answer.trip_multiple.high);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! **10. Words, JSON, and back**, of any record.
//!
//! ```
//! let scenario = relatch::load("scenarios/08-worked-strip.toml".as_ref())?;
//! let outcome = relatch::predict(&scenario)?;
//! println!("{}", relatch::text(&outcome));
//! let again: relatch::Outcome = serde_json::from_str(&relatch::json(&outcome)?)?;
//! assert_eq!(again.trip, outcome.trip);
//! let case = relatch::Case::parse("starter", relatch::starter("case").expect("a starter"))?;
//! let diagnosis = relatch::diagnose(&case, 1)?;
//! println!("{}", relatch::text(&(&diagnosis, &case)));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # What is computed, and what is not
//!
//! Temperatures along the strip and, where it matters, across its layers; the clamped terminal,
//! both contacts, a heater winding, the air of a housing. Contact resistance after Holm, tied to
//! the spring. A latch with clearance and preload, a snap blade in all its modes, or a snap disc by
//! the full theory of shallow shells; several poles on one bar; an instantaneous element beside
//! the strip. Every answer states its numerical error, and "it does not trip" is proved, not timed
//! out. What an outcome leaves out (arcs, blow-off, the scatter between units, and what its part
//! has and the model has not) is said in it.
//!
//! Inside records numbers are SI and temperatures kelvin unless a name says otherwise; names carry
//! the unit where a bare number travels.
//!
//! # Features
//!
//! | feature | adds |
//! |---|---|
//! | `cli` | the program `relatch` |
//! | `figures` | figures, and the pages and folders that hold them |
//! | `page` | what answers the page with sliders, wherever it runs |
//! | `serve` | the same page, served to a browser on this machine |
//! | `threads` | independent predictions on all processors, with the same results |
//! | `files` | populations kept in a folder |
//! | `parquet` | units of a population as Parquet (not in the default) |
//!
//! Without any (`default-features = false`) no clock, thread, process or file is needed to predict.

// Without the program some parts that renderings share have no user.
#![cfg_attr(not(feature = "cli"), allow(dead_code, unused_imports))]

mod facade;

// Before the page, which speaks as well.
#[macro_use]
mod present;

mod answer;
#[cfg(feature = "cli")]
mod cli;
mod device;
mod diagnose;
mod diagnostic;
mod document;
mod evidence;
mod family;
mod load;
mod logs;
mod material;
#[cfg(feature = "page")]
mod page;
mod physics;
mod predict;
mod quantity;
mod scenario;
mod solve;
mod standards;
mod statistics;
mod study;

pub use facade::*;

#[doc(no_inline)]
pub use crate::machine::{Case, Diagnosis};
#[cfg(feature = "page")]
#[doc(inline)]
pub use crate::page::Offline;
#[doc(no_inline)]
pub use crate::{answers::Outcome, lot::VaryOutcome, part::Scenario, years::AgeOutcome};
#[doc(inline)]
pub use crate::{
    evidence::Datasheet,
    family::{FitAnswer, WaitAnswer},
    predict::{AskMetals, Options, PredictError, Progress},
    present::language::{Language, Locale, speaking},
    present::{Tellable, json, text},
    scenario::ReadError,
    standards::PublishedLimits,
    study::ageing::Options as AgeOptions,
    study::by_hand::Explanation,
    study::compare::CompareOutcome,
    study::design::{DesignOutcome, Targets},
    study::failures::{FailuresOutcome, Options as FailuresOptions},
    study::sweep::SweepOutcome,
};

/// What an outcome is made of: trips, waits, trip points, warnings, cautions, each an enum with its
/// numbers.
pub mod answers {
    #[doc(inline)]
    pub use crate::answer::{
        Caution, DataBand, DataShare, DataSource, Estimate, Failed, Held, Known, MetalData,
        NoProof, TripTime, Wait, WhyNever,
    };
    #[doc(inline)]
    pub use crate::predict::{
        AmbientCorrection, Characteristic, Curve, CurvePoint, ErrorEstimate, FirstToAct, Governs,
        HeldCurrent, LimitCheck, MagneticAnswer, Outcome, PreloadShift, Proof, Release, Reset,
        Trip, TripPoint, Warning,
    };
}

/// Why there is no answer: the error of each function, to be matched.
pub mod errors {
    #[doc(inline)]
    pub use crate::device::DeviceError;
    #[doc(inline)]
    pub use crate::family::{FamilyError, FitError, NoFamily};
    #[doc(no_inline)]
    pub use crate::predict::PredictError;
    #[doc(inline)]
    pub use crate::predict::Steady;
    #[doc(no_inline)]
    pub use crate::scenario::ReadError;
    #[doc(inline)]
    pub use crate::solve::Failure as IntegrationFailure;
    #[doc(inline)]
    pub use crate::study::{
        ageing::AgeError, by_hand::ByHandError, compare::CompareError, design::DesignError,
        failures::FailuresError, population::VaryError, sweep::SweepError,
    };
}

/// What figures are drawn of, what tables list in full and how it was computed: nobody has to name
/// it to ask or to judge an answer.
#[doc(hidden)]
pub mod details {
    pub use crate::answer::{LimitDemand, Place, PropertyName, WhyNotAsked};
    pub use crate::diagnose::{
        Alike, BandPoint, BaseRule, Change, Combination, Computed, EvidencePoint, Expected,
        Otherwise, State as PartState, StillOpen, Waits,
    };
    pub use crate::evidence::{AirPlace, Drop, StartSeen, Supply, Taken, Terminals, Waveform};
    pub use crate::family::{Assumed, LeftOpen, LeftOut};
    pub use crate::material::{Expansion, Law, Property};
    pub use crate::predict::{
        Across, AlongStrip, BandCheck, CableAnswer, ClosingAnswer, ClosingLaw, ComputedWith,
        Cycling, Dial, DialMark, DiscPart, Event, EventRecord, Interval, MechanismKind,
        NotModelled, OpeningTime, Part, PrematureReset, RepeatedReset, State,
    };
    pub use crate::predict::{
        BranchPoint, EnergyCurve, Film, Frame, HeatFlow, LoadedBy, Moment, Shape, SnapMoment,
        SnapPicture, StressAcross, StressLayer, Strike, StrikeFrame,
    };
    pub use crate::scenario::schema::{
        ClampedTerminal, ContactResistance, Convection, FixedContact, MovingContact, SectionKind,
        ShuntNode, ThroughThickness, Tolerance,
    };
    pub use crate::study::ageing::{
        AgeEffort, AgeErrors, AgeNotModelled, ByYear, Covered, DateAt, Drawn, DutyRecord, NoFit,
        NoLives, NoRow, Sensitivity, WeibullRecord,
    };
    pub use crate::study::failures::Computed as FailuresComputed;
    pub use crate::study::population::{
        AccuracyRecord, BandRecord, DemandFrom, Design, IndexRecord, InputRecord, InputShape,
        LoadRecord, SetAt, SidesRecord, SpreadRecord, TornadoRecord,
    };
}

/// What a scenario is made of: the protector, its place and its load.
pub mod part {
    #[doc(inline)]
    pub use crate::load::{Current, Programme, Repeat, Segment};
    #[doc(inline)]
    pub use crate::material::{Alloy, ContactMetal};
    #[doc(inline)]
    pub use crate::scenario::schema::{
        Ask, Before, Contact, Cooling, HistoryStep, Housing, Layer, Protector, Release, Reset,
        Scenario, StartUp, Strip, Surroundings, Winding,
    };
}

/// Machines that trip: nameplates, what was seen, and what a diagnosis says of it.
pub mod machine {
    #[doc(inline)]
    pub use crate::diagnose::{Cause, CauseShare, Contradiction, Diagnosis, Misfit, Verdict};
    #[doc(inline)]
    pub use crate::evidence::{Air, Case, Meter, Reading, Sign};
    #[doc(inline)]
    pub use crate::family::{
        Agreement, Early, Effort, Nameplate, PartsWait, Point, Sits, Spread, Timed, WaitQuestion,
        Window,
    };
}

/// Years of duty, row by row.
pub mod years {
    #[doc(inline)]
    pub use crate::study::ageing::{
        AgeOutcome, AgeWarning, Date, Dates, DriftRow, LifeSummary, Lives, NoDate,
    };
    #[doc(inline)]
    pub use crate::study::failures::{
        Failure, FailuresWarning, RareShare, ReturnedPart, ReturnedRecord, SavedRecord, State,
        WayRecord, YearRecord,
    };
}

/// A lot of parts: what differs, what comes out, what matters.
pub mod lot {
    #[doc(inline)]
    pub use crate::study::population::{
        LimitRecord, Quantile, Quantity, Rate, SensitivityRecord, VaryOutcome, VaryWarning,
    };
}

/// The bench: points of a sweep, targets and what was found.
pub mod bench {
    #[doc(inline)]
    pub use crate::study::compare::{Cause, Change, Compared, CurveAt};
    #[doc(inline)]
    pub use crate::study::design::{
        Asked, Choice, End, Fight, FoundFree, FoundWant, Free, InLot, Map, MapCell, Slope, Trade,
        TradePoint, Want, Wanted,
    };
    #[doc(inline)]
    pub use crate::study::summary::Summary;
    #[doc(inline)]
    pub use crate::study::sweep::{Axis, Point, PointAnswer};
}

/// Every room of the house, for the program, the tests and the benches. Nothing here is promised to
/// stay. With `--cfg surface` only the program is left, so that the compiler names what it does not
/// need.
#[doc(hidden)]
pub mod internals {
    macro_rules! rooms {
        ($($room:ident)*) => { $(pub mod $room { pub use crate::$room::*; })* };
    }
    #[cfg(feature = "cli")]
    rooms! { cli }
    #[cfg(all(feature = "page", not(surface)))]
    rooms! { page }
    #[cfg(not(surface))]
    rooms! {
        answer device diagnose diagnostic document evidence family load logs material physics
        predict present quantity scenario solve standards statistics study
    }
}
