//! A bar along the time axis: filled while the contacts are closed, hollow while they are open.

use crate::predict::State;
use crate::present::chart::style::{MOSS, PAPER, SOLID, stroke};
use crate::present::chart::{Axis, Bar, Height, Panel, fill};

/// The bar as a panel without axes.
pub(super) fn panel(x: Axis, states: &[&State], at: impl Fn(f64) -> f64) -> Panel {
    let bar = |(from_s, to_s, closed): (f64, f64, bool)| {
        let (colour, words) = if closed {
            (MOSS, [word!("contacts closed"), word!("closed")])
        } else {
            (PAPER, [word!("contacts open"), word!("open")])
        };
        let mut bar = Bar::new([(at(from_s), 0.0), (at(to_s), 1.0)], fill(colour, 1.0));
        bar.border = Some(stroke(MOSS, 3, SOLID));
        bar.words = words.to_vec();
        bar.into()
    };
    let items = runs(states).into_iter().map(bar).collect();
    Panel::new(x, Axis::linear("", 0.0, 1.0, 1), items).high(Height::Bare(44.0))
}

/// Stretches of time over which the contacts stay as they are.
fn runs(states: &[&State]) -> Vec<(f64, f64, bool)> {
    let mut runs: Vec<(f64, f64, bool)> = Vec::new();
    for state in states {
        match runs.last_mut() {
            Some((_, to, closed)) if *closed == state.closed => *to = state.time_s,
            Some((_, to, _)) => {
                *to = state.time_s;
                runs.push((state.time_s, state.time_s, state.closed));
            }
            None => runs.push((state.time_s, state.time_s, state.closed)),
        }
    }
    runs.retain(|(from, to, _)| to > from);
    runs
}
