//! The mechanism at work: what its pictures show is what the outcome says.

use crate::support::made;
use relatch::internals::predict::{Options, Outcome, predict};
use relatch::internals::present::plot::Theme;
use relatch::internals::present::plot::mechanism::mechanism;
use relatch::internals::present::plot::moving::Moving;
use relatch::internals::present::significant;
use relatch::internals::scenario::read;
use std::path::Path;

fn predicted(file: &str) -> Outcome {
    let path = format!("{}/scenarios/{file}.toml", env!("CARGO_MANIFEST_DIR"));
    let scenario = read(Path::new(&path)).expect("a scenario");
    let options = made!(Options {
        film: true,
        ..Options::default()
    });
    predict(&scenario, &options, &mut |_, _| {}).expect("an outcome")
}

fn shown(outcome: &Outcome) -> Option<Moving> {
    mechanism(outcome, Theme::Light, 400).expect("drawn")
}

/// Words of the picture, each once.
fn words(film: &Moving) -> Vec<String> {
    let svg = roxmltree::Document::parse(&film.svg).expect("XML");
    let texts = svg.descendants().filter(|n| n.has_tag_name("text"));
    let mut all: Vec<String> = texts.filter_map(|n| n.text().map(str::to_owned)).collect();
    all.sort();
    all.dedup();
    all
}

fn says(film: &Moving, part: &str) -> bool {
    words(film).iter().any(|text| text.contains(part))
}

#[test]
fn a_latch_lets_go_refuses_and_catches_when_the_outcome_says_so() {
    let outcome = predicted("01-pug-mill");
    let film = shown(&outcome).expect("a film");
    let part = &outcome.part;
    // The force that lets it go: beyond the clearance, what a newton gives back.
    let holds = (part.release_deflection_mm - part.release_travel_mm) / part.compliance_mm_per_n;
    assert!(says(
        &film,
        &format!("the latch holds {} N", significant(holds, 2))
    ));
    let trip_s = outcome.trip.time_s().expect("a trip");
    assert!(says(
        &film,
        &format!("lets go after {} s", significant(trip_s, 3))
    ));
    assert!(says(&film, "it does not hold") && says(&film, "it catches and holds"));
    // The worn part below it, at the time of the table of preload.
    assert!(says(&film, "of the preload lost") && says(&film, "has tripped after"));
    assert!(says(&film, "held in: never hold it"));
    // It can be stopped, and stands for whoever wants no motion.
    assert!(film.svg.contains("pauseAnimations") && film.svg.contains("prefers-reduced-motion"));
    assert!(film.svg.len() < 3_000_000 && film.gif.len() < 3_000_000);
    assert!(!film.svg.contains("NaN"));
}

#[test]
fn a_force_on_the_picture_never_exceeds_what_the_latch_holds() {
    let outcome = predicted("01-pug-mill");
    let film = shown(&outcome).expect("a film");
    let part = &outcome.part;
    let holds = (part.release_deflection_mm - part.release_travel_mm) / part.compliance_mm_per_n;
    let pushes = words(&film);
    let pushes = pushes.iter().filter_map(|text| {
        let number = text.strip_prefix("pushes with ")?.split(' ').next()?;
        number.parse::<f64>().ok()
    });
    let pushes: Vec<f64> = pushes.collect();
    assert!(!pushes.is_empty());
    assert!(
        pushes.iter().all(|n| *n <= 1.02 * holds),
        "{pushes:?} {holds}"
    );
}

#[test]
fn blades_and_discs_snap_beside_their_fold_and_back() {
    for file in ["04-fog-machine", "17-pump-motor-disc"] {
        let film = shown(&predicted(file)).expect("a film");
        assert!(says(&film, "it snaps after") && says(&film, "snaps back after"));
        assert!(says(&film, "Rise of the middle, mm") && says(&film, "topples at a touch"));
        assert!(!film.svg.contains("NaN"));
    }
}

#[test]
fn what_does_not_trip_or_is_drawn_elsewhere_has_no_film() {
    assert!(shown(&predicted("16-pump-lost-phase")).is_none());
    let mut outcome = predicted("08-worked-strip");
    assert!(shown(&outcome).is_some());
    outcome.film = None;
    assert!(shown(&outcome).is_none());
}
