//! Where a load leads, and whether that is news.

use super::{Follower, Forecast, Line, SHARES, Watch, What};
use crate::family::spread;
use crate::predict::parallel;

/// How far a forecast looks, s.
const LOOK_AHEAD_S: f64 = 4.0 * 3600.0;
/// Two starts within this time are a load that comes and goes, s.
const COMES_AND_GOES_S: f64 = 300.0;
/// Fewer of the parts that are left are one or two of them, and no news.
const SOME: f64 = 0.1;
/// Every sound part is this far past release when the one at hand is called late.
const OVERDUE: f64 = 1.1;

impl Watch<'_> {
    /// Looks where the load leads, and tells what is new.
    pub(super) fn look(&mut self, out: &mut Vec<Line>) {
        self.carry_pending();
        let share = self.released();
        let Some(forecast) = self.forecast() else {
            return;
        };
        let now_s = self.now_s;
        let Some(load) = &mut self.load else { return };
        load.looked_s = now_s;
        load.looked_a = load.level_a;
        load.next_look_s = now_s + (0.1 * (now_s - load.from_s)).clamp(5.0, 60.0);
        let passed = [SHARES.0, 0.5, SHARES.1]
            .iter()
            .any(|s| load.told_share < *s && share >= *s);
        let news = load
            .told
            .is_none_or(|(told_s, told)| is_news(&told, told_s, &forecast, now_s));
        if passed {
            load.told_share = share;
        }
        if news {
            load.told = Some((now_s, forecast));
        }
        let overdue =
            forecast.overdue && !std::mem::replace(&mut load.told_overdue, forecast.overdue);
        if passed {
            self.tell(What::WouldHaveTripped { share }, out);
        }
        if overdue {
            self.tell(What::Overdue, out);
        } else if news && !forecast.overdue {
            self.tell(What::Forecast(forecast), out);
        }
    }

    /// Share of the parts that would have opened by now even with the least heat that the log
    /// allows.
    fn released(&self) -> f64 {
        let parts = self.parts.iter().filter(|p| !p.failed);
        let (count, released) = parts.fold((0, 0), |sum, p| {
            (sum.0 + 1, sum.1 + usize::from(p.released_s.is_some()))
        });
        f64::from(released as u32) / f64::from(count.max(1))
    }

    /// Forecast over the parts that still hold, as the one at hand does. The parts are at the
    /// present.
    pub(super) fn forecast(&self) -> Option<Forecast> {
        let load = self.load.as_ref()?;
        let comes_and_goes = self.now_s - self.starts_s[0] < COMES_AND_GOES_S;
        let current_a = if comes_and_goes {
            self.window.rms_a().0
        } else {
            load.level_a
        };
        let used = self.used(current_a)?;
        let overdue = used.low >= OVERDUE
            && self
                .parts
                .iter()
                .all(|p| p.failed || p.released_s.is_some());
        // The one at hand still holds. Where hardly any part has come through a start as it did,
        // those count that are back on this side of release.
        let mut holding: Vec<&Follower<'_>> =
            self.all().filter(|p| p.released_s.is_none()).collect();
        if 4 * holding.len() < self.parts.len() {
            let below = |p: &&Follower<'_>| p.run.travel_used(current_a) < 1.0;
            holding = self.all().filter(below).collect();
        }
        if holding.is_empty() {
            holding = self.all().collect();
        }
        let times = parallel::map(
            &holding,
            |p| p.releases_in(current_a, LOOK_AHEAD_S),
            &mut |_| {},
        );
        let trips: Vec<f64> = times.iter().copied().filter(|t| t.is_finite()).collect();
        Some(Forecast {
            current_a,
            comes_and_goes,
            trips: trips.len() as f64 / times.len().max(1) as f64,
            in_s: spread(trips),
            overdue,
        })
    }
}

/// Whether a forecast says something else than the one told some time ago.
fn is_news(told: &Forecast, told_s: f64, new: &Forecast, now_s: f64) -> bool {
    let kind = |f: &Forecast| {
        let part = u8::from(f.trips > SOME) + u8::from(f.trips >= SHARES.1);
        (f.overdue, part)
    };
    if kind(told) != kind(new) {
        return true;
    }
    let moved = (new.current_a / told.current_a - 1.0).abs() > 0.1;
    match (told.in_s, new.in_s) {
        // The same moment, seen from later.
        (Some(a), Some(b)) if kind(new).1 == 2 => {
            let (was_s, is_s) = (told_s + a.median, now_s + b.median);
            let left_s = b.median.max(5.0);
            (was_s - is_s).abs() > 0.5 * left_s
        }
        // Which parts are left is a matter of few: only a large change is news.
        (Some(_), Some(_)) => moved || (new.trips - told.trips).abs() > 0.3,
        _ => moved && kind(new).1 > 0,
    }
}
