//! What the spring goes through in a year, state by state, and what has to be said beside the numbers.

use super::constants::YEAR_S;
use super::drift::{Drift, Worn};
use super::duty::DutyState;
use super::map::{Map, StateField};
use super::outcome::{Dates, DutyRecord};
use super::study::Study;
use super::view::View;

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
        let spring = |field: &StateField, ohm: f64| {
            let count = field.factors.len();
            let middle: Vec<f64> = (0..map.resistances.len())
                .map(|r| {
                    field
                        .factors
                        .value(&field.spring_k[r * count..(r + 1) * count], 1.0)
                })
                .collect();
            map.resistances
                .value(&middle, ohm.min(map.resistances.highest()))
        };
        let all: f64 = map
            .states
            .iter()
            .filter(|f| f.state.held)
            .map(|f| shares(spring(f, new_ohm), f.state.share))
            .sum();
        map.states
            .iter()
            .map(|f| {
                let s = &f.state;
                let new_k = spring(f, new_ohm);
                let released = self.released.iter().find(|(name, _)| *name == s.name);
                DutyRecord {
                    state: s.name.clone(),
                    hours_a_year: hours(s),
                    held_hours_a_year: if s.held { hours(s) } else { 0.0 },
                    current_a: released.map_or(s.current_a, |(_, a)| *a),
                    ambient_c: s.ambient_k - 273.15,
                    spring_new_c: new_k - 273.15,
                    spring_end_c: spring(f, end.contact_ohm) - 273.15,
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
    pub fn warnings(&self, map: &Map, drift: &Drift<'_, '_>, dates: &Dates) -> Vec<String> {
        let mut list = Vec::new();
        for (name, a) in &self.released {
            list.push(format!(
                "the new part already trips in \"{name}\" at {a:.2} A; its wear there is counted without current"
            ));
        }
        if let Some(years) = dates.preload_gone.years
            && years <= self.horizon_s / YEAR_S
        {
            list.push(format!(
                "after {years:.2} years 95 % of the preload is gone; beyond, the model does not hold"
            ));
        }
        let end = drift.at(self.horizon_s);
        if map.ends_in_runaway && end.contact_ohm > map.resistances.highest() * (1.0 + 1e-9) {
            list.push(format!(
                "from {:.1} mohm of contact resistance on there is no steady state: the part runs away and trips before the horizon",
                1e3 * map.resistances.highest()
            ));
        }
        list
    }

    /// What the model leaves out.
    pub fn not_modelled(&self) -> Vec<String> {
        let mut list = vec![
            "how the loss depends on the stress in the spring: the constants are for its stress"
                .to_string(),
            "seasons one after the other: dates are good to about a year".into(),
            "corrosion, dust, vibration, short circuits".into(),
            "change of the strip itself: permanent set, calibration".into(),
        ];
        if self.ageing.friction.is_some() {
            list.push("friction follows no published law: an exponential rise, common practice without a source".into());
        }
        if self.scenario.strip.through_thickness != crate::scenario::ThroughThickness::Resolved {
            list.push(
                "heat across the layers (set `through_thickness = \"resolved\"` in [strip])".into(),
            );
        }
        list
    }
}
