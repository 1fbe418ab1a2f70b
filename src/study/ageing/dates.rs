//! The dates, each checked with the engine where it was found.

use super::constants::{MOST_LOSS, YEAR_S};
use super::drift::{Drift, Worn};
use super::error::AgeError;
use super::lives::service_life_s;
use super::map::Side;
use super::outcome::{Date, Dates};
use super::question::Question;
use super::view::View;
use crate::predict::limit_words;

/// What the dates are found from.
pub struct Finder<'a> {
    /// Asks the engine again where a date was found.
    pub question: &'a Question<'a>,
    /// The course of wear.
    pub drift: &'a Drift<'a, 'a>,
    /// The same with looser steps: the difference is the error of the steps.
    pub looser: &'a Drift<'a, 'a>,
    /// Lives are looked for up to this, s.
    pub end_s: f64,
    /// The state in which the new part already releases, if any.
    pub releases_new: Option<&'a str>,
}

impl Finder<'_> {
    /// All dates.
    ///
    /// # Errors
    /// A failure of the engine.
    pub fn dates(&self) -> Result<Dates, AgeError> {
        Ok(Dates {
            trips_in_service: self.service()?,
            leaves_limits_late: self.limits(Side::Late)?,
            leaves_limits_early: self.limits(Side::Early)?,
            preload_gone: self.gone(),
        })
    }

    fn none(&self, reason: impl Into<String>) -> Date {
        Date {
            years: None,
            at: None,
            reason: Some(reason.into()),
            error_years: None,
        }
    }

    fn not_within(&self) -> Date {
        self.none(format!("not within {:.0} years", self.end_s / YEAR_S))
    }

    fn service(&self) -> Result<Date, AgeError> {
        if let Some(state) = self.releases_new {
            return Ok(Date {
                years: Some(0.0),
                at: Some(state.to_owned()),
                reason: Some("the new part already trips".into()),
                error_years: None,
            });
        }
        let view = self.drift.view;
        let margin =
            |worn: &Worn| view.carrying(worn.contact_ohm, view.hold(worn.loss, worn.stuck.0));
        if margin(&self.drift.at(0.0)).is_none() {
            return Ok(self.none("nothing is carried"));
        }
        let Some(found_s) = service_life_s(self.drift, self.end_s) else {
            return Ok(self.not_within());
        };
        let worn = self.drift.at(found_s);
        let Some((value, number)) = margin(&worn) else {
            return Ok(self.none("nothing is carried"));
        };
        let state = &self.question.states[number];
        let exact = if worn.loss < MOST_LOSS {
            let hold = view.hold(worn.loss, worn.stuck.0);
            self.question
                .state_margin_m(state, worn.contact_ohm, hold)?
        } else {
            None
        };
        let rate = self.rate(found_s, |w| margin(w).map(|(m, _)| m));
        let steps = service_life_s(self.looser, self.end_s).map(|s| (s - found_s).abs());
        Ok(Date {
            years: Some(found_s / YEAR_S),
            at: Some(state.name.clone()),
            reason: None,
            error_years: error_years(exact.map(|e| e - value), rate, steps),
        })
    }

    fn limits(&self, side: Side) -> Result<Date, AgeError> {
        let Some(table) = self.question.limits else {
            return Ok(self.none("the scenario names no published limits"));
        };
        let view = self.drift.view;
        let Some(found_s) = leaves(self.drift, view, side, self.end_s) else {
            return Ok(self.not_within());
        };
        let worn = self.drift.at(found_s);
        let Some((value, row)) = outside(view, side, &worn) else {
            return Ok(self.not_within());
        };
        let sign = if side == Side::Early { 1.0 } else { -1.0 };
        let stuck = stuck_of(side, &worn);
        let hold = view.hold(worn.loss, stuck);
        let exact = self
            .question
            .limit_margin_m(row, side, worn.contact_ohm, hold)?
            .map(|m| sign * m - value);
        let rate = self.rate(found_s, |w| outside(view, side, w).map(|(m, _)| m));
        let steps = leaves(self.looser, view, side, self.end_s).map(|s| (s - found_s).abs());
        let new_part = found_s == 0.0;
        Ok(Date {
            years: Some(found_s / YEAR_S),
            at: table.rows.get(row).map(limit_words),
            reason: new_part.then(|| "the new part already does".into()),
            error_years: if new_part {
                None
            } else {
                error_years(exact, rate, steps)
            },
        })
    }

    fn gone(&self) -> Date {
        match self.drift.first(self.end_s, |w| w.loss - MOST_LOSS) {
            Some(s) => Date {
                years: Some(s / YEAR_S),
                at: None,
                reason: None,
                error_years: None,
            },
            None => self.not_within(),
        }
    }

    /// Rate of a margin at a time, m/s.
    fn rate(&self, time_s: f64, value: impl Fn(&Worn) -> Option<f64>) -> Option<f64> {
        let step = 1e-4 * time_s;
        let up = value(&self.drift.at(time_s + step))?;
        let down = value(&self.drift.at(time_s - step))?;
        Some((up - down) / (2.0 * step))
    }
}

/// The latch as it stands worst for a side.
fn stuck_of(side: Side, worn: &Worn) -> f64 {
    match side {
        Side::Early => worn.stuck.0,
        Side::Late => worn.stuck.1,
    }
}

fn outside(view: &View<'_>, side: Side, worn: &Worn) -> Option<(f64, usize)> {
    view.outside(
        side,
        worn.contact_ohm,
        view.hold(worn.loss, stuck_of(side, worn)),
    )
}

fn leaves(drift: &Drift<'_, '_>, view: &View<'_>, side: Side, end_s: f64) -> Option<f64> {
    drift.first(end_s, |worn| {
        outside(view, side, worn).map_or(f64::NEG_INFINITY, |(m, _)| m)
    })
}

/// What a wrong margin and wrong steps make of a date, years.
fn error_years(off_m: Option<f64>, rate_m_per_s: Option<f64>, steps_s: Option<f64>) -> Option<f64> {
    let (off, rate) = (off_m?, rate_m_per_s?);
    let error_s = (off / rate).abs() + steps_s.unwrap_or(0.0);
    error_s.is_finite().then_some(error_s / YEAR_S)
}
