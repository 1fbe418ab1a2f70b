//! A page of figures, each with the sentence that it proves. The numbers in the sentences are those
//! of the outcome, so the page cannot say anything else than the figures.

use super::number::{celsius, duration, finite, plain, significant};
use super::plot::{self, PlotError, Theme, moving};
use super::words;
use crate::predict::Outcome;

/// Which figures a shipped scenario contributes, by the stem of its file; any other gives all it
/// has.
const PLAN: [(&str, &[&str]); 10] = [
    (
        "01-pug-mill",
        &[
            "moving",
            "drawn_strip",
            "along_strip",
            "heat_flow",
            "characteristic",
            "memory",
        ],
    ),
    ("02-curtain-winch", &["cool_down"]),
    ("03-deck-oven", &["ambient_correction"]),
    ("04-fog-machine", &["time_course", "snap"]),
    ("05-classroom-strip", &["strip_shape", "stress"]),
    ("06-irrigation-pump-new", &["preload_shift"]),
    ("15-theatre-saw", &["characteristic", "strike"]),
    ("16-pump-lost-phase", &["loaded_poles"]),
    ("17-pump-motor-disc", &["moving"]),
    ("18-conveyor-class-20", &["dial"]),
];

/// Width of the pictures of the page, pixels.
const WIDTH: u32 = 900;
/// Width of the moving picture, pixels.
const MOVING_WIDTH: u32 = 480;

/// One picture of the page.
#[derive(Debug, Clone)]
pub struct Picture {
    /// Name of its file.
    pub name: String,
    /// The file.
    pub bytes: Vec<u8>,
    /// Title.
    pub title: String,
    /// What it proves.
    pub sentence: String,
    /// What it shows, for those who cannot see it.
    pub description: String,
}

/// The pictures of one scenario.
#[derive(Debug, Clone)]
pub struct Chapter {
    /// Title of the scenario.
    pub title: String,
    /// Link to its file, where the page can have one.
    pub link: Option<String>,
    /// Its pictures.
    pub pictures: Vec<Picture>,
}

/// Whether a scenario of this file stem gives no picture to the page.
#[must_use]
pub fn is_left_out(stem: &str) -> bool {
    let is_shipped = stem.as_bytes().first().is_some_and(u8::is_ascii_digit);
    is_shipped && PLAN.iter().all(|(known, _)| *known != stem)
}

/// Draws the pictures of one scenario. An outcome that keeps frames gives the moving picture, too.
///
/// # Errors
/// When a figure cannot be drawn.
pub fn pictures(stem: &str, outcome: &Outcome, theme: Theme) -> Result<Vec<Picture>, PlotError> {
    let plan = PLAN
        .iter()
        .find(|(known, _)| *known == stem)
        .map(|(_, figures)| *figures);
    let is_wanted = |figure: &str| plan.is_none_or(|list| list.contains(&figure));
    // The first scenario of the plan that shows a figure lends it its plain name.
    let prefix = |figure: &str| {
        let first = PLAN.iter().find(|(_, list)| list.contains(&figure));
        match first {
            Some((known, _)) if *known == stem => String::new(),
            _ => format!("{stem}-"),
        }
    };
    let mut pictures = Vec::new();
    type Film = fn(&Outcome, Theme, u32) -> Result<Option<moving::Moving>, PlotError>;
    let films: [(&str, Film, &str, &str); 2] = [
        (
            "moving",
            moving::moving_of_width,
            "The protector at work",
            film_sentence(outcome),
        ),
        (
            "strike",
            moving::strike_of_width,
            "The armature strikes",
            "What opens it at once is over before the strip has warmed: one half wave, some milliseconds.",
        ),
    ];
    for (stem, draw, title, sentence) in films.into_iter().filter(|f| is_wanted(f.0)) {
        let Some(film) = draw(outcome, theme, MOVING_WIDTH)? else {
            continue;
        };
        pictures.push(Picture {
            name: format!("{}{stem}.gif", prefix(stem)),
            bytes: film.gif,
            title: title.to_owned(),
            sentence: sentence.to_owned(),
            description: film.description,
        });
    }
    for figure in plot::figures(outcome) {
        if !is_wanted(figure.stem) {
            continue;
        }
        let figure = figure.in_theme(theme);
        pictures.push(Picture {
            name: format!("{}{}.png", prefix(figure.stem), figure.stem),
            bytes: figure.png_of_width(WIDTH)?,
            // Where there is nothing to prove, what it shows.
            sentence: sentence(figure.stem, outcome).unwrap_or_else(|| figure.description.clone()),
            title: figure.title.clone(),
            description: figure.description.clone(),
        });
        if figure.stem == "characteristic"
            && prefix(figure.stem).is_empty()
            && theme == Theme::Light
        {
            let dark = figure.in_theme(Theme::Dark);
            pictures.push(Picture {
                name: "characteristic-dark.png".to_owned(),
                bytes: dark.png_of_width(WIDTH)?,
                title: format!("{}, dark", dark.title),
                sentence: "Every figure can be had in dark colours, too (`--theme dark`)."
                    .to_owned(),
                description: dark.description,
            });
        }
    }
    Ok(pictures)
}

