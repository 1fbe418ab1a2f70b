//! Distribution of lives: share of units that have failed, late and early apart, and the fitted Weibull curve.

use super::area::Area;
use super::axis::{Axis, extent};
use super::canvas::{Anchor, Canvas, sheet};
use super::label::Labels;
use super::panel::Panel;
use super::style::*;
use super::{Figure, PlotError, vector};
use crate::present::number::significant;
use crate::study::ageing::{AgeOutcome, LifeSummary};

const FRAME: Area = Area {
    left: 230.0,
    top: 190.0,
    right: 2330.0,
    bottom: 1270.0,
};

/// Draws the figure; `None` when no unit failed after its first day.
pub(super) fn figure(outcome: &AgeOutcome) -> Result<Option<Figure>, PlotError> {
    let lives = &outcome.lives;
    let all = [
        (
            "late: no longer protects as its limits demand",
            &lives.late,
            stroke(EMBER, 7, SOLID),
        ),
        (
            "early: trips its own load",
            &lives.early,
            stroke(LAKE, 7, LONG),
        ),
    ];
    let points = |s: &Option<LifeSummary>| -> Vec<(f64, f64)> {
        let curve = s.iter().flat_map(|s| &s.curve);
        curve
            .filter(|(years, _)| *years > 0.0)
            .map(|(years, share)| (*years, 100.0 * share))
            .collect()
    };
    let years = all.iter().flat_map(|(_, s, _)| points(s)).map(|(y, _)| y);
    let Some((low, high)) = extent(years) else {
        return Ok(None);
    };
    let title = "Lives of units with uncertain constants".to_owned();
    let subtitle = format!(
        "{} | {} units, seed {}; late and early are two questions and are never added up",
        outcome.scenario, lives.units, lives.seed
    );
    let raw = sheet(|canvas| {
        canvas.header(&title, &subtitle)?;
        let panel = Panel {
            frame: FRAME,
            x: Axis::log(
                "Years of duty",
                low.min(0.5 * outcome.horizon_years) * 0.8,
                (high.max(outcome.horizon_years) * 1.25).min(outcome.searched_years * 1.05),
            ),
            y: Axis::linear("Units that have failed, %", 0.0, 104.0, 5),
        };
        panel.draw(canvas, true, true)?;
        let mut labels = Labels::inside(&[FRAME]);
        let mut named = Vec::new();
        let line = panel.upright(canvas, outcome.horizon_years, stroke(QUIET, 4, DOTTED))?;
        named.push((labels.helper(&line), "horizon".to_owned(), QUIET));
        for (name, summary, stroke_of) in &all {
            let data = points(summary);
            if data.len() < 2 {
                continue;
            }
            let line = panel.map(&data);
            canvas.line(&line, *stroke_of)?;
            named.push((labels.curve(&line), (*name).to_owned(), stroke_of.colour));
            fit(canvas, &panel, summary, &mut labels, &mut named)?;
        }
        for (number, name, colour) in named {
            labels.beside(canvas, number, &name, colour)?;
        }
        let none: Vec<String> = all
            .iter()
            .filter(|(_, s, _)| s.is_some() && points(s).len() < 2)
            .map(|(name, ..)| format!("{name}: (almost) none within the time searched"))
            .collect();
        canvas.text(
            &none.join("; "),
            (110.0, FRAME.bottom + 150.0),
            SMALL,
            QUIET,
            Anchor::Left,
        )
    })?;
    let description = "Share of drawn units that have failed against years, for the late and the early direction, \
        each with its fitted Weibull distribution.";
    vector::finish("lives", title, description.to_owned(), &raw).map(Some)
}

/// The fitted curve, dotted in the same panel.
fn fit(
    canvas: &Canvas<'_>,
    panel: &Panel,
    summary: &Option<LifeSummary>,
    labels: &mut Labels,
    named: &mut Vec<(usize, String, plotters::style::RGBColor)>,
) -> Result<(), PlotError> {
    let Some((summary, w)) = summary
        .as_ref()
        .and_then(|s| Some((s, s.weibull.as_ref()?)))
    else {
        return Ok(());
    };
    // Units that fail new are not part of the fit.
    let units: f64 = summary
        .curve
        .last()
        .map_or(1.0, |(_, share)| summary.failed as f64 / share.max(1e-12));
    let new = summary.failed_new as f64 / units;
    let (low, high) = (panel.x.low, panel.x.high);
    let data: Vec<(f64, f64)> = (0..=160)
        .map(|k| {
            let years = low * (high / low).powf(f64::from(k) / 160.0);
            let failed = -(-(years / w.scale_years[0]).powf(w.shape[0])).exp_m1();
            (years, 100.0 * (new + (1.0 - new) * failed))
        })
        .collect();
    let line = panel.map(&data);
    canvas.line(&line, stroke(PLUM, 4, DOTTED))?;
    let verdict = if w.fits == Some(false) {
        ", does not fit"
    } else {
        ""
    };
    let text = format!("Weibull, shape {}{verdict}", significant(w.shape[0], 2));
    named.push((labels.curve(&line), text, PLUM));
    Ok(())
}
