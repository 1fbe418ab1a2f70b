//! Figures as SVG and PNG. Text stays text; places are found with one embedded font, which PNGs are
//! drawn with; coordinates are whole units on a large sheet.

mod along_strip;
mod answer_tables;
mod bands;
mod characteristic;
mod compare;
mod contact_bar;
mod cool_down;
mod course_panels;
mod diagnosis;
mod dial;
pub(super) mod drawn_strip;
mod drift;
mod failures;
mod feasible;
mod fit;
mod heat_flow;
#[cfg(feature = "page")]
pub mod live;
mod lives;
mod log_log;
mod magnetic;
pub mod mechanism;
mod memory;
mod moments;
pub mod moving;
mod pole_sets;
mod release;
mod scatter;
mod snap;
mod stress;
mod stretch;
mod strip_drawing;
mod strip_shape;
mod sweep;
mod through_log;
mod time_course;
mod tornado;
mod trip_point_histogram;

use super::chart::{
    Chart, area, axis, canvas, label, palette, plane, raster, style, text, theme, vector,
};
pub use super::chart::{Figure, PlotError, Print, Size, Theme};
use crate::answer::Caution;
use crate::predict::{Outcome, parallel};
use crate::present::cautions;
use crate::present::language::{speaking, spoken};
use crate::study::ageing::AgeOutcome;
use crate::study::compare::CompareOutcome;
use crate::study::design::DesignOutcome;
use crate::study::failures::FailuresOutcome;
use crate::study::population::VaryOutcome;
use crate::study::sweep::SweepOutcome;
pub use diagnosis::{diagnosis_figure, readings_figure};
pub use fit::fit_figure;
pub use through_log::log_figure;

/// One figure, where there is data for it.
enum Draw {
    Chart(fn(&Outcome) -> Option<Chart>),
    /// A drawing of its own, with the cautions that it carries.
    Own(fn(&Outcome, &[Caution]) -> Option<Figure>),
}

/// Every figure of a run, in the order in which they are shown.
const DRAWN: [Draw; 14] = [
    Draw::Chart(time_course::figure),
    Draw::Chart(strip_shape::figure),
    Draw::Own(drawn_strip::figure),
    Draw::Chart(along_strip::figure),
    Draw::Chart(heat_flow::figure),
    Draw::Chart(stress::figure),
    Draw::Chart(snap::figure),
    Draw::Chart(cool_down::figure),
    Draw::Chart(memory::figure),
    Draw::Chart(characteristic::figure),
    Draw::Chart(pole_sets::figure),
    Draw::Chart(dial::figure),
    Draw::Chart(answer_tables::preload_shift),
    Draw::Chart(answer_tables::ambient_correction),
];

/// Drawings on all threads; results in order, the same at any number of threads.
fn side_by_side<T: Sync, R: Send>(items: &[T], draw: impl Fn(&T) -> R + Sync) -> Vec<R> {
    let locale = spoken();
    parallel::map(items, |item| speaking(locale, || draw(item)), &mut |_| {})
}

/// Every figure that `outcome` has data for.
pub fn figures(outcome: &Outcome) -> Vec<Figure> {
    let (record, carried) = (cautions::of(outcome), carried(outcome));
    let all = side_by_side(&DRAWN, |draw| match draw {
        Draw::Chart(chart) => Some(chart(outcome)?.carrying(&record)),
        Draw::Own(drawn) => drawn(outcome, &carried),
    });
    all.into_iter().flatten().collect()
}

/// What goes with a picture of a run that moves.
fn carried(outcome: &Outcome) -> Vec<Caution> {
    cautions::with_figures(&cautions::of(outcome))
}

/// Charts that there is data for, drawn with the cautions of their record.
fn drawn<const N: usize>(charts: [Option<Chart>; N], record: &[Caution]) -> Vec<Figure> {
    let charts = charts.into_iter().flatten();
    charts.map(|chart| chart.carrying(record)).collect()
}

/// Figures of an ageing study.
pub fn age_figures(outcome: &AgeOutcome) -> Vec<Figure> {
    let charts = [drift::figure(outcome), lives::figure(outcome)];
    drawn(charts, &outcome.cautions)
}

/// Figures of failures per year.
pub fn failures_figures(outcome: &FailuresOutcome) -> Vec<Figure> {
    let charts = [failures::years(outcome), failures::saved(outcome)];
    drawn(charts, &outcome.cautions)
}

/// Every figure of a population.
pub fn population_figures(outcome: &VaryOutcome) -> Vec<Figure> {
    let charts = [
        bands::figure(outcome),
        tornado::figure(outcome),
        scatter::figure(outcome),
        trip_point_histogram::figure(outcome),
    ];
    drawn(charts, &outcome.cautions)
}

/// Figures of a comparison.
pub fn compare_figures(outcome: &CompareOutcome) -> Vec<Figure> {
    drawn([compare::figure(outcome)], &outcome.cautions)
}

/// Figures of a design, as far as they were asked for.
pub fn design_figures(outcome: &DesignOutcome) -> Vec<Figure> {
    let charts = [feasible::figure(outcome), feasible::trade(outcome)];
    drawn(charts, &outcome.cautions)
}

/// Figures of a sweep.
pub fn sweep_figures(outcome: &SweepOutcome) -> Vec<Figure> {
    let charts = [sweep::lines(outcome), sweep::map(outcome)];
    drawn(charts, &outcome.cautions)
}

/// Tells which figures have no room for the text that was asked for.
fn tell_smaller(figures: &[Figure], print: &Print) {
    let smaller = figures.iter().filter_map(|figure| {
        let points = figure.smaller_pt(print)?;
        Some(format!("{} {points:.1}", figure.stem))
    });
    let smaller: Vec<String> = smaller.collect();
    if let (Some(tell), Some(asked), false) = (print.tell, print.text_pt, smaller.is_empty()) {
        let smaller = smaller.join(", ");
        tell(&format!(
            "note: no room for text of {asked} points; points as drawn: {smaller}"
        ));
    }
}

/// Names and bytes of figures as asked for: each as PNG, SVG and perhaps PDF; and perhaps their
/// captions, which end with where they are from.
///
/// # Errors
/// When one cannot be drawn.
pub fn files(
    figures: impl IntoIterator<Item = Figure>,
    print: &Print,
    source: &str,
) -> Result<Vec<(String, Vec<u8>)>, PlotError> {
    let figures: Vec<Figure> = figures.into_iter().map(|f| f.printed(print)).collect();
    tell_smaller(&figures, print);
    let pictures = side_by_side(&figures, |figure| {
        let pdf = print.is_pdf.then(|| figure.pdf()).transpose()?;
        Ok((figure.png()?, pdf))
    });
    let mut files = Vec::new();
    if print.has_captions && !figures.is_empty() {
        let captions = figures.iter().map(|f| f.caption(source) + "\n");
        let captions: Vec<String> = captions.collect();
        files.push(("captions.md".to_owned(), captions.join("\n").into_bytes()));
    }
    for (figure, picture) in figures.into_iter().zip(pictures) {
        let (png, pdf) = picture?;
        let mut add =
            |ending: &str, bytes| files.push((format!("{}.{ending}", figure.stem), bytes));
        add("png", png);
        add("svg", figure.svg.into_bytes());
        pdf.into_iter().for_each(|pdf| add("pdf", pdf));
    }
    Ok(files)
}
