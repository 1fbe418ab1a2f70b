//! The answers in a number or a word each, for a page beside sliders and for narrow screens.

use super::block::html_part;
use super::cautions::{Caution, cautions};
use super::number::{celsius, digits, duration, finite, percent, plain, signed, significant};
use super::{run, sentences, words};
use crate::answer::{Place, Wait, WhyNotAsked};
use crate::predict::{FirstToAct, Governs, Outcome, Release, Trip, TripPoint};
use serde::Serialize;

/// One answer: the number, and what belongs beside it.
#[derive(Debug, Clone, Serialize)]
pub struct Line {
    /// What it is.
    pub name: &'static str,
    /// Which answer it is: "after", "at_once", "at_times" (in some closings), "never", "up_to",
    /// "none", "any", "later", "not_asked" or "not_known".
    pub answer: &'static str,
    /// The number with its unit, or a word where there is none.
    pub value: String,
    /// What belongs beside it; a reason where there is no number.
    pub note: String,
}

/// The answers as a person reads them. What is HTML is made of the blocks of every other surface.
#[derive(Debug, Clone, Serialize)]
pub struct Shown {
    /// Trip, trip point, reset wait, start wait.
    pub lines: Vec<Line>,
    /// How wrong the numbers may be.
    pub error: String,
    /// The first three answers in a line, for a narrow screen.
    pub bar: String,
    /// All of it in a sentence, to be read out.
    pub spoken: String,
    /// Cautions that stand before everything, as HTML.
    pub first: String,
    /// Cautions that stand beside the waits, as HTML.
    pub waits: String,
    /// What is behind the answers, as HTML.
    pub behind: String,
}

/// The words for an outcome.
pub fn shown(outcome: &Outcome) -> Shown {
    let lines = vec![
        trip(outcome),
        trip_point(outcome),
        reset_wait(outcome),
        start_wait(outcome),
    ];
    let spoken: Vec<String> = lines
        .iter()
        .map(|l| format!("{} {}.", l.name, l.value))
        .collect();
    let bar = say!(
        "trips {} · holds {} · reset {}",
        lines[0].value,
        lines[1].value,
        lines[2].value
    );
    let list = cautions(outcome);
    let at = |list: &[Caution], places: &[Place]| html_part(&[run::cautions_at(list, places)]);
    Shown {
        lines,
        error: say!("Relative error: {}.", sentences::errors(outcome)),
        bar,
        spoken: spoken.join(" "),
        first: at(&list, &[Place::Top]),
        waits: at(&list, &[Place::BeforeWaits, Place::BesideWaits]),
        behind: html_part(&run::behind(outcome, &list)),
    }
}

fn line(name: &'static str, answer: &'static str, value: String, note: String) -> Line {
    Line {
        name,
        answer,
        value,
        note,
    }
}

fn trip(o: &Outcome) -> Line {
    let mut line = strip_trip(o);
    let Some(magnetic) = &o.magnetic else {
        return line;
    };
    line.note = format!("{} {}", words::first_to_act(magnetic), line.note);
    // In one closing of several the large word is not the strip's.
    let share = percent(magnetic.closing.probability);
    (line.answer, line.value) = match magnetic.first {
        FirstToAct::Magnetic => ("at_once", words::at_once().into()),
        FirstToAct::MagneticOrStrip | FirstToAct::MagneticOrNone => {
            ("at_times", say!("at once in {share}"; share))
        }
        FirstToAct::Strip | FirstToAct::None => return line,
    };
    line.name = word!("Trips");
    line
}

fn strip_trip(o: &Outcome) -> Line {
    let released = |r: &Release| {
        say!(
            "carrying {} A, {} x rated; hottest point then {}",
            significant(r.current_a, 4),
            significant(r.multiple_of_rated, 3),
            celsius(Some(r.strip_peak_c), 0)
        )
    };
    let closest = sentences::closest(o).unwrap_or_default();
    match &o.trip {
        Trip::AtOnce(r) => line(
            word!("Trips"),
            "at_once",
            words::at_once().into(),
            released(r),
        ),
        Trip::After(r) => {
            let digits = digits(o.error_estimate.trip_time_relative);
            line(
                word!("Trips after"),
                "after",
                duration(r.time_s, digits),
                released(r),
            )
        }
        Trip::HoldsForEver { .. } => {
            let note = say!("it holds for ever, which is proved; it {closest}"; closest);
            line(word!("Trips"), "never", words::never().into(), note)
        }
        Trip::NotWithin { horizon_s, why, .. } => {
            let note = say!("{}; it {closest}", words::not_within(*horizon_s, *why); closest);
            line(word!("Trips"), "not_known", word!("not known").into(), note)
        }
    }
}

fn trip_point(o: &Outcome) -> Line {
    let name = word!("Holds for ever up to");
    let held = match &o.trip_point {
        TripPoint::UpTo(held) => held,
        TripPoint::StaysOpen => {
            return line(
                name,
                "none",
                word!("no current").into(),
                words::stays_open().into(),
            );
        }
        TripPoint::NeverReleases => {
            return line(
                name,
                "any",
                word!("any current").into(),
                words::never_releases().into(),
            );
        }
    };
    let mut note = say!("{} x rated", significant(held.multiple_of_rated, 3));
    if o.part.ambient_range_c.is_some() {
        note += &say!(" in air of {} °C", plain(o.part.ambient_c));
    }
    if held.multiple_of_rated < 1.0 {
        note += word!(", LESS THAN ITS RATING");
    }
    if let Some(slope) = finite(held.per_kelvin_ambient_a) {
        note += &say!("; {} A per kelvin of air", signed(slope, 2));
    }
    let value = format!("{} A", sentences::held_amperes(o, held));
    line(name, "up_to", value, note)
}

/// A wait: `names` where there is a time and where there is none, `note` where there is a time.
fn wait(o: &Outcome, wait: &Wait, [after, without]: [&'static str; 2], note: &str) -> Line {
    let digits = digits(o.error_estimate.relatch_wait_relative);
    let why = words::wait_why(wait).unwrap_or_default();
    let word = words::wait(wait, digits);
    match wait {
        Wait::None | Wait::After(_) => line(after, "after", word, note.to_owned()),
        Wait::Never { .. } => line(without, "never", word, why),
        Wait::NotAsked {
            why: WhyNotAsked::Later,
        } => line(after, "later", "…".into(), why),
        Wait::NotAsked {
            why: WhyNotAsked::NoStartUp,
        } => line(without, "not_asked", word!("not asked").into(), why),
        Wait::NotAsked {
            why: WhyNotAsked::DoesNotTrip,
        } => line(
            without,
            "not_asked",
            word!("not asked: it does not trip").into(),
            why,
        ),
        _ => line(without, "not_known", word!("not known").into(), why),
    }
}

fn reset_wait(o: &Outcome) -> Line {
    let names = if o.part.resets_itself() {
        [word!("Closes by itself after"), word!("Closes by itself")]
    } else {
        [word!("Reset catches after"), word!("Reset catches")]
    };
    let note = word!("counted from open contacts; for the protector only");
    wait(o, &o.reset.relatch_wait, names, note)
}

fn start_wait(o: &Outcome) -> Line {
    let note = o.reset.governs.unwrap_or(Governs::Relatch);
    let names = [
        word!("Start goes through after"),
        word!("Start goes through"),
    ];
    wait(o, &o.reset.ready_wait, names, words::governs(note))
}
