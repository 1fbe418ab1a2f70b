//! What a release mechanism does on a grid: its event functions, and what is seen of it. A file a
//! mechanism.
//!
//! An event function is a distance in metres, zero at the event and negative before it. States are
//! those of the model's layout; with them goes the square of the strip's current, A^2, for the heat
//! across the layers.

mod bar;
mod disc;
mod latch;
mod snap_blade;

pub(super) use disc::DiscParts;
pub(super) use snap_blade::HingedWeights;

use super::{Device, Model, Plant};
use crate::physics::shell::Fold;
use crate::scenario::Mechanism;
use crate::solve::Event;
use std::cell::RefCell;

/// Which event.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Gauge {
    /// Release with this deflection in hand, m.
    Release {
        /// m
        in_hand_m: f64,
    },
    /// Relatch.
    Relatch,
}

impl Gauge {
    /// Release with nothing in hand.
    pub const RELEASE: Gauge = Gauge::Release { in_hand_m: 0.0 };
}

/// What is seen of a branch at a state, or a hair short of its snap: at the snap the branch may be
/// gone to the last digits. What is closed snaps by heat, what is open by cold.
fn on_the_branch<T>(
    on: &Model,
    y: &[f64],
    closed: bool,
    seen: impl Fn(&[f64]) -> Option<T>,
) -> Option<T> {
    let flat_k = on.device.laws.flat_temperature_k;
    let short_of = |part: f64| -> Vec<f64> {
        let factor = if closed { 1.0 - part } else { 1.0 + part };
        let mut y = y.to_vec();
        for k in &mut y[..on.layout.strip] {
            *k = flat_k + factor * (*k - flat_k);
        }
        y
    };
    let hairs = [0.0, 1e-6, 1e-5, 1e-4, 1e-3].into_iter();
    hairs.map(short_of).find_map(|y| seen(&y))
}

/// An event function that is a sum over the strip: what registers can add up.
#[derive(Debug, Clone, Copy)]
pub struct Push {
    /// Multiplier of the free deflection.
    pub deflection: f64,
    /// Multiplier of the compliance at the push point, N.
    pub compliance_n: f64,
    /// What is added, m.
    pub constant_m: f64,
}

/// Where a strip stands, seen from the side.
#[derive(Debug, Clone, Default)]
pub struct Outline {
    /// Distances along the strip, m.
    pub along_m: Vec<f64>,
    /// Distances from the clamp or the left hinge, m.
    pub x_m: Vec<f64>,
    /// Heights, m.
    pub y_m: Vec<f64>,
}

/// A blade as it snaps through.
#[derive(Debug, Clone)]
pub struct AtSnap {
    /// Its thrust, N.
    pub thrust_n: f64,
    /// Its heights at the positions asked for, m.
    pub heights_m: Vec<f64>,
}

/// What an event keeps between the states of one march: the fold of a disc.
pub type Kept = Option<Fold>;

/// A release mechanism on a grid.
pub trait ReleaseMechanism {
    /// Signed distance from an event, m.
    fn distance_m(&self, on: &Model, gauge: Gauge, y: &[f64], current_squared: f64) -> f64;

    /// The same where the answer at a state nearby left something behind.
    fn distance_near_m(
        &self,
        on: &Model,
        gauge: Gauge,
        y: &[f64],
        current_squared: f64,
        _kept: &mut Kept,
    ) -> f64 {
        self.distance_m(on, gauge, y, current_squared)
    }

    /// The event function as a sum over the strip, where it is one.
    fn push(&self, _gauge: Gauge, _preload_loss: f64) -> Option<Push> {
        None
    }

    /// Most by which the distance from an event changes for one step of `along` (all of it
    /// positive) in any of its signs; `None`: the slope at the state tells.
    fn steepness(&self, _on: &Model, _y: &[f64], _along: &[f64]) -> Option<f64> {
        None
    }

    /// Whether the distance from release is a straight line in the force of the spring.
    fn is_straight_in_preload(&self) -> bool {
        self.push(Gauge::RELEASE, 0.0).is_some()
    }

