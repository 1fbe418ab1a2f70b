//! The dates, each checked with the engine where it was found.

use super::constants::{MOST_LOSS, YEAR_S};
use super::drift::{Drift, Worn};
use super::error::AgeError;
use super::map::Side;
use super::outcome::{Date, DateAt, Dates, NoDate};
use super::question::Question;
use super::view::View;

/// Factor on what the differences say.
const SAFETY: f64 = 1.5;

/// A distance from a date, m (from 0 on it is reached), and the number of what reaches it first.
type Margin<'m> = dyn Fn(&View<'_>, &Worn) -> Option<(f64, usize)> + 'm;

/// What the dates are found from.
pub struct Finder<'a> {
    /// Asks the engine again where a date was found.
    pub question: &'a Question<'a>,
    /// The course of wear.
    pub drift: &'a Drift<'a, 'a>,
    /// The same with looser steps: the difference is the error of the steps.
    pub looser: &'a Drift<'a, 'a>,
    /// The same with the spring warmer by as much as its temperature may be wrong.
    pub warmer: &'a Drift<'a, 'a>,
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

    fn not_within(&self) -> Date {
        none(NoDate::NotWithin {
            searched_years: self.end_s / YEAR_S,
        })
    }

    fn service(&self) -> Result<Date, AgeError> {
        if let Some(state) = self.releases_new {
            return Ok(Date::New {
                at: DateAt::State(state.to_owned()),
            });
        }
        let margin = |view: &View<'_>, worn: &Worn| {
            view.carrying(worn.contact_ohm, view.hold(worn.loss, worn.stuck.0))
        };
        if margin(self.drift.view, &self.drift.at(0.0)).is_none() {
            return Ok(none(NoDate::NothingCarried));
        }
        self.first(&margin, |worn, number, value| {
            let state = &self.question.states[number];
            let exact = if worn.loss < MOST_LOSS {
                let hold = self.drift.view.hold(worn.loss, worn.stuck.0);
                self.question
                    .state_margin_m(state, worn.contact_ohm, hold)?
            } else {
                None
            };
            let at = DateAt::State(state.name.clone());
            Ok((Some(at), exact.map(|e| e - value)))
        })
    }

    fn limits(&self, side: Side) -> Result<Date, AgeError> {
        if self.question.limits.is_none() {
            return Ok(none(NoDate::NoLimits));
        }
        let margin = |view: &View<'_>, worn: &Worn| {
            let hold = view.hold(worn.loss, stuck_of(side, worn));
            view.outside(side, worn.contact_ohm, hold)
        };
        self.first(&margin, |worn, row, value| {
            let sign = if side == Side::Early { 1.0 } else { -1.0 };
            let hold = self.drift.view.hold(worn.loss, stuck_of(side, worn));
            let exact = self
                .question
                .limit_margin_m(row, side, worn.contact_ohm, hold)?;
            let at = self
                .question
                .rows
                .get(row)
                .map(|row| DateAt::Limit(row.demand()));
            Ok((at, exact.map(|m| sign * m - value)))
        })
    }

    /// The date at which a margin reaches zero. `ask` the engine where that is, and how far off the
    /// margin is there.
    fn first(
        &self,
        margin: &Margin<'_>,
        ask: impl Fn(&Worn, usize, f64) -> Result<(Option<DateAt>, Option<f64>), AgeError>,
    ) -> Result<Date, AgeError> {
        let of = |drift: &Drift<'_, '_>| {
            drift.first(self.end_s, |worn| {
                margin(drift.view, worn).map_or(f64::NEG_INFINITY, |(m, _)| m)
            })
        };
        let Some(found_s) = of(self.drift) else {
            return Ok(self.not_within());
        };
        let worn = self.drift.at(found_s);
        let Some((value, number)) = margin(self.drift.view, &worn) else {
            return Ok(self.not_within());
        };
        let (at, off_m) = ask(&worn, number, value)?;
        match at {
            Some(at) if found_s == 0.0 => Ok(Date::New { at }),
            at => {
                let rate = self.rate(found_s, |w| margin(self.drift.view, w).map(|(m, _)| m));
                // What looser steps and a warmer spring make of it; beyond the search they end with
                // it.
                let others = [self.looser, self.warmer];
                let moved = others.map(|d| (of(d).unwrap_or(self.end_s) - found_s).abs());
                Ok(Date::After {
                    years: found_s / YEAR_S,
                    at,
                    error_years: error_years(off_m, rate, moved),
                })
            }
        }
    }

    fn gone(&self) -> Date {
        match self.drift.first(self.end_s, |w| w.loss - MOST_LOSS) {
            Some(s) => Date::After {
                years: s / YEAR_S,
                at: None,
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

fn none(why: NoDate) -> Date {
    Date::None { why }
}

/// What a wrong margin, wrong steps and a wrong temperature make of a date, years. The engine's
/// finer grid, which tells how wrong the margin is, errs itself.
fn error_years(off_m: Option<f64>, rate_m_per_s: Option<f64>, moved_s: [f64; 2]) -> Option<f64> {
    let off_s = (off_m? / rate_m_per_s?).abs();
    let error_s = SAFETY * (off_s + moved_s.iter().sum::<f64>());
    error_s.is_finite().then_some(error_s / YEAR_S)
}
