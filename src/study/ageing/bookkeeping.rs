//! What the spring goes through in a year, state by state, and what has to be said beside the
//! numbers.

use super::constants::YEAR_S;
use super::drift::{Drift, Worn};
use super::duty::DutyState;
use super::map::Map;
use super::outcome::{AgeNotModelled, AgeWarning, Dates, DutyRecord};
use super::study::Study;
use super::view::View;
use crate::physics::constants::ZERO_CELSIUS_K;
use crate::scenario::{Scenario, ThroughThickness};

/// Hours a year in a state.
pub fn hours(state: &DutyState) -> f64 {
    state.share * YEAR_S / 3600.0
}

impl Study<'_> {
    /// Every state with its hours, temperatures and share of the relaxation.
    pub fn duty(&self, map: &Map, view: &View<'_>, end: &Worn) -> Vec<DutyRecord> {
        let c = &self.nominal;
        let new_ohm = c.contact_ohm(0.0, c.start_loss);
        let start = c.start(1.0, &view.temperatures(new_ohm).collect::<Vec<_>>());
        let shares = |k: f64, share: f64| match start {
            Some(state) => c.slope(1.0, state, std::iter::once((share, k))),
            None => 0.0,
        };
        let all: f64 = map
            .states
            .iter()
            .filter(|f| f.state.held)
            .map(|f| shares(map.spring_k(f, new_ohm), f.state.share))
            .sum();
        map.states
            .iter()
            .map(|f| {
                let s = &f.state;
                let new_k = map.spring_k(f, new_ohm);
                let released = self.released.iter().find(|(name, _)| *name == s.name);
                DutyRecord {
                    state: s.name.clone(),
                    hours_a_year: hours(s),
                    held_hours_a_year: if s.held { hours(s) } else { 0.0 },
                    current_a: released.map_or(s.current_a, |(_, a)| *a),
                    ambient_c: s.ambient_k - ZERO_CELSIUS_K,
                    spring_new_c: new_k - ZERO_CELSIUS_K,
                    spring_end_c: map.spring_k(f, end.contact_ohm) - ZERO_CELSIUS_K,
                    relaxation_share: if s.held && all > 0.0 {
                        shares(new_k, s.share) / all
                    } else {
                        0.0
                    },
                    releases_when_new: released.is_some(),
                }
            })
            .collect()
    }

    /// Warnings.
    pub fn warnings(&self, map: &Map, drift: &Drift<'_, '_>, dates: &Dates) -> Vec<AgeWarning> {
        let released = self.released.iter();
        let mut list: Vec<AgeWarning> = released
            .map(|(state, current_a)| AgeWarning::NewPartTrips {
                state: state.clone(),
                current_a: *current_a,
            })
            .collect();
        if let Some(years) = dates.preload_gone.years()
            && years <= self.horizon_s / YEAR_S
        {
            list.push(AgeWarning::PreloadGone { years });
        }
        let (end, highest) = (drift.at(self.horizon_s), map.resistances.highest());
        if map.ends_in_runaway && end.contact_ohm > highest * (1.0 + 1e-9) {
            list.push(AgeWarning::RunsAway {
                contact_ohm: highest,
            });
        }
        list
    }
}

/// What the model leaves out.
pub fn not_modelled(scenario: &Scenario) -> Vec<AgeNotModelled> {
    let mut list = vec![
        AgeNotModelled::Stress,
        AgeNotModelled::SeasonsInOrder,
        AgeNotModelled::Environment,
        AgeNotModelled::StripChange,
    ];
    if scenario
        .ageing
        .as_ref()
        .is_some_and(|a| a.friction.is_some())
    {
        list.push(AgeNotModelled::FrictionLaw);
    }
    if scenario.strip.through_thickness != ThroughThickness::Resolved {
        list.push(AgeNotModelled::AcrossLayers);
    }
    if scenario.magnetic.is_some() {
        list.push(AgeNotModelled::InstantaneousElement);
    }
    list
}