    /// Weights of a span between two hinges, where it has one.
    fn hinged(&self, _points: &super::Grid) -> HingedWeights {
        HingedWeights::default()
    }

    /// Deflection (or rise as made) that releases it, m, at a compliance of the strip and a loss of
    /// preload.
    fn release_deflection_m(&self, compliance_m_per_n: f64, preload_loss: f64) -> f64;

    /// Part of that deflection that the spring holds, where the strip pushes against one.
    fn preload_share(&self, _compliance_m_per_n: f64, _preload_loss: f64) -> Option<f64> {
        None
    }

    /// Curvature with which an evenly bent strip of a bending stiffness, N m^2, releases, 1/m,
    /// roughly.
    fn release_curvature_per_m(&self, device: &Device, stiffness_n_m2: f64) -> f64;

    /// The deflection that a person sees, m, with contacts closed or open.
    fn seen_m(&self, on: &Model, y: &[f64], current_squared: f64, closed: bool) -> f64;

    /// The strip seen from the side.
    fn outline(&self, on: &Model, y: &[f64], current_squared: f64, closed: bool) -> Outline;

    /// Largest slope of the strip against the one it was set out from, rad.
    fn rotation_rad(&self, on: &Model, y: &[f64], current_squared: f64) -> f64;

    /// How it snaps through, with its heights at positions along the span, m; `None` where nothing
    /// snaps.
    fn at_snap(
        &self,
        _on: &Model,
        _y: &[f64],
        _current_squared: f64,
        _x_m: &[f64],
    ) -> Option<AtSnap> {
        None
    }
}

impl Device {
    /// What releases it.
    pub fn mechanism(&self) -> &dyn ReleaseMechanism {
        match &self.release.mechanism {
            Mechanism::Latch(latch) => latch,
            Mechanism::SnapBlade(blade) => blade,
            Mechanism::Bar(bar) => bar,
            Mechanism::Disc(disc) => disc,
        }
    }
}

impl Model {
    /// What releases here.
    pub fn mechanism(&self) -> &dyn ReleaseMechanism {
        self.device.mechanism()
    }

    /// Distance beyond release, m; negative while it holds.
    pub fn release_excess_m(&self, y: &[f64], current_squared: f64) -> f64 {
        let mechanism = self.mechanism();
        mechanism.distance_m(self, Gauge::RELEASE, y, current_squared)
    }

    /// Force that the strip must overcome to release, N (0 where nothing is pushed).
    pub fn release_force_n(&self) -> f64 {
        self.device.release.force_n()
    }
}

impl Plant<'_> {
    /// Signed distance from an event at a time and state, m: negative before it.
    pub fn distance_m(&self, gauge: Gauge, t: f64, y: &[f64]) -> f64 {
        self.distance_near_m(gauge, t, y, &mut None)
    }

    fn distance_near_m(&self, gauge: Gauge, t: f64, y: &[f64], kept: &mut Kept) -> f64 {
        let squared = self.strip_current_squared(t);
        let mechanism = self.model.mechanism();
        mechanism.distance_near_m(self.model, gauge, y, squared, kept)
    }

    /// The event as the general way sees it.
    pub fn event(&self, gauge: Gauge) -> PlantEvent<'_> {
        PlantEvent {
            plant: self,
            gauge,
            kept: RefCell::default(),
        }
    }

    /// The release as the general way sees it.
    pub fn release(&self) -> PlantEvent<'_> {
        self.event(Gauge::RELEASE)
    }
}

/// An event of a protector under its drive.
pub struct PlantEvent<'a> {
    plant: &'a Plant<'a>,
    gauge: Gauge,
    kept: RefCell<Kept>,
}

impl Event for PlantEvent<'_> {
    fn value(&self, t: f64, y: &[f64]) -> f64 {
        let kept = &mut self.kept.borrow_mut();
        self.plant.distance_near_m(self.gauge, t, y, kept)
    }

    fn steepness(&self, _t: f64, y: &[f64], along: &[f64]) -> Option<f64> {
        let model = self.plant.model;
        model.mechanism().steepness(model, y, along)
    }
}
