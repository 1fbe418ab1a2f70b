//! Figures as SVG and PNG. Text stays text; places are found with one embedded font, which PNGs are drawn
//! with; coordinates are whole units on a large sheet.

mod along_strip;
mod ambient;
mod bands;
mod characteristic;
mod contact_bar;
mod cool_down;
mod diagnosis;
mod drawn_strip;
mod drift;
mod fit;
mod heat_flow;
#[cfg(feature = "page")]
pub mod live;
mod lives;
mod log_log;
mod memory;
mod moments;
pub mod moving;
mod preload_shift;
mod release;
mod scatter;
mod snap_blade;
mod stress;
mod stretch;
mod strip_drawing;
mod strip_shape;
mod table_curve;
mod through_log;
mod time_course;
mod tornado;
mod trip_point_histogram;

pub use super::chart::{Figure, PlotError, Theme};
use super::chart::{area, axis, canvas, label, palette, plane, style, theme, vector};
use crate::answer::Caution;
use crate::predict::{Outcome, parallel};
use crate::study::ageing::AgeOutcome;
use crate::study::population::VaryOutcome;
pub use diagnosis::{diagnosis_figure, readings_figure};
pub use fit::fit_figure;
pub use through_log::log_figure;

/// Draws one figure, where there is data for it.
type Draw = fn(&Outcome) -> Result<Option<Figure>, PlotError>;

/// Every figure of a run, in the order in which they are shown.
const DRAWN: [Draw; 12] = [
    time_course::figure,
    strip_shape::figure,
    drawn_strip::figure,
    along_strip::figure,
    heat_flow::figure,
    stress::figure,
    snap_blade::figure,
    cool_down::figure,
    memory::figure,
    characteristic::figure,
    preload_shift::figure,
    ambient::figure,
];

/// Drawings on all threads; results in order, the same at any number of threads.
fn side_by_side<T: Sync, R: Send>(
    items: &[T],
    draw: impl Fn(&T) -> Result<R, PlotError> + Sync,
) -> Result<Vec<R>, PlotError> {
    parallel::map(items, draw, &mut |_| {})
        .into_iter()
        .collect()
}

/// Every figure that `outcome` has data for.
///
/// # Errors
/// When a figure cannot be drawn.
pub fn figures(outcome: &Outcome) -> Result<Vec<Figure>, PlotError> {
    let all = side_by_side(&DRAWN, |draw| draw(outcome))?;
    Ok(all.into_iter().flatten().collect())
}

/// What is said where a figure tells when it can be switched on again; nothing where it holds its load.
fn again(outcome: &Outcome) -> &'static [Caution] {
    match outcome.trip.trips() {
        true => &[Caution::FindCause],
        false => &[],
    }
}

/// Figures of an ageing study.
///
/// # Errors
/// When a figure cannot be drawn.
pub fn age_figures(outcome: &AgeOutcome) -> Result<Vec<Figure>, PlotError> {
    let all = [drift::figure(outcome)?, lives::figure(outcome)?];
    Ok(all.into_iter().flatten().collect())
}

/// The figures in a theme, each with itself as PNG.
pub(super) fn finished(
    outcome: &Outcome,
    theme: Theme,
) -> Result<Vec<(Figure, Vec<u8>)>, PlotError> {
    let figures = figures(outcome)?;
    side_by_side(&figures, |figure| {
        let figure = figure.clone().in_theme(theme);
        let png = figure.png()?;
        Ok((figure, png))
    })
}

/// Every figure of a population.
///
/// # Errors
/// When a figure cannot be drawn.
pub fn population_figures(outcome: &VaryOutcome) -> Result<Vec<Figure>, PlotError> {
    let all = [
        bands::figure(outcome)?,
        tornado::figure(outcome)?,
        scatter::figure(outcome)?,
        trip_point_histogram::figure(outcome)?,
    ];
    Ok(all.into_iter().flatten().collect())
}

/// What the deflection of a part is called on an axis.
fn deflection_title(outcome: &Outcome) -> &'static str {
    words::mechanism(outcome.part.mechanism).axis
}

/// A number with its unit as people read it.
fn symbols(text: &str) -> String {
    let pairs = [("uohm", "µΩ"), ("mohm", "mΩ"), ("ohm", "Ω"), ("degC", "°C")];
    let text = pairs
        .iter()
        .fold(text.to_owned(), |t, (typed, read)| t.replace(typed, read));
    match text.strip_suffix("um") {
        Some(number) => format!("{number}µm"),
        None => text,
    }
}

#[cfg(test)]
mod tests {
    #[test]
    fn units_are_read_as_symbols() {
        let read = ["370 um", "250 uohm", "1.1 mohm m", "25 degC", "3 mm"].map(super::symbols);
        assert_eq!(read, ["370 µm", "250 µΩ", "1.1 mΩ m", "25 °C", "3 mm"]);
    }
}
