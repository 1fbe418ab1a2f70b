//! The strip of sound parts through recorded logs.

use super::sheet::{assert_every_colour_has_a_dark_one, assert_nothing_reaches_the_edge};
use relatch::internals::answer::Caution;
use relatch::internals::diagnose::{LogPictures, log_pictures};
use relatch::internals::evidence::{Case, FlagLog, Flags, from_flags, read};
use relatch::internals::present::plot::{Figure, Theme, log_figure};
use relatch::{Language, speaking};
use std::path::Path;

const RECORDED: [&str; 3] = [
    "04-fog-machine",
    "05-irrigation-pump",
    "09-pug-mill-recorded",
];

fn shipped(name: &str) -> (Case, LogPictures) {
    let case = read(Path::new(&format!("scenarios/cases/{name}.toml"))).expect("a case");
    let picture = log_pictures(&case).expect("a family").remove(0);
    (case, picture)
}

fn drawn(case: &Case, picture: &LogPictures) -> Figure {
    let of: (f64, &[Caution]) = (case.nameplate.rated_current_a, &[Caution::FindCause]);
    log_figure(picture, &case.logs[0], of).expect("there is data")
}

/// Nothing reaches the edge of the sheet, and every colour has a dark one.
fn assert_whole(figure: &Figure) {
    assert!(figure.svg.contains("<text") && !figure.svg.to_lowercase().contains("nan"));
    assert_nothing_reaches_the_edge(figure);
    assert_every_colour_has_a_dark_one(figure);
    // It may travel alone.
    assert!(figure.svg.contains(">! Find the cause first"));
}

#[test]
fn every_shipped_log_has_its_picture() {
    for name in RECORDED {
        let (case, picture) = shipped(name);
        let figure = drawn(&case, &picture);
        assert_whole(&figure);
        for part in [
            case.logs[0].file.as_str(),
            "line of release",
            "after the first row",
            "found in the log",
        ] {
            assert!(
                figure.description.contains(part),
                "{part}: {}",
                figure.description
            );
        }
        let german = speaking(Language::German.into(), || {
            drawn(&case, &picture).description
        });
        for english in ["Upper panel", "Lower panel", " of the ", "recorded"] {
            assert!(!german.contains(english), "{english}: {german}");
        }
        if let Some(folder) = std::env::var_os("WORK_ORDERS") {
            for (theme, word) in [(Theme::Light, "light"), (Theme::Dark, "dark")] {
                let path = Path::new(&folder).join(format!("{name}-{word}.png"));
                let png = figure.clone().in_theme(theme).png().unwrap();
                std::fs::write(path, png).unwrap();
            }
        }
    }
}

/// Averages hide what tripped the fog machine: the most heat that they allow is drawn beside the
/// least.
#[test]
fn averages_are_drawn_with_the_most_heat_they_allow() {
    let (case, picture) = shipped("04-fog-machine");
    let most = picture
        .most
        .as_ref()
        .expect("averages with least and largest values");
    let closest =
        |p: &relatch::internals::diagnose::LogPicture| p.closest.expect("a moment").used.median;
    assert!(closest(most) > 1.2 * closest(&picture.recorded));
    let figure = drawn(&case, &picture);
    assert!(
        figure.description.contains("most heat"),
        "{}",
        figure.description
    );
    assert!(shipped("09-pug-mill-recorded").1.most.is_none());
}

/// The air is that measured at the part during the log, else in the room.
#[test]
fn the_parts_stand_in_the_air_of_the_case() {
    let air_c = |name: &str| shipped(name).1.recorded.ambient_c;
    assert!((50.0..58.0).contains(&air_c("05-irrigation-pump")));
    assert!((air_c("09-pug-mill-recorded") - 24.0).abs() < 1e-6);
}

/// A log with a gap in its load, one with none, and one that never trips a sound part.
#[test]
fn gaps_are_shaded_and_what_holds_says_how_close_it_came() {
    let folder = tempfile::tempdir().unwrap();
    let of = |file: &str, amperes: f64, gap: std::ops::Range<u32>| {
        let mut text = String::from("time (s),current RMS (A)\n");
        for s in (0..1500).filter(|s| !gap.contains(s)) {
            text += &format!(
                "{s},{}\n",
                if (60..1400).contains(&s) {
                    amperes
                } else {
                    0.0
                }
            );
        }
        let path = folder.path().join(file);
        std::fs::write(&path, text).unwrap();
        let case = from_flags(&Flags {
            rating: "13 A".into(),
            log: Some(FlagLog {
                path,
                answers: vec![("trips", "none".into())],
            }),
            ..Flags::default()
        })
        .unwrap_or_else(|e| panic!("{e:?}"));
        let picture = log_pictures(&case).unwrap().remove(0);
        (case, picture)
    };
    let (case, picture) = of("gap.csv", 11.0, 500..620);
    assert_eq!(case.logs[0].course.gaps_s.len(), 1);
    let (from_s, to_s) = case.logs[0].course.gaps_s[0];
    assert!(
        (from_s - 500.0).abs() < 2.0 && (to_s - 620.0).abs() < 2.0,
        "{from_s} {to_s}"
    );
    let with = drawn(&case, &picture);
    assert_whole(&with);
    assert!(with.description.contains("Gaps of the log are shaded"));
    let through = &picture.recorded;
    assert!(
        through.trips.is_empty() && through.closest.is_some(),
        "{through:?}"
    );
    let (case, whole) = of("whole.csv", 11.0, 0..0);
    let without = drawn(&case, &whole);
    assert!(!without.description.contains("Gaps"));
    assert_ne!(with.svg, without.svg);
    let (case, trips) = of("trips.csv", 26.0, 0..0);
    assert_eq!(trips.recorded.trips.len(), 1);
    assert_whole(&drawn(&case, &trips));
    if let Some(folder) = std::env::var_os("WORK_ORDERS") {
        std::fs::write(Path::new(&folder).join("gap.png"), with.png().unwrap()).unwrap();
    }
    // Nothing to draw is no error.
    let mut empty = whole;
    empty.recorded.points.clear();
    assert!(log_figure(&empty, &case.logs[0], (13.0, &[])).is_none());
}