/// The page, as Markdown.
#[must_use]
pub fn page(chapters: &[Chapter]) -> String {
    let mut text = String::from(
        "# Gallery\n\nDrawn by `relatch gallery` from the scenarios. The parts are invented for \
         demonstration, their alloys and the physics are not; every number is an estimate of a model.\n",
    );
    for chapter in chapters.iter().filter(|c| !c.pictures.is_empty()) {
        let title = marked(&chapter.title);
        match &chapter.link {
            Some(link) => text += &format!("\n## [{title}]({link})\n"),
            None => text += &format!("\n## {title}\n"),
        }
        for picture in &chapter.pictures {
            text += &format!(
                "\n### {}\n\n{}\n",
                marked(&picture.title),
                marked(&picture.sentence)
            );
            let alt = marked(&picture.description).replace(['[', ']'], "");
            text += &format!("\n![{alt}]({})\n", picture.name);
        }
    }
    text
}

/// Text that Markdown and HTML take as it is.
fn marked(text: &str) -> String {
    let line = text.split_whitespace().collect::<Vec<_>>().join(" ");
    line.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

/// What a figure proves, with the numbers of the outcome.
fn sentence(figure: &str, outcome: &Outcome) -> Option<String> {
    let (part, trip, reset) = (&outcome.part, &outcome.trip, &outcome.reset);
    let amperes = |value: Option<f64>| finite(value).map(|a| format!("{} A", significant(a, 3)));
    let time = |value: Option<f64>| finite(value).map(|t| duration(t, 3));
    Some(match figure {
        "characteristic" => format!(
            "Up to {} it holds for ever; {} it trips after {}: the larger the current, the sooner.",
            amperes(outcome.characteristic.as_ref()?.trip_point.current_a())?,
            match trip.release().map(|r| r.multiple_of_rated) {
                Some(m) => format!("at {} times its rating", significant(m, 3)),
                None => "under its load".to_owned(),
            },
            time(trip.time_s())?
        ),
        "drawn_strip" => format!(
            "A strip {} mm long and {} mm thick has moved {} mm when it releases: the whole protector \
             turns on so little.",
            significant(part.length_mm, 3),
            significant(part.thickness_mm, 3),
            significant(plot::drawn_strip::moved_mm(outcome)?, 3)
        ),
        "along_strip" => {
            let release = outcome
                .shapes
                .iter()
                .find(|s| s.moment == crate::predict::Moment::Release)?;
            format!(
                "At release the hottest point stands at {}, the end at the clamp at {}: what bends is \
                 the strip as a whole, not its hottest point.",
                celsius(trip.release().map(|r| r.strip_peak_c), 0),
                celsius(release.temperature_c.first().copied(), 0)
            )
        }
        "heat_flow" => {
            let release_s = finite(trip.time_s())?;
            let before = |h: &&crate::predict::HeatFlow| h.time_s <= release_s * (1.0 + 1e-9);
            let last = outcome.heat.iter().rfind(before)?;
            let moral = if last.stored_w > 0.5 * last.electrical_w {
                "so quick a trip is more a matter of the heat the metal takes up than of how it is \
                 cooled"
            } else {
                "so slow a trip is more a matter of how it is cooled than of the heat the metal \
                 takes up"
            };
            format!(
                "At release, with {} W going in, {} W are still being stored: {moral}.",
                significant(last.electrical_w, 3),
                significant(last.stored_w, 3)
            )
        }
        "memory" => {
            let carried: Vec<f64> = outcome
                .repeated_resets
                .iter()
                .filter_map(|r| r.trips_after.time_s())
                .collect();
            format!(
                "Reset each time as soon as it catches, it carries the load for {}, then {}, and the \
                 time no. {} for {}: the strip remembers.",
                time(carried.first().copied())?,
                time(carried.get(1).copied())?,
                carried.len(),
                time(carried.last().copied())?
            )
        }
        "cool_down" => {
            let moral = match (trip.time_s()?, reset.relatch_wait.time_s()?) {
                (trip, wait) if wait > trip => ": a quick trip is not a quick reset",
                _ => "",
            };
            format!(
                "It tripped after {}, and can be reset {} after the contacts have opened{moral}.",
                time(trip.time_s())?,
                time(reset.relatch_wait.time_s())?
            )
        }
        "ambient_correction" => {
            let rows = || {
                outcome
                    .ambient_correction
                    .iter()
                    .filter(|r| r.trip_point.current_a().is_some())
            };
            let (first, last) = (rows().next()?, rows().next_back()?);
            format!(
                "Between {} and {} of air around it the trip point moves from {} to {}: the place can \
                 be at fault.",
                celsius(Some(first.ambient_c), 0),
                celsius(Some(last.ambient_c), 0),
                amperes(first.trip_point.current_a())?,
                amperes(last.trip_point.current_a())?
            )
        }
        "preload_shift" => {
            let (first, last) = (
                outcome.preload_shift.first()?,
                outcome.preload_shift.last()?,
            );
            format!(
                "With {} % of its spring preload lost the trip point has come down from {} to {}.",
                plain(last.loss * 100.0),
                amperes(first.trip_point.current_a())?,
                amperes(last.trip_point.current_a())?
            )
        }
        "time_course" => {
            let (release_s, current_a) = (finite(trip.time_s())?, trip.release()?.current_a);
            let rests =
                |s: &crate::predict::State| s.time_s < release_s && s.current_a < 0.5 * current_a;
            if outcome.series.iter().any(rests) {
                format!(
                    "It releases {} after the load has started, although it passed the bursts \
                     before: each starts with the warmth that the last one left.",
                    duration(release_s, 3)
                )
            } else {
                format!(
                    "It releases {} after the load has started, not when any one point is hot but \
                     when the strip as a whole has bent far enough.",
                    duration(release_s, 3)
                )
            }
        }
        "snap" => {
            let snap = outcome.snap.as_ref()?;
            format!(
                "It snaps through at {} and comes back only at {}: in between it can stand either way.",
                celsius(Some(snap.trip_temperature_c), 0),
                celsius(Some(finite(snap.reset_temperature_c)?), 0)
            )
        }
        "dial" => {
            let (low, high) = (
                outcome.dial.as_ref()?.marks.first()?,
                outcome.dial.as_ref()?.marks.last()?,
            );
            format!(
                "From {} A to {} A the clearance grows from {} mm to {} mm, nearly with the square of the current; \
                 the highest mark is the hottest.",
                significant(low.mark_a, 3),
                significant(high.mark_a, 3),
                significant(low.travel_mm, 3),
                significant(high.travel_mm, 3)
            )
        }
        "strip_shape" => format!(
            "The warmer, the more it bends, up to the release at {} mm.",
            significant(trip.release()?.tip_deflection_mm, 3)
        ),
        "stress" => {
            let layers = &outcome.stress.as_ref()?.layers;
            let all = layers
                .iter()
                .flat_map(|l| l.free_mpa.into_iter().chain(l.loaded_mpa));
            let least = layers
                .iter()
                .filter_map(|l| l.yield_mpa)
                .fold(f64::INFINITY, f64::min);
            let largest = all.fold(0.0, |m: f64, v| m.max(v.abs()));
            let least = finite(Some(least))?;
            let moral = if largest < least {
                "the strip comes back to where it was"
            } else {
                "the strip may take a set, and its calibration with it"
            };
            format!(
                "The largest stress is {} MPa, and the weakest layer yields at {} MPa: {moral}.",
                significant(largest, 3),
                significant(least, 3)
            )
        }
        _ => return None,
    })
}

fn film_sentence(outcome: &Outcome) -> &'static str {
    if outcome.trip.trips() {
        words::mechanism(outcome.part.mechanism).film
    } else {
        "The strip bends while it heats, and comes to rest before it releases."
    }
}
