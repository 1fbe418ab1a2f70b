//! Whether a part trips within the windows published for it.

use super::{Before, Case, Event, Measured, Outcome, Setting, Unit};

impl Case {
    /// Whether a test on a bench from cold shows that the part trips in time: sooner than a
    /// published window asks under no more current.
    pub fn trips_in_time(&self) -> bool {
        let rated_a = self.nameplate.rated_current_a;
        let in_time = |e: &Event| {
            let (Setting::Bench { current_a }, Outcome::Tripped { after_s }) =
                (&e.setting, e.outcome)
            else {
                return false;
            };
            let most = |m: &Measured| m.value + 2.0 * m.standard_uncertainty;
            let is_own = e.unit == Unit::ThisPart && e.before == Before::Cold;
            // What trips so soon trips as soon under more.
            let asked = self
                .nameplate
                .windows
                .iter()
                .filter(|w| w.after_multiple == 0.0);
            let mut asked = asked.filter(|w| w.multiple * rated_a >= current_a.value);
            is_own && asked.any(|w| w.at_most_s.is_finite() && most(&after_s) <= w.at_most_s)
        };
        self.events.iter().any(in_time)
    }
}
