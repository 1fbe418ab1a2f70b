//! Relatch predicts when a resettable thermal protector trips, how long it must cool before it can be
//! reset, and how lost spring preload moves both.
//!
//! Inside such a protector a strip of two or more metals carries the current, heats, bends, and releases a
//! spring-loaded latch or snaps over; then it must cool before it relatches. This crate solves the heat
//! equation of the strip and its terminals, takes the bending from the theory of layered sections (two
//! layers: Timoshenko 1925), and finds release and relatch as events of that solution.
//!
//! ```
//! use relatch::{predict, scenario};
//!
//! let text = scenario::starter("latch").expect("a starter file");
//! let scenario = scenario::read_text("starter", text)?;
//! let options = predict::Options { without_tables: true, ..Default::default() };
//! let outcome = predict::predict(&scenario, &options, &mut |_what, _how_far| {})?;
//!
//! let trip = outcome.trip.time_s.expect("this load trips it");
//! let wait = outcome.reset.relatch_wait_s.expect("it cools enough to relatch");
//! assert!(trip > 0.0 && wait > 0.0);
//! println!("trips after {trip:.1} s, can be reset {wait:.1} s later");
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! # The way through
//!
//! | module | what it does |
//! |---|---|
//! | [`quantity`], [`diagnostic`], [`document`] | numbers with units, problems with carets, TOML with spans |
//! | [`material`], [`standards`] | alloys with range, source and uncertainty; published limits |
//! | [`scenario`] | reads a file and checks all of it at once |
//! | [`load`] | currents against time |
//! | [`physics`] | one function a published formula, on plain numbers |
//! | [`device`] | the protector on a grid: heat equation, release, energy |
//! | [`solve`] | time steps, events, steady states; knows no physics |
//! | [`predict`] | trip, waits, trip point, tables; one [`predict::Outcome`] |
//! | [`logs`] | recorded currents: reading, runs, load programmes |
//! | [`evidence`] | cases: what was read, timed, recorded and seen at a tripping machine |
//! | [`statistics`] | repeatable streams, designs, intervals, life distributions |
//! | [`study`] | years of wear, populations of units, one prediction by hand |
//! | [`present`], [`cli`] | render the outcome; the command line |
//! | [`page`] | a local page with sliders, served on loopback |
//!
//! # What is computed, and what is not
//!
//! Temperatures along the strip and, where it matters, across its layers; the clamped terminal, both
//! contacts, a heater winding, the air of a housing. Contact resistance after Holm, tied to the spring.
//! A latch with clearance and preload, or a snap blade in all its modes. Every answer states its numerical
//! error, and "it does not trip" is proved, not timed out. Arcs, magnetic tripping, neighbouring poles and
//! the scatter between units are not modelled, and every outcome says so.
//!
//! Inside the crate all numbers are SI and temperatures kelvin; names carry the unit where a bare number
//! travels.

// Without the figures some parts that renderings share have no user.
#![cfg_attr(not(feature = "figures"), allow(dead_code, unused_imports))]

pub mod answer;
#[cfg(feature = "cli")]
pub mod cli;
pub mod device;
pub mod diagnose;
pub mod diagnostic;
pub mod document;
pub mod evidence;
pub mod family;
pub mod load;
pub mod logs;
pub mod material;
#[cfg(feature = "page")]
pub mod page;
pub mod physics;
pub mod predict;
pub mod present;
pub mod quantity;
pub mod scenario;
pub mod solve;
pub mod standards;
pub mod statistics;
pub mod study;
