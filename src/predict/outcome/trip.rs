//! The main answers: trip, trip point, waits.

use crate::answer::{NoProof, Wait};
use serde::{Deserialize, Serialize};

/// What the load does to a protector in the state it starts from.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(tag = "answer", rename_all = "snake_case")]
#[non_exhaustive]
pub enum Trip {
    /// It trips as soon as the load begins.
    AtOnce(Release),
    /// It trips.
    After(Release),
    /// It never trips.
    HoldsForEver {
        /// How that is proved.
        proof: Proof,
        /// Smallest deflection left before release, now or ever, mm.
        closest_approach_mm: f64,
    },
    /// It has not tripped in the time that was looked at.
    NotWithin {
        /// Time that was looked at, s.
        horizon_s: f64,
        /// Why nothing is proved.
        why: NoProof,
        /// Smallest deflection left before release so far, mm.
        closest_approach_mm: f64,
    },
}

/// The first release.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Release {
    /// Time to release, s.
    pub time_s: f64,
    /// Time to open contacts, s.
    pub clearing_time_s: f64,
    /// Current at release, A.
    pub current_a: f64,
    /// Current as a multiple of the rating.
    pub multiple_of_rated: f64,
    /// Deflection at release, mm; a snap blade: its rise just before it snaps.
    pub tip_deflection_mm: f64,
    /// Hottest point of the strip, degC.
    pub strip_peak_c: f64,
    /// Mean strip temperature, degC.
    pub strip_mean_c: f64,
    /// Winding temperature, degC.
    pub winding_c: Option<f64>,
    /// Temperatures of the nodes along the strip, clamp first.
    pub nodes: AlongStrip,
    /// Fixed contact, degC.
    pub fixed_contact_c: f64,
    /// Housing air, degC.
    pub housing_c: Option<f64>,
}

/// Temperatures along the strip.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[non_exhaustive]
pub struct AlongStrip {
    /// Distance from the clamp, mm.
    pub x_mm: Vec<f64>,
    /// degC.
    pub temperature_c: Vec<f64>,
}

/// How it is proved that it never trips.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Proof {
    /// The steady state lies short of release, and the state can no longer get past it.
    SteadyState,
    /// The load repeats, and each pass is as the one before.
    Cycle,
}

/// The largest current held for ever, with sensitivities.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(tag = "answer", rename_all = "snake_case")]
#[non_exhaustive]
pub enum TripPoint {
    /// This current.
    UpTo(HeldCurrent),
    /// None: the ambient alone holds it released.
    StaysOpen,
    /// Any: no current releases it before the strip melts.
    NeverReleases,
}

/// A current that is held for ever, and what moves it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct HeldCurrent {
    /// A.
    pub current_a: f64,
    /// Multiple of the rating.
    pub multiple_of_rated: f64,
    /// Change per percent of preload lost, A.
    pub per_percent_preload_a: Option<f64>,
    /// Change per kelvin of ambient, A.
    pub per_kelvin_ambient_a: Option<f64>,
    /// Change per percent of release travel, A.
    pub per_percent_travel_a: Option<f64>,
    /// Hottest point of the strip there, degC.
    pub strip_peak_c: Option<f64>,
}

/// Waits after the trip, counted from open contacts.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[non_exhaustive]
pub struct Reset {
    /// Until it can be reset (or closes by itself).
    pub relatch_wait: Wait,
    /// Until the equipment can be started without a new trip.
    pub ready_wait: Wait,
    /// What the ready wait comes from, where there is one.
    pub governs: Option<Governs>,
}

/// What a ready wait comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
#[non_exhaustive]
pub enum Governs {
    /// The start goes through as soon as it can be reset.
    Relatch,
    /// The start asks for more cooling than the reset.
    StartUp,
}

impl Trip {
    /// The release, where it trips.
    pub fn release(&self) -> Option<&Release> {
        match self {
            Self::AtOnce(release) | Self::After(release) => Some(release),
            _ => None,
        }
    }

    /// The release, to be changed.
    pub fn release_mut(&mut self) -> Option<&mut Release> {
        match self {
            Self::AtOnce(release) | Self::After(release) => Some(release),
            _ => None,
        }
    }

    /// Whether it is known if it ever trips.
    pub fn is_known(&self) -> bool {
        !matches!(self, Self::NotWithin { .. })
    }

    /// Whether it trips.
    pub fn trips(&self) -> bool {
        self.release().is_some()
    }

    /// Time to release, s.
    pub fn time_s(&self) -> Option<f64> {
        self.release().map(|r| r.time_s)
    }

    /// Time to open contacts, s.
    pub fn clearing_time_s(&self) -> Option<f64> {
        self.release().map(|r| r.clearing_time_s)
    }

    /// Smallest deflection left before release where it does not trip, mm.
    pub fn closest_approach_mm(&self) -> Option<f64> {
        match self {
            Self::HoldsForEver {
                closest_approach_mm,
                ..
            }
            | Self::NotWithin {
                closest_approach_mm,
                ..
            } => Some(*closest_approach_mm),
            _ => None,
        }
    }
}

impl TripPoint {
    /// The current and what moves it, where there is one.
    pub fn held(&self) -> Option<&HeldCurrent> {
        match self {
            Self::UpTo(held) => Some(held),
            _ => None,
        }
    }

    /// The current, A.
    pub fn current_a(&self) -> Option<f64> {
        self.held().map(|h| h.current_a)
    }

    /// The current as a multiple of the rating.
    pub fn multiple_of_rated(&self) -> Option<f64> {
        self.held().map(|h| h.multiple_of_rated)
    }
}
