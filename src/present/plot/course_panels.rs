//! Panels of a course: temperatures against time, and the deflection with the levels that matter.

use crate::predict::{Outcome, State};
use crate::present::chart::style::*;
use crate::present::chart::{Axis, Item, Line, Panel};
use crate::present::language::worded;
use crate::present::number::{finite, significant};
use crate::present::words;

/// Name, line and value; each has a dash of its own.
pub(super) type Curve = (&'static str, Stroke, fn(&State) -> f64);

pub(super) const HOTTEST: Curve = (noted!("hottest point"), stroke(EMBER, 6, SOLID), |s| {
    s.strip_peak_c
});
pub(super) const MEAN: Curve = (noted!("mean"), stroke(LAKE, 5, DASHED), |s| s.strip_mean_c);
pub(super) const CONTACT: Curve = (noted!("moving contact"), stroke(MOSS, 4, DASH_DOT), |s| {
    s.moving_contact_c
});
pub(super) const TERMINAL: Curve = (noted!("clamped terminal"), stroke(CLAY, 4, LONG), |s| {
    s.clamped_terminal_c
});
pub(super) const AIR: Curve = (noted!("air"), stroke(QUIET, 4, DOTTED), |s| s.ambient_c);
pub(super) const WINDING: Curve = (noted!("winding"), stroke(PLUM, 5, TWO_DOTS), |s| {
    s.winding_c.unwrap_or(f64::NAN)
});
pub(super) const CASE: Curve = (
    noted!("case of the machine"),
    stroke(CLAY, 4, DASHED),
    |s| s.machine_case_c.unwrap_or(f64::NAN),
);
pub(super) const HOUSING: Curve = (noted!("housing air"), stroke(INK, 4, SPARSE), |s| {
    s.housing_c.unwrap_or(f64::NAN)
});

/// States over an axis of time. The vertical axes hold all states of the record, so that pieces of
/// one axis of time share them.
pub(super) struct Course<'s> {
    pub(super) all: &'s [State],
    pub(super) shown: Vec<&'s State>,
    pub(super) x: Axis,
    /// A moment in the unit of the axis.
    pub(super) at: &'s dyn Fn(f64) -> f64,
}

impl Course<'_> {
    fn line(&self, stroke: Stroke, value: fn(&State) -> f64) -> Line {
        let points = self.shown.iter().map(|s| ((self.at)(s.time_s), value(s)));
        Line::new(points.collect(), stroke)
    }

    /// Temperatures, where there are any.
    pub(super) fn temperatures(
        &self,
        outcome: &Outcome,
        curves: &[Curve],
        (ticks, air): (usize, f64),
    ) -> Panel {
        let terminal = words::mechanism(outcome.part.mechanism).near;
        let name = |c: &Curve| {
            if c.0 == TERMINAL.0 {
                terminal
            } else {
                worded(c.0)
            }
        };
        let is_known = |c: &&Curve| self.all.iter().any(|s| (c.2)(s).is_finite());
        let curves = || curves.iter().filter(is_known);
        let values = self.all.iter().flat_map(|s| curves().map(|c| (c.2)(s)));
        let y = Axis::airy(word!("Temperature, °C"), values, ticks, air);
        let line = |c: &Curve| self.line(c.1, c.2).named(name(c)).into();
        Panel::new(self.x.clone(), y, curves().map(line).collect())
    }

    /// The deflection, with levels (name, mm, line).
    pub(super) fn deflection(
        &self,
        outcome: &Outcome,
        levels: &[(&str, Option<f64>, Stroke)],
        (ticks, air): (usize, f64),
        ends: &[f64],
    ) -> Panel {
        let level = |(name, value, stroke): &(&str, Option<f64>, Stroke)| {
            let value = finite(*value)?;
            let text = say!("{name} at {} mm", significant(value, 3); name);
            Some(Item::level(value, *stroke, text))
        };
        let mut items: Vec<Item> = levels.iter().filter_map(level).collect();
        let line = self.line(stroke(LAKE, 6, SOLID), |s| s.tip_deflection_mm);
        items.push(line.into());
        let heights = levels
            .iter()
            .filter_map(|l| l.1)
            .chain(ends.iter().copied());
        let values = self.all.iter().map(|s| s.tip_deflection_mm).chain(heights);
        let title = words::mechanism(outcome.part.mechanism).axis;
        Panel::new(self.x.clone(), Axis::airy(title, values, ticks, air), items)
    }
}
